"""Setting gauge for the depth of a pinion."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Length, as_text

LEAST_BLOCK = 0.508
"""mm; 0.02 in: a block thinner than that is a feeler."""
THIN_DISC = 3.0
"""mm; wall a disc keeps round the arbor, so that it can be turned and does not spring."""


@dataclass(frozen=True, kw_only=True)
class DepthGauge(Answer):
    """Discs for the carrier bores, the gap under the arbor, the block that fills it but for the feeler."""

    disc: Annotated[float, Length("1/2 in", "8 in")]
    gap: Annotated[float, Length("0.01 in", "12 in")]
    block: Annotated[float, Length("0.02 in", "12 in")]
    play: Annotated[float, Length("0 in", "0.05 in")]


def depth_gauge(
    bore: Annotated[float, Length("1 in", "8 in")],
    distance: Annotated[float, Length("1/2 in", "12 in")],
    arbor: Annotated[float, Length("1/4 in", "6 in")],
    feeler: Annotated[float, Length("0.002 in", "0.1 in")] = 0.508,
    clearance: Annotated[float, Length("0 in", "0.01 in")] = 0.0254,
) -> DepthGauge:
    """Discs and block of an arbor that measures how far the pinion head stands from the ring gear's axis.

    Args:
        bore: Carrier bearing bore, caps on and torqued, measured [mm].
        distance: Pinion head to the ring gear's axis that is wanted, the pinion's own mark worked
            in as its maker means it [mm].
        arbor: Diameter of the arbor between the discs, measured [mm].
        feeler: Left between block and arbor, read with leaves [mm].
        clearance: Disc in bore, on the diameter [mm].

    Returns:
        Disc diameter, gap from pinion head to arbor, block on the head, and half the clearance, by
        which the arbor may lie off the axis [mm].

    Formula: disc = bore - clearance; gap = distance - arbor / 2; block = gap - feeler; play =
        clearance / 2.
    Holds: for an arbor square to the pinion axis and running through it or beside it; the head is
        measured on its ground face.
    Source: geometry, distances from the axis of a cylinder.
    Example: --bore "3.0625 in" --distance "2.625 in" --arbor "1 in" --feeler "0.020 in" --clearance "0.001 in"

    Raises:
        InputFault: When the arbor leaves no room for the block or for the discs.
    """
    faults = []
    disc, gap = bore - clearance, distance - arbor / 2
    if disc - arbor < 2 * THIN_DISC:
        allowed = f"up to {as_text(disc - 2 * THIN_DISC, 'length', 'in', 3)} in this bore"
        faults.append(Fault("--arbor", as_text(arbor, "length", "in", 3), allowed, "take a thinner arbor"))
    if gap - feeler < LEAST_BLOCK:
        allowed = f"over {as_text(arbor / 2 + feeler + LEAST_BLOCK, 'length', 'in', 3)} with this arbor and feeler"
        remedy = "take a thinner arbor or feeler, or check the distance"
        faults.append(Fault("--distance", as_text(distance, "length", "in", 3), allowed, remedy))
    if faults:
        raise InputFault(*faults)
    return DepthGauge(
        disc=disc,
        gap=gap,
        block=gap - feeler,
        play=clearance / 2,
        formula="disc = bore - clearance; gap = distance - arbor / 2; block = gap - feeler; play = clearance / 2",
        source=cite("geometry", "distances from the axis of a cylinder"),
        trust=Trust.DERIVED,
        warnings=(
            "makers mean the mark on a pinion in opposite ways: work it into the distance as this gear's maker says",
            "the head of an offset pinion lies beside the axis: the block must be tall enough to reach the arbor",
            "a thicker feeler than planned means that the pinion stands too far from the axis",
            "the makers' own sheet for gears and bearings comes first",
        ),
    )
