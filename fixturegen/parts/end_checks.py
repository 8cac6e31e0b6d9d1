"""End checks of a rear axle: a disc on the bar that shows whether a tube end stands square."""

from __future__ import annotations

import math

from fixturegen.parts.joinery import INCH, decimal
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Part, Placement, Turned, TurnedStep
from fixturegen.plate.part import Matrix

FACE = 0.5 * INCH  # thickness of the disc
OVER = 1.0 * INCH  # disc larger than the tube, on the diameter
HUB = 1.75  # hub on the bar, in diameters of the bar
HUB_OVER = 1.0 * INCH  # hub larger than the bar, on the diameter
BAR_FIT = 0.02  # [mm] [cp]
LEAD = 1.0
RELIEF = 2.0  # face relieved inside the feeler ring [mm]
STAND_OFF = 3.0  # drawn this far off the tube end [mm]
BUILD = 0.005 * INCH  # limit over the face while building [cp]
REJECT = 0.015 * INCH  # limit over the face to reject [cp]
SET_DRILL = 0.257 * INCH  # tap drill of 5/16-18, from memory
SIGHT = 0.25 * INCH  # hole that shows where to feel
POINTS = (90.0, 210.0, 330.0)

OUTWARD: tuple[tuple[float, Matrix], ...] = (
    (1.0, ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))),
    (-1.0, ((0.0, -1.0, 0.0), (0.0, 0.0, -1.0), (1.0, 0.0, 0.0))),
)


def make_end_checks(context: Context) -> Made:
    """Two end check discs; nothing on a front axle, whose ends carry knuckles."""
    if context.axle.front:
        return Made()
    disc = _disc(context)
    right, left = context.axle.tube_ends
    places = []
    for (s, turn), end in zip(OUTWARD, (left, right), strict=True):
        places.append(Placement(disc.name, (0.0, end + s * STAND_OFF, context.plan.height), turn, "ends"))
    return Made(
        parts=(disc,),
        placements=tuple(places),
        hardware=(("set screw, brass tip", "5/16-18 x 3/8", 2, "end checks"),),
        steps=(
            (
                86,
                "End checks on the bar, faces toward the tube ends; slide each up until it just touches, feeler at "
                "the three points marked 1, 2, 3; then turn the disc a third and read again: what turns with the "
                "disc is the disc, what stays is the tube end.",
            ),
        ),
    )


def disc_diameter(context: Context) -> float:
    """Outside of the disc [mm]: a finger's width over the tube, so that a feeler finds the edge."""
    return context.sheet.tubes.outside_diameter + OVER


def _disc(context: Context) -> Part:
    """The disc, its face at Z = 0 toward the tube end, its hub outboard."""
    bar, tube = context.plan.bar, float(context.sheet.tubes.outside_diameter)
    outside = disc_diameter(context)
    ring = tube - 2.0 * float(context.sheet.tubes.wall) - 6.0
    radius = (tube + outside) / 4.0
    bore, hub = bar + BAR_FIT, HUB * bar
    length = FACE + hub
    words = f"bore {decimal(bore, 4)} +0.0005: measured bar {decimal(bar, 4)}, slides without shake"
    bores: list[tuple[float, float, float, float | None, str]] = []
    low = 0.0
    if ring > bar + 6.0:
        bores.append((0.0, RELIEF, ring, None, "relieve the face inside the tube's wall"))
        low = RELIEF
    bores += [
        (low, length - LEAD, bore, None, words),
        (length - LEAD, length, bore, bore + 2.0 * LEAD, "lead"),
    ]
    tilt = BAR_FIT / length * tube
    return Part(
        name="end-check",
        label="end check disc",
        kind="end_checks",
        form="turned",
        material="1018-cd",
        turned=Turned(
            steps=(
                TurnedStep(FACE, outside, None, None, "face toward the tube: square to the bore within 0.0005 in"),
                TurnedStep(hub, bar + HUB_OVER, None, None, "hub"),
            ),
            bores=tuple(bores),
            cross_holes=((FACE + hub / 2.0, SET_DRILL, 0.0, "one side only: tap 5/16-18"),),
            axial_holes=tuple(
                (radius * math.cos(a), radius * math.sin(a), SIGHT, f"drill through 1/4 in, feeler point {i + 1}")
                for i, a in enumerate(math.radians(p) for p in POINTS)
            ),
        ),
        quantity=2,
        datum="axis, face toward the tube end",
        notes=(
            "bore and face in one setting",
            "largest less smallest gap over the face of the tube end or bearing end flange: within "
            f"{decimal(BUILD)} build on, over {decimal(REJECT)} reject; between the two, face the end again while "
            "nothing is welded to it",
            f"by its fit on the bar the disc itself can lean {decimal(tilt, 4)} over the tube's width",
            "the rim stands 1/2 in beyond the tube all round: feel beside the three holes, stamped 1, 2, 3",
        ),
    )
