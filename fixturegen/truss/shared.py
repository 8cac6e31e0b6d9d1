"""What the plates of a truss share: where tabs stand, how they lie in frame A, how edges become outlines."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fixturegen.parts.holes import decimal
from fixturegen.plate import Loop, Part, Placement, Vertex, Weld
from fixturegen.plate.outlines import mirrored
from fixturegen.plate.part import Matrix
from fixturegen.units import as_inch

if TYPE_CHECKING:
    from fixturegen.studies.edge_lines import Ring
    from fixturegen.studies.truss_records import Rib, TopRun, TrussPlan

ASSEMBLY = "truss"
KIND = "truss"
TAB = 28.0  # length of a tab along its edge [mm]
TAB_PITCH = 220.0  # from tab to tab along the top, at most [mm] (common practice, no source)
TAB_ROOM = 30.0  # from a tab's middle to the end of its edge, and from rib to tab [mm]
CUT = 8.0  # of the upper corners of a rib: gas of welding passes from room to room [mm]
TAB_EDGE = 5.0  # of a rib's edge beside a tab: its relieved roots [mm]
ON_MIDDLE = 0.05  # [mm] nearer than that nobody scribes a station beside the middle
LEAST_TAB = 14.0  # shorter ones hold nothing [mm]
FRONT: Matrix = ((0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
REAR: Matrix = ((0.0, 0.0, -1.0), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


@dataclass(frozen=True)
class Drawn:
    """What a maker of this room gives back; placements stand in frame A."""

    parts: tuple[Part, ...] = ()
    placements: tuple[Placement, ...] = ()
    welds: tuple[Weld, ...] = ()


def beside_middle(station: float) -> str:
    """A station [mm] in words: how far left or right of the middle of the axle, never with a sign."""
    if abs(station) < ON_MIDDLE:
        return "on the middle of the axle"
    return f"{_taped(station)} {_hand(station)} of the middle of the axle"


def span_beside_middle(low: float, high: float) -> str:
    """From station to station [mm] in words, right to left, each with the side of the middle it lies on."""
    ends = "" if _hand(low) == _hand(high) else f" {_hand(low)}"
    return f"{_taped(low)}{ends} to {_taped(high)} {_hand(high)} of the middle"


def _hand(station: float) -> str:
    return "left" if station > 0.0 else "right"


def _taped(station: float) -> str:
    """Distance from the middle for a tape, to the nearest 1/32 in with what that leaves out, and in decimals."""
    return f"{as_inch(abs(station), 32)} = {decimal(abs(station))}"


def loop_of(edge: Ring) -> Loop:
    """An edge of the plan as vertices of a profile."""
    return tuple(Vertex(c.x, c.y, c.bulge) for c in edge)


def flipped(loop: Loop) -> Loop:
    """A loop of an opening seen from the other side: x to -x, run the same way round."""
    return mirrored(loop)


def top_tabs(run: TopRun) -> tuple[float, ...]:
    """Stations of the tabs of the side plates in a length of the top, right to left."""
    low, high = run.right[0] + TAB_ROOM, run.left[0] - TAB_ROOM
    if high - low < TAB:
        return ((run.right[0] + run.left[0]) / 2.0,)
    n = max(2, math.ceil((high - low) / TAB_PITCH) + 1)
    return tuple(low + (high - low) * k / (n - 1) for k in range(n))


def rib_tab(rib: Rib) -> tuple[float, float]:
    """Middle height and length of the tabs at both ends of a rib, between its cut corners [mm]."""
    low, high = max(rib.lower[0].y, rib.lower[-1].y), rib.top - CUT
    return (high + low) / 2.0, max(LEAST_TAB, min(TAB, high - low - 2.0 * TAB_EDGE))


def rib_top_tab(plan: TrussPlan, rib: Rib) -> float:
    """Length of the tab of a rib in the top [mm]; 0 under a slope, where it would lean, and under a folded top."""
    level = any(r.slope == 0.0 and r.right[0] < rib.y[0] - 4.0 and rib.y[1] + 4.0 < r.left[0] for r in plan.runs)
    level = level and plan.bend_radius == 0.0
    wide = rib.x[1] - rib.x[0]
    return min(TAB, wide - 2.0 * LEAST_TAB) if level and wide - 2.0 * LEAST_TAB >= LEAST_TAB else 0.0
