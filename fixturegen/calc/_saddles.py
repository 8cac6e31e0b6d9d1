"""The cut on the end of a tube that stands on another tube; floats or arrays in and out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fixturegen.errors import Fault, InputFault
from fixturegen.units import as_text

if TYPE_CHECKING:
    from fixturegen.calc._numbers import Numbers


def saddle_height(turn: Numbers, branch: Numbers, main: Numbers, angle: Numbers, offset: Numbers) -> Numbers:
    """Where the branch tube ends, along its axis from where the axes come closest [mm].

    Args:
        turn: Round the branch, 0 on the side of the corner that `angle` measures [deg].
        branch: Radius of the branch [mm].
        main: Radius of the main tube [mm].
        angle: Between the axes, 90 for square [deg].
        offset: Of the main axis beside the branch axis, towards turn 90 [mm].

    Source: geometry, (sqrt(R^2 - (r sin turn - o)^2) + r cos turn cos angle) / sin angle.
    """
    import numpy as np

    round_, lean = np.radians(turn), np.radians(angle)
    up = np.sqrt(np.maximum(0.0, main**2 - (branch * np.sin(round_) - offset) ** 2))
    height: Numbers = (up + branch * np.cos(round_) * np.cos(lean)) / np.sin(lean)
    return height


def saddle_extremes(branch: float, main: float, angle: float, offset: float) -> tuple[float, float]:
    """Smallest and largest height of the cut [mm].

    Args:
        branch: Radius of the branch [mm].
        main: Radius of the main tube [mm].
        angle: Between the axes [deg].
        offset: Of the axes [mm].

    Source: geometry, found by closing in on the extremes of the curve.
    """
    import numpy as np

    coarse = np.linspace(0.0, 360.0, 721)
    found = []
    for sign in (1.0, -1.0):
        middle, step = float(coarse[np.argmin(sign * saddle_height(coarse, branch, main, angle, offset))]), 0.5
        for _ in range(4):
            near = np.linspace(middle - step, middle + step, 41)
            middle, step = float(near[np.argmin(sign * saddle_height(near, branch, main, angle, offset))]), step / 20
        found.append(float(saddle_height(middle, branch, main, angle, offset)))
    return found[0], found[1]


def demand_meeting(branch: float, main: float, offset: float) -> None:
    """Nothing, when the whole round of the branch meets the main tube.

    Args:
        branch: Diameter of the branch [mm].
        main: Diameter of the main tube [mm].
        offset: Of the axes [mm].

    Source: geometry, r + |offset| up to R.

    Raises:
        InputFault: When part of the branch passes beside the main tube.
    """
    room = (main - branch) / 2
    if room < 0:
        text = as_text(branch, "length", "in")
        remedy = "part of the branch would pass beside the main tube: exchange the two, or fit it another way"
        raise InputFault(Fault("--branch", text, f"up to the main diameter, {as_text(main, 'length', 'in')}", remedy))
    if abs(offset) > room + 1e-9:
        text = as_text(offset, "length", "in")
        allowed = f"up to {as_text(room, 'length', 'in')} to either side"
        raise InputFault(Fault("--offset", text, allowed, "part of the branch would pass beside the main tube"))
