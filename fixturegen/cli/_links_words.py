"""What links do, what a search found and how far measuring may be off: as text for a terminal and as JSON fields."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from fixturegen.findings import Level

if TYPE_CHECKING:
    from fixturegen.side_flows import Found, LinksOutcome, SearchOutcome
    from fixturegen.studies.link_search import Geometry
    from fixturegen.studies.link_wishes import Wanted

WIDTH = 100
INCH = 25.4
PLACES = {"%": 1, "deg": 2, "deg/deg": 3, "in": 2, "mm": 1}
"""Places behind the point, by the unit told."""
POSES = ("ride", "bump", "droop", "cross-L", "cross-R")
ROWS = (
    ("links.anti_squat", "anti-squat", "%"),
    ("links.anti_dive", "anti-dive", "%"),
    ("links.roll_centre", "roll centre above ground", "mm"),
    ("links.roll_axis", "roll axis, climbing forward", "deg"),
    ("links.roll_steer", "roll steer, to understeer", "deg/deg"),
    ("links.pinion_angle", "pinion, nose up", "deg"),
    ("links.sideways", "axle to the left", "mm"),
    ("links.wheelbase_change", "wheelbase longer", "mm"),
    ("steering.change", "wheels steer to the left", "deg"),
    ("steering.toe", "toe-in, total", "deg"),
    ("driveline.plunge", "shaft longer", "mm"),
    ("driveline.case_angle", "joint at the case", "deg"),
    ("driveline.pinion_joint", "joint at the pinion", "deg"),
)
"""Name of the number, its words, its unit in the program."""
METRICS = {
    "anti_squat": ("anti-squat", "%"),
    "anti_dive": ("anti-dive", "%"),
    "force_line": ("force line, climbing inward", "deg"),
    "instant_centre_x": ("instant centre ahead of front axle", "mm"),
    "instant_centre_z": ("instant centre above ground", "mm"),
    "roll_centre": ("roll centre above ground", "mm"),
    "roll_axis": ("roll axis, climbing forward", "deg"),
    "roll_steer": ("roll steer, to understeer", "deg/deg"),
    "pinion_angle": ("pinion, nose up", "deg"),
    "fore_aft": ("axle forward", "mm"),
    "sideways": ("axle to the left", "mm"),
    "wheelbase_change": ("wheelbase longer", "mm"),
    "axle_steer": ("axle turned to the left", "deg"),
}
"""Words and unit of each metric a search or a spread tells."""
AXLE_WORDS = {
    ("anti_squat", True): "anti-lift under drive",
    ("anti_dive", False): "anti-lift on the brakes",
}
"""Words of a metric at the front (True) or the rear where they are others."""
BESIDE = (
    *("anti_squat.ride", "anti_squat.bump", "anti_squat.droop", "anti_dive.ride", "roll_centre.ride"),
    *("roll_axis.ride", "roll_steer.ride", "roll_steer.bump", "roll_steer.droop", "pinion_angle.bump"),
    *("pinion_angle.droop", "wheelbase_change.bump", "wheelbase_change.droop", "sideways.cross-L"),
)
"""Readings shown beside those that are wanted."""
WAYS = {"x": "forward", "y": "left", "z": "up"}
MOST_COLUMNS = 5
LABEL, CELL = 48, 8
"""Columns of the terminal: of what is told, and of each value."""


def number_text(value: float | None, unit: str, units: str, more: int = 0) -> str:
    """A value of the program in the unit it is told in, without the unit; a dash for none."""
    if value is None or not math.isfinite(value):
        return "-"
    places = PLACES[unit_text(unit, units)] + more
    text = f"{value / (INCH if unit == 'mm' and units == 'in' else 1.0):.{places}f}"
    return text[1:] if text.startswith("-") and not text.strip("-0.") else text


def unit_text(unit: str, units: str) -> str:
    """The unit a value is told in."""
    return units if unit == "mm" else unit


def words_of(metric: str, front: bool) -> str:
    """A metric in the words of its axle: what dives at the front lifts at the rear."""
    return AXLE_WORDS.get((metric, front), METRICS[metric][0])


def label_text(reading: str, units: str, front: bool) -> str:
    """A reading as the head of a row: anti-squat, ride [%]."""
    metric, _, pose = reading.partition(".")
    unit = METRICS[metric][1]
    return f"{words_of(metric, front)}, {pose} [{unit_text(unit, units)}]"


def links_text(outcome: LinksOutcome, findings: str) -> str:
    """What the axle does at every pose, a table a sheet, and the findings."""
    lines = []
    front = outcome.studies[0].linkage.stance.front
    for name, numbers in outcome.cases:
        lines += [name, "  " + " " * 36 + "".join(f"{p:>10}" for p in POSES)]
        for key, words, unit in ROWS:
            values = [numbers.get(f"{key}.{p.lower()}") for p in POSES]
            if any(v is not None for v in values):
                texts = [number_text(None if v is None else v.value, unit, outcome.units) for v in values]
                told = AXLE_WORDS.get((key.removeprefix("links."), front), words)
                label = f"{told} [{unit_text(unit, outcome.units)}]"
                lines.append(f"  {label:36}{''.join(f'{t:>10}' for t in texts)}")
        lines.append("")
    lines.append("cross-L: left wheel at bump, right wheel at droop. Exact rigid links; trust: as far as the points.")
    return "\n".join([*lines, "", findings])


def search_text(outcome: SearchOutcome) -> str:
    """What a search found, at most five geometries beside each other."""
    result, units = outcome.result, outcome.wanted.unit
    lines = [
        f"{outcome.name}: {result.looked_at} geometries looked at, seed {outcome.seed}; each on exact rigid links at "
        "ride, bump, droop and crossed up.",
        result.verdict,
    ]
    lines = [part for line in lines for part in textwrap.wrap(line, WIDTH)]
    for start in range(0, len(outcome.found), MOST_COLUMNS):
        lines += ["", *_beside(outcome, outcome.found[start : start + MOST_COLUMNS], units)]
    lines += ["", "what is paid for what"]
    for found in outcome.found:
        lines += _trade(found)
    lines += ["", *_limits(outcome)]
    first = outcome.found[0].letter
    lines += [
        "",
        f"To take one into use: fixturegen links {outcome.name} --search --take {first} prints its points as tables",
        "for the sheet. They are sums on paper: mock the brackets up, measure again, then weld.",
    ]
    return "\n".join(lines)


def _beside(outcome: SearchOutcome, shown: Sequence[Found], units: str) -> list[str]:
    measured, front = outcome.result.measured, outcome.wanted.linkage.stance.front
    columns = [measured, *(f.geometry for f in shown)]
    head = "".join(f"{name:>{CELL}}" for name in ("sheet", *(f.letter for f in shown)))
    lines = [f"{'wanted':{LABEL}}{head}"]
    for wish in outcome.wanted.wishes:
        cells = "".join(_wished(g, wish.reading, units) for g in columns)
        lines.append(f"  {label_text(wish.reading, units, front):{LABEL - 2}}{cells}".rstrip())
        lines.append(f"    {_range(wish.low, wish.high, wish.reading, units)}")
    if any(g.short for g in columns):
        lines.append("  * outside what is wanted")
    for g, name in zip(columns, ("sheet", *(f.letter for f in shown)), strict=True):
        lines += [part for words in g.barred for part in hung(f"  in the way of {name}: ", words)]
    lines += ["", f"{'also':{LABEL}}{head}"]
    asked = {w.reading for w in outcome.wanted.wishes}
    for reading in (r for r in BESIDE if r not in asked):
        unit = METRICS[reading.partition(".")[0]][1]
        cells = "".join(f"{number_text(g.values.get(reading), unit, units):>{CELL}}" for g in columns)
        lines.append(f"  {label_text(reading, units, front):{LABEL - 2}}{cells}")
    lines += ["", f"{f'points move by [{units}]':{LABEL}}{head.replace('sheet', '     ')}"]
    return lines + _moves(outcome.wanted, [f.geometry for f in shown], units)


def _wished(geometry: Geometry, reading: str, units: str) -> str:
    short = any(s.wish.reading == reading for s in geometry.short)
    unit = METRICS[reading.partition(".")[0]][1]
    return f"{number_text(geometry.values.get(reading), unit, units):>{CELL - 1}}{'*' if short else ' '}"


def _range(low: float, high: float, reading: str, units: str) -> str:
    unit = METRICS[reading.partition(".")[0]][1]
    if math.isinf(low):
        return f"at most {number_text(high, unit, units)}"
    if math.isinf(high):
        return f"at least {number_text(low, unit, units)}"
    return f"{number_text(low, unit, units)} to {number_text(high, unit, units)}"


def _moves(wanted: Wanted, geometries: Sequence[Geometry], units: str) -> list[str]:
    """Rows of how far each point moves; right ones that mirror the left are told in one line."""
    moves = [{m[0]: m[1:] for m in g.moved} for g in geometries]
    names = list(dict.fromkeys(n for m in moves for n in m))
    lines, mirrored, marked = [], False, False
    from fixturegen.studies.link_layout import ends_of_room

    for name in names:
        left = name.replace("right", "left")
        if left != name and all(_mirrors(m.get(name), m.get(left)) for m in moves):
            mirrored = True
            continue
        for axis, way in WAYS.items():
            values = [m[name]["xyz".index(axis)] if name in m else 0.0 for m in moves]
            if any(abs(v) >= 0.5 for v in values):
                ends = [ends_of_room(wanted, g.linkage, name, axis) for g in geometries]
                cells = "".join(
                    f"{number_text(v, 'mm', units) if v else '0':>{CELL - 1}}{'|' if end else ' '}"
                    for v, end in zip(values, ends, strict=True)
                )
                marked = marked or any(ends)
                lines.append(f"  {f'{name}, {way}':{LABEL + CELL - 2}}{cells}".rstrip())
    if marked:
        lines.append("  | at an end of its range, or at the last hole: more room there may give more")
    if mirrored:
        lines.append("  The right side as the mirror image of the left.")
    return lines or ["  No point moves."]


def _mirrors(one: tuple[float, ...] | None, other: tuple[float, ...] | None) -> bool:
    if one is None or other is None:
        return one is other
    return all(abs(a - b) < 1e-6 for a, b in zip(one, (other[0], -other[1], other[2]), strict=True))


def hung(head: str, words: str) -> list[str]:
    """Lines of a long text, all but the first set in."""
    return textwrap.wrap(head + words, WIDTH, subsequent_indent=" " * 6)


def _trade(found: Found) -> list[str]:
    best, worst = ", ".join(found.trade.best), ", ".join(found.trade.worst)
    if not best and not worst:
        return [f"  {found.letter}  between the others in everything looked at"]
    said = "; ".join(p for p in (f"best: {best}" if best else "", f"worst: {worst}" if worst else "") if p)
    return textwrap.wrap(f"  {found.letter}  {said}", WIDTH, subsequent_indent="     ")


def _limits(outcome: SearchOutcome) -> list[str]:
    """What else the claims about links say of those found."""
    lines = []
    for found in outcome.found:
        for finding in found.findings:
            if finding.level is Level.FAIL:
                lines += hung(f"  {found.letter}  {finding.code} ", f"{finding.claim}: {finding.words}")
    if lines:
        return ["past a limit that a search does not steer by (joints, struts, shaft, steering)", *lines]
    return ["Joints, struts, shaft and steering of all these stay within the limits the sheet gives for them."]


def search_fields(outcome: SearchOutcome) -> dict[str, Any]:
    """The JSON fields of a search; lengths in mm."""
    result = outcome.result
    return {
        "search": {
            "seed": outcome.seed,
            "looked_at": result.looked_at,
            "met": result.met,
            "verdict": result.verdict,
            "in_the_way": list(result.in_the_way),
            "wishes": [
                {
                    "reading": w.reading,
                    "least": finite(w.low),
                    "most": finite(w.high),
                    "unit": METRICS[w.metric][1],
                    "weight": w.weight,
                }
                for w in outcome.wanted.wishes
            ],
            "sheet": _geometry_fields(result.measured),
            "geometries": [
                {
                    "name": f.letter,
                    **_geometry_fields(f.geometry),
                    "best": list(f.trade.best),
                    "worst": list(f.trade.worst),
                    "sheet_text": f.text,
                    "findings": [x.as_json() for x in f.findings],
                }
                for f in outcome.found
            ],
        }
    }


def _geometry_fields(geometry: Geometry) -> dict[str, Any]:
    return {
        "met": geometry.met,
        "values": dict(sorted(geometry.values.items())),
        "short": [{"reading": s.wish.reading, "by": finite(s.by), "sentence": s.sentence} for s in geometry.short],
        "in_the_way": list(geometry.barred),
        "moved": [{"point": name, "forward_mm": x, "left_mm": y, "up_mm": z} for name, x, y, z in geometry.moved],
        "points": {
            f"{k.name}.{end}": {"at": j.at, "mm": list(j.point)}
            for k in geometry.linkage.links
            for end, j in (("frame", k.frame), ("axle", k.axle))
        },
    }


def finite(value: float) -> float | None:
    """The value; nothing where it is endless or no number, which JSON has no word for."""
    return value if math.isfinite(value) else None


def taken_text(outcome: SearchOutcome, found: Found) -> str:
    """The points of one geometry as tables for the sheet, behind lines that say what they are."""
    wishes = "meets every wish" if found.geometry.met else "does not meet every wish"
    head = [
        f"# Geometry {found.letter} of fixturegen links --search, seed {outcome.seed}; it {wishes}.",
        f"# Put these in place of the tables of the same names in {outcome.name}. Not measured yet: mock it up,",
        "# measure the points again and write what you measured before anything is welded.",
    ]
    head += [f"# Short: {short.sentence}." for short in found.geometry.short]
    return "\n".join([*head, found.text.rstrip("\n") or "# No point moves."])


def letters(found: Iterable[Found]) -> str:
    """The letters of those found: A, B, C."""
    return ", ".join(f.letter for f in found)
