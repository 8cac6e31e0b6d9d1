"""CUT-03 to CUT-06: contours the torch can follow, and steel that stays between them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import astuple, dataclass
from itertools import combinations

from fixturegen import keeping
from fixturegen.checks.cut_plates import CutPlate, cut_plates, passing, said, shortfall
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import inch
from fixturegen.findings import Finding, Level
from fixturegen.plate.widths import Narrow, crosses, inside_corners, narrowest, webs

LEFT = 0.1
"""Steel a torch may leave in an inside corner [mm]: what a tab's corner gives way by before it sits
(half of the least room of a slot; common practice, no source)."""


@claim("CUT-03", "no slot is narrower than the torch cuts it", holds="part", needed=False)
def check_slots(claim: Claim, job: Job) -> list[Finding]:
    """The narrowest way through what is cut away, against the kerf and the narrowest clean slot."""
    plates = cut_plates(job)
    found = [f for p in plates for f in _slots(claim, p)]
    return passing(claim, plates, found, "every slot and notch is wide enough to be cut clean")


def _ways_through(plate: CutPlate) -> list[Narrow | None]:
    """The narrowest way through each cut that is not round; None where no two walls face each other."""

    def made() -> list[tuple[float, ...] | None]:
        found = (narrowest(cut, steel=False) for cut in plate.cuts if not cut.round)
        return [None if narrow is None else astuple(narrow) for narrow in found]

    key = keeping.key_of(("ways through", plate.profile))
    return [None if row is None else Narrow(*row) for row in keeping.kept_json("width", key, made)]


def _slots(claim: Claim, plate: CutPlate) -> Iterator[Finding]:
    rules, part = plate.rules, plate.part.name
    narrows = iter(_ways_through(plate))
    for cut in plate.cuts:
        narrow = None if cut.round else next(narrows)
        level = Level.PASS if narrow is None else shortfall(narrow.width, rules.slot, rules.kerf.value)
        if narrow is None or level is Level.PASS or (plate.trial and level is Level.WARN):
            continue
        under = narrow.width < rules.kerf.value
        limit = rules.kerf if under else rules.slot
        what = f"the kerf of {said(limit.value)}: it cannot be cut" if under else f"{said(limit.value)}"
        yield claim.finding(
            level,
            f"{cut.words} is {inch(narrow.width)} wide at its narrowest, less than {what} ({limit.source})",
            remedy="make it wider, mill it, or measure process.smallest_slot on the coupon",
            parts=(part,),
            point=(narrow.x, narrow.y, 0.0),
            frame="P",
            value=narrow.width,
            limit=limit.value,
            unit="mm",
            source=limit.source,
        )


@dataclass(frozen=True)
class Web:
    """The thinnest web of a plate, where it is, and how bad that is."""

    plate: CutPlate
    narrow: Narrow
    where: str
    level: Level


@claim("CUT-04", "enough plate stays between two cuts, and between a cut and the edge", holds="part", needed=False)
def check_webs(claim: Claim, job: Job) -> list[Finding]:
    """The narrowest web of each plate; what only shop practice would have wider is told once for all plates."""
    plates = cut_plates(job)
    thin = [w for p in plates if not p.trial for w in [_web(p)] if w is not None]
    found = [_thin(claim, [w]) for w in thin if w.level is Level.FAIL]
    warned = sorted((w for w in thin if w.level is Level.WARN), key=lambda w: w.narrow.width)
    if warned:
        found.append(_thin(claim, warned))
    return passing(claim, plates, found, "no web is thinner than the rule")


def _web(plate: CutPlate) -> Web | None:
    """The thinnest web of a plate that is under the rule; None when none is."""
    rules = plate.rules
    key = keeping.key_of(("webs", plate.profile, rules.web.value))
    found = keeping.kept_json("width", key, lambda: [(*astuple(n), w) for n, w in webs(plate.cuts, rules.web.value)])
    thin = [(Narrow(width, x, y), where) for width, x, y, where in found]
    level = shortfall(thin[0][0].width, rules.web, rules.kerf.value) if thin else Level.PASS
    return None if level is Level.PASS else Web(plate, *thin[0], level)


def _thin(claim: Claim, thin: list[Web]) -> Finding:
    worst = thin[0]
    rule, name = worst.plate.rules.web, worst.plate.part.name
    words = f"{inch(worst.narrow.width)} of {name} stays {worst.where}, less than {said(rule.value)} ({rule.source})"
    if len(thin) > 1:
        rest = ", ".join(f"{w.plate.part.name} {inch(w.narrow.width)}" for w in thin[1:])
        words += f"; thinnest of the others: {rest}"
    return claim.finding(
        worst.level,
        words,
        remedy="let the plate cool between its cuts; or move the cuts apart, or measure process.smallest_web",
        parts=tuple(w.plate.part.name for w in thin),
        point=(worst.narrow.x, worst.narrow.y, 0.0),
        frame="P",
        value=worst.narrow.width,
        limit=rule.value,
        unit="mm",
        source=rule.source,
    )


@claim("CUT-05", "the torch gets into every inside corner, or the corner is relieved", holds="part", needed=False)
def check_corners(claim: Claim, job: Job) -> list[Finding]:
    """What a torch of this kerf leaves standing in the worst inside corner of each plate."""
    plates = cut_plates(job)
    found = [f for p in plates for f in _corners(claim, p)]
    return passing(claim, plates, found, "inside corners have half the kerf as radius, or are relieved")


def _corners(claim: Claim, plate: CutPlate) -> Iterator[Finding]:
    radius = plate.rules.inside_radius
    corners = [c for cut in plate.cuts if not cut.round for c in inside_corners(cut.loop, radius.value)]
    worst = max(corners, key=lambda c: c.left, default=None)
    if worst is None or worst.left <= LEFT:
        return
    shut = math.isinf(worst.left)
    words = (
        f"a notch turns tighter than the torch can: half the kerf is {inch(radius.value)}"
        if shut
        else f"the torch leaves {inch(worst.left)} of steel in an inside corner, half the kerf being "
        f"{inch(radius.value)}"
    )
    yield claim.finding(
        Level.FAIL if shut else Level.WARN,
        f"{words}, at x {inch(worst.x)}, y {inch(worst.y)}",
        remedy=f"relieve the corner or round it with {inch(radius.value)} at least; else file it where something seats",
        parts=(plate.part.name,),
        point=(worst.x, worst.y, 0.0),
        frame="P",
        value=None if shut else worst.left,
        limit=LEFT,
        unit="mm",
        source="common practice, no source",
    )


@claim("CUT-06", "every cut is closed, encloses area and meets neither itself nor another", holds="part", needed=False)
def check_contours(claim: Claim, job: Job) -> list[Finding]:
    """A contour that touches itself or is none, and cuts that cross one another, are held."""
    plates = cut_plates(job)
    found = [f for p in plates for f in _contours(claim, p)]
    return passing(claim, plates, found, "every cut is one plain closed line")


def _contours(claim: Claim, plate: CutPlate) -> Iterator[Finding]:
    def finding(words: str, x: float, y: float) -> Finding:
        return claim.finding(
            Level.FAIL,
            words,
            remedy="change the sizes that bring its sides together; nothing is cut from a line like that",
            parts=(plate.part.name,),
            point=(x, y, 0.0),
            frame="P",
        )

    for words, x, y in plate.faults:
        yield finding(f"{words} at x {inch(x)}, y {inch(y)}", x, y)
    for a, b in combinations(plate.cuts, 2):
        if crosses(a, b):
            yield finding(f"{a.words} and {b.words} cross", float(b.points[0][0]), float(b.points[0][1]))
