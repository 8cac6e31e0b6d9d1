"""Load cases of an axle: what pushes on it from outside, before its links and springs answer.

The body is housing, knuckles, brakes, wheels and tyres together. A caliper or backing plate sits on the
housing, so a brake force acts at the ground and its torque stays in the body; the torque of the wheels
comes from pinion and ring gear inside, so a drive force acts at the ground too, and of the shaft only its
own torque along the pinion comes in from outside. Forces are in V [N], the truck taken as level.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel, Point, Side, sign_of
from fixturegen.errors import Fault, InputFault
from fixturegen.sheet.specs import Loads, Sheet
from fixturegen.studies.link_inputs import links_on, point_of, stance_of, steering_on
from fixturegen.studies.load_factors import GRIP, factor_of
from fixturegen.studies.load_records import GRAVITY, MIDDLE, Couple, LoadCase, Push, Weights

TRUCK = 2.0
"""Weight of the truck over that of one axle, where only the axle was weighed (common practice, no source)."""
UNSPRUNG = 0.25
"""Axle, wheels and brakes over the axle's weight on the ground, where not weighed (common practice, no source)."""
SIDES: tuple[Side, Side] = ("left", "right")


def loads_on(sheet: Sheet) -> Loads:
    """The sheet's [loads].

    Raises:
        InputFault: When it has none.
    """
    if sheet.loads is None:
        remedy = "add [loads] with axle_load, both tyres of this axle on the scales: see the examples"
        raise InputFault(Fault("loads", "nothing", "a [loads] section", remedy))
    return sheet.loads


def weights_of(sheet: Sheet, axle: AxleModel) -> Weights:
    """The weights of a sheet; what was not weighed is estimated.

    Raises:
        InputFault: When the sheet has no loads or no links.
    """
    loads, links = loads_on(sheet), links_on(sheet)
    on_axle = GRAVITY * float(loads.axle_load)
    return Weights(
        axle=on_axle,
        truck=TRUCK * on_axle if loads.truck_load is None else GRAVITY * float(loads.truck_load),
        unsprung=UNSPRUNG * on_axle if loads.unsprung is None else GRAVITY * float(loads.unsprung),
        friction=float(loads.friction),
        height=float(links.gravity_height),
        stance=stance_of(sheet, axle),
    )


def cases_of(sheet: Sheet, axle: AxleModel) -> tuple[LoadCase, ...]:
    """The load cases of a sheet, in one order from static to steering, named as `LoadCase.name` tells.

    Drive cases need a driven axle, steering cases a front axle with steering and its force.

    Raises:
        InputFault: When the sheet has no loads or no links, or a value that a case needs is missing.
    """
    loads, weights = loads_on(sheet), weights_of(sheet, axle)
    cases = [
        _static(weights),
        _bump(sheet, loads, weights),
        _brake(loads, weights),
        *_driven(sheet, axle, loads, weights),
        *(_side(loads, weights, side) for side in SIDES),
        *(_rock(loads, weights, side) for side in SIDES),
        _jack(sheet, axle, loads, weights),
        _recovery(axle, loads, weights),
    ]
    steered = [_steered(sheet, axle, loads, weights, side) for side in SIDES]
    cases += [case for case in steered if case is not None]
    by_name = {c.name: c for c in cases}
    for side, case in zip(SIDES, steered, strict=True):
        if case is not None:
            cases.append(_side_with_steering(by_name[f"side-{side}"], steered, side))
    return tuple(cases)


def left_out(sheet: Sheet, axle: AxleModel) -> tuple[str, ...]:
    """What has no case for want of a value on the sheet, each in one sentence."""
    loads = loads_on(sheet)
    if not axle.front:
        return ()
    if steering_on(sheet, axle) is None:
        return ("the steering force has no case: add [links.steering] and loads.steering_force",)
    if loads.steering_force is None:
        return ("the steering force has no case: add loads.steering_force, in the drag link at full effort",)
    return ()


def wheel(weights: Weights, side: Side, force: Point) -> Push:
    """A force on a tyre where it meets the ground."""
    stance = weights.stance
    at = (0.0, sign_of(side) * stance.half_track, 0.0)
    return Push(f"tyre-{side}", at, force, (0.0, 0.0, -stance.loaded_radius))


def hanging(weights: Weights, factor: float = 1.0) -> Push:
    """The weight of axle, wheels and brakes, taken at the middle of the axle line."""
    return Push("unsprung", MIDDLE, (0.0, 0.0, -factor * weights.unsprung))


def _static(weights: Weights) -> LoadCase:
    half = weights.axle / 2.0
    pushes = (*(wheel(weights, side, (0.0, 0.0, half)) for side in SIDES), hanging(weights))
    return LoadCase("static", "standing level on both wheels", pushes)


def _bump(sheet: Sheet, loads: Loads, weights: Weights) -> LoadCase:
    """Everything weighs as much as the factor says, axle and wheels too: springs get the factor times static."""
    factor = factor_of(loads, "vertical_factor")
    half = factor.value * weights.axle / 2.0
    pushes = (*(wheel(weights, side, (0.0, 0.0, half)) for side in SIDES), hanging(weights, factor.value))
    words = f"both wheels at full bump, {factor.value:g} times the weight"
    heave = float(links_on(sheet).bump)
    return LoadCase("bump", words, pushes, factors=(factor,), heave=heave, pose="bump")


def _along(weights: Weights, load: float, force: float) -> tuple[Push, ...]:
    """Both tyres with half the load and half the force along the truck, forward positive."""
    return (*(wheel(weights, side, (force / 2.0, 0.0, load / 2.0)) for side in SIDES), hanging(weights))


def _brake(loads: Loads, weights: Weights) -> LoadCase:
    factor = factor_of(loads, "brake_factor")
    load = weights.pressed if weights.stance.front else weights.axle
    force = factor.value * weights.friction * load
    words = (
        f"braking at the limit of grip, {factor.value:g} times: brakes on the axle, their torque goes into the housing"
    )
    return LoadCase("brake", words, _along(weights, load, -force), factors=(factor, factor_of(loads, GRIP)))


def _driven(sheet: Sheet, axle: AxleModel, loads: Loads, weights: Weights) -> list[LoadCase]:
    """Pulling forward and in reverse."""
    if float(links_on(sheet).drive_share) <= 0.0:
        return []
    if loads.ratio is None:
        remedy = "count the teeth of ring gear and pinion and add loads.ratio; or set links.drive_share to 0"
        raise InputFault(Fault("loads.ratio", "nothing", "1 to 15, on a driven axle", remedy))
    factor = factor_of(loads, "drive_factor")
    found = []
    for name, way, pressed in (("drive", 1.0, not axle.front), ("reverse", -1.0, axle.front)):
        load = weights.pressed if pressed else weights.axle
        force = way * factor.value * weights.friction * load
        pinion = Couple(
            "pinion", pinion_torque(sheet, axle, force * weights.stance.loaded_radius, float(loads.ratio)), "A"
        )
        words = f"pulling {'forward' if way > 0.0 else 'in reverse'} at the limit of grip, {factor.value:g} times"
        used = (factor, factor_of(loads, GRIP))
        found.append(LoadCase(name, words, _along(weights, load, force), (pinion,), used))
    return found


def pinion_torque(sheet: Sheet, axle: AxleModel, wheel_torque: float, ratio: float) -> Point:
    """Torque of the drive shaft on the axle, along the pinion, in A [N*mm].

    The ring gear turns with wheels that roll forward, about +Y; where it meshes on the pinion's left the
    pinion of a rear axle turns about -X, and the shaft pushes the axle round the way the pinion turns.

    Args:
        sheet: For the side of the ring gear.
        axle: For the way the pinion points.
        wheel_torque: Of both wheels together, forward positive [N*mm].
        ratio: Teeth of the ring gear over those of the pinion.

    Source: geometry, equal speed of both gears where they mesh; loss in the gears left out.
    """
    side = 1.0 if sheet.third_member.ring_gear_side == "left" else -1.0
    return (-axle.pinion_sign * side * wheel_torque / ratio, 0.0, 0.0)


def _side(loads: Loads, weights: Weights, side: Side) -> LoadCase:
    """The ground pushes the axle toward `side`; the wheel on the other side is the outer one."""
    factor = factor_of(loads, "side_factor")
    pushes = []
    for at in SIDES:
        load = weights.axle - weights.outer if at == side else weights.outer
        pushes.append(wheel(weights, at, (0.0, sign_of(side) * factor.value * weights.friction * load, load)))
    words = (
        f"sliding sideways or against a kerb, the ground pushes to the {side}, {factor.value:g} times the limit of grip"
    )
    used = (factor, factor_of(loads, GRIP))
    return LoadCase(f"side-{side}", words, (*pushes, hanging(weights)), factors=used)


def _rock(loads: Loads, weights: Weights, side: Side) -> LoadCase:
    """One wheel up against a rock; the push goes through the hub, as on a wheel that is free to roll."""
    up, back = factor_of(loads, "rock_vertical"), factor_of(loads, "rock_rearward")
    load = up.value * weights.axle / 2.0
    rest = max(weights.axle - load, 0.0)
    hub = (0.0, sign_of(side) * weights.stance.half_track, 0.0)
    other: Side = "right" if side == "left" else "left"
    pushes = (
        Push(f"rock-{side}", hub, (-back.value * load, 0.0, load)),
        wheel(weights, other, (0.0, 0.0, rest)),
        hanging(weights),
    )
    words = f"{side} wheel against a rock: {up.value:g} times its weight up, {back.value:g} of that to the rear"
    return LoadCase(f"rock-{side}", words, pushes, factors=(up, back))


def _spot(key: str, given: tuple[float, ...], otherwise: Point) -> Point:
    """A point of the sheet that may be left out.

    Raises:
        InputFault: When it has one or two numbers.
    """
    if not given:
        return otherwise
    if len(given) != 3:
        raise InputFault(
            Fault(
                f"loads.{key}", f"{len(given)} of 3 lengths", "forward, left, up", "measure all three, or leave it out"
            )
        )
    return point_of(given)


def _jack(sheet: Sheet, axle: AxleModel, loads: Loads, weights: Weights) -> LoadCase:
    factor = factor_of(loads, "jack_factor")
    under = _spot("jack", loads.jack, (0.0, axle.bearing_middle, -float(sheet.housing.height) / 2.0))
    pushes = (Push("jack", under, (0.0, 0.0, factor.value * weights.axle)), hanging(weights))
    words = f"lifted by a jack under the axle, both wheels off the ground, {factor.value:g} times the weight"
    return LoadCase("jack", words, pushes, factors=(factor,))


def _recovery(axle: AxleModel, loads: Loads, weights: Weights) -> LoadCase:
    factor = factor_of(loads, "recovery_factor")
    way = 1.0 if axle.front else -1.0
    hook = _spot("recovery", loads.recovery, MIDDLE)
    pull = Push("recovery", hook, (way * factor.value * weights.truck, 0.0, 0.0))
    where = "forward" if axle.front else "rearward"
    words = f"winch or strap hooked to the axle, {factor.value:g} times the truck's weight {where}"
    return LoadCase("recovery", words, (*_static(weights).pushes, pull), factors=(factor,))


def _steered(sheet: Sheet, axle: AxleModel, loads: Loads, weights: Weights, side: Side) -> LoadCase | None:
    """Full effort at the wheel toward `side`, truck standing.

    The drag link pushes or pulls along itself; the tyres answer with scrub about the vertical at both
    contact patches, each the half of what holds the wheels, as they turn alike. No side force of the
    tyres is counted: the track bar takes all that the drag link gives sideways.

    Source: statics, virtual work of the wheels turning about their steering axes.
    """
    steering = steering_on(sheet, axle)
    if steering is None or loads.steering_force is None:
        return None
    stance = weights.stance
    drag = stance.to_vehicle(_p(stance.in_axle(steering.drag)))
    line = drag - np.array(steering.pitman)
    line = line / np.linalg.norm(line)
    knuckle = steering.right if steering.drag_on == "right" else steering.left
    # a joint on the tie rod moves as the tie-rod joint of the knuckle does
    arm_end = steering.left.tie if steering.drag_on == "tie-rod" else steering.drag
    axis = stance.rotation @ np.array(knuckle.axis)
    arm = stance.to_vehicle(_p(stance.in_axle(arm_end))) - stance.to_vehicle(knuckle.point)
    turning = float(line @ np.cross(axis, arm))  # work of a unit push per turn of the wheels to the left
    way = sign_of(side) * (1.0 if turning >= 0.0 else -1.0)
    force = way * float(loads.steering_force) * line
    scrub = -float(force @ np.cross(axis, arm)) / float(axis[2]) / 2.0
    couples = tuple(Couple(f"scrub-{at}", (0.0, 0.0, scrub)) for at in SIDES)
    push = Push("drag-link", _p(stance.to_axle(_p(drag))), _p(force))
    words = f"standing, full steering effort to the {side}"
    used = (factor_of(loads, "steering_force"),)
    return LoadCase(f"steer-{side}", words, (*_static(weights).pushes, push), couples, used)


def _side_with_steering(case: LoadCase, steered: list[LoadCase | None], side: Side) -> LoadCase:
    """The side case with the steering force that pushes the axle the same way, so that both load the track bar."""
    both = [s for s in steered if s is not None]
    added = max(both, key=lambda s: sign_of(side) * s.pushes[-1].force[1])
    words = f"{case.words}; and full steering effort that pushes the axle the same way"
    return replace(
        case,
        name=f"side-steer-{side}",
        words=words,
        pushes=(*case.pushes, added.pushes[-1]),
        couples=(*case.couples, *added.couples),
        factors=(*case.factors, *added.factors),
    )


def _p(v: Array) -> Point:
    return float(v[0]), float(v[1]), float(v[2])
