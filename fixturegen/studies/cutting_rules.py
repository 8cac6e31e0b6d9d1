"""What the cutter can do on one plate: the sheet's measured values first, then the table of processes.

The one place where sheet and tables are brought together. A limit that comes from the table is shop
practice, to start from, and warns; one that was measured on the person's own table, and stands on the
sheet, holds. `Rule.measured` tells them apart.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from fixturegen.calc.cut_tolerance import CutTolerance, cut_tolerance
from fixturegen.errors import InputFault
from fixturegen.findings import Trust
from fixturegen.sheet.specs import Sheet
from fixturegen.sources import cite
from fixturegen.stock import CutProcess, entry
from fixturegen.studies.nesting_rules import nesting_rules, plate_of
from fixturegen.units import Measure, as_inch


@dataclass(frozen=True)
class Rule:
    """One number of the process.

    Attributes:
        value: In mm, mm/s, s or deg, as its field says.
        source: Where it stands, in words.
        trust: How far to trust it.
        measured: Whether the person's own sheet gives it.
    """

    value: float
    source: str
    trust: Trust
    measured: bool = False


@dataclass(frozen=True)
class CuttingRules:
    """What holds for one process on one plate; lengths [mm].

    Attributes:
        process: Id of the process.
        process_name: In words.
        nominal: Thickness the plate is sold by; tolerances follow it.
        plate: The same as the sheet says it.
        thickness: As measured; holes and webs follow it.
        stocked: Whether the plate is on the sheet's list.
        tolerance_class: 1 or 2.
        kerf: Width of the cut, as measured on a coupon.
        kerf_allowed_by: Who moves the torch off the line.
        kerf_usual: What the table expects at this thickness.
        kerf_spread: Least and most the table has met with this process.
        hole: Smallest hole cut round.
        hole_possible: Smallest hole that can be pierced and cut at all, to be drilled out.
        slot: Narrowest slot that comes out clean.
        web: Least plate between two cuts.
        inside_radius: Least radius of an inside corner: half the kerf.
        lead_in: Length of a lead-in.
        spacing: Between two parts.
        edge: From a part to the sheet's edge.
        under: How much under a hole is cut that is drilled out.
        bevel: Slope of the cut face [deg].
        mark: Smallest cross that shows; 0 when marks are laid out by hand.
        hole_error: What a hole comes out over its drawn size.
        slot_room: On each side of a locating tab.
        saddle_room: On the radius of a saddle.
        cut_speed: [mm/s].
        pierce_time: [s].
    """

    process: str
    process_name: str
    nominal: float
    plate: str
    thickness: float
    stocked: bool
    tolerance_class: Literal[1, 2]
    kerf: Rule
    kerf_allowed_by: Literal["controller", "file"]
    kerf_usual: Rule
    kerf_spread: tuple[float, float]
    hole: Rule
    hole_possible: Rule
    slot: Rule
    web: Rule
    inside_radius: Rule
    lead_in: Rule
    spacing: Rule
    edge: Rule
    under: Rule
    bevel: Rule
    mark: Rule
    hole_error: Rule
    slot_room: Rule
    saddle_room: Rule
    cut_speed: Rule
    pierce_time: Rule

    @property
    def kerf_expected(self) -> bool:
        """Whether the measured kerf lies within the spread the table has met with this process."""
        low, high = self.kerf_spread
        return low - SAME <= self.kerf.value <= high + SAME

    def tolerance(self, size: float) -> Rule | None:
        """Plus and minus on a cut size [mm]; None where the standard's table has no row or column.

        The row follows the nominal thickness. Source: iso-9013, limit deviations.

        Args:
            size: Nominal size of the feature [mm].
        """
        found = _deviation(self.nominal, size, self.tolerance_class)
        return None if found is None else Rule(found.tolerance, found.source, found.trust)


SAME = 1e-6  # [mm] lengths closer than this are one


@lru_cache(maxsize=4096)
def _deviation(nominal: float, size: float, quality: Literal[1, 2]) -> CutTolerance | None:
    try:
        return cut_tolerance(nominal, size, "1" if quality == 1 else "2")
    except InputFault:
        return None


def rules_for(sheet: Sheet, plate_thickness: float) -> CuttingRules:
    """What the sheet's cutter can do on a plate; values of the sheet win over those of the tables.

    Args:
        sheet: The build sheet.
        plate_thickness: Measured, as a part carries it [mm].

    Raises:
        NotInTable: When the process is not in the table.
    """
    given, table = sheet.process, entry("processes", sheet.process.name, CutProcess)
    plate = plate_of(sheet, plate_thickness)
    thick = float(plate_thickness)
    kerf = Rule(float(given.kerf), "process.kerf, measured on a coupon", Trust.MEASURED, True)

    spacing, edge = _table(table, table.part_spacing), _table(table, table.sheet_edge)
    if plate is not None:
        near, wishes = nesting_rules(sheet, plate), sheet.nesting
        spacing = Rule(near.spacing, near.spacing_words, table.trust, wishes.spacing is not None)
        edge = Rule(near.edge, near.edge_words, table.trust, wishes.edge is not None)
    per_hole, per_web = float(table.smallest_hole_per_thickness), float(table.smallest_web_per_thickness)
    hole = _given_or(sheet, "smallest_hole", table, per_hole * thick, f"{per_hole:g} x thickness")
    per = float(table.possible_hole_per_thickness)
    possible = _table(table, per * thick, f"{per:g} x thickness")
    slot = max(float(table.smallest_slot), kerf.value)
    return CuttingRules(
        process=table.id,
        process_name=table.name,
        nominal=thick if plate is None else float(plate.nominal),
        plate=as_inch(thick) if plate is None else plate.nominal.text,
        thickness=thick,
        stocked=plate is not None,
        tolerance_class=given.tolerance_class,
        kerf=kerf,
        kerf_allowed_by=given.kerf_allowed_by,
        kerf_usual=_table(table, table.kerf_at(thick)),
        kerf_spread=(float(table.kerf_lowest), float(table.kerf_highest)),
        hole=hole,
        hole_possible=hole if hole.value < possible.value else possible,
        slot=_given_or(sheet, "smallest_slot", table, slot, "never under the kerf"),
        web=_given_or(sheet, "smallest_web", table, per_web * thick, f"{per_web:g} x thickness"),
        inside_radius=Rule(kerf.value / 2.0, "half the measured kerf", Trust.MEASURED, True),
        lead_in=_given_or(sheet, "lead_in", table, table.lead_in),
        spacing=spacing,
        edge=edge,
        under=_table(table, table.cut_under_for_drill),
        bevel=_table(table, table.bevel),
        mark=_table(table, 0.0 if given.marking == "hand" else table.pilot_cross),
        hole_error=_usual(sheet, "hole_error"),
        slot_room=_usual(sheet, "slot_room"),
        saddle_room=_usual(sheet, "saddle_room"),
        cut_speed=_given_or(sheet, "cut_speed", table, table.cut_speed_at(thick)),
        pierce_time=_given_or(sheet, "pierce_time", table, table.pierce_time_at(thick)),
    )


def _table(table: CutProcess, value: float, words: str = "") -> Rule:
    """A number of the table, with how it was worked out."""
    where = f"table of processes, {table.id}" + (f": {words}" if words else "")
    return Rule(float(value), f"{where} ({cite(table.source)})", table.trust)


def _usual(sheet: Sheet, key: str) -> Rule:
    """A key of the process that has a default: measured when the sheet gives it, else assumed."""
    value = float(getattr(sheet.process, key))
    if key in sheet.process.model_fields_set:
        return Rule(value, f"process.{key}, measured", Trust.MEASURED, True)
    return Rule(value, f"process.{key}, left out on the sheet: common practice, no source", Trust.ASSUMED)


def _given_or(sheet: Sheet, key: str, table: CutProcess, fallback: float, words: str = "") -> Rule:
    """A key of the process that the sheet may give; the table's number when it does not."""
    given: Measure | None = getattr(sheet.process, key)
    if given is None:
        return _table(table, fallback, words)
    return Rule(float(given), f"process.{key}, measured", Trust.MEASURED, True)
