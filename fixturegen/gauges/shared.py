"""What the makers of gauges share: plates of the rack, edges left over for the mill, rods, seats, marks."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from fixturegen.axle.model import AxleModel
from fixturegen.parts.holes import INCH, decimal, hole
from fixturegen.parts.marking import LEFT_OUT, letter_height, words_on
from fixturegen.parts.registry import Context
from fixturegen.plate import Hole, Part, Profile, Purpose, Turned, TurnedStep
from fixturegen.plate.part import Mark, Placement
from fixturegen.plate.profile import bounds
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.gauge_angles import SEAT_BODY
from fixturegen.studies.gauge_plan import ways_of
from fixturegen.studies.gauge_records import Gauge, sized
from fixturegen.studies.jig_records import JigPlan

KIND = "gauges"
OVER = INCH / 16.0  # left on an edge that is milled or filed to its size afterwards [mm] [cp]
SHANK = 0.5 * INCH  # of a seat, in the plate [mm]
SCREW = "1/4-20"
SCREW_DRILL = 0.201 * INCH  # tap drill of 1/4-20, from memory
SCREW_DEEP = 0.75 * INCH
LEAD = 1.0  # chamfer [mm]
PRESS = (0.0, 0.005)  # shank over its reamed hole is nothing to 0.0002 in [mm] [cp]
EXACT = (-0.008, 0.008)  # a diameter that measures [mm] [cp]
ROD_FIT = 0.5 * 0.001 * INCH  # hole reamed over a ground rod [mm] [cp]


@dataclass(frozen=True)
class GaugeContext:
    """What a maker works from: the sheet, the axle and the jig's plan."""

    sheet: Sheet
    axle: AxleModel
    plan: JigPlan

    @property
    def shop(self) -> Context:
        """The same as makers of holes take it."""
        return Context(self.sheet, self.axle, self.plan)

    def plate(self, nominal: float) -> float:
        """Measured thickness of the rack's plate that is nearest to a nominal thickness [mm]."""
        return float(min(self.sheet.plates, key=lambda p: abs(p.nominal - nominal)).measured)

    def material(self, thickness: float) -> str:
        """Material of the rack's plate of a measured thickness [mm]."""
        return min(self.sheet.plates, key=lambda p: abs(p.measured - thickness)).material

    def edge_word(self) -> str:
        """How an edge that measures is brought to size: mill or file."""
        return "mill" if self.sheet.process.pads == "mill" else "file"


@dataclass(frozen=True)
class MadeGauge:
    """What a maker gives back.

    Attributes:
        parts: To make, marks not yet complete.
        hardware: Bought things (what, size, quantity, where).
        checked: (part, hole label, hole label, distance) a solid must show [mm].
        edges: (part, x, finished): a width across the part at x that is milled or filed to size [mm].
        shares: Parts of another gauge that it is used with.
        stands: How parts with ways stand in use, frame T's directions; for FWD and UP on the steel.
    """

    parts: tuple[Part, ...]
    hardware: tuple[tuple[str, str, int, str], ...] = ()
    checked: tuple[tuple[str, str, str, float], ...] = ()
    edges: tuple[tuple[str, float, float], ...] = ()
    shares: tuple[str, ...] = ()
    stands: tuple[Placement, ...] = ()


def set_hole(context: GaugeContext, x: float, y: float, finished: float, label: str, thickness: float) -> Hole:
    """A hole whose place is the gauge's accuracy: marked, then bored or drilled as the sheet says; never cut.

    Args:
        context: The job.
        x: Centre [mm].
        y: Centre [mm].
        finished: Reamed diameter [mm].
        label: What the drawing calls it.
        thickness: Of the plate, measured [mm].
    """
    return hole(x, y, finished, Purpose.ANGLE, label, context.shop, thickness=thickness)


def plate_part(
    context: GaugeContext,
    gauge: Gauge,
    name: str,
    label: str,
    thickness: float,
    profile: Profile,
    datum: str,
    *,
    words: tuple[str, ...] = (),
    near: tuple[float, float] | None = None,
    marks: tuple[Mark, ...] = (),
    notes: tuple[str, ...] = (),
    quantity: int = 1,
) -> Part:
    """A plate of a gauge, its own words marked where steel is free.

    Args:
        context: The job.
        gauge: What it belongs to.
        name: Slug.
        label: What people call it.
        thickness: Measured [mm].
        profile: As cut.
        datum: What its origin is.
        words: Lines to be marked: angle, stack, size.
        near: Where they belong [mm]; the middle of the plate when not given.
        marks: Lines and ticks that have a place of their own.
        notes: What the maker must know.
        quantity: How many.
    """
    ways = ways_of(context.sheet)
    inch = gauge.unit == "mm" and context.sheet.job.units == "in"
    usual = sized(gauge.usual, "in") if inch else f"{gauge.usual:.3f} {gauge.unit}"
    told = f"own error of the gauge usually {usual}: places {ways.hole_words}"
    part = Part(
        name=name,
        label=label,
        kind=KIND,
        form="plate",
        thickness=thickness,
        material=context.material(thickness),
        profile=profile,
        quantity=quantity,
        marks=marks,
        needs=("GAU-01", "GAU-03"),
        datum=datum,
        notes=(*notes, told) if any(h.purpose is Purpose.ANGLE for h in profile.holes) else notes,
    )
    if not words:
        return part
    x0, y0, x1, y1 = bounds(profile.outer)
    found = words_on(part, words, letter_height(context.sheet.process), near or ((x0 + x1) / 2.0, (y0 + y1) / 2.0))
    if not found:
        return replace(part, notes=(*part.notes, f"{LEFT_OUT} {', '.join(words)}; write it on by hand"))
    return replace(part, marks=(*marks, *found))


def turned_part(
    gauge: Gauge, name: str, label: str, turned: Turned, notes: tuple[str, ...], quantity: int = 1, datum: str = ""
) -> Part:
    """A turned piece of a gauge."""
    return Part(
        name=name,
        label=label,
        kind=KIND,
        form="turned",
        material="1018-cd",
        turned=turned,
        quantity=quantity,
        needs=("GAU-01",),
        datum=datum or "axis, and the face at the first length",
        notes=(*notes, f"break all edges; stamp {name.upper()} on an end"),
    )


def seat(gauge: Gauge, name: str, thickness: float, length: float, both: bool, rod: float) -> Part:
    """A seat that lies on the tube: a round body with a shank for its plate, on one end or on both.

    Args:
        gauge: What it belongs to.
        name: Slug.
        thickness: Of the plate its shank goes into [mm].
        length: Of the body [mm].
        both: Whether a plate stands on either end.
        rod: Diameter of the shank: that of the gauge's other rods, so that one reamer does [mm].
    """
    shank = TurnedStep(
        thickness - 0.5, rod, None, PRESS, "shank, push fit in the reamed hole, just under the plate's face"
    )
    body = TurnedStep(
        length, SEAT_BODY, None, EXACT, "body: lies on the tube; both shoulders faced in the same setting"
    )
    steps = (shank, body, shank) if both else (shank, body)
    whole = sum(s.length for s in steps)
    deep = min(SCREW_DEEP, whole / 3.0)
    bores = [(0.0, deep, SCREW_DRILL, None, f"tap {SCREW}")]
    if both:
        bores.append((whole - deep, whole, SCREW_DRILL, None, f"tap {SCREW}"))
    notes = (
        f"body {decimal(SEAT_BODY)} on all seats of a gauge alike within 0.0003 in",
        "shoulder square to the body: it squares the plate",
    )
    return turned_part(gauge, name, "seat on the tube", Turned(steps, tuple(bores)), notes, 2)


def size_text(context: GaugeContext, value: float, places: int = 3) -> str:
    """A size [mm] as it is marked on steel, in the unit of the job."""
    if context.sheet.job.units == "mm":
        return f"{value:.{places - 1}f} MM"
    return f"{value / INCH:.{places}f} IN"


def screws(count: int, where: str) -> tuple[str, str, int, str]:
    """Screws and washers that hold seats to their plate."""
    return ("button head screw with washer", f"{SCREW} x 1/2", count, where)


def rod_row(rod: float, length: float, count: int, where: str) -> tuple[str, str, int, str]:
    """A ground rod, its length [mm] rounded up to the next 1/8 in."""
    eighths = math.ceil(length / INCH * 8.0 - 1e-9)
    return ("ground rod", f"{decimal(rod, 4)} x {eighths / 8.0:g} in", count, where)
