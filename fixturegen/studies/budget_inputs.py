"""What may be off in the jig, by how much and on whose word: the inputs of the error budget.

Place tolerances follow from how a feature is made, not from the word "reamed": from coordinates on
a mill +/-0.05 mm, from a punched mark +/-0.4 mm, drilled with its mate nothing between the two.
All of them are common practice without a source; a shop that knows better measures.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.axle.model import AxleModel
from fixturegen.findings import Trust
from fixturegen.sheet.specs import Pivot, Sheet
from fixturegen.studies.bar_sag import GRAVITY, Overhang, overhang_sag, round_stiffness, sag_of
from fixturegen.studies.jig_records import FINGER_FIT, INCH, Finger, JigPlan
from fixturegen.studies.masses import bodies_of

PLACE = {"mill": 0.05, "marked": 0.4}  # place of a hole, by how it is made [mm] [cp]
PAD = {"mill": 0.05, "filed": 0.1}  # place of an edge that meets the datum face [mm] [cp]
THOU = 0.001 * INCH
FACE_GIVEN = 0.05  # face angle measured, no tolerance told [deg]; assumed
FACE_SQUARE = 0.10  # face angle not measured, taken as square [deg]; assumed
BORE_DISTANCE = 2.0 * THOU  # depth gauge, no tolerance told [mm]; assumed
FINGER_PLAY = FINGER_FIT + 0.02  # largest gap of a head turned to its fingers [mm] [cp]
FLANGE_OVER = 0.75 * INCH  # flange of a finger bar larger than the bar, on the diameter [mm]
FLANGE_OUT = 0.5 * THOU  # how far that flange's face runs out of square across it [mm] [cp]
CONCENTRIC = 0.5 * THOU  # gauge head to shank, turned in one chucking [mm] [cp]
REAM_FIT = 0.5 * THOU  # ground bar in a hole reamed 0.001 in over it: half the play [mm] [cp]
BUSH_FIT = 1.0 * THOU  # bar in a bush bored 0.001 to 0.002 in over it: half the play [mm] [cp]
TIE_BOW = 10.0 * THOU  # bow of the ground tie that rolling it on the table lets pass [mm] [cp]
OFF_BALANCE = 1.0 * INCH  # knuckle's middle ahead of the axle line, at most [mm] [cp]
TRIM_STEP = 1.0 * THOU  # feeler stock the trim is made with [mm] [cp]
# Play of the stub in the pivot, to one side [mm] [cp]: a taper has none.
STUB_PLAY = {
    "taper": 0.0,
    "straight": 0.5 * THOU,
    "cup": 0.5 * THOU,
    "pin": 0.5 * THOU,
    "thread": 2.0 * THOU,
}


@dataclass(frozen=True)
class Input:
    """One thing that may be off: the deviations it moves together, and how far [mm or deg]."""

    paths: tuple[str, ...]
    tolerance: float


@dataclass(frozen=True)
class Source:
    """One contributor before it is weighed.

    Attributes:
        name: The feature.
        acts_on: What it moves, in words.
        inputs: Independent inputs.
        source: Where the tolerance comes from.
        trust: How far to trust it.
        unit: mm or deg.
    """

    name: str
    acts_on: str
    inputs: tuple[Input, ...]
    source: str
    trust: Trust = Trust.PRACTICE
    unit: str = "mm"


PRACTICE = "common practice, no source"


def sources_of(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> tuple[Source, ...]:
    """Every angle-setting feature of a front axle's jig; those that cannot be off are left out."""
    found = (
        *_index(sheet, plan),
        *_fingers(sheet, plan),
        *_stubs(sheet, plan),
        *_tie(sheet, axle, plan),
        *_tube(sheet, axle, plan),
        _level(sheet),
        Source(
            "step of the trim",
            "shim or gap",
            (Input(("ground.pad_upper",), TRIM_STEP / 2.0),),
            "feeler stock in steps of 0.001 in",
        ),
    )
    return tuple(s for s in found if any(i.tolerance > 0.0 for i in s.inputs))


def _each(name: str, tolerance: float, together: bool = False) -> tuple[Input, ...]:
    """An input of each side, or of both at once."""
    paths = (f"left.{name}", f"right.{name}")
    return (Input(paths, tolerance),) if together else tuple(Input((p,), tolerance) for p in paths)


def _index(sheet: Sheet, plan: JigPlan) -> list[Source]:
    face, process = sheet.housing.face, sheet.process
    pad = PAD[process.pads]
    dropout = plan.index.puck_station is not None
    names = ("pad_upper", "pad_lower", "pad_side") if dropout else ("pad_upper", "pad_lower")
    edges = tuple(Input((f"ground.{n}",), pad) for n in names)
    found = [
        Source("pads on the datum face", f"index plate ({process.pads})", edges, PRACTICE),
        _face(sheet),
        Source(
            "bar in its bores",
            "bar in the index plate",
            tuple(
                Input((f"ground.{p}",), BUSH_FIT) for p in (("index_bore", "puck_bore") if dropout else ("index_bore",))
            ),
            PRACTICE,
        ),
    ]
    if dropout:
        told = face.bore_distance.tolerance
        found.append(
            Source(
                "face to bore distance",
                "tube ends against the bar",
                (Input(("ground.bore_distance",), BORE_DISTANCE if told is None else told),),
                "tolerance on the sheet" if told is not None else "no tolerance told: assumed",
                Trust.MEASURED if told is not None else Trust.ASSUMED,
            )
        )
    else:
        found.append(
            Source(
                "two equal gaps to the cover face",
                "index plate",
                (Input(("ground.pad_upper",), float(sheet.tools.feeler)),),
                "difference that can be felt, on the sheet",
                Trust.MEASURED,
            )
        )
    if not process.stacked:
        place = PLACE[process.angle_holes]
        row = (Input(("index_hole",), place), *_each("tie_hole", place))
        pins = math.dist(*plan.index.level_pins)
        off = math.degrees(math.atan(2.0 * place / pins))
        found += [
            Source("index row, plates not stacked", "tie in each plate", row, PRACTICE),
            Source(
                "level pins, plates not stacked",
                "what the level reads",
                _each("level", off),
                PRACTICE,
                unit="deg",
            ),
        ]
    return found


def _face(sheet: Sheet) -> Source:
    angle = sheet.housing.face.angle
    if angle is None:
        tolerance, words, trust = FACE_SQUARE, "assumed square to the pinion", Trust.ASSUMED
    elif angle.tolerance is None:
        tolerance, words, trust = FACE_GIVEN, "no tolerance told: assumed", Trust.ASSUMED
    else:
        tolerance, words, trust = angle.tolerance, "tolerance on the sheet", Trust.MEASURED
    given = (Input(("face_angle",), tolerance),)
    return Source("face angle", "pinion against the face", given, words, trust, "deg")


def _fingers(sheet: Sheet, plan: JigPlan) -> list[Source]:
    clock, process = plan.clock, sheet.process
    if clock is None:
        return []
    place = PLACE[process.angle_holes]
    flange = float(sheet.jig.finger_diameter) + FLANGE_OVER
    pairs = ("finger_upper", "finger_lower")
    where = tuple(i for p in pairs for i in _each(p, place, together=process.stacked))
    tilts = tuple(
        i
        for p, finger in zip(pairs, clock.fingers, strict=True)
        for i in _each(p, FLANGE_OUT / flange * (clock.inner - finger.tip))
    )
    fit = tuple(i for p in pairs for i in _each(p, FINGER_PLAY / 2.0))
    made = f"{process.angle_holes}{', stacked: left and right alike' if process.stacked else ''}"
    return [
        Source("finger bar holes", f"fingers in the clock plate ({made})", where, PRACTICE),
        Source("finger bars out of square", "fingers at their reach", tilts, PRACTICE),
        Source("gauge head between its fingers", "knuckle in the fingers", fit, PRACTICE),
    ]


def _stubs(sheet: Sheet, plan: JigPlan) -> list[Source]:
    clock, spec = plan.clock, sheet.knuckles
    if clock is None or spec is None:
        return []
    heads = ("stub_upper", "stub_lower")
    concentric = tuple(i for p in heads for i in _each(p, CONCENTRIC))
    # A stub that is off in its bore turns the knuckle over the pivot spread, not over the wider
    # stand of the gauge heads: the head's deviation is taken larger by that ratio.
    ratio = _stand(clock.fingers) / float(spec.pivot_spread)
    pivots: tuple[Pivot, Pivot] = (spec.upper, spec.lower)
    play = tuple(i for p, pivot in zip(heads, pivots, strict=True) for i in _each(p, STUB_PLAY[pivot.kind] * ratio))
    return [
        Source("gauge head on its stub", "stub pins", concentric, PRACTICE),
        Source("stub pin in its pivot", "knuckle on its stubs", play, PRACTICE),
    ]


def _stand(fingers: tuple[Finger, Finger]) -> float:
    """Distance of the two gauge heads along the steering axis [mm]."""
    return fingers[0].along + fingers[1].along


def wind_up(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> tuple[float, float]:
    """Tie pushed aside at the left and right clock plate by knuckles off balance [mm].

    A knuckle whose middle stands 1 in off the axle line, and the clock plate's own middle, turn the
    plate; the tie holds it at its radius and bends beyond index plate and steady.

    Source: Machinery's Handbook, beam overhanging both supports; the offset is common practice.
    """
    tie, clock, spec = plan.tie, plan.clock, sheet.knuckles
    if tie is None or clock is None or spec is None:
        return 0.0, 0.0
    plate = bodies_of(sheet, axle, plan)["clock-l"]
    moment = spec.mass * GRAVITY * OFF_BALANCE + plate.mass * GRAVITY * abs(plate.at[0])
    force = moment / tie.radius
    low, high = sorted((tie.steady, plan.index.station))
    y = clock.inner + plan.clock_thickness / 2.0
    left, right = Overhang(y - high, force, y - high), Overhang(y + low, force, y + low)
    stiffness = round_stiffness(tie.diameter)
    return (
        overhang_sag(high - low, left, right, 0.0, stiffness, left.at)[0],
        overhang_sag(high - low, right, left, 0.0, stiffness, right.at)[0],
    )


def _tie(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> list[Source]:
    wind = wind_up(sheet, axle, plan)
    return [
        Source("tie in the index hole", "tie", (Input(("index_fit",), REAM_FIT),), PRACTICE),
        Source("tie in the clock plates", "clock plates", _each("tie_fit", REAM_FIT), PRACTICE),
        Source("tie out of straight", "tie at the clock plates", _each("tie_x", TIE_BOW), PRACTICE),
        Source(
            "tie bent by knuckles off balance",
            "tie at the clock plates",
            (Input(("left.tie_x",), wind[0]), Input(("right.tie_x",), wind[1])),
            "knuckle's middle 1 in off the axle line: " + PRACTICE,
        ),
    ]


def _tube(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> list[Source]:
    spec = sheet.knuckles
    if spec is None:
        return []
    reading = float(sheet.readings.uncertainty)
    play = max(0.0, float(spec.bore - sheet.tubes.outside_diameter) / 2.0)
    sags = {s.side: s.left_over for s in sag_of(sheet, axle, plan)}
    return [
        Source(
            "readings of the tube ends",
            "tube ends against the bar",
            (*_each("tube_x", reading), *_each("tube_z", reading)),
            "uncertainty on the sheet",
            Trust.MEASURED,
        ),
        Source(
            "knuckle loose on its tube",
            "knuckle against the tube end",
            (*_each("tube_x", play), *_each("tube_z", play)),
            "bore and tube on the sheet",
            Trust.MEASURED,
        ),
        Source(
            "bar hanging at the clock plates",
            "clock plates",
            tuple(Input((f"{side}.bar_sag",), left) for side, left in sags.items()),
            "beam on two supports; screw jack set by the dial: " + PRACTICE,
        ),
    ]


def _level(sheet: Sheet) -> Source:
    spread = float(sheet.tools.level_repeatability)
    # Ten readings show less than the whole spread: each reading is taken off by all of it.
    given = (*_each("level", spread), Input(("index_level",), spread))
    words = "largest spread of ten readings, on the sheet"
    return Source("level on the level pins", "trim", given, words, Trust.MEASURED, "deg")
