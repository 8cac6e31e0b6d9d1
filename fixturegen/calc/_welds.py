"""Fillet welds: one line, and a group of lines; floats or arrays in and out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fixturegen.stock import FilletSize, table

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from fixturegen.calc._numbers import Numbers

THROAT_SHARE = math.sqrt(0.5)
"""Throat of a fillet with equal legs over its leg."""

FILLER_SHARE = 0.60
"""Shear strength of weld metal over its tensile strength (AISC 360 J2.4)."""

RESISTANCE = 0.75
"""Factor on the nominal strength that gives the design strength (AISC 360 J2.4)."""

SAFETY = 2.0
"""Factor under the nominal strength that gives the allowable load (AISC 360 J2.4)."""

E70 = 70 * 6.894757293168
"""MPa; filler of 70 ksi, the usual wire and rod."""

SIXTEENTH = 25.4 / 16

LENGTH_IN_LEGS = 4.0
"""Shortest fillet that counts in full, over its leg (AISC 360 J2.2b)."""


def fillet_strength(leg: Numbers, length: Numbers, angle: Numbers = 0.0, filler: Numbers = E70) -> Numbers:
    """Nominal strength of one straight fillet weld [N]; no factor is in it.

    Args:
        leg: Of the weld [mm].
        length: Effective, without starts and craters [mm].
        angle: Between the load and the line of the weld, 0 to 90 [deg].
        filler: Tensile strength of the weld metal [MPa].

    Source: aisc-360, J2.4, 0.6 F (1 + 0.5 sin^1.5 angle) throat length.
    """
    import numpy as np

    across = 1 + 0.5 * np.abs(np.sin(np.radians(angle))) ** 1.5
    strength: Numbers = FILLER_SHARE * filler * across * THROAT_SHARE * leg * length * long_weld(leg, length)
    return strength


def long_weld(leg: Numbers, length: Numbers) -> Numbers:
    """Share of a long weld along the load that carries [1].

    Args:
        leg: Of the weld [mm].
        length: Of the weld [mm].

    Source: aisc-360, J2.2b, 1.2 - 0.002 length / leg between 0.6 and 1.
    """
    import numpy as np

    # over 300 legs the effective length stays 180 legs
    share: Numbers = np.where(
        np.greater(length, 300 * leg), 180 * leg / length, np.minimum(1.0, 1.2 - 0.002 * length / leg)
    )[()]
    return share


def smallest_fillet(thickness: float) -> FilletSize:
    """The entry for the smallest leg on a plate; of the thinner part with a low-hydrogen process.

    Args:
        thickness: Of the plate [mm].

    Source: aws-d1.1, table 7.7; aisc-360, table J2.4.
    """
    rows = [r for r in table("fillets").entries.values() if isinstance(r, FilletSize)]
    return next((r for r in rows if thickness <= r.thickness_to), rows[-1])


def largest_fillet(thickness: float) -> float:
    """Largest leg along the edge of a plate [mm].

    Args:
        thickness: Of the plate whose edge is welded [mm].

    Source: aisc-360, J2.2b, the thickness below 1/4 in, 1/16 in less from there on.
    """
    return thickness if thickness < 4 * SIXTEENTH - 1e-9 else thickness - SIXTEENTH


@dataclass(frozen=True)
class WeldGroup:
    """Straight welds in one plane, each a line of no width.

    Attributes:
        length: Of all lines [mm].
        centroid: x, y [mm].
        ix: Integral of y^2 over the lines, about the centroid [mm^3].
        iy: Integral of x^2 [mm^3].
        ixy: Integral of x y [mm^3].
        polar: ix + iy, for torsion [mm^3].
    """

    length: float
    centroid: tuple[float, float]
    ix: float
    iy: float
    ixy: float

    @property
    def polar(self) -> float:
        """Integral of the distance squared, about the centroid [mm^3]."""
        return self.ix + self.iy


def weld_group(lines: npt.ArrayLike) -> WeldGroup:
    """Length, centroid and second moments of a group of straight welds.

    Args:
        lines: (n, 4): x and y of one end, x and y of the other [mm].

    Raises:
        ValueError: When no line has a length.

    Source: blodgett, weld treated as a line.
    """
    import numpy as np

    ends = np.asarray(lines, dtype=float).reshape(-1, 2, 2)
    span = ends[:, 1] - ends[:, 0]
    lengths = np.hypot(span[:, 0], span[:, 1])
    total = float(lengths.sum())
    if not total > 0:
        raise ValueError("a weld group needs a line that has a length")
    middles = ends.mean(axis=1)
    centre = lengths @ middles / total
    away = middles - centre
    moments = np.einsum("n,ni,nj->ij", lengths, away, away) + np.einsum("n,ni,nj->ij", lengths / 12, span, span)
    return WeldGroup(
        total, (float(centre[0]), float(centre[1])), float(moments[1, 1]), float(moments[0, 0]), float(moments[0, 1])
    )


def weld_flow(
    lines: npt.ArrayLike, force: npt.ArrayLike, at: npt.ArrayLike, moment: npt.ArrayLike = (0.0, 0.0, 0.0)
) -> npt.NDArray[np.float64]:
    """Force per length at both ends of every weld of a group (n, 2, 3) [N/mm].

    It is linear along a line, so its largest size stands at an end. Bending is shared by all lines
    about the axes of the whole group, the ones without symmetry too.

    Args:
        lines: (n, 4): x and y of one end, x and y of the other [mm].
        force: (3,) on the group, x and y in its plane, z square to it [N].
        at: (3,) where the force acts, z = 0 in the plane of the welds [mm].
        moment: (3,) on the group besides [N*mm].

    Raises:
        ValueError: When no line has a length, or one straight line should carry a moment that turns about it.

    Source: blodgett, weld treated as a line, elastic method.
    """
    import numpy as np

    group = weld_group(lines)
    push = np.asarray(force, dtype=float)
    centre = np.array([*group.centroid, 0.0])
    turn = np.cross(np.asarray(at, dtype=float) - centre, push) + np.asarray(moment, dtype=float)
    ends = np.asarray(lines, dtype=float).reshape(-1, 2, 2) - centre[:2]
    flow = np.broadcast_to(push / group.length, (*ends.shape[:2], 3)).copy()
    flow[..., 0] -= turn[2] * ends[..., 1] / group.polar
    flow[..., 1] += turn[2] * ends[..., 0] / group.polar
    second = np.array([[group.iy, group.ixy], [group.ixy, group.ix]])
    # moments of flow z = a x + b y about x and y: Mx = int y fz, My = -int x fz
    wanted = np.array([-turn[1], turn[0]])
    slope, *_ = np.linalg.lstsq(second, wanted, rcond=1e-12)
    arm = group.polar**0.5 / group.length**0.5
    if np.abs(second @ slope - wanted).max() > 1e-9 * (np.abs(wanted).max() + np.abs(push).max() * arm):
        raise ValueError("one straight weld cannot carry a moment that turns about its own line")
    flow[..., 2] += ends @ slope
    return flow


def leg_for(flow: Numbers, filler: Numbers = E70) -> Numbers:
    """Leg that a force per length asks for, the allowable load of a weld along it taken [mm].

    Args:
        flow: Size of the force per length [N/mm].
        filler: Tensile strength of the weld metal [MPa].

    Source: aisc-360, J2.4, allowable 0.3 F on the throat, the direction factor left out.
    """
    return flow / (THROAT_SHARE * FILLER_SHARE * filler / SAFETY)
