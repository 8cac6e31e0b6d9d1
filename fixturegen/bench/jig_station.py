"""Making the jig and proving it with caliper and gauge head before an axle is near it."""

from __future__ import annotations

from fixturegen.bench.records import Reading, Station, assumed_of, caliper, within
from fixturegen.pages import cautions
from fixturegen.pages.documents import Contents
from fixturegen.studies.proofs import proofs_of
from fixturegen.units.written import MM_PER_INCH

ORDER = 25
LAST = 20  # last order of the jig's steps that belongs here
ZERO = (
    "ZERO of each plate is its bar bore. What sets an angle is never cut to size by the torch: drill and ream the "
    "stack as one, then prove it here. A tape cannot: 1/32 in at 10 in is 0.18 deg."
)


def station(contents: Contents) -> Station | None:
    """The sheet on which the jig is put together and proved; None where there is no jig."""
    job = contents.job
    jig = job.assemblies.get("jig")
    if jig is None:
        return None
    return Station(
        slug="make-the-jig",
        title="Make and prove the jig",
        zero=ZERO,
        assumed=assumed_of(contents.assumptions, ("jig", "plates", "process")),
        readings=_proofs(contents),
        steps=tuple(words for words, order in zip(jig.steps, jig.orders, strict=False) if order <= LAST),
        cautions=(cautions.TORCH, cautions.NOT_CERTIFIED),
    )


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
