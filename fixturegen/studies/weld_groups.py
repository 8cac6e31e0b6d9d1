"""Strength of a group of straight welds: weld metal, plate and wall beside it, size and run length."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fixturegen.calc._welds import E70, LENGTH_IN_LEGS, SIXTEENTH, smallest_fillet
from fixturegen.findings import Trust, weakest
from fixturegen.studies.strength_records import (
    FATIGUE,
    HEAT,
    IMPACT,
    STANDARD,
    Factor,
    Factors,
    Given,
    Steel,
    Strength,
)
from fixturegen.studies.weld_lines import Point, WeldLine, WorstPoint, flow_in_space, run_lengths, worst_point

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

SHEAR_SHARE = 0.6
"""Shear strength of plate over its yield or tensile strength (AISC 360 J4.2)."""

PLATE_RULE = ("sqrt(square^2 + (along / 0.6)^2) against F t, flow square to and along the line", "J4 (from memory)")
WALL_RULE = ("size of the flow against 0.6 F t", "J4.2 (from memory)")

CYCLIC = "rules for loads that come and go ask for 3/16 in at least (from memory)"

ONE = Factor(1.0, "a size, no load", "aisc-360", Trust.SECONDARY_COPY)


def weld_strengths(
    lines: tuple[WeldLine, ...],
    force: Point,
    at: Point,
    moment: Point = (0.0, 0.0, 0.0),
    *,
    plate: Steel,
    wall: Steel,
    filler: float = E70,
    by_direction: bool = False,
    factors: Factors = STANDARD,
    name: str = "welds",
) -> tuple[Strength, ...]:
    """Weld metal at its worst point, plate and wall beside it, size for the thickness and run length.

    Args:
        lines: The welds.
        force: On the group (3,) [N].
        at: Where the force acts (3,) [mm].
        moment: On the group besides (3,) [N*mm].
        plate: Material of the plate that is welded on.
        wall: Material it is welded to.
        filler: Tensile strength of the weld metal [MPa].
        by_direction: As for `worst_point`.
        factors: Asked for.
        name: Of the group, in words.

    Raises:
        InputFault: When the welds cannot be a group that carries the load.
    """
    worst = worst_point(lines, force, at, moment, filler=filler, by_direction=by_direction)
    return (
        _metal(lines, worst, filler, by_direction, factors, name),
        *_beside(lines, flow_in_space(lines, force, at, moment), plate, wall, factors, name),
        _leg(lines, name),
        _run(lines, name),
    )


def _metal(
    lines: tuple[WeldLine, ...], worst: WorstPoint, filler: float, by_direction: bool, factors: Factors, name: str
) -> Strength:
    """Weld metal at the worst point."""
    line = lines[worst.line]
    formula = "flow = throat (F / A + turn x r), strength = 0.6 F_filler throat"
    note = f"worst at {line.name or f'line {worst.line + 1}'}, {worst.angle:.0f} deg to the line"
    if by_direction:
        formula += " (1 + 0.5 sin^1.5 angle)"
        note += "; strength by direction is meant for a line loaded through its middle"
    return Strength(
        what=f"{name}: weld metal",
        demand=worst.size,
        capacity=worst.strength,
        unit="N/mm",
        factor=factors.weld,
        given=(
            Given("leg", line.leg, "mm"),
            Given("root gap", line.root_gap, "mm"),
            Given("length of all lines", sum(w.length for w in lines), "mm"),
            Given("tensile strength of the filler", filler, "MPa"),
            Given("angle of the flow to the line", worst.angle, "deg"),
        ),
        formula=formula,
        source="aisc-360",
        section="J2.4, flow by the elastic method (Blodgett, section 7.4, from memory)",
        trust=weakest(Trust.MEMORY, factors.weld.trust),
        note=note,
    )


def _beside(
    lines: tuple[WeldLine, ...],
    flow: npt.NDArray[np.float64],
    plate: Steel,
    wall: Steel,
    factors: Factors,
    name: str,
) -> tuple[Strength, ...]:
    """Plate and wall beside the weld, each where it is used most, by yield or by rupture.

    The plate is pulled by what comes square to the line and sheared by what runs along it. The wall
    is sheared by all of it: along its face, or through its thickness.
    """
    import numpy as np

    along = np.array([[(e - s) / (w.length or 1.0) for s, e in zip(w.start, w.end, strict=True)] for w in lines])
    run = np.einsum("nej,nj->ne", flow, along)
    square = np.sqrt(np.maximum(0.0, (flow**2).sum(axis=2) - run**2))
    pulled = np.hypot(square, run / SHEAR_SHARE).max(axis=1)
    sheared = np.linalg.norm(flow, axis=2).max(axis=1)
    tension = (
        ("yield", plate.yield_strength, factors.tab_yield),
        ("rupture", plate.tensile, factors.base_rupture),
    )
    shear = (
        ("yield", SHEAR_SHARE * wall.yield_strength, factors.base_yield),
        ("rupture", SHEAR_SHARE * wall.tensile, factors.base_rupture),
    )
    return (
        _part("plate", pulled, [w.counted_plate for w in lines], tension, plate, name, PLATE_RULE),
        _part("wall", sheared, [w.wall for w in lines], shear, wall, name, WALL_RULE),
    )


def _part(
    part: str,
    sizes: npt.NDArray[np.float64],
    thick: list[float],
    ways: tuple[tuple[str, float, Factor], ...],
    steel: Steel,
    name: str,
    rule: tuple[str, str],
) -> Strength:
    """Plate or wall, at the line that uses it most."""
    way, strength, factor = min(ways, key=lambda w: w[1] / w[2].value)
    index = max(range(len(thick)), key=lambda i: float(sizes[i]) / thick[i])
    return Strength(
        what=f"{name}: {part} beside the weld, {way}",
        demand=float(sizes[index]),
        capacity=strength * thick[index],
        unit="N/mm",
        factor=factor,
        given=(
            Given(f"thickness of {part} counted for one line", thick[index], "mm"),
            Given(f"yield strength of {steel.name}", steel.yield_strength, "MPa"),
            Given(f"tensile strength of {steel.name}", steel.tensile, "MPa"),
        ),
        formula=rule[0],
        source="aisc-360",
        section=rule[1],
        trust=weakest(Trust.MEMORY, steel.trust, factor.trust),
        not_covered=(FATIGUE, HEAT, IMPACT, "tearing of plate between its layers"),
    )


def _leg(lines: tuple[WeldLine, ...], name: str) -> Strength:
    """Smallest leg the thickness asks for, at the line that is farthest below it."""
    thinner = [min(w.plate, w.wall) for w in lines]
    asked = [smallest_fillet(t) for t in thinner]
    index = max(range(len(lines)), key=lambda i: float(asked[i].leg) / lines[i].leg)
    return Strength(
        what=f"{name}: leg for the thickness",
        demand=float(asked[index].leg),
        capacity=lines[index].leg,
        unit="mm",
        factor=ONE,
        given=(Given("thinner of plate and wall", thinner[index], "mm"), Given("leg", lines[index].leg, "mm")),
        formula="leg asked for by the thinner part, with a low-hydrogen process",
        source="aws-d1.1",
        section="table 7.7",
        trust=asked[index].trust,
        not_covered=("another process: the thicker part rules",),
        note=CYCLIC if lines[index].leg < 3 * SIXTEENTH - 1e-6 else "",
    )


def _run(lines: tuple[WeldLine, ...], name: str) -> Strength:
    """Whether the shortest run counts in full; lines that go on into one another are one run."""
    runs = run_lengths(lines)
    index = min(range(len(runs)), key=lambda i: runs[i][0] / runs[i][1])
    length, leg = runs[index]
    return Strength(
        what=f"{name}: shortest run",
        demand=LENGTH_IN_LEGS * leg,
        capacity=length,
        unit="mm",
        factor=ONE,
        given=(Given("length of the run", length, "mm"), Given("leg", leg, "mm")),
        formula="length >= 4 leg",
        source="aisc-360",
        section="J2.2b",
        trust=Trust.SECONDARY_COPY,
        not_covered=("starts and craters: give the length that is sound",),
    )
