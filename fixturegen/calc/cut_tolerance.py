"""Tolerance of a size cut by plasma, flame or laser."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from fixturegen.calc._answer import Answer
from fixturegen.errors import Fault, InputFault
from fixturegen.sources import cite
from fixturegen.stock import CutTolerance as Row
from fixturegen.stock import table
from fixturegen.units import Length, as_text

_NEAR = 0.05
"""Share of the thickness: a measured plate this near a border may belong to the other row."""


@dataclass(frozen=True, kw_only=True)
class CutTolerance(Answer):
    """Plus and minus on the size."""

    tolerance: Annotated[float, Length("0 in", "1 in")]


def cut_tolerance(
    thickness: Annotated[float, Length("0.1 mm", "100 mm")],
    size: Annotated[float, Length("0.1 mm", "8000 mm")],
    class_: Literal["1", "2"],
) -> CutTolerance:
    """Plus and minus on a cut size that has no tolerance of its own.

    Args:
        thickness: Nominal thickness of the plate, not the measured one [mm].
        size: Nominal size that is cut: a length, a width, a hole [mm].
        class_: Tolerance class: 1, the finer, or 2.

    Returns:
        Limit deviation, plus and minus [mm].

    Formula: read from the table, no formula.
    Holds: for nominal thickness over 3.15 to 15 mm and sizes from 3 to under 2000 mm; for the size,
        not for squareness or slope of the cut face.
    Source: iso-9013, limit deviations for nominal dimensions, classes 1 and 2.
    Example: --thickness "1/4 in" --size "2 in" --class 2

    Raises:
        InputFault: When thickness or size lies outside the table.
    """
    rows = [r for r in table("cut-tolerances").entries.values() if isinstance(r, Row) and r.quality == class_]
    faults = []
    row = next((r for r in rows if r.thickness_over < thickness <= r.thickness_to), None)
    if row is None:
        allowed = f"over {rows[0].thickness_over.text} to {rows[-1].thickness_to.text}"
        remedy = "the table ends there: ask the one who cuts what the machine holds"
        faults.append(Fault("--thickness", as_text(thickness, "length", "mm"), allowed, remedy))
    first, end = rows[0].sizes_from[0], rows[0].sizes_under
    if not first <= size < end:
        allowed = f"{first.text} to under {end.text}"
        remedy = "the table ends there: drill smaller holes, measure larger sizes on the part"
        faults.append(Fault("--size", as_text(size, "length", "mm"), allowed, remedy))
    if row is None or faults:
        raise InputFault(*faults)
    column = max(i for i, start in enumerate(row.sizes_from) if start <= size)
    to = row.sizes_under if column + 1 == len(row.sizes_from) else row.sizes_from[column + 1]
    warnings = [f"the row follows the nominal thickness: over {row.thickness_over.text} to {row.thickness_to.text}"]
    borders = {float(edge) for r in rows for edge in (r.thickness_over, r.thickness_to)}
    if any(abs(thickness - edge) <= _NEAR * edge for edge in borders):
        warnings.append(
            "close to the border of two rows: give the thickness the plate is sold by, not the "
            "measured one (1/4 in is 6.35 mm and belongs to the row over 6.3 mm)"
        )
    if row.remark:
        warnings.append(row.remark)
    return CutTolerance(
        tolerance=float(row.tolerance[column]),
        formula=f"table: class {class_}, sizes from {row.sizes_from[column].text} to under {to.text}",
        source=cite(row.source),
        trust=row.trust,
        warnings=tuple(warnings),
    )
