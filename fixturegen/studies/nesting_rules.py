"""What nesting keeps to on one plate of the rack: distances, turns, and the sheets there are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fixturegen.sheet.contradictions.shop import SAME_PLATE
from fixturegen.sheet.specs import Plate, Sheet, StockSheet
from fixturegen.stock import CutProcess, entry

TURNS = {"right-angles": (0.0, 90.0, 180.0, 270.0), "half-turns": (0.0, 180.0), "none": (0.0,)}
"""Turns from the grain to the part's x axis [deg]; a part is never turned over: its marks face up."""

SAME_THICKNESS = 1e-6  # [mm] a part carries the measured thickness of its plate as it stands on the sheet


@dataclass(frozen=True)
class NestingRules:
    """What is kept to on one plate.

    Attributes:
        spacing: Least between two parts [mm].
        edge: Least from a part to the sheet's edge [mm].
        turns: From the grain to the part's x axis [deg].
        in_holes: Whether parts may lie in the openings of others.
        spacing_words: Where the spacing comes from.
        edge_words: Where the edge comes from.
    """

    spacing: float
    edge: float
    turns: tuple[float, ...]
    in_holes: bool
    spacing_words: str
    edge_words: str


def nesting_rules(sheet: Sheet, plate: Plate) -> NestingRules:
    """The distances and turns on one plate; what the sheet gives wins over the table of processes.

    Without a value on the sheet the spacing is that of the table or the plate's thickness, whichever
    is more: heat of the next cut must not bend a web of less. Source: practice.
    """
    wishes, process = sheet.nesting, entry("processes", sheet.process.name, CutProcess)
    spacing, edge = float(process.part_spacing), float(process.sheet_edge)
    spacing_words = edge_words = f"table of processes, {process.id}"
    if plate.measured > spacing:
        spacing, spacing_words = float(plate.measured), "the plate's thickness (common practice, no source)"
    if wishes.spacing is not None:
        spacing, spacing_words = float(wishes.spacing), "nesting.spacing"
    if wishes.edge is not None:
        edge, edge_words = float(wishes.edge), "nesting.edge"
    return NestingRules(spacing, edge, TURNS[wishes.turn], wishes.parts_in_holes, spacing_words, edge_words)


def plate_of(sheet: Sheet, thickness: float) -> Plate | None:
    """The plate of the rack that has a measured thickness [mm]; None when no plate has it."""
    return next((p for p in sheet.plates if abs(p.measured - thickness) <= SAME_THICKNESS), None)


def sheets_of(sheet: Sheet, plate: Plate) -> Iterator[StockSheet]:
    """Sheets and remnants of one plate that are there and have a size, in the order of the list."""
    for stock in sheet.sheets:
        there = stock.count > 0 and stock.length > 0.0 and stock.width > 0.0
        if there and abs(stock.plate - plate.nominal) < SAME_PLATE:
            yield stock


def used_up(sheet: Sheet) -> tuple[StockSheet, ...]:
    """Sheets on the list of which nothing is there: a count or a side of 0."""
    return tuple(s for s in sheet.sheets if not (s.count > 0 and s.length > 0.0 and s.width > 0.0))
