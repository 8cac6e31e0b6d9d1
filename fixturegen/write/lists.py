"""Shop lists as CSV: what to cut, turn, buy and weld, and the axle's tubes and shafts.

Lengths stand in inches and millimetres side by side. Only released parts are counted; the held ones
stand in a list of their own.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

from fixturegen.plate import Assembly, Part
from fixturegen.plate.profile import bounds
from fixturegen.studies.tube_cuts import ShaftReading, TubeCut
from fixturegen.write.dxf import MM_PER_INCH, cut_diameter

Row = Sequence[str | int | float]
_FORMULA = ("=", "+", "-", "@")


def csv_bytes(head: Sequence[str], rows: Iterable[Row]) -> bytes:
    """A table as CSV: UTF-8, line feeds, texts that a spreadsheet would run made harmless."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(head)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return out.getvalue().encode("utf-8")


def _cell(value: str | float) -> str:
    if isinstance(value, float):
        return f"{value + 0.0:.4f}".rstrip("0").rstrip(".")
    text = str(value).replace("\r", " ").replace("\n", " ")
    return f"'{text}" if isinstance(value, str) and text.startswith(_FORMULA) else text


def inch(value: float) -> float:
    """A length [mm] in inches, to a ten-thousandth."""
    return round(value / MM_PER_INCH, 4) + 0.0


def cut_list(parts: Iterable[Part], masses: Mapping[str, float], files: Mapping[str, Mapping[str, str]]) -> bytes:
    """Released plate parts: size, thickness, how often, pierces, what is drilled afterwards."""
    head = (
        "part",
        "what",
        "hand",
        "quantity",
        "material",
        "thickness_in",
        "thickness_mm",
        "width_in",
        "height_in",
        "width_mm",
        "height_mm",
        "mass_each_lb",
        "mass_each_kg",
        "pierces",
        "pilot_marks",
        "file",
    )  # fmt: skip - the columns in reading order
    rows: list[Row] = []
    for part in parts:
        if part.profile is None:
            continue
        x0, y0, x1, y1 = bounds(part.profile.outer)
        cut = sum(cut_diameter(h) is not None for h in part.profile.holes)
        mass = masses.get(part.name, 0.0)
        rows.append(
            (
                part.name,
                part.label,
                part.hand or "",
                part.quantity,
                part.material,
                inch(part.thickness),
                round(part.thickness, 3),
                inch(x1 - x0),
                inch(y1 - y0),
                round(x1 - x0, 2),
                round(y1 - y0, 2),
                round(mass / 0.45359237, 2),
                round(mass, 3),
                1 + len(part.profile.inner) + cut,
                len(part.profile.holes) - cut,
                files.get(part.name, {}).get("dxf", ""),
            )
        )  # fmt: skip - the columns in reading order
    return csv_bytes(head, rows)


def tube_list(cuts: Iterable[TubeCut], parts: Iterable[Part]) -> bytes:
    """The axle's tubes, long and short by name, and the jig's own tubes."""
    head = (
        "what",
        "side",
        "length_in",
        "length_mm",
        "outside_in",
        "outside_mm",
        "wall_in",
        "wall_mm",
        "insertion_in",
        "insertion_mm",
        "exposed_in",
        "exposed_mm",
        "bevel_deg",
        "land_in",
        "quantity",
        "section",
    )  # fmt: skip - the columns in reading order
    rows: list[Row] = [
        (
            f"axle tube, {c.name}",
            c.side,
            inch(c.length),
            round(c.length, 2),
            inch(c.outside_diameter),
            round(c.outside_diameter, 2),
            inch(c.wall),
            round(c.wall, 2),
            inch(c.insertion),
            round(c.insertion, 2),
            inch(c.exposed),
            round(c.exposed, 2),
            round(c.bevel, 1),
            inch(c.land),
            1,
            "round",
        )
        for c in cuts
    ]  # fmt: skip - the columns in reading order
    for part in parts:
        if part.tube is None:
            continue
        size, wall, length, square = part.tube
        rows.append(
            (
                part.label,
                part.hand or "",
                inch(length),
                round(length, 2),
                inch(size),
                round(size, 2),
                inch(wall),
                round(wall, 2),
                "",
                "",
                "",
                "",
                "",
                "",
                part.quantity,
                "square" if square else "round",
            )
        )  # fmt: skip - the columns in reading order
    return csv_bytes(head, rows)


def turned_list(parts: Iterable[Part], masses: Mapping[str, float]) -> bytes:
    """Turned parts, a row for each step, bore and hole, measured from the face at Z = 0."""
    head = (
        "part",
        "what",
        "quantity",
        "material",
        "feature",
        "from_face_in",
        "from_face_mm",
        "length_in",
        "length_mm",
        "diameter_in",
        "diameter_mm",
        "end_diameter_in",
        "end_diameter_mm",
        "lower_limit_in",
        "upper_limit_in",
        "note",
    )  # fmt: skip - the columns in reading order
    rows: list[Row] = []
    for part in parts:
        if part.turned is None:
            continue
        whole = sum(s.length for s in part.turned.steps)
        first = (part.name, part.label, part.quantity, part.material)
        mass = f"{masses.get(part.name, 0.0) / 0.45359237:.2f} lb each"
        rows.append((*first, "whole", 0.0, 0.0, inch(whole), round(whole, 3), "", "", "", "", "", "", mass))
        at = 0.0
        for s in part.turned.steps:
            low, high = s.tolerance or (None, None)
            rows.append(
                (
                    *first,
                    "outside",
                    inch(at),
                    round(at, 3),
                    inch(s.length),
                    round(s.length, 3),
                    inch(s.diameter),
                    round(s.diameter, 3),
                    *_end(s.diameter, s.end_diameter),
                    "" if low is None else inch(low),
                    "" if high is None else inch(high),
                    s.note,
                )
            )  # fmt: skip - the columns in reading order
            at += s.length
        for z0, z1, d0, d1, note in part.turned.bores:
            size = (inch(z0), round(z0, 3), inch(z1 - z0), round(z1 - z0, 3), inch(d0), round(d0, 3))
            rows.append((*first, "bore", *size, *_end(d0, d1), "", "", note))
        for z, d, way, note in part.turned.cross_holes:
            words = f"across, at {way:.1f} deg; {note}".rstrip("; ")
            rows.append(
                (*first, "cross hole", inch(z), round(z, 3), "", "", inch(d), round(d, 3), "", "", "", "", words)
            )
        for x, y, d, note in part.turned.axial_holes:
            words = f"along, at x {inch(x)} y {inch(y)} in; {note}".rstrip("; ")
            rows.append((*first, "axial hole", "", "", "", "", inch(d), round(d, 3), "", "", "", "", words))
    return csv_bytes(head, rows)


def _end(start: float, end: float | None) -> tuple[str | float, str | float]:
    return ("", "") if end is None or end == start else (inch(end), round(end, 3))


def hardware_list(assemblies: Iterable[Assembly]) -> bytes:
    """Bought things: what, size, how many, where."""
    rows = [(a.name, what, size, count, where) for a in assemblies for what, size, count, where in a.hardware]
    return csv_bytes(("assembly", "what", "size", "quantity", "where"), rows)


def weld_list(assemblies: Iterable[Assembly], held: Mapping[str, str] | None = None) -> bytes:
    """Welds of jig, brackets and locators: what to what, leg and length; those of held parts are left out."""
    away = held or {}
    head = ("assembly", "part", "to", "leg_in", "leg_mm", "length_in", "length_mm", "words")
    rows = [
        (a.name, *w.parts, inch(w.leg), round(w.leg, 2), inch(w.length), round(w.length, 2), w.words)
        for a in assemblies
        for w in a.welds
        if not any(p in away for p in w.parts)
    ]
    return csv_bytes(head, rows)


def shaft_list(readings: Iterable[ShaftReading]) -> bytes:
    """What to read on the finished housing before axle shafts are ordered; boxes stay empty."""
    head = ("side", "what", "sheet_comes_to_in", "sheet_comes_to_mm", "measured", "measured_by", "note")
    note = "order only from the finished housing, measured"
    rows = [(r.side, r.what, inch(r.expected), round(r.expected, 2), "", "", note) for r in readings]
    return csv_bytes(head, rows)


def held_list(parts: Iterable[Part], held: Mapping[str, str]) -> bytes:
    """Held parts and their reasons; none of them is counted in the other lists."""
    rows = [(p.name, p.label, p.quantity, held[p.name]) for p in parts if p.name in held]
    return csv_bytes(("part", "what", "quantity", "reason"), rows)
