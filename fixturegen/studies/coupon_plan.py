"""Sizes of the coupons: what is drawn, so that what is measured on the steel can be compared with it.

A coupon is cut before the parts, from each plate that parts with tabs and slots are cut from, with the
kerf the controller (or the file) has at that time. Every size here follows from the sheet alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.calc._bends import Rules, setback
from fixturegen.sheet.contradictions.shop import SAME_PLATE
from fixturegen.sheet.specs import Plate, Sheet
from fixturegen.stock import CutProcess, entry
from fixturegen.studies.nesting_rules import sheets_of
from fixturegen.units import as_inch

INCH = 25.4
BRAKE_LIMIT = 0.25 * INCH + 0.1  # thickest plate a shop brake bends square: 1/4 in, 6 mm [mm] [cp]
ROOMS_IN = tuple(r * INCH for r in (0.0, 0.006, 0.012, 0.018, 0.024, 0.030))  # of the slots, each side [mm]
ROOMS_MM = (0.0, 0.15, 0.3, 0.45, 0.6, 0.75)  # of the slots, each side [mm]
SADDLES_IN = tuple(r * INCH for r in (0.0, 0.015, 0.030))  # added to the tube's radius [mm]
SADDLES_MM = (0.0, 0.4, 0.8)  # added to the tube's radius [mm]
HOLES = (1.0, 1.5, 2.5)  # diameters of the holes, in thicknesses
LETTERS_IN = tuple(h * INCH for h in (0.125, 0.1875, 0.25, 0.375))  # heights of the lettering [mm]
LETTERS_MM = (3.5, 5.0, 7.0, 10.0)  # heights of the lettering [mm]
SLOTTED = ("two-tab", "tower", "track-bar")  # kinds of brackets whose plates stand in slots of one another
LEAST_HOLE = 4.0  # per thickness of the list above: a torch turns nothing rounder in thin plate [mm] [cp]


@dataclass(frozen=True)
class CouponPlan:
    """The coupon of one plate.

    Attributes:
        name: Of the part.
        plate: What the shop calls the plate.
        nominal: Thickness it is sold by [mm].
        thickness: Measured [mm].
        kerf: In force when it is cut, as lettered on it [mm].
        block: Side of the window that the loose block falls out of [mm].
        slot_length: Of each slot [mm].
        rooms: Of each slot, on each side of the plate's measured thickness [mm].
        holes: Diameters [mm].
        tube: Measured outside diameter of the axle tube [mm].
        saddles: Added to the radius of each saddle [mm].
        letters: Heights of the lettering to be read [mm].
        letter_words: What that lettering says: its own height, as it is reported.
        metric: Whether the shop reads millimetres.
    """

    name: str
    plate: str
    nominal: float
    thickness: float
    kerf: float
    block: float
    slot_length: float
    rooms: tuple[float, ...]
    holes: tuple[float, ...]
    tube: float
    saddles: tuple[float, ...]
    letters: tuple[float, ...]
    letter_words: tuple[str, ...]
    metric: bool


@dataclass(frozen=True)
class StripPlan:
    """The strip that is bent once on the brake.

    Attributes:
        name: Of the part.
        plate: What the shop calls the plate.
        nominal: Thickness it is sold by [mm].
        thickness: Measured [mm].
        flange: Each outside flange, as asked for [mm].
        width: Of the strip [mm].
        radius: Inside radius asked for [mm].
        angle: Turned through [deg].
        deduction: Expected: both flanges less the flat length [mm].
        metric: Whether the shop reads millimetres.
    """

    name: str
    plate: str
    nominal: float
    thickness: float
    flange: float
    width: float
    radius: float
    angle: float
    deduction: float
    metric: bool

    @property
    def flat(self) -> float:
        """Length the strip is cut to [mm]: both outside flanges less the deduction."""
        return 2.0 * self.flange - self.deduction


def slug_of(plate: Plate) -> str:
    """The thickness as a piece of a part's name: `3-8`, `1-1-4`, `10mm`."""
    inches = as_inch(plate.nominal, 64)
    if "mm" in plate.nominal.text or "(" in inches:
        return f"{round(float(plate.nominal), 1):g}mm".replace(".", "-")
    return inches.removesuffix(" in").replace(" ", "-").replace("/", "-")


def coupon_plates(sheet: Sheet) -> tuple[Plate, ...]:
    """Plates of the rack that parts with tabs and slots are cut from, of jig, truss and brackets; thickest first."""
    wanted = [float(sheet.jig.clock_plate), float(sheet.jig.stand_plate)]
    wanted += [float(b.plate) for b in sheet.brackets if b.kind in SLOTTED]
    if sheet.truss is not None:
        wanted += [float(p) for p in (sheet.truss.plate, sheet.truss.top_plate) if p is not None]
    found = [p for p in sheet.plates if any(abs(p.nominal - w) < SAME_PLATE for w in wanted)]
    return tuple(sorted(found, key=lambda p: -p.nominal))


def coupon_plans(sheet: Sheet) -> tuple[CouponPlan, ...]:
    """The coupon of each plate that has tabs and slots on this job, thickest first."""
    metric = sheet.job.units == "mm"
    kerf = float(sheet.process.kerf)
    letters = LETTERS_MM if metric else LETTERS_IN
    words = tuple(f"{h:.1f}" if metric else as_inch(h).removesuffix(" in") for h in letters)
    return tuple(
        CouponPlan(
            name=f"coupon-{slug_of(plate)}",
            plate=plate.nominal.text,
            nominal=float(plate.nominal),
            thickness=float(plate.measured),
            kerf=kerf,
            block=42.0 if metric else 1.5 * INCH,
            slot_length=49.0 if metric else 1.75 * INCH,
            rooms=ROOMS_MM if metric else ROOMS_IN,
            holes=tuple(h * max(float(plate.nominal), LEAST_HOLE) for h in HOLES),
            tube=float(sheet.tubes.outside_diameter),
            saddles=SADDLES_MM if metric else SADDLES_IN,
            letters=letters,
            letter_words=words,
            metric=metric,
        )
        for plate in coupon_plates(sheet)
    )


def strip_plan(sheet: Sheet) -> StripPlan | None:
    """The strip for the brake, of the thinnest plate a shop brake bends; None without such a plate.

    Where the sheet lists what stands in the rack, only a plate that is there counts.
    """
    thin = [p for p in sheet.plates if p.nominal <= BRAKE_LIMIT]
    if sheet.sheets:
        thin = [p for p in thin if any(True for _ in sheets_of(sheet, p))]
    if not thin:
        return None
    plate = min(thin, key=lambda p: float(p.nominal))
    metric = sheet.job.units == "mm"
    thickness = float(plate.measured)
    radius = float(sheet.brake.inside_radius or plate.nominal)
    return StripPlan(
        name=f"bend-strip-{slug_of(plate)}",
        plate=plate.nominal.text,
        nominal=float(plate.nominal),
        thickness=thickness,
        flange=90.0 if metric else 3.5 * INCH,
        width=50.0 if metric else 2.0 * INCH,
        radius=radius,
        angle=90.0,
        deduction=expected_deduction(sheet, plate, radius),
        metric=metric,
    )


def bent_elsewhere(sheet: Sheet) -> tuple[Plate, ...]:
    """Plates that parts of this job are bent from and the bend strip is not, thinnest first."""
    strip = strip_plan(sheet)
    wanted = [float(b.plate) for b in sheet.brackets if b.kind == "folded"]
    if sheet.truss is not None and sheet.truss.top == "folded":
        wanted.append(float(sheet.truss.top_plate or sheet.truss.plate))
    found = [p for p in sheet.plates if any(abs(p.nominal - w) < SAME_PLATE for w in wanted)]
    others = [p for p in found if strip is None or abs(p.nominal - strip.nominal) >= SAME_PLATE]
    return tuple(sorted(others, key=lambda p: float(p.nominal)))


def expected_deduction(sheet: Sheet, plate: Plate, radius: float) -> float:
    """What the rule of the sheet says a square bend takes off [mm]: where the bend line is drawn.

    Args:
        sheet: Its brake names the rule.
        plate: What is bent.
        radius: Inside radius [mm].

    Source: machinerys-31, length of bends, or din-6935, as `calc bend`.
    """
    rules = Rules(sheet.brake.rule, "soft-steel-aluminium", float(sheet.brake.k_factor))
    thickness = float(plate.measured)
    return setback(thickness, radius, 90.0) - rules.allowance(thickness, radius, 90.0)


def web_of(sheet: Sheet, thickness: float) -> float:
    """Plate left between two cuts of a coupon [mm]: the sheet's, or the table's by thickness.

    Args:
        sheet: Its process rules.
        thickness: Of the plate [mm].
    """
    process = entry("processes", sheet.process.name, CutProcess)
    least = sheet.process.smallest_web
    return max(float(least or process.smallest_web_per_thickness * thickness), 10.0)
