"""Gauges that prove a setting without the program: which are wanted, and what only they need.

Each is made when the sheet knows what it takes; what it does not know is told, and nothing is made up.
"""

from typing import Annotated, Literal

from fixturegen.sheet.specs.base import THREAD, Spec, usual
from fixturegen.units import Length, Measure

GaugeKind = Literal[
    "sine",
    "clock",
    "hole-bar",
    "plugs",
    "widths",
    "end-disc",
    "toe-bars",
    "pucks",
    "spread",
    "fillets",
    "saddle",
    "depth",
]


class Gauges(Spec):
    """What is held in the hand: sine gauge, clock templates, bars, plugs, discs, fillet leaves, saddle, depth gauge."""

    wanted: tuple[GaugeKind, ...] = usual((), "which of them; all that the sheet can make when left out", max_length=12)
    rod: Annotated[Measure, Length("1/4 in", "5/8 in")] = usual(
        "1/2 in", "ground rod for rollers, seats and pins, measured"
    )
    sine_length: Annotated[Measure, Length("4 in", "20 in")] = usual("10 in", "between the rollers of the sine gauge")
    blocks: Literal["inch-81", "metric-47", "metric-87", "metric-112"] = usual(
        "inch-81", "your gauge blocks, as in `fixturegen tables gauge-sets`"
    )
    wheel_stud: str = usual(
        "", 'wheel studs, like "9/16-18"; no toe bars without', max_length=20, pattern=f"{THREAD}|^$"
    )
    pinion_head: Annotated[Measure, Length("1/2 in", "8 in")] | None = usual(
        None, "pinion head to the ring gear's axis as wanted, its mark worked in; no depth gauge without"
    )
    bores: tuple[Annotated[Measure, Length("1 in", "6 in")], ...] = usual(
        (), "further bores the bar must stand in the middle of, measured", max_length=6
    )
