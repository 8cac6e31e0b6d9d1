"""Contradictions about the truck, tubes, knuckles, pivots and wheel ends."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fixturegen.sheet.contradictions.rule import INCH, Clash, beside, rule, said
from fixturegen.sheet.keys import Path
from fixturegen.sheet.specs import Pivot, Sheet

LEAST_LOADED = 0.75
"""Loaded over free radius; below it the tyre is flat or a number is wrong (common practice)."""

PRESS = 0.003
"""Interference over diameter; 0.002 is spoken of for pressed tubes (common practice, no source)."""

BACKSPACE_OVER = 1.0 * INCH
"""Most that the backspacing can exceed the width between the beads: the two flanges [mm]."""

_PIVOT_KEYS = {
    "taper": ("taper_per_foot",),
    "cup": ("depth",),
    "pin": ("length",),
    "thread": ("thread",),
    "straight": (),
}


@rule
def front_and_rear(sheet: Sheet) -> Iterator[Clash]:
    """Keys that only a front axle has, given or left out against its position."""
    position = sheet.axle.position
    front = position == "front"
    with_position = f'with axle.position = "{position}"'
    if front and sheet.knuckles is None:
        yield Clash(
            ("knuckles",),
            f"nothing, {with_position}",
            "a section",
            'add the section [knuckles], or write position = "rear"',
        )
    if not front and sheet.knuckles is not None:
        yield Clash(
            ("knuckles",),
            f"a section, {with_position}",
            "nothing on a rear axle",
            'take [knuckles] and its sections out, or write position = "front"',
        )
    if front and sheet.axle.caster is None:
        yield Clash(
            ("axle", "caster"),
            f"nothing, {with_position}",
            "-5 deg to 15 deg",
            "add the caster wanted in the vehicle to [axle]",
        )
    if not front and sheet.axle.caster is not None:
        yield Clash(
            ("axle", "caster"),
            f"{sheet.axle.caster.text}, {with_position}",
            "nothing on a rear axle",
            'take caster out, or write position = "front"',
        )


@rule
def tyre_against_loaded_radius(sheet: Sheet) -> Iterator[Clash]:
    """A loaded radius that no standing tyre of that diameter has."""
    free = sheet.vehicle.tyre_diameter / 2.0
    loaded = sheet.vehicle.tyre_loaded_radius
    if not LEAST_LOADED * free <= loaded <= free:
        yield Clash(
            ("vehicle", "tyre_loaded_radius"),
            beside(loaded, ("vehicle", "tyre_diameter"), sheet.vehicle.tyre_diameter),
            f"{said(LEAST_LOADED * free)} to {said(free)}",
            "a loaded tyre stands a little lower than half its diameter: measure both again",
        )


@rule
def tyre_against_wheel(sheet: Sheet) -> Iterator[Clash]:
    """A tyre no larger than its wheel."""
    tyre, wheel = sheet.vehicle.tyre_diameter, sheet.vehicle.wheel_diameter
    if tyre <= wheel + INCH:
        yield Clash(
            ("vehicle", "tyre_diameter"),
            beside(tyre, ("vehicle", "wheel_diameter"), wheel),
            f"more than {said(wheel + INCH)}",
            "the tyre goes round the wheel: measure both again",
        )


@rule
def backspacing_against_wheel(sheet: Sheet) -> Iterator[Clash]:
    """More backspacing than the wheel is wide over its flanges."""
    most = sheet.vehicle.wheel_width + BACKSPACE_OVER
    given = sheet.vehicle.wheel_backspacing
    if given > most:
        yield Clash(
            ("vehicle", "wheel_backspacing"),
            beside(given, ("vehicle", "wheel_width"), sheet.vehicle.wheel_width),
            f"up to {said(most)}",
            "the mount face stands outside the wheel: measure from mount face to inner flange edge",
        )


@rule
def wheel_studs_against_flange(sheet: Sheet) -> Iterator[Clash]:
    """Wheel studs outside the hub flange."""
    circle, flange = sheet.wheel_ends.wheel_pattern_diameter, sheet.wheel_ends.flange_diameter
    if circle >= flange:
        yield Clash(
            ("wheel_ends", "wheel_pattern_diameter"),
            beside(circle, ("wheel_ends", "flange_diameter"), flange),
            f"less than {said(flange)}",
            "the wheel studs stand outside the flange: measure both again",
        )


@rule
def wall_against_tube(sheet: Sheet) -> Iterator[Clash]:
    """A wall that leaves no hole in the tube."""
    wall, outside = sheet.tubes.wall, sheet.tubes.outside_diameter
    if wall >= outside / 2.0:
        yield Clash(
            ("tubes", "wall"),
            beside(wall, ("tubes", "outside_diameter"), outside),
            f"less than {said(outside / 2.0)}",
            "the wall is half the tube or more: measure it again at a cut end",
        )


@rule
def tube_against_housing(sheet: Sheet) -> Iterator[Clash]:
    """A tube as large as the centre section is high."""
    outside, height = sheet.tubes.outside_diameter, sheet.housing.height
    if outside >= height:
        yield Clash(
            ("tubes", "outside_diameter"),
            beside(outside, ("housing", "height"), height),
            f"less than {said(height)}",
            "the tube is as large as the centre section: measure both again",
        )


@rule
def tube_against_knuckle(sheet: Sheet) -> Iterator[Clash]:
    """A tube larger than its bore in the knuckle, by more than a press fit."""
    if sheet.knuckles is None:
        return
    outside, bore = sheet.tubes.outside_diameter, sheet.knuckles.bore
    if outside > bore * (1.0 + PRESS):
        yield Clash(
            ("tubes", "outside_diameter"),
            beside(outside, ("knuckles", "bore"), bore),
            f"up to {said(bore * (1.0 + PRESS))}, a press fit",
            "the tube does not go into the knuckle: measure both again, or bore the knuckle",
        )
    if bore >= sheet.knuckles.neck_diameter:
        yield Clash(
            ("knuckles", "bore"),
            beside(bore, ("knuckles", "neck_diameter"), sheet.knuckles.neck_diameter),
            f"less than {said(sheet.knuckles.neck_diameter)}",
            "the bore leaves no steel round it: measure both again",
        )


@rule
def neck_against_axis(sheet: Sheet) -> Iterator[Clash]:
    """A sleeve that runs past the steering axis."""
    if sheet.knuckles is None:
        return
    neck, reach = sheet.knuckles.neck_length, sheet.knuckles.weld_to_axis
    if neck > reach:
        yield Clash(
            ("knuckles", "neck_length"),
            beside(neck, ("knuckles", "weld_to_axis"), reach),
            f"up to {said(reach)}",
            "the sleeve would run through the axle joint: measure both from the inboard weld",
        )


@rule
def ends_against_width(sheet: Sheet) -> Iterator[Clash]:
    """Tube ends and knuckles that do not agree with the wheel mount width."""
    half = sheet.axle.wheel_mount_width / 2.0
    middle = sheet.housing.pinion_offset + sheet.housing.face.lateral_offset
    width = sheet.axle.wheel_mount_width
    for side, sign, tube in (("left", 1, sheet.tubes.left), ("right", -1, sheet.tubes.right)):
        root = sign * middle + sheet.housing.width / 2.0
        path: Path = ("tubes", side, "length")
        if sheet.knuckles is not None:
            axis = half - sheet.knuckles.axis_to_wheel_mount
            weld = axis - sheet.knuckles.weld_to_axis
            if weld <= root:
                yield _knuckle_inside(sheet, side, root, weld)
                continue
            low, high = weld - root, axis - root
            where = f"inside the {side} knuckle, between its weld and the steering axis"
        else:
            low, high = INCH, half - root - sheet.wheel_ends.end_flange_thickness
            where = f"inside the {side} wheel mount surface, bearing end flange included"
        if high < low or not low < tube.length <= high:
            end = root + tube.length
            yield Clash(
                path,
                f"{tube.length.text}, with axle.wheel_mount_width = {width.text}, which puts the "
                f"tube end {said(end)} {side} of the centreline",
                f"{said(low)} to {said(high)}" if high > low else "no length",
                f"the tube must end {where}: measure housing.pinion_offset, housing.width, this "
                "tube and the wheel mount width again",
            )


def _knuckle_inside(sheet: Sheet, side: str, root: float, weld: float) -> Clash:
    """The clash of a knuckle that stands inside the centre section."""
    return Clash(
        ("axle", "wheel_mount_width"),
        f"{sheet.axle.wheel_mount_width.text}, which puts the weld of the {side} knuckle "
        f"{said(weld)} from the centreline, with the side of the centre section at {said(root)}",
        f"more than {said(sheet.axle.wheel_mount_width + 2.0 * (root - weld))}",
        f"there is no room for the {side} tube: measure housing.pinion_offset, housing.width, "
        "knuckles.axis_to_wheel_mount and knuckles.weld_to_axis again",
    )


@rule
def insertion_against_section(sheet: Sheet) -> Iterator[Clash]:
    """A tube that goes past the middle of the centre section."""
    for side, tube in (("left", sheet.tubes.left), ("right", sheet.tubes.right)):
        if tube.insertion >= sheet.housing.width / 2.0:
            yield Clash(
                ("tubes", side, "insertion"),
                beside(tube.insertion, ("housing", "width"), sheet.housing.width),
                f"less than {said(sheet.housing.width / 2.0)}",
                "the tube would pass the middle of the centre section: measure it again",
            )


@rule
def insertion_against_bearings(sheet: Sheet) -> Iterator[Clash]:
    """A tube of an integral axle that runs into the bearing bores."""
    if sheet.housing.kind != "integral":
        return
    width, over = sheet.housing.width, sheet.housing.bearings.width_over
    room = (width - over) / 2.0
    for side, tube in (("left", sheet.tubes.left), ("right", sheet.tubes.right)):
        if room < tube.insertion < width / 2.0:
            yield Clash(
                ("tubes", side, "insertion"),
                f"{tube.insertion.text}, with housing.width = {width.text} and "
                f"housing.bearings.width_over = {over.text}",
                f"{said(room)} at most",
                "the tube would stand in the bearing bore: measure how far it is pressed in again",
            )


@rule
def bar_against_bores(sheet: Sheet) -> Iterator[Clash]:
    """A bar that does not go through the tubes, or leaves no puck round it."""
    bar = sheet.bar.diameter
    inside = sheet.tubes.outside_diameter - 2.0 * sheet.tubes.wall
    room = INCH / 8.0  # the bar is slid in by hand through a tube with weld pull [cp]
    if inside > 0.0 and bar > inside - room:
        yield Clash(
            ("bar", "diameter"),
            f"{bar.text}, with tubes of {sheet.tubes.outside_diameter.text} outside and "
            f"{sheet.tubes.wall.text} wall, {said(inside)} inside",
            f"up to {said(inside - room)}",
            "it does not slide through the tubes: use a thinner bar, or measure the wall again",
        )
    bore = sheet.housing.bearings.bore_diameter
    puck = INCH / 4.0  # 1/8 in of puck all round [cp]
    if bar > bore - puck:
        yield Clash(
            ("bar", "diameter"),
            beside(bar, ("housing", "bearings", "bore_diameter"), bore),
            f"up to {said(bore - puck)}",
            "no puck fits round it in the bearing bore: use a thinner bar or measure the bore",
        )


@rule
def bar_against_width(sheet: Sheet) -> Iterator[Clash]:
    """A bar that does not reach past what stands on it at both ends."""
    if sheet.knuckles is None:
        middle = sheet.housing.pinion_offset + sheet.housing.face.lateral_offset
        width = sheet.housing.width / 2.0
        reach = max(middle + width + sheet.tubes.left.length, width - middle + sheet.tubes.right.length)
        least, what = 2.0 * (reach + INCH), "1 in past both tube ends"
    else:
        axis = sheet.axle.wheel_mount_width / 2.0 - sheet.knuckles.axis_to_wheel_mount
        lean = math.tan(math.radians(sheet.knuckles.inclination))
        out = sheet.knuckles.lower.boss_diameter / 2.0 + sheet.knuckles.pivot_spread / 2.0 * lean
        # a clock plate of 1/2 in, a collar of 3/4 in and room for fingers stand outboard of that
        least, what = 2.0 * (axis + out + 2.0 * INCH), "past both clock plates and their collars"
    if sheet.bar.length < least:
        yield Clash(
            ("bar", "length"),
            beside(sheet.bar.length, ("axle", "wheel_mount_width"), sheet.axle.wheel_mount_width),
            f"{said(least)} or more",
            f"the bar must reach {what}: use a longer bar, or measure the width again",
        )


def _pivots(sheet: Sheet) -> Iterator[tuple[Path, Pivot]]:
    if sheet.knuckles is not None:
        yield ("knuckles", "upper"), sheet.knuckles.upper
        yield ("knuckles", "lower"), sheet.knuckles.lower


@rule
def pivots_against_their_kind(sheet: Sheet) -> Iterator[Clash]:
    """Pivots without the keys that their kind needs, or with those of another."""
    for path, pivot in _pivots(sheet):
        needed = _PIVOT_KEYS[pivot.kind]
        for name in needed:
            if not getattr(pivot, name):
                yield Clash(
                    (*path, name),
                    f'nothing, with kind = "{pivot.kind}"',
                    f"{name} of the {pivot.kind}",
                    f"a {pivot.kind} needs {name}: measure it and add it",
                )
        for kind, names in _PIVOT_KEYS.items():
            for name in names:
                if name not in needed and getattr(pivot, name):
                    value = getattr(pivot, name)
                    yield Clash(
                        (*path, name),
                        f'{getattr(value, "text", value)}, with kind = "{pivot.kind}"',
                        f"nothing on a {pivot.kind}",
                        f"{name} belongs to a {kind}: take it out, or change kind",
                    )


@rule
def pivots_against_their_arm(sheet: Sheet) -> Iterator[Clash]:
    """Bores that leave no boss, tapers that run to nothing, cups deeper than the arm."""
    for path, pivot in _pivots(sheet):
        if pivot.diameter >= pivot.boss_diameter:
            yield Clash(
                (*path, "boss_diameter"),
                beside(pivot.boss_diameter, (*path, "diameter"), pivot.diameter),
                f"more than {said(pivot.diameter)}",
                "the boss is smaller than its bore: measure both again",
            )
        if pivot.kind == "taper" and pivot.taper_per_foot is not None:
            small = pivot.diameter - pivot.taper_per_foot * pivot.arm_thickness / (12.0 * INCH)
            if small <= 0.0:
                yield Clash(
                    (*path, "taper_per_foot"),
                    f"{pivot.taper_per_foot.text}, with diameter = {pivot.diameter.text} and "
                    f"arm_thickness = {pivot.arm_thickness.text}",
                    f"less than {said(pivot.diameter * 12.0 * INCH / pivot.arm_thickness)}",
                    "the taper runs to nothing inside the arm: measure it again",
                )
        if pivot.kind == "cup" and pivot.depth is not None and pivot.depth >= pivot.arm_thickness:
            yield Clash(
                (*path, "depth"),
                beside(pivot.depth, (*path, "arm_thickness"), pivot.arm_thickness),
                f"less than {said(pivot.arm_thickness)}",
                'the cup is as deep as the arm: measure both again, or write kind = "straight"',
            )
        if pivot.kind == "cup" and pivot.through >= pivot.diameter:
            yield Clash(
                (*path, "through"),
                beside(pivot.through, (*path, "diameter"), pivot.diameter),
                f"less than {said(pivot.diameter)}",
                "the through hole leaves no shoulder for the cup: measure both again",
            )


@rule
def arms_against_bar(sheet: Sheet) -> Iterator[Clash]:
    """Arms so close that the bar does not pass between them."""
    if sheet.knuckles is None:
        return
    upper, lower = sheet.knuckles.upper, sheet.knuckles.lower
    spread = sheet.knuckles.pivot_spread
    least = (upper.arm_thickness + lower.arm_thickness) / 2.0 + sheet.bar.diameter
    if spread <= least:
        yield Clash(
            ("knuckles", "pivot_spread"),
            f"{spread.text}, with arms of {upper.arm_thickness.text} and "
            f"{lower.arm_thickness.text} and a bar of {sheet.bar.diameter.text}",
            f"more than {said(least)}",
            "the bar does not pass between the arms: measure from middle to middle of the arms",
        )
