"""The list of gaps in colours, worst first, as one SVG: red what touches, green what has twice what it should."""

from __future__ import annotations

from itertools import pairwise
from xml.sax.saxutils import escape

from fixturegen.studies.clearance_records import ClearanceStudy, PairGap

INCH = 25.4
ROW, RIM, SIZE = 22.0, 16.0, 12.0
"""Height of a row, white rim, height of letters [px]."""
COLUMNS = (("gap", 92.0), ("wanted", 92.0), ("pair", 400.0), ("kind", 70.0), ("worst at", 170.0))
MOST = 60  # rows; the rest keeps more
STOPS = ((0.0, (0.80, 0.16, 0.14)), (1.0, (0.98, 0.72, 0.28)), (1.0001, (0.99, 0.93, 0.55)), (2.0, (0.66, 0.87, 0.62)))
"""Part of the gap wanted that is there, and its colour: red at contact, amber just short, yellow just enough."""
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
    return "\n".join([*out, "</svg>"]) + "\n"


def _starts() -> list[float]:
    x, starts = RIM + 6.0, []
    for _, width in COLUMNS:
        starts.append(x)
        x += width
    return starts


def _row(pair: PairGap, y: float, width: float, units: str) -> list[str]:
    red, green, blue = (round(255 * c) for c in heat(pair))
    fill = f"#{red:02x}{green:02x}{blue:02x}"
    gap = _length(pair.gap, units) if pair.state == "apart" or pair.gap < 0.0 else pair.state
    cells = [
        f"{'' if pair.met else '! '}{gap}",
        _length(pair.wanted, units),
        _cut(f"{pair.labels[0]} - {pair.labels[1]}", 58),
        pair.kind,
        _cut(pair.place.name, 22),
    ]
    # dark red wants white letters, what is measured must be read without its colour too
    ink = "#ffffff" if pair.state != "apart" or pair.gap < 0.3 * pair.wanted else INK
    box = (
        f'<rect x="{RIM:.1f}" y="{y:.1f}" width="{width - 2.0 * RIM:.1f}" height="{ROW - 2.0:.1f}" '
        f'rx="2" fill="{fill}"/>'
    )
    texts = [_text(x, y + 14.5, cell, ink) for x, cell in zip(_starts(), cells, strict=True)]
    return [box, *texts]


def _cut(words: str, most: int) -> str:
    return words if len(words) <= most else f"{words[: most - 3]}..."


def _length(value: float, units: str) -> str:
    return f"{value / INCH:.2f}" if units == "in" else f"{value:.1f}"


def _text(x: float, y: float, words: str, ink: str, weight: str = "normal") -> str:
    return f'<text x="{x:.1f}" y="{y:.1f}" fill="{ink}" font-weight="{weight}">{escape(words)}</text>'
