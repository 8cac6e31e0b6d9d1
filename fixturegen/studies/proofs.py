"""Dimensions that prove the jig without the program: a caliper over dowels, a tape as gross check."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.axle.model import AxleModel
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_records import INCH, LEVEL_PIN, ClockPlan, Finger, JigPlan, TiePlan

CALIPER = 12.0 * INCH  # longest caliper taken for granted


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


def _angle_proofs(plan: JigPlan, clock: ClockPlan, tie: TiePlan, which: Finger, finger: float) -> list[Proof]:
    """For each finger bar the dimension a caliper can reach that shows the angle best."""
    starts = [("the tie hole 0", clock.row_place(tie.radius, tie.row[0]), tie.diameter)]
    starts += [(f"level pin {i + 1}", at, LEVEL_PIN) for i, at in enumerate(plan.index.level_pins)]
    found = []
    for letter, place in zip("ab", which.bars, strict=True):
        bar = clock.in_plate(place)
        tried = [
            (over_dowels(at, bar, diameter, finger), abs(turned_change(at, bar, 0.1)), name)
            for name, at, diameter in starts
        ]
        within = [t for t in tried if t[0] <= CALIPER]
        over, gain, name = max(within, key=lambda t: t[1]) if within else min(tried)
        words = f"clock plate: over bars in {name} and in the {which.pivot} finger hole {letter}"
        found.append(Proof(words, over, "12 in caliper" if within else "long caliper", gain, gain / 2.0))
    return found


def proofs_of(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> tuple[Proof, ...]:
    """Dimensions to measure on the made jig; those of the clock plates only on a front axle."""
    found: list[Proof] = []
    index = plan.index
    if plan.clock is not None and plan.tie is not None:
        finger = float(sheet.jig.finger_diameter)
        for which in plan.clock.fingers:
            found += _angle_proofs(plan, plan.clock, plan.tie, which, finger)
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
                "caliper over puck and tie, less half of both",
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
