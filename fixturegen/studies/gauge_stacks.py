"""Stacks of gauge blocks for the sheet's angles, or why they cannot be made."""

from __future__ import annotations

from fixturegen.calc.sine_stack import sine_stack
from fixturegen.errors import InputFault

LEAST = 0.01  # [deg] below it the rollers stand level and no stack is needed


def stack_of(length: float, angle: float, blocks: str) -> tuple[tuple[float, ...], str]:
    """The blocks [mm] of a stack, and why there are none.

    Args:
        length: Between the rollers [mm].
        angle: To set [deg].
        blocks: Name of a set.
    """
    if angle < LEAST:
        return (), "no stack: both rollers level"
    try:
        found = sine_stack(length, angle, blocks)
    except InputFault as fault:
        one = fault.faults[0]
        return (), f"cannot be made from {blocks}; {one.allowed}"
    return tuple(mm for _, mm in found.blocks), ""
