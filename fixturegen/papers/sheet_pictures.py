"""A sheet with the parts on it as an SVG picture: what the person at the table holds beside the screen."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from fixturegen.papers.flat_pictures import loop_path
from fixturegen.papers.words import INCH
from fixturegen.plate.placed import CutSheet, Placed, placed_part
from fixturegen.plate.profile import Loop, Operation, bounds, hole_loop

INK = "#1a1a1a"
STEEL = "#dfe6ec"
INSIDE = "#f3ead2"  # a part that lies in another one's opening
LEFT = "#e8f3e4"  # the remnant
WIDE = 1000.0  # of the picture [px]
LETTER = 0.62  # width of a letter over its height, on the safe side


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def sheet_svg(sheet: CutSheet) -> str:
    """The sheet, its parts with name and turn of cutting, the grain and what is left; x to the right, y up.

    Args:
        sheet: The sheet with what lies on it.
    """
    size = sheet.length / WIDE  # one picture point [mm]
    pad = 36.0 * size
    view = f"{_n(-pad)} {_n(-sheet.width - pad)} {_n(sheet.length + 2 * pad)} {_n(sheet.width + 2.4 * pad)}"
    body = [f'<path d="{loop_path(sheet.border)}" fill="#ffffff" stroke="{INK}" stroke-width="{_n(2.0 * size)}"/>']
    body += _left(sheet, size)
    for i, put in enumerate(sheet.placed, 1):
        body += _part(put, i, size)
    body += _frame(sheet, size)
    high = WIDE * (sheet.width + 2.4 * pad) / (sheet.length + 2 * pad)
    label = f"sheet {sheet.number}, {sheet.name}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" width="{_n(WIDE)}" height="{_n(high)}" '
        f'role="img" aria-label={quoteattr(label)} font-family="sans-serif">' + "".join(body) + "</svg>"
    )


def _part(put: Placed, number: int, size: float) -> list[str]:
    part = placed_part(put)
    if part.profile is None:
        return []
    cut = [hole_loop(h) for h in part.profile.holes if h.operation is not Operation.PILOT]
    path = " ".join(loop_path(loop) for loop in (part.profile.outer, *part.profile.inner, *cut))
    fill = INSIDE if put.inside else STEEL
    drawn = f'<path d="{path}" fill="{fill}" fill-rule="evenodd" stroke="{INK}" stroke-width="{_n(1.2 * size)}"/>'
    return [drawn, *_name(put, number, part.profile.outer, size)]


def _name(put: Placed, number: int, outer: Loop, size: float) -> list[str]:
    """Order and name in the middle of the part; along its longer side, as large as it has room."""
    x0, y0, x1, y1 = bounds(outer)
    text = f"{number}  {put.part.name}" + (f" #{put.copy}" if put.part.quantity > 1 else "")
    along = max(x1 - x0, y1 - y0)
    high = min(13.0 * size, along / (LETTER * len(text)))
    if high < 6.5 * size:  # too small to be read: the number alone, the table beside the picture has the name
        text, high = str(number), min(11.0 * size, 0.8 * min(x1 - x0, y1 - y0))
    turn = -90 if y1 - y0 > 1.2 * (x1 - x0) else 0
    x, y = (x0 + x1) / 2.0, -(y0 + y1) / 2.0
    halo = f'stroke="#ffffff" stroke-width="{_n(0.25 * high)}" paint-order="stroke" stroke-linejoin="round"'
    return [
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(high)}" fill="{INK}" {halo} text-anchor="middle" '
        f'dominant-baseline="central" transform="rotate({turn} {_n(x)} {_n(y)})">{escape(text)}</text>'
    ]


def _left(sheet: CutSheet, size: float) -> list[str]:
    if not sheet.remnant:
        return []
    x = sheet.cut_to
    words = f"LEFT: {(sheet.length - x) / INCH:.1f} x {sheet.width / INCH:.1f} in"
    middle = (x + sheet.length) / 2.0
    high = min(15.0 * size, sheet.width / (LETTER * len(words)))
    return [
        f'<path d="{loop_path(sheet.remnant)}" fill="{LEFT}" stroke="{INK}" stroke-width="{_n(1.2 * size)}" '
        f'stroke-dasharray="{_n(8 * size)} {_n(5 * size)}"/>',
        f'<text x="{_n(middle)}" y="{_n(-sheet.width / 2.0)}" font-size="{_n(high)}" fill="{INK}" '
        f'text-anchor="middle" dominant-baseline="central" '
        f'transform="rotate(-90 {_n(middle)} {_n(-sheet.width / 2.0)})">{escape(words)}</text>',
    ]


def _frame(sheet: CutSheet, size: float) -> list[str]:
    """Title above, zero corner and grain below; the zero corner is where the torch is set."""
    high = 14.0 * size
    title = (
        f"SHEET {sheet.number}: {sheet.name}, {sheet.thickness / INCH:.3f} in, "
        f"{sheet.length / INCH:.1f} x {sheet.width / INCH:.1f} in, marked faces up"
    )
    grain = {"length": "GRAIN ---> (along this side)", "width": "GRAIN across this side"}.get(
        sheet.grain, "GRAIN not known"
    )
    cross, zero = 7.0 * size, f'stroke="#b3261e" stroke-width="{_n(2.4 * size)}"'
    return [
        f'<text x="0" y="{_n(-sheet.width - 10 * size)}" font-size="{_n(high)}" fill="{INK}">{escape(title)}</text>',
        f'<text x="{_n(60 * size)}" y="{_n(20 * size)}" font-size="{_n(0.85 * high)}" fill="{INK}">'
        f"{escape(grain)}</text>",
        f'<path d="M{_n(-cross)} 0h{_n(2 * cross)}M0 {_n(-cross)}v{_n(2 * cross)}" {zero}/>',
        f'<text x="0" y="{_n(24 * size)}" font-size="{_n(0.85 * high)}" fill="#b3261e">ZERO</text>',
    ]
