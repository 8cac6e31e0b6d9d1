"""The colour section of a STEP file in an order of its own.

The kernel keeps colours in a table ordered by memory address, so two runs list them differently.
They are read out, sorted by the solid they colour, and written anew.
"""

from __future__ import annotations

import re

_START = re.compile(r"^#(\d+) = MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION\(", re.MULTILINE)
_ENTITY = re.compile(r"#(\d+)\s*=\s*([A-Z_]+)\s*\((.*?)\);\s*(?=#|$)", re.DOTALL)
_KNOWN = frozenset(
    {
        "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION",
        "STYLED_ITEM",
        "PRESENTATION_STYLE_ASSIGNMENT",
        "SURFACE_STYLE_USAGE",
        "SURFACE_SIDE_STYLE",
        "SURFACE_STYLE_FILL_AREA",
        "FILL_AREA_STYLE",
        "FILL_AREA_STYLE_COLOUR",
        "COLOUR_RGB",
        "CURVE_STYLE",
        "DRAUGHTING_PRE_DEFINED_CURVE_FONT",
        "DRAUGHTING_PRE_DEFINED_COLOUR",
    }
)
_COLOURS = ("COLOUR_RGB", "DRAUGHTING_PRE_DEFINED_COLOUR")


def in_own_order(text: str) -> str:
    """The STEP text with its colours sorted by the solids they are of.

    A text whose colour section is not of the known form comes back as it was.

    Args:
        text: As the kernel wrote it.
    """
    start = _START.search(text)
    end = text.find("ENDSEC;", start.start()) if start else -1
    if start is None or end < 0:
        return text
    found = {int(n): (kind, body) for n, kind, body in _ENTITY.findall(text[start.start() : end])}
    if not {kind for kind, _ in found.values()} <= _KNOWN:
        return text
    coloured = []
    for kind, body in found.values():
        if kind == "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION":
            *items, context = _references(body)
            coloured += [(_references(found[i][1])[-1], context, _colour(found, i)) for i in items]
    written, number = [], int(start[1])
    for solid, context, colour in sorted(coloured):
        written.append(_block(number, solid, context, colour))
        number += 11
    return text[: start.start()] + "".join(written) + text[end:]


def _references(body: str) -> list[int]:
    return [int(n) for n in re.findall(r"#(\d+)", body)]


def _colour(found: dict[int, tuple[str, str]], item: int) -> str:
    """The colour entity that a styled item comes to, as text."""
    *styles, _ = _references(found[item][1])
    todo = styles
    while todo:
        kind, body = found[todo.pop(0)]
        if kind in _COLOURS:
            return f"{kind}({' '.join(body.split())})"
        todo += _references(body)
    return "COLOUR_RGB('',0.5,0.5,0.5)"


def _block(n: int, solid: int, context: int, colour: str) -> str:
    return (
        f"#{n} = MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',(\n    #{n + 1}),#{context});\n"
        f"#{n + 1} = STYLED_ITEM('color',(#{n + 2}),#{solid});\n"
        f"#{n + 2} = PRESENTATION_STYLE_ASSIGNMENT((#{n + 3},#{n + 9}));\n"
        f"#{n + 3} = SURFACE_STYLE_USAGE(.BOTH.,#{n + 4});\n"
        f"#{n + 4} = SURFACE_SIDE_STYLE('',(#{n + 5}));\n"
        f"#{n + 5} = SURFACE_STYLE_FILL_AREA(#{n + 6});\n"
        f"#{n + 6} = FILL_AREA_STYLE('',(#{n + 7}));\n"
        f"#{n + 7} = FILL_AREA_STYLE_COLOUR('',#{n + 8});\n"
        f"#{n + 8} = {colour};\n"
        f"#{n + 9} = CURVE_STYLE('',#{n + 10},POSITIVE_LENGTH_MEASURE(0.1),#{n + 8});\n"
        f"#{n + 10} = DRAUGHTING_PRE_DEFINED_CURVE_FONT('continuous');\n"
    )
