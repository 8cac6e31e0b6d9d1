"""Pads a bump stop comes down on, and those a stop is bolted or bonded to on the frame."""

from __future__ import annotations

from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.seat_sets import SeatForm, make_seat
from fixturegen.parts.holes import INCH
from fixturegen.plate.outlines import filleted
from fixturegen.studies.bracket_records import Mount

SIZE = 2.75 * INCH  # of a pad, along and across, when the sheet gives none [mm] (common practice, no source)
CORNER = 10.0  # radius of its corners: rubber is cut by a sharp one [mm] (common practice, no source)
LEGS = 0.38  # outer faces of the legs from the middle, in lengths of the pad [1]: under what strikes it
NOTES = (
    "break its upper edges by 1/16 in: a torch edge cuts rubber",
    "the stop must meet the pad whole at full bump and with one wheel up: look at both before welding",
)


def make_bump_pad(context: BracketContext, mount: Mount) -> MadeBracket:
    """A pad square to the line of its stop.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    long = SIZE if mount.spec.length is None else float(mount.spec.length)
    wide = SIZE if mount.spec.width is None else float(mount.spec.width)
    x, y, r = long / 2.0, wide / 2.0, min(CORNER, long / 4.0, wide / 4.0)
    outline = filleted(((-x, -y, r), (x, -y, r), (x, y, r), (-x, y, r)))
    out = max(LEGS * long, 2.0 * mount.thickness)
    return make_seat(context, mount, SeatForm("Bump pad", outline, lambda _: y, out, notes=NOTES))
