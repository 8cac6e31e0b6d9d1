"""TAB: the jig finds room and holes on this table, and its studs reach through."""

from __future__ import annotations

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import PRACTICE, inch
from fixturegen.findings import Finding, Level
from fixturegen.sheet.threads import thread_diameter
from fixturegen.studies.table_room import WASHER, grip, off_grid, room_of, stud_needed

GRID_OFF = 0.2  # hole of the jig from the table's grid [mm]: half the play of a pin in its hole
INTO = 1.5  # bolt in a tapped hole of steel, in diameters


@claim("TAB-01", "stand and cradles fit on the table", holds="job", stage="numbers")
def check_room(claim: Claim, job: Job) -> list[Finding]:
    """Least table that takes every base with its holes, against the table there is."""
    found = []
    for room, way in zip(room_of(job.sheet, job.plan), ("length", "width"), strict=True):
        good = room.needed <= room.have
        words = f"table {way} {inch(room.have, 1)}, needed {inch(room.needed, 1)}"
        if good:
            words += f"; first row of jig holes in row {room.first} of the table"
        found.append(
            claim.finding(
                Level.PASS if good else Level.FAIL,
                words,
                assembly="jig",
                value=room.needed,
                limit=room.have,
                unit="mm",
                source="geometry; the table on the sheet",
                remedy="" if good else "use a larger table, or bolt a plate with the same grid to it",
            )
        )
    return found


@claim("TAB-02", "every hole of stand and cradles meets a table hole", holds="job", stage="numbers")
def check_grid(claim: Claim, job: Job) -> list[Finding]:
    """Largest distance of a jig hole from the table's grid."""
    off = off_grid(job.plan)
    good = off <= GRID_OFF
    words = f"jig holes stand within {inch(off, 4)} of the table's grid of {inch(job.plan.grid[2])}"
    return [
        claim.finding(
            Level.PASS if good else Level.FAIL,
            words,
            assembly="jig",
            value=off,
            limit=GRID_OFF,
            unit="mm",
            source="geometry; the grid on the sheet",
            remedy="" if good else "measure the table's hole pitch again over ten holes",
        )
    ]


@claim("TAB-03", "the studs reach through pads, face plate and nut", holds="assembly", stage="numbers")
def check_studs(claim: Claim, job: Job) -> list[Finding]:
    """Stud length against the stack on it; for tapped holes the bolt to get."""
    studs = job.sheet.housing.face.studs
    have, need = float(studs.length), stud_needed(job.sheet, job.plan)
    source = f"nut heights of ASME B18.2.2 and ISO 4032 (from memory); one thread: {PRACTICE}"
    if have == 0.0:
        into = INTO * thread_diameter(studs.size)
        length = grip(job.plan) + WASHER + into
        words = (
            f"tapped holes: {studs.size} bolts about {inch(length, 2)} under the head, "
            f"{inch(into, 2)} of it in the casting; try the depth of the hole first"
        )
        return [claim.finding(Level.PASS, words, assembly="jig", value=length, unit="mm", source=source)]
    good = have >= need
    words = f"studs stand {inch(have, 2)} off the face; pad, face plate, washer, nut and a thread need {inch(need, 2)}"
    return [
        claim.finding(
            Level.PASS if good else Level.FAIL,
            words,
            assembly="jig",
            value=have,
            limit=need,
            unit="mm",
            source=source,
            remedy="" if good else "longer studs, or thinner plate for the stand",
        )
    ]
