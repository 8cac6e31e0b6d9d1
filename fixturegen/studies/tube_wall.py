"""Strength of a tube's wall where the tabs of a bracket stand on it; the tube's own bending is not in it.

Held against the factor: the limit states of plates on round tubes (AISC 360 chapter K, written down from
memory). Told beside it: the elastic stress of a long thin cylinder under a line load round it, which
says where the wall begins to give at its surface. A bracket on a flat rail is not covered here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.findings import Trust, weakest
from fixturegen.studies.bracket_case import BracketCase, TabLoad, tab_loads
from fixturegen.studies.strength_records import FATIGUE, HEAT, IMPACT, Factor, Given, Strength

POISSON = 0.3
"""Of steel; handbook value."""

LARGEST_YIELD = 52 * 6.894757293168
"""MPa; yield strength over this does not count (AISC 360 K1, from memory)."""

LARGEST_RATIO = 0.8
"""Yield over tensile strength beyond which yield does not count (AISC 360 K1, from memory)."""

SLENDEREST = 50.0
"""Diameter over wall for a plate on one side (AISC 360 K2, from memory)."""

NARROWEST = 0.2
"""Width of a plate across the tube over the diameter (AISC 360 K2, from memory)."""

NOT_COVERED = (
    FATIGUE,
    HEAT,
    IMPACT,
    "the tube's own bending and twisting, worked out elsewhere",
    "a tab askew to the tube",
)

PARTWAY = 1.7
"""What a pull on part of the way round stresses the wall by, over the same pull all round it. From shell models
of tubes of 3.5 x 0.25 and 3 x 0.375 in, tabs wrapping 72 to 144 deg, the pull even along the root: 1.4 to
1.65. A moment of the tab comes out at 0.45 to 0.75, so nothing is added to it."""

PLASTIC = 1.5
"""Stress worked out elastically, over yield, at which a plate's section is all at yield in bending."""


@dataclass(frozen=True)
class WallStrength:
    """What the wall of a round tube carries of one plate, no factor in it.

    Attributes:
        pull: Load square to the wall [N].
        moment: In the plane of the plate [N*mm].
        yield_counted: Yield strength that counts [MPa].
    """

    pull: float
    moment: float
    yield_counted: float


def plate_on_tube(
    diameter: float, wall: float, width: float, yield_strength: float, tensile: float, *, across: bool, pressed: float
) -> WallStrength:
    """What the wall of a round tube carries of a plate welded on it; no factor is in it.

    Args:
        diameter: Outside [mm].
        wall: Thickness [mm].
        width: Of the plate where it is welded, straight across [mm].
        yield_strength: Of the tube [MPa].
        tensile: Strength of the tube [MPa].
        across: Whether the plate stands across the tube, else along it.
        pressed: Pressing stress in the tube from elsewhere, over its yield strength [1].

    Source: aisc-360-k, table K2.1: across 5.5 Fy t^2 / (1 - 0.81 B / D) Qf and moment 0.5 B times that;
        along 5.5 Fy t^2 (1 + 0.25 l / D) Qf and moment 0.8 l times that; Qf = 1 - 0.3 U (1 + U).
    """
    counted = min(yield_strength, LARGEST_YIELD, LARGEST_RATIO * tensile)
    base = 5.5 * counted * wall**2 * (1 - 0.3 * pressed * (1 + pressed))
    if across:
        wide = min(width, diameter)
        pull = base / (1 - 0.81 * wide / diameter)
        return WallStrength(pull, 0.5 * wide * pull, counted)
    pull = base * (1 + 0.25 * width / diameter)
    return WallStrength(pull, 0.8 * width * pull, counted)


def line_load_stress(flow: float, couple: float, radius: float, wall: float) -> float:
    """Elastic bending stress in a long thin cylinder beside a line load and a line couple all round it [MPa].

    Args:
        flow: Load square to the wall, per length of the line [N/mm].
        couple: That turns about the line, per length of it [N].
        radius: Of the middle of the wall [mm].
        wall: Thickness [mm].

    Source: long-cylinder, moment f / (4 b) and couple / 2, b^4 = 3 (1 - nu^2) / (R t)^2.
    """
    decay: float = (3 * (1 - POISSON**2)) ** 0.25 / math.sqrt(radius * wall)
    return 6 * (abs(flow) / (4 * decay) + abs(couple) / 2) / wall**2


def wall_strengths(case: BracketCase) -> tuple[Strength, ...]:
    """The wall under the tabs, by limit states, and its elastic stress where they stand across the tube.

    Nothing for a bracket on a flat wall: `bracket_strength.left_out` says so.

    Args:
        case: The bracket.
    """
    loads = tab_loads(case)
    if case.tube_radius == 0:
        return ()
    found = [_limit(case, loads)]
    if case.across_tube:
        found.append(max((_elastic(case, load) for load in loads), key=lambda s: s.demand))
    return tuple(found)


def _limit(case: BracketCase, loads: tuple[TabLoad, ...]) -> Strength:
    """Pull or push and moment of the tabs against the limit states of the wall."""
    diameter = 2 * case.tube_radius
    wall = plate_on_tube(
        diameter,
        case.tube_wall,
        case.root_width,
        case.tube.yield_strength,
        case.tube.tensile,
        across=case.across_tube,
        pressed=case.tube_stress_share,
    )
    near = len(loads) > 1 and case.spacing < diameter
    if near:
        radial, moment = abs(sum(x.radial for x in loads)), abs(sum(x.moment for x in loads))
        one = max(loads, key=lambda x: abs(x.radial) / wall.pull + abs(x.moment) / wall.moment)
        name = "both tabs as one plate"
        if abs(one.radial) / wall.pull + abs(one.moment) / wall.moment > radial / wall.pull + moment / wall.moment:
            radial, moment, name = abs(one.radial), abs(one.moment), one.name
    else:
        one = max(loads, key=lambda x: abs(x.radial) / wall.pull + abs(x.moment) / wall.moment)
        radial, moment, name = abs(one.radial), abs(one.moment), one.name
    how = "across" if case.across_tube else "along"
    rule = "1 / (1 - 0.81 B / D), M = 0.5 B R" if case.across_tube else "(1 + 0.25 B / D), M = 0.8 B R"
    return Strength(
        what=f"wall of the tube under {name}, standing {how} it",
        demand=radial / wall.pull + moment / wall.moment,
        capacity=1.0,
        unit="1",
        factor=case.factors.wall,
        given=(
            Given("pull or push square to the wall", radial, "N"),
            Given("moment in the plane of the tab", moment, "N*mm"),
            Given("strength for pull, R", wall.pull, "N"),
            Given("strength for moment, M", wall.moment, "N*mm"),
            Given("diameter of tube, D", diameter, "mm"),
            Given("wall, t", case.tube_wall, "mm"),
            Given("width of tab at the tube, B", case.root_width, "mm"),
            Given("yield strength that counts", wall.yield_counted, "MPa"),
            Given("pressed by the tube's own bending, U", case.tube_stress_share, "1"),
        ),
        formula=f"R = 5.5 Fy t^2 {rule}, both times 1 - 0.3 U (1 + U); pull / R + moment / M <= 1 / factor",
        source="aisc-360-k",
        section="table K2.1, pull and moment added along a straight line",
        trust=weakest(Trust.MEMORY, case.tube.trust, case.factors.wall.trust),
        not_covered=(*NOT_COVERED, "bending of a tab out of its plane into the wall"),
        note="; ".join(_outside(case, near)),
    )


def _outside(case: BracketCase, near: bool) -> list[str]:
    """What of this is outside the rules, or taken on the safe side."""
    diameter, said = 2 * case.tube_radius, []
    if near:
        said.append("tabs nearer than a diameter are taken as one plate, on the safe side (no source)")
    if diameter / case.tube_wall > SLENDEREST:
        said.append(f"outside the rules: diameter over wall is {diameter / case.tube_wall:.0f}, allowed to 50")
    if case.across_tube and case.root_width < NARROWEST * diameter:
        said.append("outside the rules: tab narrower than 0.2 of the diameter")
    if case.root_width > diameter + 1e-6 and case.across_tube:
        said.append("tab wider than the tube: its diameter is taken")
    if case.tube.yield_strength > min(LARGEST_YIELD, LARGEST_RATIO * case.tube.tensile) + 1e-6:
        said.append("yield strength counts up to 52 ksi and 0.8 of tensile")
    return said


def _elastic(case: BracketCase, load: TabLoad) -> Strength:
    """Bending of the wall beside a tab across the tube, told to be known."""
    wide = min(case.root_width, 2 * case.tube_radius)
    flow = PARTWAY * abs(load.radial) / wide + 6 * abs(load.moment) / wide**2
    return Strength(
        what=f"surface of the tube's wall beside {load.name}",
        demand=line_load_stress(flow, load.side_moment / wide, case.tube_radius - case.tube_wall / 2, case.tube_wall),
        capacity=PLASTIC * case.tube.yield_strength,
        unit="MPa",
        factor=Factor(1.0, "told to be known", "practice", Trust.PRACTICE),
        given=(
            Given("largest load per length of the tab's root, f", flow, "N/mm"),
            Given("turning about the root per length, m", abs(load.side_moment) / wide, "N"),
            Given("outside radius of tube", case.tube_radius, "mm"),
            Given("wall", case.tube_wall, "mm"),
            Given("yield strength", case.tube.yield_strength, "MPa"),
        ),
        formula=(
            "stress = 6 (f / (4 b) + m / 2) / t^2, b = 1.285 / sqrt(R t), f = 1.7 N / B + 6 M / B^2; "
            "at 1.5 yield the wall is a hinge"
        ),
        source="long-cylinder",
        section="line load all round, 1.7 for part of the way by shell models",
        trust=weakest(Trust.DERIVED, case.tube.trust),
        not_covered=(*NOT_COVERED, "the ends of a stiff tab, where the wall sees two to four times as much"),
        judged=False,
        note="told to be known; above 1.5 yield the wall gives beside the tab before it parts",
    )
