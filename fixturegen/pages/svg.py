"""A figure as SVG at true size: one user unit is one mm."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from fixturegen.pages.figure import Box, Figure, Item, Trace, Window
from fixturegen.pages.fonts import CAPITAL, drawable
from fixturegen.plate.profile import edge_between


def _n(value: float) -> str:
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def svg(figure: Figure, label: str, box: Box | None = None) -> str:
    """The figure as SVG text whose width and height are told in mm.

    Args:
        figure: What is drawn [mm].
        label: What it is, for those who cannot see it.
        box: (x0, y0, x1, y1) shown [mm]; all that is drawn, and 5 mm round it, when not given.
    """
    x0, y0, x1, y1 = box or _round(figure.box())
    clips: list[str] = []
    body = "".join(_item(i, clips) for i in figure.items)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(x1 - x0)}mm" height="{_n(y1 - y0)}mm" '
        f'viewBox="{_n(x0)} {_n(-y1)} {_n(x1 - x0)} {_n(y1 - y0)}" role="img" aria-label={quoteattr(drawable(label))} '
        f'font-family="DejaVu Sans, sans-serif">{"".join(clips)}{body}</svg>\n'
    )


def _round(box: Box, rim: float = 5.0) -> Box:
    return box[0] - rim, box[1] - rim, box[2] + rim, box[3] + rim


def _item(item: Item, clips: list[str]) -> str:
    if isinstance(item, Window):
        x0, y0, x1, y1 = item.box
        name = f"window-{len(clips) + 1}"
        clips.append(
            f'<clipPath id="{name}"><rect x="{_n(x0)}" y="{_n(-y1)}" width="{_n(x1 - x0)}" '
            f'height="{_n(y1 - y0)}"/></clipPath>'
        )
        return f'<g clip-path="url(#{name})">{"".join(_item(i, clips) for i in item.items)}</g>'
    role = f" class={quoteattr(item.role)}" if item.role else ""
    if isinstance(item, Trace):
        pen = item.pen
        stroke = f'stroke="{pen.colour}" stroke-width="{_n(pen.width)}"' if pen.width else 'stroke="none"'
        dash = f' stroke-dasharray="{" ".join(_n(d) for d in pen.dash)}"' if pen.dash else ""
        return f'<path{role} d="{path_of(item)}" fill="{pen.fill or "none"}" {stroke}{dash}/>'
    turn = f' transform="rotate({_n(-item.angle)} {_n(item.x)} {_n(-item.y)})"' if item.angle else ""
    weight = ' font-weight="bold"' if item.bold else ""
    return (
        f'<text{role} x="{_n(item.x)}" y="{_n(-item.y)}" font-size="{_n(item.size / CAPITAL)}" fill="{item.colour}" '
        f'text-anchor="{item.anchor}"{weight}{turn}>{escape(drawable(item.text, item.bold))}</text>'
    )


def path_of(trace: Trace) -> str:
    """SVG path of a trace, y up turned to y down; arcs as arcs."""
    first = trace.vertices[0]
    parts = [f"M{_n(first.x)} {_n(-first.y)}"]
    ends = (*trace.vertices[1:], first) if trace.closed else trace.vertices[1:]
    for a, b in zip(trace.vertices, ends, strict=False):
        e = edge_between(a, b)
        if e.centre is None:
            parts.append(f"L{_n(b.x)} {_n(-b.y)}")
        else:
            large, sweep = int(abs(a.bulge) > 1.0), int(a.bulge < 0.0)
            parts.append(f"A{_n(e.radius)} {_n(e.radius)} 0 {large} {sweep} {_n(b.x)} {_n(-b.y)}")
    return " ".join(parts) + (" Z" if trace.closed else "")
