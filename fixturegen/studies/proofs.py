"""Dimensions that prove the jig without the program: a caliper over dowels, a tape as gross check."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.axle.model import AxleModel
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_records import JigPlan, row_point


@dataclass(frozen=True)
class Proof:
    """One dimension to measure.

    Attributes:
        name: What it proves, in words.
        value: Planned dimension [mm].
        tool: What to measure with.
        per_tenth: Change of the dimension when the angle is off by 0.1 deg [mm]; 0 where it is
            no angle.
        tolerance: Within this it is good [mm].
    """

    name: str
    value: float
    tool: str
    per_tenth: float
    tolerance: float


def over_dowels(a: tuple[float, float], b: tuple[float, float], da: float, db: float) -> float:
    """Outside dimension over two dowels standing in two holes [mm].

    Args:
        a: Centre of one hole (x, z) [mm].
        b: Centre of the other (x, z) [mm].
        da: Diameter of the dowel in `a` [mm].
        db: Diameter of the dowel in `b` [mm].

    Source: derived, centre distance plus both radii.
    """
    return math.dist(a, b) + (da + db) / 2.0


def turned_change(a: tuple[float, float], b: tuple[float, float], turn: float) -> float:
    """Change of the distance from `a` to `b` when `b` is turned about the bar by `turn` [deg] [mm].

    Source: derived, plane rotation about (0, 0).
    """
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    moved = (b[0] * c + b[1] * s, b[1] * c - b[0] * s)
    return math.dist(a, moved) - math.dist(a, b)


def proofs_of(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> tuple[Proof, ...]:
    """Dimensions to measure on the made jig; those of the clock plates only on a front axle."""
    found: list[Proof] = []
    index = plan.index
    if plan.clock is not None and plan.tie is not None:
        tie = row_point(plan.tie.radius, plan.tie.row[0].clock_angle)
        finger = float(sheet.jig.finger_diameter)
        for which in plan.clock.fingers:
            for letter, place in zip("ab", which.bars, strict=True):
                bar = plan.clock.in_plate(place)
                found.append(
                    Proof(
                        f"clock plate: over a bar in the tie hole 0 and the {which.pivot} finger bar {letter}",
                        over_dowels(tie, bar, plan.tie.diameter, finger),
                        "caliper",
                        abs(turned_change(tie, bar, 0.1)),
                        0.1,
                    )
                )
            found.append(
                Proof(
                    f"clock plate: gap between the {which.pivot} finger bars",
                    math.dist(*which.bars) - finger,
                    "gauge head and feeler",
                    0.0,
                    0.03,
                )
            )
        found.append(
            Proof(
                "index and clock plates: bar bore to tie hole 0, centre to centre",
                plan.tie.radius,
                "caliper",
                0.0,
                0.25,
            )
        )
        found.append(
            Proof(
                "index and clock plates: over both level pins",
                over_dowels(*index.level_pins, 12.7, 12.7),
                "caliper",
                0.0,
                0.1,
            )
        )
        for knuckle in axle.knuckles:
            found.append(
                Proof(
                    f"{knuckle.side}: steering axis to the inboard face of the clock plate, at axle height",
                    plan.clock.inner - abs(knuckle.axis_point[1]),
                    "tape or depth gauge",
                    0.0,
                    0.8,
                )
            )
    found.append(
        Proof(
            "bar centre to the machined face (half the bar plus the gap you measure)",
            abs(index.face),
            "depth gauge through the opening",
            0.0,
            0.25,
        )
    )
    found.append(Proof("bar centre above the table", plan.height, "tape (gross check only)", 0.0, 1.6))
    return tuple(found)
