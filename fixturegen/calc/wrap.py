"""Paper to wrap round a tube that is coped onto another: its length, and the line in divisions made by folding."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer, Columns
from fixturegen.calc._saddles import demand_meeting, saddle_extremes, saddle_height
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Length

DIVISIONS = 32
"""A strip folded in half five times; each fold is a row of the table."""


@dataclass(frozen=True, kw_only=True)
class Wrap(Answer):
    """A strip of paper and the line on it."""

    circumference: Annotated[float, Length("0 in", "100 in")]
    depth: Annotated[float, Length("0 in", "100 in")]
    table: Annotated[
        tuple[tuple[int, float, float, float], ...],
        Columns((("division", "of 32"), ("turn", "deg"), ("around", "mm"), ("cut", "mm"))),
    ]


def wrap(
    branch: Annotated[float, Length("1/4 in", "12 in")],
    main: Annotated[float, Length("1/4 in", "24 in")],
    angle: Annotated[float, Angle("15 deg", "165 deg")],
    offset: Annotated[float, Length("-12 in", "12 in")] = 0.0,
) -> Wrap:
    """Wrap-round template of a tube coped onto another, as a table to be plotted on a strip of paper.

    Args:
        branch: Outside diameter of the tube that is cut [mm].
        main: Outside diameter of the tube it stands on, measured [mm].
        angle: Between the two axes, 90 when square [deg].
        offset: Of the main axis beside the branch's axis, positive towards turn 90 [mm].

    Returns:
        Length of the strip round the branch without its lap [mm], depth of the cope [mm], and a table:
        division (the strip folded in half five times), turn [deg], length around [mm], and how far the
        line stands back from the tube's longest point [mm].

    Formula: cut = z - smallest z, z = (sqrt(R^2 - (r sin turn - offset)^2) + r cos turn cos angle) / sin angle,
        around = r x turn in radians, circumference = pi x branch.
    Holds: for round tubes, the branch's whole round meeting the main tube: r + offset up to R.
    Source: geometry, line that two cylinders share, unrolled.
    Example: --branch "1 1/2 in" --main "3 in" --angle "60 deg" --offset "0 in"

    Raises:
        InputFault: When part of the branch passes beside the main tube.
    """
    demand_meeting(branch, main, offset)
    r, big = branch / 2, main / 2
    low, high = saddle_extremes(r, big, angle, offset)
    rows = tuple(
        (
            k,
            360.0 * k / DIVISIONS,
            math.pi * branch * k / DIVISIONS,
            max(0.0, float(saddle_height(360.0 * k / DIVISIONS, r, big, angle, offset)) - low),
        )
        for k in range(DIVISIONS + 1)
    )
    return Wrap(
        circumference=math.pi * branch,
        depth=high - low,
        table=rows,
        formula=(
            "circumference = pi x branch; around = r x turn in radians; cut = z - smallest z; "
            "z = (sqrt(R^2 - (r sin turn - offset)^2) + r cos turn cos angle) / sin angle"
        ),
        source=cite("geometry", "line that two cylinders share, unrolled"),
        trust=Trust.DERIVED,
        warnings=(
            "turn 0 lies in the corner that the angle was given for, the sharp one when it is under 90 deg",
            "the paper itself is some 0.004 in thick: add a lap of 1/2 in and let the ends find each other",
            "a cut square through the wall touches with its inner edge first: grind to the line, then bevel",
        ),
    )
