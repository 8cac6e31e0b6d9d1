"""Width of a cut."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.calc._processes import cut_process
from fixturegen.sources import cite
from fixturegen.units import Length


@dataclass(frozen=True, kw_only=True)
class Kerf(Answer):
    """Width of the cut, and how far the torch runs off the line."""

    kerf: Annotated[float, Length("0.005 in", "0.25 in")]
    offset: Annotated[float, Length("0.002 in", "0.13 in")]


def kerf(
    process: str,
    thickness: Annotated[float, Length("0.02 in", "4 in")],
) -> Kerf:
    """Width of the cut to start from, by process and thickness.

    Args:
        process: Name of the cutting process, as `fixturegen tables processes` lists it.
        thickness: Of the plate, measured [mm].

    Returns:
        Kerf, and the offset of the torch from the finished line, half of it [mm].

    Formula: kerf is read from the table, along straight lines between thicknesses; offset = kerf / 2.
    Holds: as a start; the kerf of a table is measured on a coupon.
    Source: practice, kerf by current and thickness.
    Example: --process plasma-air-45a --thickness "1/4 in"

    Raises:
        InputFault: When there is no such process.
    """
    found = cut_process(process)
    width = found.kerf_at(thickness)
    warnings = [
        f"shop values for {found.name} run from {found.kerf_lowest.text} to {found.kerf_highest.text}: "
        "cut a coupon and measure yours",
        "say to the controller once, and only once, that the kerf is allowed for",
    ]
    if not found.thickness[0] <= thickness <= found.thickness[-1]:
        warnings.append(
            f"no kerf on file for this thickness, only for {found.thickness[0].text} to "
            f"{found.thickness[-1].text}: the nearest was taken"
        )
    return Kerf(
        kerf=width,
        offset=width / 2,
        formula=f"table: {found.id}, straight between thicknesses; offset = kerf / 2",
        source=cite(found.source),
        trust=found.trust,
        warnings=tuple(warnings),
    )
