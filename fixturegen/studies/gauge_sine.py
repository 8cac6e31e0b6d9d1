"""Sine gauge: caster by the stub pins' heads, pinion angle by the yoke's face; what it is set to and how true it is."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fixturegen.axle.model import AxleModel
from fixturegen.errors import ProgramFault
from fixturegen.sheet.specs import Gauges, Knuckles, Sheet
from fixturegen.studies.budget_inputs import CONCENTRIC, PRACTICE, STUB_PLAY, THOU
from fixturegen.studies.gauge_records import Gauge, Setting, Term, Ways
from fixturegen.studies.gauge_stacks import stack_of
from fixturegen.studies.jig_records import INCH, ClockPlan, JigPlan

ANGLE = 0.25  # caster against the plan, and left against right [deg]: build target of the trade [cp]
PINION = 0.5  # pinion against the plan [deg]: half of what two working angles may differ by [cp]
YOKE_RODS = 2.5 * INCH  # between the rods on a yoke's face [mm]
YOKE_FACE = 0.05  # yoke's face out of square between the rods, mean of two readings [mm] [cp]
YAW = 0.3  # rods squared to the bar by straight edge: 1/16 in over 12 in [deg] [cp]
YOKE_CURE = "turn the pinion half round, read again and take the mean"


def sine(sheet: Sheet, axle: AxleModel, plan: JigPlan, ways: Ways) -> Iterator[Gauge]:
    """Sine gauge: rods on the stub pins' heads for caster, on the yoke's face for the pinion; a stack and a level."""
    clock, spec = plan.clock, sheet.knuckles
    if clock is not None and spec is not None:
        yield _caster(sheet, axle, clock, spec, ways)
    yield _pinion(sheet, ways)


def _rollers(sheet: Sheet, ways: Ways, length: float) -> tuple[Term, ...]:
    """What may be off in every use of the sine gauge: rollers, stack and the two readings of the level."""
    turn = math.degrees(1.0 / length)
    spread = float(sheet.tools.level_repeatability)
    return (
        *(Term(f"place of the {w} roller", ways.place, "mm", turn, ways.hole_words) for w in ("front", "rear")),
        Term("stack and feeler", 1.0 * THOU, "mm", turn, PRACTICE),
        Term("level, on the gauge", spread, "deg", 1.0, "largest spread, on the sheet"),
        Term("level, where it is compared", spread, "deg", 1.0, "largest spread, on the sheet"),
    )


def _caster(sheet: Sheet, axle: AxleModel, clock: ClockPlan, spec: Knuckles, ways: Ways) -> Gauge:
    gauges = _asked(sheet)
    length, rod = float(gauges.sine_length), float(gauges.rod)
    upper, lower = clock.fingers
    spread = math.dist(upper.middle, lower.middle)
    across = math.degrees(1.0 / spread)
    play = [STUB_PLAY[p.kind] + CONCENTRIC for p in (spec.upper, spec.lower)]
    terms = (
        *_rollers(sheet, ways, length),
        *(Term(f"place of the {w} rod", ways.place, "mm", across, ways.hole_words) for w in ("upper", "lower")),
        Term("upper stub pin in its pivot", play[0], "mm", across, PRACTICE),
        Term("lower stub pin in its pivot", play[1], "mm", across, PRACTICE),
        Term("gauge not square to the bar", YAW, "deg", math.tan(math.radians(float(spec.inclination))), PRACTICE),
    )
    wanted = (
        ("caster on the bench, pinion level", float(axle.bench_caster or 0.0)),
        ("caster on the bench, face upright as in the stand", axle.plate_caster),
        ("caster in the vehicle, at ride height", float(sheet.axle.caster or 0.0)),
    )
    return Gauge(
        kind="sine",
        name="sine-gauge",
        label="sine gauge for caster",
        proves="caster of each knuckle, and left against right, by a stack and a level",
        unit="deg",
        tolerance=ANGLE,
        limit_source=f"caster and split within {ANGLE} deg, {PRACTICE}",
        terms=terms,
        sizes={"length": length, "rod": rod, "spread": spread, "head": upper.head, "boss": _boss(spec)},
        settings=tuple(_angled(what, angle, length, gauges.blocks, ANGLE) for what, angle in wanted),
        use=(
            "jig off, stub pins in: both rods against the two gauge heads, from behind; long rods square to the bar by "
            "a straight edge; straight edge over the rollers with the stack on the rear one; the level on it must read "
            "as on the level pins of the index plate (face upright), or level with the pinion level. Gap under the "
            "straight edge: the leaf that goes in says how much is missing"
        ),
        caution="clean heads, no spatter; turn each stub pin half round and read again, the mean is free of its lean",
        words={},
    )


def _pinion(sheet: Sheet, ways: Ways) -> Gauge:
    gauges = _asked(sheet)
    length, rod = float(gauges.sine_length), float(gauges.rod)
    across = math.degrees(1.0 / YOKE_RODS)
    terms = (
        *_rollers(sheet, ways, length),
        *(Term(f"place of the {w} yoke rod", ways.place, "mm", across, ways.hole_words) for w in ("upper", "lower")),
        Term("yoke's face out of square", YOKE_FACE, "mm", across, PRACTICE, YOKE_CURE),
    )
    pinion = float(sheet.axle.pinion_angle)
    wanted = (("pinion level, on the bench", 0.0), ("pinion in the vehicle, at ride height", pinion))
    return Gauge(
        kind="sine",
        name="sine-pinion",
        label="sine gauge for pinion angle",
        proves="pinion axis against level, on the bench and under the truck",
        unit="deg",
        tolerance=PINION,
        limit_source=f"working angles of a shaft's two joints alike within 1 deg, half of that for each, {PRACTICE}",
        terms=terms,
        sizes={"length": length, "rod": rod, "yoke": YOKE_RODS},
        settings=tuple(_angled(what, angle, length, gauges.blocks, PINION) for what, angle in wanted),
        use=(
            "long rods in the yoke holes, both against the machined face of the yoke or a dummy pinion from outside, "
            "plate upright and beside it; straight edge over the rollers, stack on the lower one (nose up: the one at "
            "the yoke); the level reads level"
        ),
        caution="turn the pinion half round and read again: the mean is free of a yoke's face that is not square",
        words={},
    )


def _asked(sheet: Sheet) -> Gauges:
    """The sheet's [gauges].

    Raises:
        ProgramFault: When there are none: the plan asks before.
    """
    if sheet.gauges is None:
        raise ProgramFault("gauges were planned for a sheet without [gauges]")
    return sheet.gauges


def _boss(spec: Knuckles) -> float:
    """Radius the plate keeps off the steering axis [mm]: the larger boss or the neck, and air."""
    rounds = (spec.upper.boss_diameter, spec.lower.boss_diameter, spec.neck_diameter)
    return max(float(d) for d in rounds) / 2.0 + 3.0 / 8.0 * INCH


def _angled(what: str, angle: float, length: float, blocks: str, band: float) -> Setting:
    """A stack for an angle [deg], and what it would be at both ends of the tolerance [mm]."""
    low, mid, high = (length * math.sin(math.radians(abs(angle) + d)) for d in (-band, 0.0, band))
    stack, told = stack_of(length, abs(angle), blocks)
    return Setting(what, mid, low, high, angle, stack, told)
