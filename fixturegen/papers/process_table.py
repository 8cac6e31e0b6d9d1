"""How the plates are cut, as tables of the report: the rules of the process, and what its class means."""

from __future__ import annotations

from collections.abc import Callable

from fixturegen.checks.cut_plates import CutPlate, cut_plates
from fixturegen.checks.cut_stock import SETTING, as_cut_and_not, by_thickness, outline_tolerance
from fixturegen.checks.registry import Job
from fixturegen.findings import weakest
from fixturegen.papers.report import Table
from fixturegen.papers.words import TRUST_WORDS, length
from fixturegen.plate.profile import bounds
from fixturegen.studies.cutting_rules import CuttingRules, Rule

KERF_WORDS = {
    "controller": "The files are true size: the controller moves the torch off the line by half the kerf. Set the "
    "kerf below in the controller, once.",
    "file": "The files allow for the kerf already: switch the kerf off in the controller, or it is counted twice.",
}
SIZES = ((20.0, "10 to 35 mm"), (100.0, "35 to 125 mm"), (200.0, "125 to 315 mm"), (500.0, "315 to 1000 mm"))
"""A size inside each range of the standard's table that parts of a jig have, and the range in words."""

Pick = Callable[[CuttingRules], "Rule | None"]

ROWS: tuple[tuple[str, str, Pick], ...] = (
    ("kerf", "mm", lambda r: r.kerf),
    ("kerf the process usually cuts", "mm", lambda r: r.kerf_usual),
    ("smallest hole cut to size", "mm", lambda r: r.hole),
    ("smallest hole cut at all, to be drilled out", "mm", lambda r: r.hole_possible),
    ("cut under where a drill follows, on the diameter", "mm", lambda r: r.under),
    ("a cut hole comes out larger by", "mm", lambda r: r.hole_error),
    ("cross that marks a hole", "mm", lambda r: r.mark),
    ("narrowest clean slot", "mm", lambda r: r.slot),
    ("room on each side of a locating tab", "mm", lambda r: r.slot_room),
    ("added to the radius of a saddle", "mm", lambda r: r.saddle_room),
    ("least plate between two cuts", "mm", lambda r: r.web),
    ("least radius of an inside corner", "mm", lambda r: r.inside_radius),
    ("between two parts on the sheet", "mm", lambda r: r.spacing),
    ("to the sheet's edge", "mm", lambda r: r.edge),
    ("lead-in", "mm", lambda r: r.lead_in),
    ("slope of the cut face", "deg", lambda r: r.bevel),
    ("speed of the torch", "mm/s", lambda r: r.cut_speed),
    ("time of a pierce", "s", lambda r: r.pierce_time),
)


def process_tables(job: Job) -> tuple[Table, ...]:
    """The rules of the process plate by plate, and the tolerance class part by part; none without plates."""
    plates = cut_plates(job)
    if not plates:
        return ()
    return _process(plates, job.sheet.job.units), _class(plates, job.sheet.job.units)


def _shown(rule: Rule | None, unit: str, units: str) -> str:
    if rule is None:
        return "not on file"
    if unit == "mm":
        return length(rule.value, units)
    if unit == "mm/s":
        return f"{rule.value * 60.0 / 1000.0:.2f} m/min" if units == "mm" else f"{rule.value * 60.0 / 25.4:.0f} in/min"
    return f"{rule.value:.1f} {unit}"


def _process(plates: tuple[CutPlate, ...], units: str) -> Table:
    rules = [group[0].rules for group in by_thickness(plates)]
    first = rules[0]
    rows = []
    for words, unit, pick in ROWS:
        rows.append(_row(words, unit, [pick(r) for r in rules], units))
    for size, words in SIZES:
        rows.append(_row(f"plus and minus, class {first.tolerance_class}, sizes of {words}", "mm",
                         [r.tolerance(size) for r in rules], units))  # fmt: skip
    expected = "" if first.kerf_expected else " The measured kerf is not one this process usually cuts: see CUT-09."
    return Table(
        f"How the plates are cut: {first.process_name}",
        f"{KERF_WORDS[first.kerf_allowed_by]} What the sheet gives was measured and holds; what comes from the table "
        f"is shop practice, to start from. Tolerances follow the nominal thickness.{expected}",
        ("What", *(f"plate {r.plate}" for r in rules), "Where from", "Trust"),
        tuple(rows),
        tuple(range(1, len(rules) + 1)),
    )


def _row(words: str, unit: str, found: list[Rule | None], units: str) -> tuple[str, ...]:
    known = [r for r in found if r is not None]
    source = "; ".join(dict.fromkeys(r.source for r in known))
    trust = TRUST_WORDS[weakest(*(r.trust for r in known))] if known else ""
    return (words, *(_shown(r, unit, units) for r in found), source, trust)


def _class(plates: tuple[CutPlate, ...], units: str) -> Table:
    rows = []
    for plate in plates:
        x0, y0, x1, y1 = bounds(plate.profile.outer)
        off = outline_tolerance(plate)
        finer = sum(h.purpose in SETTING for h in plate.profile.holes)
        cut, under, marked = as_cut_and_not(plate)
        rows.append(
            (
                plate.part.name,
                plate.rules.plate,
                length(max(x1 - x0, y1 - y0), units),
                "not on file" if off is None else f"+/- {length(off, units)}",
                *(str(n) if n else "" for n in (cut, under, marked, finer)),
            )
        )
    return Table(
        "What the tolerance class means, part by part",
        "The class speaks of cut sizes that have no tolerance of their own, not of the slope of the cut face. Holes "
        "that want better are cut under and drilled or only marked; what sets an angle, a place or a joint is reamed "
        "or bored.",
        (
            "Part",
            "Plate",
            "Longest side",
            "may be off by",
            "Holes as cut",
            "drilled out",
            "from a mark",
            "of all, set an angle or a place",
        ),
        tuple(rows),
        (2, 3, 4, 5, 6, 7),
    )
