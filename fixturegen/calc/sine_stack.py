"""Gauge blocks under a sine bar."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer, Columns
from fixturegen.calc.sine_height import STEEP, sine_height
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust, weakest
from fixturegen.sources import cite
from fixturegen.stock import GaugeSet, entry, table
from fixturegen.units import Angle, BadQuantity, Length, as_text, parse

_NM = 1_000_000
"""nm in a mm: every size of an inch and of a metric block is a whole number of them."""
_FINEST = 500
"""nm; the finest step of a metric box. Blocks with a finer common step are of two systems."""
_LAST_DIGIT = 2500.5
"""nm; half the last digit of the coarsest box (0.005 mm): a stack this near is the height asked for."""
_MM_PER_INCH = 25.4
_SECONDS = 3600.0
"""sec in a deg."""
_MOST_BLOCKS = 12
"""Nobody wrings more together; common practice, no source."""
_MOST_SIZES = 120
_BLOCK = Length("0.1 mm", "8 in")
_SETS = "the name of a set, or the sizes of your blocks parted by commas"


@dataclass(frozen=True, kw_only=True)
class SineStack(Answer):
    """The height asked for, the stack that makes it, and what the stack's last digit leaves of the angle."""

    height: Annotated[float, Length("0 in", "200 in")]
    stack: Annotated[float, Length("0 in", "200 in")]
    blocks: Annotated[tuple[tuple[float, float], ...], Columns((("block", "in"), ("block_mm", "mm")))]
    made: Annotated[tuple[tuple[float, float], ...], Columns((("angle", "deg"), ("off", "sec")))]


def sine_stack(
    length: Annotated[float, Length("1/2 in", "40 in")],
    angle: Annotated[float, Angle("0.01 deg", "90 deg")],
    set_: str,
) -> SineStack:
    """Fewest gauge blocks that set an angle under a sine bar, from the box you have.

    Args:
        length: Between the centres of the rolls [mm].
        angle: Angle to set, from level [deg].
        set_: Name of a set (inch-81, metric-47, metric-87, metric-112), or the sizes of your own
            blocks parted by commas, each as often as you have it.

    Returns:
        Height asked for, stack, its blocks [mm], angle it makes and by how much that is off [deg].

    Formula: height = length x sin(angle); the stack is the height to the last digit of the set.
    Holds: for rolls of the same diameter; each block is taken once.
    Source: machinerys-31, Sine bar, p. 695; asme-b89.1.9, box of 81; iso-3650, metric boxes.
    Example: --length "5 in" --angle "12 deg" --set inch-81

    Raises:
        InputFault: When the set is not known or the stack cannot be made from it.
    """
    sizes, cited, trust = _box(set_)
    step = math.gcd(*sizes)
    if step < _FINEST:
        remedy = "give blocks of one system, inch or metric"
        raise InputFault(Fault("--set", set_[:60], "blocks that share a last digit", remedy))
    height = sine_height(length, angle).height
    target = round(height * _NM / step)
    stacks = _Stacks(tuple(size // step for size in sizes), max(2 * target, max(sizes) // step) + 1)
    found = stacks.fewest(target) if abs(target * step - height * _NM) <= _LAST_DIGIT else None
    if found is None:
        near = stacks.beside(math.floor(height * _NM / step))
        raise InputFault(_not_made(length, height, [n * step / _NM for n in near]))
    made = target * step / _NM
    angle_made = math.degrees(math.asin(made / length)) if made < length else 90.0
    return SineStack(
        height=height,
        stack=made,
        blocks=tuple((n * step / _NM / _MM_PER_INCH, n * step / _NM) for n in found),
        made=((angle_made, (angle_made - angle) * _SECONDS),),
        formula="height = length x sin(angle); stack = height to the last digit of the set, fewest blocks",
        source="; ".join((cite("machinerys-31"), *cited)),
        trust=weakest(Trust.DERIVED, trust),
        warnings=("above 45 deg a sine bar magnifies errors: measure from square instead",) if angle > STEEP else (),
    )


class _Stacks:
    """Every height that some blocks of a box make together, by how many blocks it takes.

    One bit a height: bit h of `reach[i][k]` says that k of the first i blocks can make h.
    """

    def __init__(self, sizes: tuple[int, ...], limit: int) -> None:
        """All stacks of `sizes` below `limit`, in steps of the box."""
        self.sizes = tuple(sorted(sizes))  # the last ones are looked at first: large blocks are preferred
        mask = (1 << limit) - 1
        now = [1] + [0] * min(_MOST_BLOCKS, len(sizes))
        self.reach = [tuple(now)]
        for size in self.sizes:
            now = [now[0], *((now[k] | now[k - 1] << size) & mask for k in range(1, len(now)))]
            self.reach.append(tuple(now))

    def fewest(self, target: int) -> tuple[int, ...] | None:
        """The fewest blocks that make a height, largest first; None when none do."""
        count = next((k for k, heights in enumerate(self.reach[-1]) if heights >> target & 1), None)
        if count is None or target < 1:
            return None
        taken: list[int] = []
        for i in range(len(self.sizes), 0, -1):
            size = self.sizes[i - 1]
            if count and size <= target and self.reach[i - 1][count - 1] >> (target - size) & 1:
                taken.append(size)
                target, count = target - size, count - 1
        return tuple(taken)

    def beside(self, below: int) -> list[int]:
        """The highest stack up to a height and the next one above it, where there are such."""
        every = 0
        for heights in self.reach[-1][1:]:
            every |= heights
        under, over = every & ((1 << below + 1) - 1), every >> below + 1
        lowest = (over & -over).bit_length()
        return [*([under.bit_length() - 1] if under else []), *([below + lowest] if over else [])]


def _box(given: str) -> tuple[tuple[int, ...], tuple[str, ...], Trust]:
    """Sizes [nm] of the blocks of a box, its source and how far to trust it.

    Raises:
        InputFault: When it is neither a name nor a list of sizes.
    """
    name = given.strip().lower()
    if name in table("gauge-sets").entries:
        found = entry("gauge-sets", name, GaugeSet)
        return tuple(round(size * _NM) for size in found.sizes), (cite(found.source),), found.trust
    allowed = f'{", ".join(table("gauge-sets").entries)}, or sizes like "0.1 in, 0.25 in, 1 in"'
    texts = [text.strip() for text in given.split(",")]
    if len(texts) == 1 and not name[:1].isdigit():
        raise InputFault(Fault("--set", given[:60], allowed, f"give {_SETS}"))
    if len(texts) > _MOST_SIZES:
        raise InputFault(Fault("--set", f"{len(texts)} sizes", f"up to {_MOST_SIZES} sizes", "give fewer blocks"))
    faults = []
    sizes = []
    for text in texts:
        try:
            sizes.append(round(parse(text, _BLOCK) * _NM))
        except BadQuantity as bad:
            faults.append(Fault("--set", bad.given, bad.allowed, bad.remedy))
    if faults:
        raise InputFault(*faults)
    return tuple(sizes), (), Trust.DERIVED


def _not_made(length: float, height: float, near: list[float]) -> Fault:
    """That no blocks of the box make a height, with the heights beside it and their angles.

    Args:
        length: Between the rolls [mm].
        height: Asked for [mm].
        near: Heights that can be made [mm].
    """
    told = []
    for made in near:
        angle = f", {math.degrees(math.asin(made / length)):.3f} deg" if made < length else ", too high for the bar"
        told.append(f"{as_text(made, 'length', 'in', 4)} ({as_text(made, 'length', 'mm', 4)}{angle})")
    given = f"a height of {as_text(height, 'length', 'in', 4)} ({as_text(height, 'length', 'mm', 4)})"
    allowed = f"a height that this set can make; the nearest: {' and '.join(told) or 'none'}"
    remedy = "raise both rolls on equal blocks and take the difference, take a longer bar, or another set"
    return Fault("--set", given, allowed, remedy)
