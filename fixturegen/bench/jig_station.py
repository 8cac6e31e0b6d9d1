"""Making the jig and proving it with caliper and gauge head before an axle is near it."""

from __future__ import annotations

from fixturegen.bench.records import Reading, Station, assumed_of, caliper, steps_between, within
from fixturegen.pages import cautions
from fixturegen.pages.documents import Contents
from fixturegen.studies.proofs import proofs_of
from fixturegen.units.written import MM_PER_INCH

ORDER = 25
FIRST_WELD = 10  # order of the first step in which the jig is put together
LAST = 19  # last order of the jig's steps that belongs here
ZERO = (
    "ZERO of each plate is its bar bore. What sets an angle is never cut to size by the torch: drill and ream the "
    "stack as one, then prove it here. A tape cannot: 1/32 in at 10 in is 0.18 deg."
)


def station(contents: Contents) -> Station | None:
    """The sheet on which the jig is put together and proved; None where there is no jig."""
    job = contents.job
    if "jig" not in job.assemblies:
        return None
    return Station(
        slug="make-the-jig",
        title="Make and prove the jig",
        zero=ZERO,
        assumed=assumed_of(contents.assumptions, ("jig", "plates", "process")),
        readings=_proofs(contents),
        steps=(
            *steps_between(job, 0, FIRST_WELD - 1),
            *_bored(contents),
            *steps_between(job, FIRST_WELD, LAST),
            *_fitted(contents),
        ),
        cautions=(cautions.TORCH, cautions.NOT_CERTIFIED),
    )


def _bored(contents: Contents) -> tuple[str, ...]:
    """Holes that set the angle, made before anything is welded; none where there are no clock plates."""
    job = contents.job
    if "clock-plate-l" not in job.parts or "index-plate" not in job.parts:
        return ()
    puck = ", with the puck plate for the bar bore" if "puck-plate" in job.parts else ""
    edge = "pads of index and puck plate" if job.sheet.housing.kind == "drop-out" else "shoulders of the index plate"
    return (
        f"Stack both clock plates and the index plate{puck}, marked faces the same way; clamp. On the mill, in one "
        "setting from coordinates: bar bore, tie hole 0, level pins; drill, bore, ream. Then, the two clock plates "
        "alone, what only they share: tie holes + and -, finger holes. Bore the torch's edge away, do not follow it.",
        f"From the bore, mill the {edge} to the size on the drawing. Lengthen the tie holes of the clock plates along "
        "the radius, top and bottom only: no file on the two sides.",
        "Take the readings above and write them in, before anything is welded. A hole that sets an angle and is out "
        "of its limit: a new plate, no bush, no file.",
    )


def _fitted(contents: Contents) -> tuple[str, ...]:
    """What goes into and onto the plates at the end."""
    parts = contents.job.parts
    found = []
    if "clock-plate-l" in parts:
        found.append(
            "Bushes into the clock plates with retaining compound, flange outboard; level pins pressed in, flush on "
            "the inboard face. Bushes of a plate that is welded go in when it is cold."
        )
        found.append(
            "Keepers: transfer-punch the middles of the pin holes through the clock plate's keeper holes with the "
            "tie in place; drill and ream the keeper alone to its pins; pins pressed in from the "
            "marked face, flush. Tie: rolled on the table, bow under 0.010 in; LEFT and UP stamped on its left end."
        )
    if "steady-plate" in parts:
        found.append(
            "Steady: one straight screw through both coupling nuts while they are tacked on its marked face; then the "
            "two long screws and jam nuts."
        )
    if "y-stop" in parts:
        found.append("Y stop: coupling nut on top of it, along the axle, welded; screw and jam nut in.")
    return tuple(found)


def _proofs(contents: Contents) -> tuple[Reading, ...]:
    job, units = contents.job, contents.units
    found = []
    for proof in proofs_of(job.sheet, job.axle, job.plan):
        if proof.name.startswith("bar centre") or "steering axis" in proof.name:
            continue  # they are read with the axle in the jig
        tenth = f"; 0.1 deg is {proof.per_tenth / MM_PER_INCH:.4f} in" if proof.per_tenth else ""
        boxes = ("left plate", "right plate") if proof.name.startswith("clock plate") else ("found",)
        found.append(
            Reading(proof.name, caliper(proof.value, units), within(proof.tolerance, units) + tenth, proof.tool, boxes)
        )
    return tuple(found)
