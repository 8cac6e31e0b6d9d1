"""The list of gaps in colours, worst first, as one SVG: dark what touches, light what has twice what it should.

The colours grow lighter all the way from contact to ample, and run from red to blue, so that they are told
apart without seeing red and green; every row says the same in a word.
"""

from __future__ import annotations

from itertools import pairwise
from xml.sax.saxutils import escape

from fixturegen.studies.clearance_records import ClearanceStudy, PairGap

INCH = 25.4
ROW, RIM, SIZE = 22.0, 16.0, 12.0
"""Height of a row, white rim, height of letters [px]."""
COLUMNS = (
    ("gap", 76.0), ("wanted", 76.0), ("how it is", 96.0), ("pair", 400.0), ("kind", 62.0), ("worst at", 170.0),
    ("measured", 70.0),
)  # fmt: skip
MOST = 60  # rows; the rest keeps more
STOPS = ((0.0, (0.55, 0.07, 0.10)), (1.0, (0.95, 0.55, 0.20)), (1.0001, (1.0, 0.88, 0.45)), (2.0, (0.88, 0.94, 0.98)))
"""Part of the gap wanted that is there, and its colour: dark red at contact, orange just short, yellow just enough."""
TIGHT = 1.25  # of the gap wanted: less is told as tight [1]
INK, GREY = "#14171a", "#5b6268"


def heat(pair: PairGap) -> tuple[float, float, float]:
    """Colour of a pair, red-green-blue 0..1, by how much of the gap wanted is there."""
    share = 0.0 if pair.state != "apart" else pair.gap / pair.wanted if pair.wanted > 0.0 else STOPS[-1][0]
    share = min(max(share, STOPS[0][0]), STOPS[-1][0])
    for (low, a), (high, b) in pairwise(STOPS):
        if share <= high:
            t = (share - low) / (high - low)
            red, green, blue = (x + t * (y - x) for x, y in zip(a, b, strict=True))
            return red, green, blue
    return STOPS[-1][1]


def verdict(pair: PairGap) -> str:
    """What the colour of a pair says, as a word."""
    if pair.state == "inside":
        return "INSIDE"
    if pair.state != "apart":
        return "IN CONTACT"
    if not pair.met:
        return "TOO LITTLE"
    if pair.gap < TIGHT * pair.wanted:
        return "tight"
    return "enough" if pair.gap < STOPS[-1][0] * pair.wanted else "ample"


def hexed(colour: tuple[float, float, float]) -> str:
    """A colour, red-green-blue 0..1, as it is written in a page."""
    red, green, blue = (round(255 * c) for c in colour)
    return f"#{red:02x}{green:02x}{blue:02x}"


def ink_on(colour: tuple[float, float, float]) -> str:
    """Black or white, whichever reads better on a colour.

    Source: contrast ratio of WCAG 2.2, from memory: (lighter + 0.05) / (darker + 0.05) of relative luminances.
    """
    light = luminance(colour) + 0.05
    return "#000000" if light / 0.05 >= 1.05 / light else "#ffffff"


def luminance(colour: tuple[float, float, float]) -> float:
    """Relative luminance 0..1 of a colour, red-green-blue 0..1. Source: IEC 61966-2-1 (sRGB), from memory."""
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def gap_list(study: ClearanceStudy, name: str, units: str) -> str:
    """The list as SVG.

    Args:
        study: Every pair, worst first.
        name: Of the sheet.
        units: in or mm.
    """
    rows = study.pairs[: max(MOST, len(study.short))]
    width = 2.0 * RIM + sum(w for _, w in COLUMNS)
    height = 2.0 * RIM + ROW * (len(rows) + 4)
    title = f"{name}: {len(study.short)} of {len(study.pairs)} pairs that come near miss their gap"
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.0f}" height="{height:.0f}" '
        f'viewBox="0 0 {width:.0f} {height:.0f}" font-family="DejaVu Sans, sans-serif" font-size="{SIZE:.0f}">',
        f'<rect width="{width:.0f}" height="{height:.0f}" fill="#ffffff"/>',
        _text(RIM, RIM + SIZE, title, INK, weight="bold"),
    ]
    y = RIM + 2.0 * ROW
    for x, (head, _) in zip(_starts(), COLUMNS, strict=True):
        shown = f"{head} [{units}]" if head in ("gap", "wanted") else head
        out.append(_text(x, y, shown, GREY))
    for n, pair in enumerate(rows):
        out += _row(pair, y + ROW * n + 6.0, width, units)
    y += ROW * (len(rows) + 1)
    words = f"{study.poses} poses looked at; "
    if len(rows) < len(study.pairs):
        words += f"{len(study.pairs) - len(rows)} more pairs keep more than these; "
    words += f"{study.far} pairs stay over {_length(study.reach, units)} {units} farther apart than they should."
    out.append(_text(RIM, y + 4.0, words, GREY))
    if len(study.exact) < len(study.pairs):
        out.append(_text(RIM, y + 4.0 + ROW, "Gaps by mesh are told less what the mesh may be off.", GREY))
    return "\n".join([*out, "</svg>"]) + "\n"


def _starts() -> list[float]:
    x, starts = RIM + 6.0, []
    for _, width in COLUMNS:
        starts.append(x)
        x += width
    return starts


def _row(pair: PairGap, y: float, width: float, units: str) -> list[str]:
    colour = heat(pair)
    gap = _length(pair.gap, units) if pair.state == "apart" or pair.gap < 0.0 else pair.state
    cells = [
        f"{'' if pair.met else '! '}{gap}",
        _length(pair.wanted, units),
        verdict(pair),
        _cut(f"{pair.labels[0]} - {pair.labels[1]}", 58),
        pair.kind,
        _cut(pair.place.name, 22),
        pair.told_by,
    ]
    ink = ink_on(colour)
    box = (
        f'<rect x="{RIM:.1f}" y="{y:.1f}" width="{width - 2.0 * RIM:.1f}" height="{ROW - 2.0:.1f}" '
        f'rx="2" fill="{hexed(colour)}"/>'
    )
    texts = [_text(x, y + 14.5, cell, ink) for x, cell in zip(_starts(), cells, strict=True)]
    return [box, *texts]


def _cut(words: str, most: int) -> str:
    return words if len(words) <= most else f"{words[: most - 3]}..."


def _length(value: float, units: str) -> str:
    return f"{value / INCH:.2f}" if units == "in" else f"{value:.1f}"


def _text(x: float, y: float, words: str, ink: str, weight: str = "normal") -> str:
    return f'<text x="{x:.1f}" y="{y:.1f}" fill="{ink}" font-weight="{weight}">{escape(words)}</text>'
