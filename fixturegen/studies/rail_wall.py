"""Strength of the flat wall of a rectangular rail where a tab stands on it; the rail's own bending is not in it."""

from __future__ import annotations

import math

from fixturegen.findings import Trust, weakest
from fixturegen.studies.bracket_case import BracketCase, TabLoad, tab_loads
from fixturegen.studies.strength_records import Given, Strength
from fixturegen.studies.tube_wall import LARGEST_RATIO, LARGEST_YIELD, NOT_COVERED

HALVES = 0.25
"""Moment over pull and width of a plate: one half pulls and one presses, each with half the strength (statics)."""

SLENDEREST = {True: 35.0, False: 40.0}
"""Width over wall for a plate across the rail (True) and along it (AISC 360 K2, from memory)."""

PUNCHED_FROM = 0.85
"""Width of a plate over that of the rail from which its ends punch through (AISC 360 K2, from memory)."""


def plate_across_rail(width: float, thickness: float, rail: float, wall: float, counted: float, plate: float) -> float:
    """Pull that a plate across a rail's flat side carries [N]; no factor is in it.

    Args:
        width: Of the plate across the rail [mm].
        thickness: Of the plate [mm].
        rail: Width of the rail's side [mm].
        wall: Thickness [mm].
        counted: Yield strength of the rail that counts [MPa].
        plate: Yield strength of the plate [MPa].

    Source: aisc-360-k, table K2.2 (from memory): 10 / (B / t) Fy t Bp up to Fyp tp Bp, and where the plate
        is nearly as wide as the flat, 0.6 Fy t (2 tp + 2 Bep), Bep = 10 Bp / (B / t).
    """
    wide = min(width, rail)
    loads = [10 * wall / rail * counted * wall * wide, plate * thickness * wide]
    if PUNCHED_FROM * rail <= wide <= rail - 2 * wall:
        loads.append(0.6 * counted * wall * (2 * thickness + 2 * min(wide, 10 * wide * wall / rail)))
    return min(loads)


def plate_along_rail(
    length: float, thickness: float, rail: float, wall: float, counted: float, pressed: float
) -> float:
    """Pull that a plate along the middle of a rail's flat side carries [N]; no factor is in it.

    Args:
        length: Of the plate along the rail [mm].
        thickness: Of the plate [mm].
        rail: Width of the rail's side [mm].
        wall: Thickness [mm].
        counted: Yield strength of the rail that counts [MPa].
        pressed: Pressing stress in the rail from elsewhere, over its yield strength [1].

    Source: aisc-360-k, table K2.2 (from memory): Fy t^2 / (1 - tp / B) (2 l / B + 4 sqrt(1 - tp / B) Qf).
    """
    left = 1 - thickness / rail
    return counted * wall**2 / left * (2 * length / rail + 4 * math.sqrt(left * (1 - pressed**2)))


def rail_strengths(case: BracketCase) -> tuple[Strength, ...]:
    """The flat wall under the worse tab; nothing where the rail's width is not known.

    Args:
        case: The bracket.
    """
    if not case.rail_width:
        return ()
    counted = min(case.tube.yield_strength, LARGEST_YIELD, LARGEST_RATIO * case.tube.tensile)
    if case.across_tube:
        pull = plate_across_rail(
            case.root_width, case.thickness, case.rail_width, case.tube_wall, counted, case.tab.yield_strength
        )
        formula = "R = 10 t / B x Fy t Bp, up to Fyp tp Bp and to punching"
    else:
        pull = plate_along_rail(
            case.root_width, case.thickness, case.rail_width, case.tube_wall, counted, case.tube_stress_share
        )
        formula = "R = Fy t^2 / (1 - tp / B) (2 l / B + 4 sqrt(1 - tp / B) sqrt(1 - U^2))"
    wide = min(case.root_width, case.rail_width) if case.across_tube else case.root_width
    moment = HALVES * wide * pull
    worst = max(tab_loads(case), key=lambda x: abs(x.radial) / pull + abs(x.moment) / moment)
    return (_row(case, worst, pull, moment, counted, formula),)


def _row(case: BracketCase, load: TabLoad, pull: float, moment: float, counted: float, formula: str) -> Strength:
    """Pull and moment of a tab against what the wall carries."""
    how = "across" if case.across_tube else "along"
    slender = case.rail_width / case.tube_wall
    said = ""
    if slender > SLENDEREST[case.across_tube]:
        said = f"outside the rules: width over wall is {slender:.0f}, allowed to {SLENDEREST[case.across_tube]:.0f}"
    return Strength(
        what=f"flat wall of the rail under {load.name}, standing {how} it",
        demand=abs(load.radial) / pull + abs(load.moment) / moment,
        capacity=1.0,
        unit="1",
        factor=case.factors.wall,
        given=(
            Given("pull or push square to the wall", load.radial, "N"),
            Given("moment in the plane of the tab", load.moment, "N*mm"),
            Given("strength for pull, R", pull, "N"),
            Given("strength for moment, M", moment, "N*mm"),
            Given("width of rail, B", case.rail_width, "mm"),
            Given("wall, t", case.tube_wall, "mm"),
            Given("width of tab at the rail", case.root_width, "mm"),
            Given("yield strength that counts", counted, "MPa"),
            Given("pressed by the rail's own bending, U", case.tube_stress_share, "1"),
        ),
        formula=f"{formula}; M = R x width / 4; pull / R + moment / M <= 1 / factor",
        source="aisc-360-k",
        section="table K2.2, moment as one half against the other",
        trust=weakest(Trust.MEMORY, case.tube.trust, case.factors.wall.trust),
        not_covered=(*NOT_COVERED, "the rail's sides under a tab as wide as it", "two tabs near each other"),
        note=said,
    )
