"""Whether every plate part fits a sheet that is there; the layout itself comes later."""

from __future__ import annotations

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.findings import Finding, Level
from fixturegen.plate import Part
from fixturegen.plate.placed import turned_size
from fixturegen.studies.nesting_rules import nesting_rules, plate_of, sheets_of, used_up
from fixturegen.units import as_inch

INCH = 25.4
SAME = 1e-6  # [mm] larger by less is rounding


def _said(x: float, y: float) -> str:
    return f"{as_inch(x, 16)} x {as_inch(y, 16)}"


@claim("NST-01", "every plate part fits a sheet or remnant that is there", holds="part", needed=False)
def check_sheet_fit(claim: Claim, job: Job) -> list[Finding]:
    """A part larger than every sheet of its plate is held; without a list of sheets nobody can say."""
    flat = [p for p in job.parts.values() if p.profile is not None]
    if not flat:
        return []
    if not job.sheet.sheets:
        words = "the build sheet lists no sheets, so nothing was nested and no part was compared with one"
        remedy = "list what stands in the rack under [[sheets]]: name, plate, length, width, count"
        return [claim.finding(Level.WARN, words, remedy=remedy)]
    found, fits = [], []
    for part in flat:
        fault = _fault(claim, job, part)
        found += [fault] if fault else []
        fits += [] if fault else [part.name]
    if fits:
        words = f"{len(fits)} of {len(flat)} plate parts fit a sheet that is there"
        found.append(claim.finding(Level.PASS, words, parts=tuple(fits), frame="P"))
    return found + _empty(claim, job)


def _fault(claim: Claim, job: Job, part: Part) -> Finding | None:
    plate = plate_of(job.sheet, part.thickness)
    stock = [] if plate is None else list(sheets_of(job.sheet, plate))
    if plate is None or part.profile is None:
        return None  # CUT claims speak of plates that are not in the rack
    if not stock:
        words = f"no sheet of {plate.nominal.text} is there to cut it from"
        remedy = f"list a sheet or remnant of {plate.nominal.text} under [[sheets]], with its count"
        return claim.finding(Level.FAIL, words, remedy=remedy, parts=(part.name,), frame="P")
    rules = nesting_rules(job.sheet, plate)
    sizes = {turned_size(part.profile.outer, turn % 180.0) for turn in rules.turns}
    for kind in stock:
        room = kind.length - 2.0 * rules.edge + SAME, kind.width - 2.0 * rules.edge + SAME
        along = room if kind.grain != "width" else (room[1], room[0])
        if any(x <= along[0] and y <= along[1] for x, y in sizes):
            return None
    largest = max(stock, key=lambda s: s.length * s.width)
    size = _said(*turned_size(part.profile.outer, 0.0))
    words = (
        f"it is {size} and lies in no sheet of {plate.nominal.text} at the turns allowed: the largest, "
        f"{largest.name}, has {_said(largest.length - 2 * rules.edge, largest.width - 2 * rules.edge)} inside its edges"
    )
    remedy = "add a larger sheet, allow more turns in [nesting], or make the part in two pieces"
    return claim.finding(Level.FAIL, words, remedy=remedy, parts=(part.name,), frame="P")


def _empty(claim: Claim, job: Job) -> list[Finding]:
    return [
        claim.finding(
            Level.WARN,
            f"{stock.name} is on the list with {stock.count} of {stock.length.text} x {stock.width.text}: nothing is "
            "cut from it",
            remedy="take it off the list of [[sheets]], or measure it and give its size and count",
        )
        for stock in used_up(job.sheet)
    ]
