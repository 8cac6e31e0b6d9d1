"""Smallest things a torch should cut."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.calc._processes import cut_process
from fixturegen.sources import cite
from fixturegen.units import Length


@dataclass(frozen=True, kw_only=True)
class MinHole(Answer):
    """Smallest hole, slot and web."""

    hole: Annotated[float, Length("0 in", "20 in")]
    slot: Annotated[float, Length("0 in", "20 in")]
    web: Annotated[float, Length("0 in", "20 in")]


def min_hole(
    process: str,
    thickness: Annotated[float, Length("0.02 in", "4 in")],
) -> MinHole:
    """Smallest hole, slot and web to cut, by process and thickness.

    Args:
        process: Name of the cutting process, as `fixturegen tables processes` lists it.
        thickness: Of the plate, measured [mm].

    Returns:
        Smallest diameter of a hole, width of a slot, and plate left between cuts [mm].

    Formula: hole = thickness x factor of the process; web = thickness x factor of the process; slot
        is read from the table, but never under the kerf.
    Holds: as shop practice to start from; what your table cuts round is seen on a coupon.
    Source: practice, holes and webs by thickness.
    Example: --process plasma-air-45a --thickness "1/4 in"

    Raises:
        InputFault: When there is no such process.
    """
    found = cut_process(process)
    hole, web = float(found.smallest_hole_per_thickness), float(found.smallest_web_per_thickness)
    return MinHole(
        hole=hole * thickness,
        slot=max(float(found.smallest_slot), found.kerf_at(thickness)),
        web=web * thickness,
        formula=f"hole = {hole:g} x thickness; web = {web:g} x thickness; slot from the table, kerf at least",
        source=cite(found.source),
        trust=found.trust,
        warnings=(
            "smaller holes are marked by the torch and drilled, or cut under size and drilled out",
            "a cut hole is no fit: holes of joint bolts are drilled and reamed whatever their size",
        ),
    )
