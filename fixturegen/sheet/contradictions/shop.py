"""Contradictions about table, plates, what is welded on, and the wishes about the jig."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from fixturegen.sheet.contradictions.rule import INCH, Clash, beside, rule, said
from fixturegen.sheet.keys import Path
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.threads import thread_diameter
from fixturegen.stock import table

SAME_PLATE = 0.3
"""mm; nominal thicknesses closer than this are one plate: 3/8 in and 9.5 mm, not 10 mm."""

PLATE_SLACK = 0.1
"""Measured thickness may differ from nominal by this part, mill tolerance and rust (practice)."""


@rule
def pin_and_bolt_against_hole(sheet: Sheet) -> Iterator[Clash]:
    """A table pin or bolt larger than the hole."""
    hole = sheet.table.hole
    if sheet.table.pin > hole:
        yield Clash(
            ("table", "pin"),
            beside(sheet.table.pin, ("table", "hole"), hole),
            f"up to {said(hole)}",
            "the pin does not enter the hole: measure both with a caliper",
        )
    try:
        bolt = thread_diameter(sheet.table.bolt)
    except ValueError:
        return
    if bolt > hole:
        yield Clash(
            ("table", "bolt"),
            f"{sheet.table.bolt}, with table.hole = {hole.text}",
            f"up to {said(hole)}",
            "the bolt does not go through the hole: name a thinner one",
        )


@rule
def grid_against_hole(sheet: Sheet) -> Iterator[Clash]:
    """Holes that run into each other."""
    if sheet.table.hole >= sheet.table.grid:
        yield Clash(
            ("table", "grid"),
            beside(sheet.table.grid, ("table", "hole"), sheet.table.hole),
            f"more than {said(sheet.table.hole)}",
            "the holes would run into each other: measure from middle to middle",
        )


@rule
def plates_once(sheet: Sheet) -> Iterator[Clash]:
    """One nominal thickness twice, or a measured one far from it."""
    for n, plate in enumerate(sheet.plates):
        slack = PLATE_SLACK * plate.nominal + 0.01 * INCH
        if abs(plate.measured - plate.nominal) > slack:
            low, high = plate.nominal - slack, plate.nominal + slack
            yield Clash(
                ("plates", n, "measured"),
                beside(plate.measured, ("plates", n, "nominal"), plate.nominal),
                f"{said(low)} to {said(high)}",
                "that is another plate: measure it again, or name it by its own thickness",
            )
        for before, other in enumerate(sheet.plates[:n]):
            if abs(plate.nominal - other.nominal) < SAME_PLATE:
                yield Clash(
                    ("plates", n, "nominal"),
                    beside(plate.nominal, ("plates", before, "nominal"), other.nominal),
                    "each thickness once",
                    "two plates of one thickness: keep the one the jig is cut from",
                )
                break


@rule
def jig_plates_in_the_rack(sheet: Sheet) -> Iterator[Clash]:
    """A plate that the jig asks for and the rack does not have."""
    rack = ", ".join(plate.nominal.text for plate in sheet.plates)
    for name in ("clock_plate", "stand_plate"):
        wanted = getattr(sheet.jig, name)
        if all(abs(wanted - plate.nominal) >= SAME_PLATE for plate in sheet.plates):
            yield Clash(
                ("jig", name),
                f"{wanted.text}, with plates of {rack}",
                f"one of {rack}",
                f"the rack has no such plate: add it to [[plates]], or set {name} in [jig]",
            )


@rule
def welded_on_the_axle(sheet: Sheet) -> Iterator[Clash]:
    """Something welded on beyond the wheel mount surfaces, or of no length."""
    half = sheet.axle.wheel_mount_width / 2.0
    for n, piece in enumerate(sheet.welded):
        for name in ("station_from", "station_to"):
            station = getattr(piece, name)
            if abs(station) > half:
                width = sheet.axle.wheel_mount_width
                yield Clash(
                    ("welded", n, name),
                    beside(station, ("axle", "wheel_mount_width"), width),
                    f"{said(-half)} to {said(half)}",
                    "it would stand outside the wheels: measure from the middle of the axle",
                )
        if piece.station_from == piece.station_to:
            yield Clash(
                ("welded", n, "station_to"),
                beside(piece.station_to, ("welded", n, "station_from"), piece.station_from),
                "another station than station_from",
                "it has no length along the axle: measure both of its ends",
            )


@rule
def names_in_the_tables(sheet: Sheet) -> Iterator[Clash]:
    """A material or process that no shipped table has."""
    asked: list[tuple[Path, str, str]] = [
        (("tubes", "material"), sheet.tubes.material, "materials"),
        (("process", "name"), sheet.process.name, "processes"),
    ]
    asked += [(("plates", n, "material"), plate.material, "materials") for n, plate in enumerate(sheet.plates)]
    bars = () if sheet.loads is None else sheet.loads.links
    asked += [(("loads", "links", n, "material"), bar.material, "materials") for n, bar in enumerate(bars)]
    for path, given, name in asked:
        names = list(table(name).entries)
        if given not in names:
            close = difflib.get_close_matches(given[:80], names, n=1)
            hint = f"did you mean {close[0]}?" if close else f"see fixturegen tables {name}"
            yield Clash(path, given or "an empty text", f"one of {', '.join(names)}", hint)
