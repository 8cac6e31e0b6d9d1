"""What is told of an axle on its links, and in which words: one list for the tables and for the plots.

Each quantity says which way is up in its picture and what a line that climbs to the right does to the truck.
"""

from __future__ import annotations

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.papers.link_end_quantities import hanging, holding, rolling_over, steered, tyres
from fixturegen.papers.link_words import (
    GEOMETRY,
    GILLESPIE,
    ISO,
    JOINTS,
    SHAFTS,
    Kind,
    LinkCase,
    Over,
    Quantity,
    Read,
)
from fixturegen.studies.link_metrics import casters
from fixturegen.studies.link_records import LinkStudy, Travel
from fixturegen.studies.link_stops import HOLDERS

__all__ = ["GEOMETRY", "ISO", "Kind", "LinkCase", "Over", "Quantity", "quantities"]


def quantities(cases: tuple[LinkCase, ...]) -> tuple[Quantity, ...]:
    """What is told of these geometries, in the order of the paper; those that none of them has are left out."""
    front = cases[0].study.linkage.stance.front
    found = [*_forces(front), *_rolling(front), *_moving(front), *tyres(), *_bending(), *_steering(front)]
    found += [*rolling_over(), *steered([c.study for c in cases]), *_shaft()]
    struts = {motion.name: kind for case in cases for kind, motion in case.study.heave.struts}
    for name, kind in struts.items():
        found += holding(name, kind) if kind in HOLDERS else _strut(name)
    for name in dict.fromkeys(hose.name for case in cases for hose in case.study.heave.hoses):
        found += hanging(name)
    return tuple(q for q in found if any(_has(q, c.study) for c in cases))


def _has(quantity: Quantity, study: LinkStudy) -> bool:
    return quantity.read(study, study.heave) is not None or (
        quantity.steered is not None and quantity.steered(study) is not None
    )


def _forces(front: bool) -> list[Quantity]:
    def squat(study: LinkStudy, travel: Travel) -> Array | None:
        return travel.metrics.anti_squat if study.vehicle.drive_share > 0.0 else None

    def dive(study: LinkStudy, travel: Travel) -> Array | None:
        return travel.metrics.anti_dive if study.vehicle.brake_share > 0.0 else None

    full = (100.0, "100 %: springs stay as they are")
    if front:
        drive = "more of the drive force pulls the nose down through the links; above 100 % the nose drops under power"
        brake = "more of the brake force holds the nose up through the links; above 100 % the nose rises on the brakes"
        names = ("Anti-lift under drive", "Anti-dive on the brakes")
        deep = (
            "the deeper the front is in bump, the harder drive holds it down",
            "the deeper the nose is down, the harder the brakes hold it up",
        )
    else:
        drive = "more of the drive force holds the rear up through the links; above 100 % the rear rises under power"
        brake = (
            "more of the brake force holds the rear down through the links; above 100 % the rear drops on the brakes"
        )
        names = ("Anti-squat under drive", "Anti-lift on the brakes")
        deep = (
            "the more the rear has squatted, the harder drive lifts it; in droop it lifts less",
            "the more the rear is in bump, the harder the brakes hold it down; in droop they hold it less",
        )
    return [
        Quantity("anti_squat", names[0], "%", squat, drive, deep[0], "", GILLESPIE, full),
        Quantity("anti_dive", names[1], "%", dive, brake, deep[1], "", GILLESPIE, full),
    ]


def _rolling(front: bool) -> list[Quantity]:
    way = "understeer" if front else "oversteer"
    turn = "left" if front else "right"
    toward = 1.0 if front else -1.0
    return [
        Quantity(
            "roll_centre",
            "Roll centre",
            "length",
            lambda _, t: t.metrics.roll_centre,
            "higher, from the ground line of the truck at ride height",
            "the roll centre rises toward the body as the axle goes into bump, and drops with it in droop",
            "the roll centre is higher with the left wheel up than with the right one up: the truck leans "
            "differently in left and right bends, as a track bar makes it",
            ISO,
        ),
        Quantity(
            "roll_axis",
            "Slope of the roll axis",
            "deg",
            lambda _, t: t.metrics.roll_axis,
            f"the axis climbs toward the front of the truck (above zero the axle steers toward {way} in roll)",
            f"the axle steers more toward {way} in roll as it goes into bump, less in droop",
            "",
            ISO,
        ),
        Quantity(
            "roll_steer",
            "Rate of roll steer",
            "deg/deg",
            lambda _, t: t.metrics.roll_steer,
            "more steer toward understeer for each degree of roll (below zero: toward oversteer)",
            "the axle steers more toward understeer in roll when the truck sits lower, toward oversteer when it "
            "sits higher",
            "",
            ISO,
        ),
        Quantity(
            "roll_steer_angle",
            "Roll steer of the axle",
            "deg",
            lambda _, t: toward * t.metrics.axle_steer,
            f"the axle turned to the {turn}, seen from above",
            "",
            f"the axle steers toward understeer as the truck leans: left wheel up turns it to the {turn}. A line "
            "that falls steers toward oversteer",
            ISO,
        ),
    ]


def _moving(front: bool) -> list[Quantity]:
    goes = "forward" if front else "to the rear"
    return [
        Quantity(
            "wheelbase_change",
            "Wheelbase change",
            "length",
            lambda _, t: t.metrics.wheelbase_change,
            "longer wheelbase than at ride height",
            f"the axle moves {goes} as it goes into bump: tyre and shaft need that room",
            "",
            GEOMETRY,
        ),
        Quantity(
            "sideways",
            "Sideways shift of the axle",
            "length",
            lambda _, t: t.metrics.sideways,
            "axle centre to the left of its place at ride height",
            "the axle walks to the left in bump and to the right in droop; a track bar carries it along its arc",
            "the axle walks to the left when the left wheel goes up",
            GEOMETRY,
        ),
        Quantity(
            "axle_steer",
            "Steer of the axle in plan",
            "deg",
            lambda _, t: t.metrics.axle_steer,
            "the axle turned to the left, seen from above",
            "both wheels up turns the axle to the left, droop to the right, with the road straight; "
            "links alike on both sides give a flat line",
            "",
            ISO,
        ),
        Quantity(
            "pinion_angle",
            "Pinion angle",
            "deg",
            lambda _, t: t.metrics.pinion_angle,
            "pinion nose higher above level",
            "the nose rises as the axle goes into bump and drops in droop",
            "the nose is higher with the left wheel up than with the right one up",
            ISO,
        ),
        Quantity(
            "caster",
            "Caster, left side",
            "deg",
            _caster,
            "top of the steering axis leans farther to the rear",
            "caster grows in bump and goes down in droop; below zero the wheels no longer come back by themselves",
            "the left side has more caster with its wheel up, less with it down",
            ISO,
        ),
    ]


def _caster(study: LinkStudy, travel: Travel) -> Array | None:
    if study.steering is None:
        return None
    axes = np.array([study.steering.left.axis, study.steering.right.axis])
    return casters(travel.poses, axes)[0][:, 0]


def _joint_use(_: LinkStudy, travel: Travel) -> Array | None:
    """How far the joint nearest its limit has gone toward it [%]."""
    shares = [
        100.0 * angle / limit
        for j in travel.joints
        for angle, limit in ((j.frame, j.frame_limit), (j.axle, j.axle_limit))
        if angle is not None and limit
    ]
    return np.asarray(np.max(shares, axis=0), dtype=np.float64) if shares else None


def _bending() -> list[Quantity]:
    return [
        Quantity(
            "joint_use",
            "Joint nearest its limit",
            "%",
            _joint_use,
            "a joint of the links bent nearer to its limit (above 100 %: past it, it binds or breaks)",
            "bump bends the joints more than droop",
            "the joints are bent more with the left wheel up than with the right one up",
            JOINTS,
            (100.0, "100 %: limit of the joint"),
            (0.0, 100.0),
        )
    ]


def _steering(front: bool) -> list[Quantity]:
    way = "understeer" if front else "oversteer"
    return [
        Quantity(
            "steering_change",
            "Steer of the road wheels, steering held",
            "deg",
            lambda _, t: None if t.steering is None else t.steering.change,
            "both road wheels turned to the left",
            "bump steer: bump turns the wheels to the left, droop to the right, with the steering wheel still",
            f"roll steer: the wheels steer to the left with the left wheel up, that is toward {way} as the truck "
            "leans in a bend",
            ISO,
        ),
        Quantity(
            "toe",
            "Toe-in, total",
            "deg",
            lambda _, t: None if t.steering is None else t.steering.toe,
            "more toe-in, both wheels together",
            "the wheels toe in as the axle goes into bump and out in droop",
            "the wheels toe in with the left wheel up, out with the right one up",
            ISO,
        ),
    ]


def _shaft() -> list[Quantity]:
    return [
        Quantity(
            "plunge",
            "Drive shaft, change of length",
            "length",
            lambda _, t: None if t.shaft is None else t.shaft.plunge,
            "shaft longer than at ride height (slip yoke pulled out)",
            "bump pulls the slip yoke out, droop pushes it in",
            "",
            SHAFTS,
        ),
        Quantity(
            "case_angle",
            "Shaft joint at the case",
            "deg",
            lambda _, t: None if t.shaft is None else t.shaft.case_angle,
            "joint bent more",
            "the joint is bent more in bump than in droop",
            "",
            SHAFTS,
        ),
        Quantity(
            "pinion_joint",
            "Shaft joint at the pinion",
            "deg",
            lambda _, t: None if t.shaft is None else t.shaft.pinion_angle,
            "joint bent more",
            "the joint is bent more in bump than in droop",
            "",
            SHAFTS,
        ),
        Quantity(
            "fluctuation",
            "Unevenness of the pinion in one turn",
            "%",
            lambda _, t: None if t.shaft is None else 100.0 * t.shaft.fluctuation,
            "pinion speeds up and slows down more within a turn (fastest less slowest, of the mean)",
            "the shaft shakes more in bump than in droop",
            "",
            SHAFTS,
        ),
    ]


def _strut(name: str) -> list[Quantity]:
    def of(attribute: str) -> Read:
        def read(_: LinkStudy, travel: Travel) -> Array | None:
            found = [getattr(m, attribute) for _, m in travel.struts if m.name == name]
            return found[0] if found else None

        return read

    return [
        Quantity(
            f"length of {name}",
            f"Length of {name}",
            "length",
            of("length"),
            f"{name} longer, eye to eye or seat to seat",
            "it opens in bump: look at its points, springs and shocks close in bump (a line that falls)",
            "",
            GEOMETRY,
        ),
        Quantity(
            f"ratio of {name}",
            f"Motion ratio of {name}",
            "1",
            of("heave_ratio"),
            f"{name} moves more for each inch of wheel travel, both wheels alike",
            f"{name} works harder in bump: stiffer toward the stop",
            "",
            GEOMETRY,
        ),
        Quantity(f"lean of {name}", f"Lean of {name} off vertical", "deg", of("lean"), "leans more", "", "", GEOMETRY),
    ]
