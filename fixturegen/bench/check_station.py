"""Checking the axle when it is cold and the jig is off."""

from __future__ import annotations

from fixturegen.bench.records import Listing, Reading, Station, fine, tape_reading, tape_within, taped
from fixturegen.pages import cautions
from fixturegen.pages.documents import Contents
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


STEPS = (
    "Everything on tacks: read each line above once and write it into its first box.",
    "Finish-weld the knuckles, qualified welder: 1 to 2 in beads, opposite ones in turn, left and right in turn; let "
    "it cool between passes, turn the bar by hand after each.",
    "Let all of it cool below hand-warm, nothing clamped, jig and straps off. Read each line again: cold.",
    "Out of its limit: straighten first, then read again. At reject nobody drives on it.",
    "Only now read for the axle shafts, and have the local inspector sign.",
)


def station(contents: Contents) -> Station | None:
    """The sheet of the finished axle's readings, and of those the axle shafts are ordered by."""
    job, units = contents.job, contents.units
    axle = job.axle
    found = [Reading("bar through both bores", "slides and turns by hand", "no tight spot", "by hand", BEFORE)]
    if axle.bench_caster is not None:
        pinion = float(job.sheet.axle.pinion_angle)
        planned = f"{axle.bench_caster:.2f} deg"
        rolled = f"pinion level; in the vehicle {axle.bench_caster - pinion:.2f} deg"
        for knuckle in axle.knuckles:
            name, tool = f"caster, {knuckle.side}", "finder on the stub pins, put back in"
            found.append(Reading(name, planned, CASTER_GOOD, tool, BEFORE, rolled))
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
    ends = ("left up", "left fwd", "right up", "right fwd")
    found += [
        Reading("tube end to bar", "as before the beads", end_good, "dial indicator, every 90 deg", ends),
        Reading("end face square to the bar", fine(0.0, units), face_good, "dial swung on the bar", ("left", "right")),
        tape_reading(
            "width between the wheel mount surfaces",
            2.0 * axle.half_width,
            units,
            tape_within(WIDTH_GOOD[0], units, WIDTH_GOOD[1]),
            "tape, hooked on both",
            BEFORE,
        ),
        Reading(
            "toe and camber of bare wheel mount surfaces",
            "0.0 deg",
            "0.1 deg; reject 0.25 deg",
            "toe bars; finder",
            ("toe left", "toe right", "camber left", "camber right"),
        ),
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
        steps=STEPS if axle.bench_caster is not None else (STEPS[0], *STEPS[2:]),
        lists=(shafts,),
        cautions=(cautions.COLD, cautions.LIFT, cautions.LOCAL_FIRST),
    )
