"""Checking the axle when it is cold and the jig is off."""

from __future__ import annotations

from fixturegen.bench.gauge_tools import made, tool, tool_or
from fixturegen.bench.records import Listing, Reading, Station, fine, tape_reading, tape_within, taped
from fixturegen.checks.angles import predicted
from fixturegen.pages import cautions
from fixturegen.pages.documents import Contents
from fixturegen.studies.gauge_angles import TOE_FRONT
from fixturegen.studies.tube_cuts import shaft_readings
from fixturegen.units.written import MM_PER_INCH

ORDER = 70
BEFORE = ("before beads", "cold")
ZERO = (
    "ZERO is the bar through both bores, cold, jig off, nothing clamped. A weld that still smokes has not finished "
    "pulling: below hand-warm before a reading counts."
)
# limits to build to and to reject at: all common practice, no source
CASTER_GOOD = "+/- 0.25 deg; reject 0.5 deg"
SPLIT_GOOD = "0.25 deg; reject 0.5 deg"
WIDTH_GOOD = (MM_PER_INCH / 16.0, MM_PER_INCH / 8.0)  # [mm] good to, rejected from
END_GOOD = (0.010 * MM_PER_INCH, 0.030 * MM_PER_INCH)  # [mm] likewise
FACE_GOOD = (0.005 * MM_PER_INCH, 0.015 * MM_PER_INCH)  # [mm] over the face
JOINT_GOOD = (MM_PER_INCH / 32.0, MM_PER_INCH / 16.0)  # [mm] likewise

TOE_GOOD = "0.1 deg; reject 0.25 deg"  # of a bare rear housing, where no gauge of the job tells a band
CAMBER_GOOD = "+/- 0.1 deg; reject 0.25 deg"
WELD = (
    "Finish-weld the knuckles, qualified welder: 1 to 2 in beads, opposite ones in turn, left and right in turn; let "
    "it cool between passes, turn the bar by hand after each."
)
COOL = "Let all of it cool below hand-warm, nothing clamped, jig and straps off. Read each line again: cold."
STRAIGHTEN = "Out of its limit: straighten first, then read again. At reject nobody drives on it."
TOE_LAST = "Outer knuckles, hubs and tie rod on, straight ahead: set the toe at the tie rod, read toe and camber."
SIGN = "Only now read for the axle shafts, and have the local inspector sign."
# gauges used after this sheet, and for what
KEPT = (
    ("sine", "sine-pinion", "for the pinion angle under the truck"),
    ("depth", "", "when the third member is set up"),
)


def station(contents: Contents) -> Station | None:
    """The sheet of the finished axle's readings, and of those the axle shafts are ordered by."""
    job, units = contents.job, contents.units
    axle = job.axle
    pucks = tool(contents, "pucks")
    by_hand = f"by hand; in the third member's caps {pucks}" if pucks else "by hand"
    found = [Reading("bar through both bores", "slides and turns by hand", "no tight spot", by_hand, BEFORE)]
    if axle.bench_caster is not None:
        pinion = float(job.sheet.axle.pinion_angle)
        planned = f"{axle.bench_caster:.2f} deg"
        rolled = f"pinion level; in the vehicle {axle.bench_caster - pinion:.2f} deg"
        for knuckle in axle.knuckles:
            name = f"caster, {knuckle.side}"
            with_what = tool_or(contents, "sine", "finder; on the stub pins, put back in", "sine-gauge")
            found.append(Reading(name, planned, CASTER_GOOD, with_what, BEFORE, rolled))
        found.append(Reading("caster, left less right", "0.00 deg", SPLIT_GOOD, "worked out", BEFORE))
        for knuckle in axle.knuckles:
            words = f"steering axis to the wheel mount surface, {knuckle.side}, at axle height"
            inward = axle.half_width - abs(knuckle.axis_point[1])
            found.append(
                tape_reading(
                    words,
                    inward,
                    units,
                    tape_within(JOINT_GOOD[0], units, JOINT_GOOD[1]),
                    "tape or depth gauge",
                    BEFORE,
                )
            )
    end_good = f"{fine(END_GOOD[0], units)}; reject {fine(END_GOOD[1], units)}"
    face_good = f"{fine(FACE_GOOD[0], units)} over the face; reject {fine(FACE_GOOD[1], units)}"
    square = tool_or(contents, "end-disc", "dial swung on the bar")
    ends = ("left up", "left fwd", "right up", "right fwd")
    found += [
        Reading("tube end to bar", "as before the beads", end_good, "dial indicator, every 90 deg", ends),
        Reading("end face square to the bar", fine(0.0, units), face_good, square, ("left", "right")),
        tape_reading(
            "width between the wheel mount surfaces",
            2.0 * axle.half_width,
            units,
            tape_within(WIDTH_GOOD[0], units, WIDTH_GOOD[1]),
            "tape, hooked on both",
            BEFORE,
        ),
        *_toe(contents),
    ]
    rows = tuple((r.side, r.what, taped(r.expected, units, 64)) for r in shaft_readings(job.sheet, axle))
    shafts = Listing(
        "Read for the axle shafts",
        "Order shafts only from what is read here, on the finished housing. The last column but one is a check on the "
        "reading, never a length to order by.",
        ("Side", "From where to where", "The sheet comes to"),
        (0.1, 0.5, 0.4),
        rows,
        "measured",
        0.2,
    )
    return Station(
        slug="check-cold",
        title="Check, cold",
        zero=ZERO,
        readings=tuple(found),
        steps=_steps(contents),
        lists=(shafts,),
        cautions=(
            cautions.COLD,
            *((cautions.TACKED,) if axle.bench_caster is not None else ()),
            cautions.LIFT,
            cautions.LOCAL_FIRST,
        ),
    )


def _steps(contents: Contents) -> tuple[str, ...]:
    """What is done in which order: by now truss and brackets are welded, the knuckles hold on tacks."""
    job = contents.job
    welded = " and ".join(name for name in ("truss", "brackets") if name in job.assemblies)
    by_now = f"; {welded} welded and cold by now" if welded else ""
    kept = [f"{named} {why}" for kind, name, why in KEPT if (named := tool(contents, kind, name))]
    later = (f"Keep for later: {'; '.join(kept)}.",)
    last = (STRAIGHTEN, SIGN, *(later if kept else ()))
    if job.axle.bench_caster is None:
        before = (
            "First boxes: what was read with the bar in its bores before the beads"
            + (f" of {welded}" if welded else "")
            + " (bench sheet Set the housing up)."
        )
        return (before, COOL, *last)
    under = "Axle out from under the truck. " if "brackets" in job.assemblies else ""
    first = f"{under}Only the knuckles are on tacks{by_now}. Bar back in; read each line above once: first box."
    return (first, WELD, COOL, STRAIGHTEN, TOE_LAST, *last[1:])


def _toe(contents: Contents) -> tuple[Reading, ...]:
    """Toe, in the band of the job's toe bars where it has some, and camber."""
    job, units = contents.job, contents.units
    steered = job.axle.bench_caster is not None
    bars = made(contents, "toe-bars")
    if bars:
        band = bars[0].settings[0]
        beside = "behind less in front; set at the tie rod" if steered else "behind less in front, over both sides"
        toe = Reading(
            "total toe on the bare wheel mount surfaces",
            f"toe-in {fine(band.value, units)}",
            f"{fine(band.low, units)} to {fine(band.high, units)}, as stamped on the toe bars",
            tool(contents, "toe-bars"),
            ("first", "hubs half round"),
            beside,
        )
    elif steered:
        low, high = (tape_within(v, units).removeprefix("+/- ") for v in TOE_FRONT)
        toe = Reading("total toe, set at the tie rod", f"toe-in {low} to {high}", "over the tyres", "tape", ("found",))
    else:
        toe = Reading("toe of bare wheel mount surfaces", "0.0 deg", TOE_GOOD, "straight edge, tape", ("left", "right"))
    if not steered:
        return (toe, Reading("camber of bare surfaces", "0.0 deg", CAMBER_GOOD, "finder", ("left", "right")))
    pose = predicted(job)
    built = tuple(
        Reading(
            f"camber of the bare wheel mount surface, {side}",
            f"{k.camber + 0.0:+.2f} deg",
            CAMBER_GOOD,
            "finder",
            ("found",),
            "as the knuckle stands in the vehicle",
        )
        for side, k in (("left", pose.left), ("right", pose.right))
    )
    return (toe, *built)
