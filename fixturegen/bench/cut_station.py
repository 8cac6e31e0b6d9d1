"""The cut list: plates, tubes and turned parts of the job, to be ticked off at saw, table and lathe."""

from __future__ import annotations

from fixturegen.bench.records import Listing, Station, assumed_of, beside, caliper, taped
from fixturegen.pages import cautions
from fixturegen.pages.documents import Contents
from fixturegen.plate import Part
from fixturegen.plate.profile import bounds
from fixturegen.stock import Material, NotInTable, entry
from fixturegen.studies.tube_cuts import tube_cuts
from fixturegen.units.written import MM_PER_INCH

ORDER = 10
POUND = 0.45359237  # kg, exact
ZERO = (
    "ZERO for thickness, kerf and holes is what you measured. Cut the coupons first; a slot coupon that does not fit "
    "stops the work here, not at the table."
)


def station(contents: Contents) -> Station | None:
    """The sheet to cut by; parts that are held stand at its end, with the reason."""
    job = contents.job
    plates = [p for p in contents.released if p.profile is not None]
    turned = [p for p in contents.released if p.turned is not None]
    held = tuple((name, job.parts[name].label, why) for name, why in sorted(contents.held.items()) if name in job.parts)
    plates.sort(key=lambda p: (p.thickness, p.name))
    first = [p for p in plates if p.kind == "coupons"]
    rest = [p for p in plates if p.kind != "coupons"]
    return Station(
        slug="cut-list",
        title="Cut list",
        zero=f"{ZERO} Kerf on the sheet: {caliper(float(job.sheet.process.kerf), contents.units)}.",
        assumed=assumed_of(contents.assumptions, ("process", "plates", "sheets", "nesting", "brake")),
        lists=(
            _held(held),
            *_plates("Coupons, first of all", first, contents),
            *_plates("Plates", rest, contents),
            _tubes(contents),
            _turned(turned, contents),
        ),
        cautions=(cautions.TORCH,),
    )


def stock_name(material: str) -> str:
    """What a steel is called at the rack, from the table; its id where the table has none."""
    try:
        return entry("materials", material, Material).name.removeprefix("plate, ").removeprefix("bar, ")
    except NotInTable:
        return material.upper()


def _held(rows: tuple[tuple[str, ...], ...]) -> Listing:
    return Listing("HELD: do not cut these", "", ("Part", "What", "Why"), (0.22, 0.28, 0.5), rows)


def _plates(title: str, parts: list[Part], contents: Contents) -> list[Listing]:
    """A table for each thickness."""
    head = ("Part", "Off", "Blank", "Holes", "Drilled", "Each")
    note = "Drilled: holes that are marked or cut under size and finished with a drill or reamer; see the drawing."
    found: list[Listing] = []
    sorts = {p.name: (caliper(p.thickness, contents.units), stock_name(p.material)) for p in parts}
    for sort in dict.fromkeys(sorts.values()):
        same = [p for p in parts if sorts[p.name] == sort]
        name = f"{title}, {sort[1]}, measured {sort[0]}"
        rows = tuple(_plate_row(p, contents) for p in same)
        found.append(Listing(name, "" if found else note, head, (0.34, 0.07, 0.26, 0.1, 0.11, 0.12), rows, "cut"))
    return found


def _plate_row(part: Part, contents: Contents) -> tuple[str, ...]:
    if part.profile is None:
        return ()
    x0, y0, x1, y1 = bounds(part.profile.outer)
    mass = contents.masses.get(part.name)
    size = f"{(x1 - x0) / MM_PER_INCH:.2f} x {(y1 - y0) / MM_PER_INCH:.2f} in"
    metric = f"{x1 - x0:.0f} x {y1 - y0:.0f} mm"
    return (
        part.name + (f" ({part.hand})" if part.hand else ""),
        str(part.quantity),
        metric if contents.units == "mm" else size,
        str(len(part.profile.holes)),
        str(sum(h.cut is None or h.cut != h.finished for h in part.profile.holes)),
        f"{mass / POUND:.1f} lb" if mass is not None else "",
    )


def _tubes(contents: Contents) -> Listing:
    units = contents.units
    rows = [
        (
            f"axle tube, {c.side} ({c.name})",
            "1",
            f"{beside(c.outside_diameter, units)} x {c.wall / MM_PER_INCH:.3f} in wall",
            taped(c.length, units),
            f"{taped(c.insertion, units)} goes in; bevel {c.bevel:.0f} deg, {taped(c.land, units, 64)} land",
        )
        for c in tube_cuts(contents.job.sheet)
    ]
    for p in contents.released:
        if p.tube is None:
            continue
        side, wall, length, square = p.tube
        shape = "square" if square else "round"
        size = f"{shape} {taped(side, units, 64)} x {wall / MM_PER_INCH:.3f} in wall"
        rows.append((p.label, str(p.quantity), size, taped(length, units), ""))
    note = "Long and short side by name: the wrong way round scraps both. Ends square to 1/64 in before the bevel."
    head = ("Tube", "Off", "Section", "Cut to", "And")
    return Listing("Tubes", note, head, (0.2, 0.05, 0.25, 0.22, 0.28), tuple(rows), "cut")


def _turned(parts: list[Part], contents: Contents) -> Listing:
    rows = []
    for p in parts:
        if p.turned is None:
            continue
        whole = sum(s.length for s in p.turned.steps)
        largest = max(max(s.diameter, s.end_diameter or 0.0) for s in p.turned.steps)
        rows.append(
            (
                p.name,
                p.label,
                str(p.quantity),
                f"{caliper(largest, contents.units)} x {caliper(whole, contents.units)}",
                stock_name(p.material),
            )
        )
    head = ("Part", "What", "Off", "Largest diameter x length", "Bar")
    return Listing(
        "Turned parts", "Sizes and fits on the drawings.", head, (0.2, 0.27, 0.05, 0.3, 0.18), tuple(rows), "done", 0.08
    )
