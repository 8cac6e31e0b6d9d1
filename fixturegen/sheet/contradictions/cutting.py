"""Contradictions about cutting, bending and the sheets in the rack."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fixturegen.calc._bends import setback
from fixturegen.sheet.contradictions.rule import Clash, beside, rule, said
from fixturegen.sheet.contradictions.shop import SAME_PLATE
from fixturegen.sheet.keys import Path
from fixturegen.sheet.specs import Sheet
from fixturegen.units import Measure


@rule
def slot_against_kerf(sheet: Sheet) -> Iterator[Clash]:
    """A slot, a hole or a web that the kerf alone is wider than."""
    for name in ("smallest_slot", "smallest_hole"):
        given = getattr(sheet.process, name)
        if given is not None and given <= sheet.process.kerf:
            yield Clash(
                ("process", name),
                beside(given, ("process", "kerf"), sheet.process.kerf),
                f"more than {said(sheet.process.kerf)}",
                "one pass of the torch is wider than that: measure both on the coupon again",
            )


@rule
def sheets_once(sheet: Sheet) -> Iterator[Clash]:
    """Two sheets of one name; cut files and pictures are named by it."""
    seen: dict[str, int] = {}
    for n, stock in enumerate(sheet.sheets):
        name = stock.name.strip().casefold()
        if name in seen:
            yield Clash(
                ("sheets", n, "name"),
                f"{stock.name}, as sheets[{seen[name] + 1}].name",
                "each name once",
                "give one of them another name, or raise its count if they are of one size",
            )
        seen.setdefault(name, n)


@rule
def plates_of_sheets_and_bends(sheet: Sheet) -> Iterator[Clash]:
    """A sheet or a bend test of a thickness that [[plates]] does not have."""
    asked: list[tuple[Path, Measure]] = [(("sheets", n, "plate"), s.plate) for n, s in enumerate(sheet.sheets)]
    asked += [(("brake", "tests", n, "plate"), t.plate) for n, t in enumerate(sheet.brake.tests)]
    rack = ", ".join(plate.nominal.text for plate in sheet.plates)
    for path, given in asked:
        if all(abs(given - plate.nominal) >= SAME_PLATE for plate in sheet.plates):
            yield Clash(
                path,
                f"{given.text}, with plates of {rack}",
                f"one of {rack}",
                "name the plate by its nominal thickness, and give its measured one in [[plates]]",
            )


@rule
def edge_against_sheet(sheet: Sheet) -> Iterator[Clash]:
    """An edge that leaves nothing of a sheet; a sheet that is used up may stay on the list."""
    edge = sheet.nesting.edge
    if edge is None:
        return
    for n, stock in enumerate(sheet.sheets):
        for name in ("length", "width"):
            side = getattr(stock, name)
            if 0.0 < side <= 2.0 * edge:
                yield Clash(
                    ("sheets", n, name),
                    beside(side, ("nesting", "edge"), edge),
                    f"more than {said(2.0 * edge)}",
                    "nothing is left between the edges: take the remnant off the list, or lower the edge",
                )


@rule
def bend_tests_are_possible(sheet: Sheet) -> Iterator[Clash]:
    """A measured deduction that no bend of that size can have."""
    for n, test in enumerate(sheet.brake.tests):
        # the neutral line lies in the plate: the arc is at least that of the inside face
        corner = setback(test.plate, test.inside_radius, test.angle)
        arc = math.radians(test.angle)
        low = corner - (test.inside_radius + test.plate) * arc
        high = corner - test.inside_radius * arc
        if not low <= test.deduction <= high:
            yield Clash(
                ("brake", "tests", n, "deduction"),
                beside(test.deduction, ("brake", "tests", n, "inside_radius"), test.inside_radius),
                f"{said(low)} to {said(high)}",
                "both flanges are measured to the outside corner (over 90 deg to the bend's outside): measure the "
                "strip, its flanges and the radius again",
            )
