"""TCH-02: what the slope of a cut leaves of the room of tabs and saddles, and which face is the close one."""

from __future__ import annotations

import math

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import inch
from fixturegen.findings import Finding, Level
from fixturegen.parts.marking import lie
from fixturegen.stock import CutProcess, entry

SOURCE = "slope of the process from its table, common practice, no source; thickness times its tangent, derived"


def taper(thickness: float, bevel: float) -> float:
    """How far a cut edge leans over the plate's thickness [mm].

    Source: right triangle, derived.

    Args:
        thickness: Of the plate [mm].
        bevel: From square [deg].
    """
    return thickness * math.tan(math.radians(bevel))


@claim("TCH-02", "the slope of a cut leaves a tab its room in the slot", holds="nothing", needed=False)
def check_bevel(claim: Claim, job: Job) -> list[Finding]:
    """One finding for each thickness of plate that is cut."""
    process = job.sheet.process
    bevel = float(entry("processes", process.name, CutProcess).bevel)
    room, saddle = float(process.slot_room), float(process.saddle_room)
    cut = [p for p in job.parts.values() if p.profile is not None]
    found = []
    for thickness in sorted({p.thickness for p in cut}):
        lean = taper(thickness, bevel)
        parts = tuple(p.name for p in cut if p.thickness == thickness)
        words = (
            f"{inch(thickness)} plate: at {bevel:g} deg an edge leans {inch(lean)}; an opening is closest on the "
            f"far, unmarked face and the part largest there; a tab has {inch(room)} a side, a saddle {inch(saddle)}; "
            f"{lie(process)}"
        )
        good = lean <= room
        remedy = (
            f"enter tabs from the marked face; where one sticks, file the unmarked edge of the slot by up to "
            f"{inch(lean - room)}, or cut a coupon, measure the slope and give [process] slot_room"
        )
        found.append(
            claim.finding(
                Level.PASS if good else Level.WARN,
                words,
                remedy="" if good else remedy,
                parts=parts,
                frame="P",
                value=lean,
                limit=room,
                unit="mm",
                source=SOURCE,
            )
        )
    return found
