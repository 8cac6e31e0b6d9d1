"""CUT-07 to CUT-09: what the tolerance class means, plates nobody stocks, a kerf out of its usual range."""

from __future__ import annotations

from fixturegen.checks.cut_plates import CutPlate, cut_plates
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import inch
from fixturegen.findings import Finding, Level
from fixturegen.plate import Purpose
from fixturegen.plate.profile import Operation, bounds
from fixturegen.sources import cite

SETTING = (Purpose.ANGLE, Purpose.DOWEL, Purpose.BORE, Purpose.TAP, Purpose.JOINT)


def by_thickness(plates: tuple[CutPlate, ...]) -> list[tuple[CutPlate, ...]]:
    """The plates by what they are cut from, in the order they are met."""
    groups: dict[float, list[CutPlate]] = {}
    for plate in plates:
        groups.setdefault(plate.rules.thickness, []).append(plate)
    return [tuple(g) for g in groups.values()]


def as_cut_and_not(plate: CutPlate) -> tuple[int, int, int]:
    """Holes of a plate left as cut, cut under and drilled, and drilled from a mark."""
    done = [h.operation for h in plate.profile.holes]
    return done.count(Operation.CUT), done.count(Operation.UNDERCUT), done.count(Operation.PILOT)


def outline_tolerance(plate: CutPlate) -> float | None:
    """Plus and minus on the longer side of the outline [mm]; None where the table has none."""
    x0, y0, x1, y1 = bounds(plate.profile.outer)
    found = plate.rules.tolerance(max(x1 - x0, y1 - y0))
    return None if found is None else found.value


@claim("CUT-07", "what must be closer than the tolerance class of the cut is not left to the cut", holds="nothing")
def check_tolerance_class(claim: Claim, job: Job) -> list[Finding]:
    """What the class means on each plate of the rack, and how many features are made better than that."""
    return [_class_of(claim, group) for group in by_thickness(cut_plates(job))]


def _class_of(claim: Claim, group: tuple[CutPlate, ...]) -> Finding:
    rules, names = group[0].rules, tuple(p.part.name for p in group)
    kind = f"class {rules.tolerance_class} on {rules.plate} plate"
    sizes = [(low, rules.tolerance(at)) for low, at in (("a 1 in hole", 25.4), ("10 in", 254.0), ("24 in", 609.6))]
    if any(t is None for _, t in sizes):
        return claim.finding(
            Level.WARN,
            f"{kind}: the table of tolerances does not have this thickness, so no cut size is relied upon; "
            "every hole with a clearance is drilled",
            remedy="ask whoever cuts what the machine holds on this plate, and measure the coupon",
            parts=names,
            frame="P",
            source=cite("iso-9013"),
        )
    means = ", ".join(f"+/- {inch(t.value)} on {words}" for words, t in sizes if t is not None)
    cut, under, marked = (sum(n) for n in zip(*(as_cut_and_not(p) for p in group), strict=True))
    setting = sum(h.purpose in SETTING for p in group for h in p.profile.holes)
    worst = max((t for p in group if (t := outline_tolerance(p)) is not None), default=0.0)
    holes = (
        f"of {cut + under + marked} holes in {len(group)} plates {cut} stay as cut, {under} are cut under and drilled, "
        f"{marked} are drilled from a mark; {setting} of these set an angle, a place or a joint"
        if cut + under + marked
        else "no holes"
    )
    return claim.finding(
        Level.PASS,
        f"{kind} means {means} (by nominal thickness); {holes}",
        parts=names,
        frame="P",
        value=worst,
        unit="mm",
        source=cite("iso-9013"),
    )


@claim("CUT-08", "every plate part is cut from a plate of the rack", holds="part", needed=False)
def check_stocked(claim: Claim, job: Job) -> list[Finding]:
    """A thickness that [[plates]] does not have is held: nobody measured it. Sheets of it: see NST-01."""
    plates = cut_plates(job)
    rack = ", ".join(f"{p.nominal.text} ({p.measured.text})" for p in job.sheet.plates)
    found = [
        claim.finding(
            Level.FAIL,
            f"{p.part.name} is {inch(p.part.thickness)} thick, and the rack has {rack}",
            remedy="list the plate under [[plates]] with its measured thickness, or choose one that is there",
            parts=(p.part.name,),
            frame="P",
            value=p.part.thickness,
            unit="mm",
        )
        for p in plates
        if not p.rules.stocked
    ]
    good = tuple(p.part.name for p in plates if p.rules.stocked)
    if good:
        words = f"{len(good)} plates: each is of a thickness the rack has"
        found.append(claim.finding(Level.PASS, words, parts=good, frame="P"))
    return found


@claim("CUT-09", "the measured kerf is one this process is known to cut", holds="nothing")
def check_kerf(claim: Claim, job: Job) -> list[Finding]:
    """A kerf outside the spread of the table warns: another process, another nozzle, or a slip of the caliper."""
    plates = cut_plates(job)
    if not plates:
        return []
    rules = plates[0].rules
    low, high = rules.kerf_spread
    good = rules.kerf_expected
    words = (
        f"the measured kerf of {inch(rules.kerf.value)} is {'one' if good else 'none'} that {rules.process_name} is "
        f"known to cut: {inch(low)} to {inch(high)}"
    )
    return [
        claim.finding(
            Level.PASS if good else Level.WARN,
            words,
            remedy="" if good else "measure the coupon again, and see that process.name is the nozzle that cut it",
            value=rules.kerf.value,
            limit=low if rules.kerf.value < low else high,
            unit="mm",
            source=rules.kerf_usual.source,
        )
    ]
