"""Which drill, by the name it has in the drawer."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fixturegen.stock import DrillSeries, Fit, entry, table

INCH = 25.4
NEAR = 0.003 * INCH  # [mm] a drill off by less makes the hole that is asked for (common practice, no source)
LEFT_LEAST = 0.006 * INCH  # least left on the diameter for a reamer [mm] (common practice, no source)
LEFT_MOST = 0.032 * INCH  # most a reamer takes off the diameter [mm] (common practice, no source)


@dataclass(frozen=True)
class Drill:
    """A drill: how it is called, and its diameter [mm]."""

    name: str
    size: float


@cache
def drills(metric: bool) -> tuple[Drill, ...]:
    """Every drill on file, the series of the person's unit first."""
    series = [e for e in table("drills").entries.values() if isinstance(e, DrillSeries)]
    series.sort(key=lambda s: (s.unit == "mm") is not metric)  # stable: fractions stay before letters
    return tuple(Drill(f"letter {n}" if s.names else n, d) for s in series for n, d in s.named())


def _own(drill: Drill, metric: bool) -> bool:
    """Whether a drill is called by its size in the person's own unit."""
    return drill.name.endswith(" mm" if metric else " in")


def drill_for(size: float, metric: bool = False) -> Drill | None:
    """The drill that makes a hole of a size; of the person's own unit where one is near enough.

    Args:
        size: Finished diameter [mm].
        metric: Whether the person works in millimetres.
    """
    near = [d for d in drills(metric) if abs(d.size - size) <= NEAR]
    return near[0] if near else None


def drill_before_reamer(size: float, metric: bool = False) -> Drill | None:
    """The drill that leaves a reamer 0.006 to 1/32 in to take off, as near to 1/64 in as there is.

    Args:
        size: Reamed diameter [mm].
        metric: Whether the person works in millimetres.
    """
    fit = [d for d in drills(metric) if LEFT_LEAST <= size - d.size <= LEFT_MOST]
    own = [d for d in fit if _own(d, metric)]
    return min(own or fit, key=lambda d: abs(size - d.size - INCH / 64.0), default=None)


def drill_words(size: float, metric: bool = False) -> str:
    """A drilled size in words: the drill's name with its decimal inch, or the decimal inch alone."""
    found, decimal = drill_for(size, metric), f"{size / INCH:.3f} in"
    return decimal if found is None else f"{found.name.removesuffix(' in')} ({found.size / INCH:.3f} in)"


def joint_limits(shank: float) -> tuple[float, float]:
    """Least and most of the reamed hole of a joint's bolt [mm], by the table of fits.

    Args:
        shank: Diameter of the bolt's shank, measured [mm].
    """
    fit = entry("fits", "link-bolt", Fit)
    return shank + float(fit.smallest), shank + float(fit.largest)


def reamed_size(shank: float, metric: bool = False) -> float:
    """The hole a joint's bolt is reamed to [mm]: a size reamers are sold in where one lies between the limits.

    Else the middle, to the thousandth of an inch or the hundredth of a millimetre, for an adjustable reamer.

    Args:
        shank: Diameter of the bolt's shank, measured [mm].
        metric: Whether the person works in millimetres.
    """
    low, high = joint_limits(shank)
    middle = (low + high) / 2.0
    sold = [d.size for d in drills(metric) if _own(d, metric) and low <= d.size <= high]
    if sold:
        return min(sold, key=lambda d: abs(d - middle))
    step = 0.01 if metric else INCH / 1000.0
    return round(middle / step) * step
