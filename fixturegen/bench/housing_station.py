"""Setting the housing up on the table."""

from __future__ import annotations

from fixturegen.bench.records import (
    Reading,
    Station,
    assumed_of,
    caliper,
    fixed,
    steps_between,
    tape_reading,
    tape_within,
    within,
)
from fixturegen.pages import cautions
from fixturegen.pages.documents import Contents
from fixturegen.studies.proofs import proofs_of
from fixturegen.studies.readings import FAIL_ABOVE, WARN_ABOVE
from fixturegen.units.written import MM_PER_INCH

ORDER = 30
FIRST, LAST, END = 20, 55, 99  # orders of the jig's steps that belong here; to the end where no caster is set
ROUND = ("up", "forward", "down", "rearward")
HEIGHT_GOOD = MM_PER_INCH / 16.0  # [mm] of a gross check with a tape; common practice, no source
WIDTH_GOOD = MM_PER_INCH / 16.0  # [mm] width between wheel mount surfaces; common practice, no source
ZERO = {
    "drop-out": (
        "ZERO is the axle line: the bar through both bores of the jig, which stand where your third member has them. "
        "Reach it with the bar. Not the tube, not the cover, not the table."
    ),
    "integral": (
        "ZERO is the axle line: the bar through the carrier bearing bores, caps on and torqued. Reach it with the bar. "
        "Not the tube, not the cover, not the table."
    ),
}


def station(contents: Contents) -> Station | None:
    """The sheet on which the housing is set up."""
    job = contents.job
    if "jig" not in job.assemblies:
        return None
    later = any(name in job.assemblies for name in ("truss", "brackets", "locators"))
    return Station(
        slug="set-up-housing",
        title="Set the housing up",
        zero=ZERO[job.sheet.housing.kind],
        assumed=assumed_of(contents.assumptions, ("housing", "tubes", "table", "bar", "third_member", "readings")),
        readings=_readings(contents),
        steps=steps_between(job, FIRST, END if job.axle.bench_caster is None else LAST),
        cautions=(cautions.LIFT, cautions.PINCH, cautions.BOLTED, *((cautions.BARE,) if later else ())),
    )


def _readings(contents: Contents) -> tuple[Reading, ...]:
    job, units = contents.job, contents.units
    plan, axle = job.plan, job.axle
    found = [
        tape_reading(
            "bar centre above the table, at each end",
            plan.height,
            units,
            tape_within(HEIGHT_GOOD, units),
            "tape, gross check",
            ("left", "right"),
        )
    ]
    for proof in proofs_of(job.sheet, axle, plan):
        if proof.name.startswith("bar centre to"):
            found.append(
                Reading(proof.name, caliper(proof.value, units), within(proof.tolerance, units), proof.tool, ("found",))
            )
    found.append(
        Reading("each pad of the stand against the face", "no gap", "thinnest feeler does not enter", "feeler")
    )
    found.append(
        tape_reading(
            "width between the wheel mount surfaces",
            2.0 * axle.half_width,
            units,
            tape_within(WIDTH_GOOD, units),
            "tape, hooked on both",
        )
    )
    good, bad = (
        f"{fixed(v, 2)} mm" if units == "mm" else f"{v / MM_PER_INCH:.3f} in" for v in (WARN_ABOVE, FAIL_ABOVE)
    )
    limits = f"middle of tube to bar {good}; {bad}: straighten"
    for side, values in (("left", job.sheet.readings.left), ("right", job.sheet.readings.right)):
        read = ", ".join(f"{way} {_thousandths(float(v), units)}" for way, v in zip(ROUND, values, strict=True))
        name = f"dial on the bar at the {side} tube end"
        found.append(Reading(name, "as on the build sheet", limits, "dial indicator", ROUND, read))
    return tuple(found)


def _thousandths(value: float, units: str) -> str:
    """A reading of a dial [mm] with its sign."""
    return f"{value + 0.0:+.2f} mm" if units == "mm" else f"{value / MM_PER_INCH + 0.0:+.3f} in"
