"""Setting caster and tacking the knuckles; a front axle only."""

from __future__ import annotations

import math

from fixturegen.axle.model import KnuckleModel, sign_of
from fixturegen.bench.gauge_tools import made, tool
from fixturegen.bench.records import Reading, Station, assumed_of, caliper, steps_between, within
from fixturegen.pages import cautions
from fixturegen.pages.documents import Contents
from fixturegen.studies.proofs import proofs_of

ORDER = 40
FIRST, END = 56, 99  # orders of the jig's steps that belong here
SPLIT = 0.25  # [deg] caster left to right, and each pivot from its plan; common practice, no source
SAME = 0.005  # [deg] not seen in what is printed
THRICE = ("before tacks", "tacked", "cold, jig off")
ZERO = (
    "ZERO is the machined face by way of the index plate: the tie carries its angle to both clock plates. Read levels "
    "as a difference from plate to plate, so that an unlevel table cancels."
)


def station(contents: Contents) -> Station | None:
    """The sheet on which the knuckles are turned to their caster; None on a rear axle."""
    job = contents.job
    if "jig" not in job.assemblies or job.plan.tie is None or job.axle.bench_caster is None:
        return None
    return Station(
        slug="set-caster",
        title="Set caster, tack the knuckles",
        zero=f"{ZERO}{_cut(contents)}",
        assumed=assumed_of(contents.assumptions, ("axle", "knuckles", "jig", "tools")),
        readings=(*_spread(contents), *_angles(contents, job.axle.bench_caster), *_proofs(contents)),
        steps=steps_between(job, FIRST, END),
        cautions=(
            cautions.STEERING,
            cautions.KNUCKLES,
            cautions.EARTH,
            cautions.VENT,
            cautions.CLEANER,
            cautions.PINCH,
            cautions.TACKS,
            cautions.COLD,
        ),
    )


def _cut(contents: Contents) -> str:
    """Why the angle cut in the plates is another one than the caster of this sheet; nothing where it is the same."""
    axle = contents.job.axle
    planned, cut = axle.bench_caster or 0.0, axle.plate_caster
    if abs(planned - cut) < SAME:
        return ""
    return (
        f" The clock plates are cut for {cut:.2f} deg, and a finder reads that while the face stands upright in the "
        f"jig; with the pinion level it is {planned:.2f} deg: the difference is the measured angle of the face."
    )


def _spread(contents: Contents) -> tuple[Reading, ...]:
    """Between the arms of each knuckle, where the job has its gauge."""
    return tuple(
        Reading(
            "between the arms of each knuckle, along the steering axis",
            caliper(one.value, contents.units),
            within(gauge.tolerance, contents.units),
            tool(contents, "spread"),
            ("left", "right"),
        )
        for gauge in made(contents, "spread")
        for one in gauge.settings
    )


def _angles(contents: Contents, bench: float) -> tuple[Reading, ...]:
    job = contents.job
    axle, pinion = job.axle, float(job.sheet.axle.pinion_angle)
    found = [
        Reading("tie through the holes marked", "0, 0 and 0", "same label in all three", "by eye", ("index", "clock")),
        Reading(
            "level on the level pins: left plate less right plate",
            "0.00 deg",
            f"what the level repeats, {float(job.sheet.tools.level_repeatability):.2f} deg",
            "level, same way round",
            THRICE[:2],
        ),
        Reading(
            "level: clock plates less index plate, after the trim",
            "0.00 deg",
            f"what the level repeats, {float(job.sheet.tools.level_repeatability):.2f} deg",
            "level, same way round",
            ("left", "right"),
        ),
    ]
    sine = tool(contents, "sine", "sine-gauge")
    for knuckle in axle.knuckles:
        found.append(
            Reading(
                f"caster, {knuckle.side}, pinion level on the bench",
                f"{bench:.2f} deg",
                f"+/- {SPLIT:.2f} deg, left to right {SPLIT:.2f} deg",
                f"finder, dead fore and aft{f'; jig off: {sine}' if sine else ''}",
                THRICE,
                f"in the vehicle {bench - pinion:.2f} deg, pinion {pinion:.1f} deg up",
            )
        )
        found.append(
            Reading(
                f"pivots read across the axle, {knuckle.side}",
                f"{_inboard(knuckle):.2f} deg, top inboard",
                f"+/- {SPLIT:.2f} deg",
                "finder across, on the stub pins",
                THRICE,
            )
        )
    return tuple(found)


def _inboard(knuckle: KnuckleModel) -> float:
    """Lean of a steering axis in front view as it stands on the bench, top inboard positive [deg]."""
    return math.degrees(math.atan2(-sign_of(knuckle.side) * knuckle.axis[1], knuckle.axis[2]))


def _proofs(contents: Contents) -> tuple[Reading, ...]:
    """Where the clock plates stand along the bar; what proves their angle stands on the sheet of the jig."""
    job, units = contents.job, contents.units
    return tuple(
        Reading(proof.name, caliper(proof.value, units), within(proof.tolerance, units), proof.tool, ("found",))
        for proof in proofs_of(job.sheet, job.axle, job.plan)
        if "steering axis" in proof.name
    )
