"""Fillet leaves: one corner for the leg of a convex bead, one for the throat of a hollow one."""

from __future__ import annotations

from fixturegen.gauges.shared import GaugeContext, MadeGauge, plate_part, size_text
from fixturegen.parts.holes import INCH, decimal
from fixturegen.plate import Loop, Mark, Profile
from fixturegen.plate.lettering import text_box
from fixturegen.plate.outlines import filleted
from fixturegen.studies.gauge_records import Gauge

FILE = 1.0  # left on what is filed to a scribed line afterwards [mm] [cp]
ROOM = 3.0  # corner kept off a bead, beyond one and a half legs [mm]
NOSE = 4.0  # half width of the throat's nose where it begins [mm]
SIZE = (3.75 * INCH, 2.5 * INCH)  # of a leaf
ROUND = 5.0  # [mm]
INSIDE = 1.5  # [mm]
LETTER = 6.0  # [mm]


def make_fillets(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """A leaf for each leg. Origin: the root of the joint at the LEG corner; bottom and left edge lie on its plates."""
    thick = float(min(p.measured for p in context.sheet.plates))
    parts = []
    for n, (_, leg) in enumerate(sorted(gauge.sizes.items()), 1):
        clear = 1.5 * leg + ROOM
        wide, tall = max(SIZE[0], 2.0 * clear + SIZE[0] / 2.0), max(SIZE[1], clear + SIZE[1] / 2.0)
        parts.append(
            plate_part(
                context,
                gauge,
                f"fillet-leaf-{n}",
                f"fillet leaf, leg {decimal(leg)}",
                thick,
                Profile(leaf(leg, wide, tall)),
                "root of the joint at the LEG corner",
                words=(size_text(context, leg),),
                near=(wide / 2.0, 0.7 * tall),
                marks=(
                    Mark(ROOM, clear + ROOM, "LEG", LETTER),
                    Mark(wide - ROOM - text_box("THROAT", LETTER)[2], clear + ROOM, "THROAT", LETTER),
                ),
                notes=(
                    f"LEG corner: file the step to {decimal(leg)} above the bottom edge (cut {decimal(FILE)} low)",
                    f"THROAT corner: file the nose's end to {decimal(leg / 2.0)} from the bottom and the right edge "
                    f"(cut {decimal(FILE)} long): that is a throat of {decimal(leg * 0.5**0.5)}",
                    "bottom, left and right edges filed straight and square to each other first: they are the datum",
                ),
            )
        )
    return MadeGauge(tuple(parts))


def leaf(leg: float, wide: float, tall: float) -> Loop:
    """The blank of a leaf, as cut.

    Args:
        leg: Of the fillet [mm].
        wide: Of the leaf [mm].
        tall: Of the leaf [mm].
    """
    clear = 1.5 * leg + ROOM
    step = leg - FILE
    tip = leg / 2.0 - FILE * 0.5**0.5
    return filleted(
        (
            (clear, 0.0, 0.0),
            (wide - clear, 0.0, 0.0),
            (wide - clear / 2.0 - NOSE, clear / 2.0 - NOSE, 0.0),
            (wide - tip, tip, 0.0),
            (wide - clear / 2.0 + NOSE, clear / 2.0 + NOSE, 0.0),
            (wide, clear, 0.0),
            (wide, tall, ROUND),
            (0.0, tall, ROUND),
            (0.0, step, 0.0),
            (clear, step, INSIDE),
        )
    )
