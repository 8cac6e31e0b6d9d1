"""Saddle cut of a tube on a tube."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer, Columns
from fixturegen.calc._saddles import demand_meeting, saddle_extremes, saddle_height
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Length

STEP = 15
"""deg between the rows of the table."""


@dataclass(frozen=True, kw_only=True)
class Saddle(Answer):
    """How deep the saddle is, and the line to wrap round the branch."""

    depth: Annotated[float, Length("0 in", "100 in")]
    table: Annotated[
        tuple[tuple[float, float, float], ...],
        Columns((("turn", "deg"), ("around", "mm"), ("cut", "mm"))),
    ]


def saddle(
    branch: Annotated[float, Length("1/4 in", "12 in")],
    main: Annotated[float, Length("1/4 in", "24 in")],
    angle: Annotated[float, Angle("15 deg", "165 deg")],
    offset: Annotated[float, Length("-12 in", "12 in")] = 0.0,
) -> Saddle:
    """Depth of the saddle on a tube that stands on another, and its line as a table.

    Args:
        branch: Diameter of the tube that is cut, where the line is drawn: outside for a wrapped
            paper [mm].
        main: Outside diameter of the tube it stands on, measured [mm].
        angle: Between the two axes, 90 when square [deg].
        offset: Of the main axis beside the branch's axis, positive towards turn 90 [mm].

    Returns:
        Depth, the largest cut less the smallest [mm], and a table: turn round the branch [deg],
        length around it [mm], and how far the line stands above its lowest point, towards the
        branch's far end [mm].

    Formula: z = (sqrt(R^2 - (r sin turn - offset)^2) + r cos turn cos angle) / sin angle,
        around = r x turn in radians, depth = largest z - smallest z.
    Holds: for round tubes, the branch's whole round meeting the main tube: r + offset up to R.
    Source: geometry, line that two cylinders share.
    Example: --branch "1 1/2 in" --main "2 in" --angle "90 deg" --offset "0 in"

    Raises:
        InputFault: When part of the branch passes beside the main tube.
    """
    r, big = branch / 2, main / 2
    demand_meeting(branch, main, offset)
    low, high = saddle_extremes(r, big, angle, offset)
    rows = tuple(
        (float(t), r * math.radians(t), max(0.0, float(saddle_height(t, r, big, angle, offset)) - low))
        for t in range(0, 361, STEP)
    )
    return Saddle(
        depth=high - low,
        table=rows,
        formula=(
            "z = (sqrt(R^2 - (r sin turn - offset)^2) + r cos turn cos angle) / sin angle; "
            "around = r x turn in radians; cut = z - smallest z; depth = largest z - smallest z"
        ),
        source=cite("geometry", "line that two cylinders share"),
        trust=Trust.DERIVED,
        warnings=(
            "turn 0 lies in the corner that the angle was given for, the sharp one when it is under 90 deg",
            "for one wall thickness: a cut square through the wall touches with its inner edge first, so grind "
            "or give the inside diameter and compare",
            "root gap and the taper of the cut are not in it",
        ),
    )
