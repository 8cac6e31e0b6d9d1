"""A sheet with the parts on it as an SVG picture: what the person at the table holds beside the screen."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from fixturegen.papers.flat_pictures import loop_path
from fixturegen.papers.words import INCH
from fixturegen.plate import Profile
from fixturegen.plate.placed import CutSheet, Placed, placed_part
from fixturegen.plate.profile import Operation, bounds, hole_loop, polyline

if TYPE_CHECKING:
    from shapely.geometry import Polygon

INK = "#1a1a1a"
STEEL = "#dfe6ec"
INSIDE = "#f3ead2"  # a part that lies in another one's opening
LEFT = "#e8f3e4"  # the remnant
WIDE = 1000.0  # of the picture [px]
FACETS = 0.5  # arcs as chords within this, to find room for a name [mm]
PLACES = 14  # places tried along each side of a part for its name
LETTER = 0.56  # width of a letter over its height, on the safe side


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def sheet_svg(sheet: CutSheet, units: str = "in") -> str:
    """The sheet, its parts with order and name, the grain and what is left; x to the right, y up.

    Args:
        sheet: The sheet with what lies on it.
        units: in or mm, of the words in the picture.
    """
    size = sheet.length / WIDE  # one picture point [mm]
    pad = 36.0 * size
    view = f"{_n(-pad)} {_n(-sheet.width - pad)} {_n(sheet.length + 2 * pad)} {_n(sheet.width + 2.4 * pad)}"
    body = [f'<path d="{loop_path(sheet.border)}" fill="#ffffff" stroke="{INK}" stroke-width="{_n(2.0 * size)}"/>']
    body += _left(sheet, size, units)
    for i, put in enumerate(sheet.placed, 1):
        body += _part(put, i, size)
    body += _frame(sheet, size, units)
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
    return [drawn, *_name(put, number, part.profile, size)]


def _name(put: Placed, number: int, profile: Profile, size: float) -> list[str]:
    """Order and name on the steel of the part, as large as it has room; the number alone where it has none."""
    text = f"{number}  {put.part.name}" + (f" #{put.copy}" if put.part.quantity > 1 else "")
    x, y, high, turn = _room_for(text, profile, size) or (*_widest(profile)[:2], 0.0, 0)
    if not high:  # the table beside the picture has the name
        text, high = str(number), min(11.0 * size, 1.4 * _widest(profile)[2])
    halo = f'stroke="#ffffff" stroke-width="{_n(0.25 * high)}" paint-order="stroke" stroke-linejoin="round"'
    return [
        f'<text x="{_n(x)}" y="{_n(-y)}" font-size="{_n(high)}" fill="{INK}" {halo} text-anchor="middle" '
        f'dominant-baseline="central" transform="rotate({-turn} {_n(x)} {_n(-y)})">{escape(text)}</text>'
    ]


def _steel(profile: Profile) -> Polygon:
    from shapely.geometry import Polygon

    cut = [hole_loop(h) for h in profile.holes if h.operation is not Operation.PILOT]
    rings = [polyline(loop, FACETS) for loop in (*profile.inner, *cut)]
    return Polygon(polyline(profile.outer, FACETS), rings)


def _room_for(text: str, profile: Profile, size: float) -> tuple[float, float, float, int] | None:
    """Middle, height [mm] and turn [deg] of a name that lies on steel alone; None where none does."""
    import shapely

    steel = _steel(profile)
    if not steel.is_valid:
        return None
    shapely.prepare(steel)
    x0, y0, x1, y1 = bounds(profile.outer)
    x, y, _ = _widest(profile)
    steps = [(i + 0.5) / PLACES for i in range(PLACES)]
    around = [(x0 + u * (x1 - x0), y0 + v * (y1 - y0)) for u in steps for v in steps]
    middles = [(x, y), *sorted(around, key=lambda p: (math.dist(p, (x, y)), p))]
    for high in (13.0 * size, 10.0 * size, 7.5 * size):
        half, up = LETTER * len(text) * high / 2.0, 0.6 * high
        for turn in (0, 90) if x1 - x0 >= y1 - y0 else (90, 0):
            a, b = (half, up) if turn == 0 else (up, half)
            at = np.array(middles)
            boxes = shapely.box(at[:, 0] - a, at[:, 1] - b, at[:, 0] + a, at[:, 1] + b)
            inside = shapely.contains(steel, boxes)
            if inside.any():
                mx, my = middles[int(inside.argmax())]
                return mx, my, high, turn
    return None


def _widest(profile: Profile) -> tuple[float, float, float]:
    """Middle and radius [mm] of the largest circle in the steel; of the bounds where there is none."""
    from shapely.ops import polylabel

    steel = _steel(profile)
    x0, y0, x1, y1 = bounds(profile.outer)
    if not steel.is_valid or steel.is_empty:
        return (x0 + x1) / 2.0, (y0 + y1) / 2.0, min(x1 - x0, y1 - y0) / 2.0
    middle = polylabel(steel, tolerance=max(0.5, 0.01 * max(x1 - x0, y1 - y0)))
    return float(middle.x), float(middle.y), float(steel.boundary.distance(middle))


def _one(value: float, units: str) -> str:
    return f"{value:.2f} mm" if units == "mm" else f"{value / INCH:.3f} in"


def _sides(x: float, y: float, units: str) -> str:
    return f"{x:.0f} x {y:.0f} mm" if units == "mm" else f"{x / INCH:.1f} x {y / INCH:.1f} in"


def _left(sheet: CutSheet, size: float, units: str) -> list[str]:
    if not sheet.remnant:
        return []
    x = sheet.cut_to
    words = f"LEFT: {_sides(sheet.length - x, sheet.width, units)}"
    middle = (x + sheet.length) / 2.0
    high = min(15.0 * size, sheet.width / (LETTER * len(words)))
    return [
        f'<path d="{loop_path(sheet.remnant)}" fill="{LEFT}" stroke="{INK}" stroke-width="{_n(1.2 * size)}" '
        f'stroke-dasharray="{_n(8 * size)} {_n(5 * size)}"/>',
        f'<text x="{_n(middle)}" y="{_n(-sheet.width / 2.0)}" font-size="{_n(high)}" fill="{INK}" '
        f'text-anchor="middle" dominant-baseline="central" '
        f'transform="rotate(-90 {_n(middle)} {_n(-sheet.width / 2.0)})">{escape(words)}</text>',
    ]


def _frame(sheet: CutSheet, size: float, units: str) -> list[str]:
    """Title above, zero corner and grain below; the zero corner is where the torch is set."""
    high = 14.0 * size
    title = (
        f"SHEET {sheet.number}: {sheet.name}, plate {_one(sheet.thickness, units)}, "
        f"{_sides(sheet.length, sheet.width, units)}, marked faces up"
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
