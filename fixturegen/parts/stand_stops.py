"""What touches the housing beside the index plate: the y stop and an integral stand's pads."""

from __future__ import annotations

from fixturegen.parts.joinery import decimal, stand_xy, stand_yz, tab
from fixturegen.parts.layout import (
    LEG,
    STOP_TAB,
    stand_plate,
    stop_depth,
    stop_tab,
)
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Part, Placement, Profile, Turned, TurnedStep, Weld
from fixturegen.plate.outlines import filleted, mirrored


def make_stand_stops(context: Context) -> Made:
    """The y stop and, on an integral, the pad buttons, placed in group "stand"."""
    plan = context.plan
    parts, places = [_y_stop(context)], [_stop_place(context)]
    hardware = [
        ("coupling nut", "1/2-13 x 1 1/4", 1, "welded on the y stop"),
        ("square head set screw, flat end", "1/2-13 x 2 1/2", 1, "y stop"),
        ("jam nut", "1/2-13", 1, "y stop"),
    ]
    if plan.stand.pad_buttons:
        parts.append(_pad_button(context))
        first, sign = plan.stand.face_plate[0], plan.face_sign
        places += [stand_yz("pad-button", sign, first, y, plan.height + z, "stand") for y, z in plan.stand.pad_buttons]
        hardware.append(("cap screw", "3/8-16 x 3/4", len(plan.stand.pad_buttons), "pad buttons, from behind"))
    return Made(
        parts=tuple(parts),
        placements=tuple(places),
        welds=(Weld(("y-stop", "face-plate"), LEG, 60.0, "top and bottom"),),
        hardware=tuple(hardware),
        steps=((41, "Push the flange to the screw of the y stop, jam nut tight."),),
    )


def _y_stop(context: Context) -> Part:
    plan = context.plan
    thick, kerf = plan.stand_thickness, float(context.sheet.process.kerf)
    deep = stop_depth(context)
    near, far = -16.0, 26.0
    outline = filleted(
        (
            (-deep, near, 4.0),
            (0.0, near, 0.0),
            tab(0.0, 0.0, 90.0, STOP_TAB, thick, kerf),
            (0.0, far, 0.0),
            (-deep, far, 4.0),
        )
    )
    return stand_plate(
        context,
        "stand_stops",
        "y-stop",
        "Y stop",
        Profile(outer=mirrored(outline) if plan.face_sign < 0 else outline),
        datum="middle of the tab at the face plate; marked face up, x forward, y to the left",
        notes=(
            "a 1/2-13 coupling nut is welded on top, along y, middle of the flange; "
            "the housing is pushed against the screw by hand",
        ),
    )


def _stop_place(context: Context) -> Placement:
    y, z = stop_tab(context)
    plan = context.plan
    low = plan.height + z - plan.stand_thickness / 2.0
    return stand_xy("y-stop", plan.x(plan.stand.face_plate[0]), y, low, "stand")


def _pad_button(context: Context) -> Part:
    face = context.sheet.housing.face
    length = context.plan.stand.face_plate[0] - context.plan.index.face
    ring = (face.outside_diameter - face.opening_diameter) / 2.0
    diameter = min(22.0, ring - 2.0)
    return Part(
        name="pad-button",
        label="Pad button",
        kind="stands",
        form="turned",
        material="1018-cd",
        quantity=len(context.plan.stand.pad_buttons),
        turned=Turned(
            steps=(
                TurnedStep(length - 1.0, diameter, note="faced both ends"),
                TurnedStep(1.0, diameter, diameter - 2.0, note="edge broken"),
            ),
            bores=((0.0, min(13.0, length - 4.0), 7.94, None, "3/8-16 UNC, 1/2 in deep"),),
        ),
        datum="middle of the end on the face plate; z toward the housing",
        notes=(
            f"all three to one length, {decimal(length)}, within 0.001 in: face them in one set-up",
            "screwed on after the stand is welded; swing the face plate over with a straight edge",
        ),
    )
