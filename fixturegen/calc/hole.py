"""Clearance hole for a bolt."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Literal

from fixturegen.calc._answer import Answer
from fixturegen.errors import Fault, InputFault
from fixturegen.sources import cite
from fixturegen.stock import ClearanceHole, table
from fixturegen.units import BadQuantity, Length, parse

SAME = 1e-6
"""mm; two names of one bolt size, like 1/2 and 0.5, agree to rounding."""


@dataclass(frozen=True, kw_only=True)
class Hole(Answer):
    """Smallest clearance hole of the class."""

    diameter: Annotated[float, Length("1 mm", "4 in")]


def hole(bolt: str, fit: Literal["close", "normal", "loose"]) -> Hole:
    """Smallest clearance hole for a bolt, by the standard of its thread.

    Args:
        bolt: Size as it is called: 1/2, 1/2-13, 1/2 in, M12 or M12x1.75.
        fit: Close, normal or loose; the metric standard says fine, medium, coarse.

    Returns:
        Diameter of the hole [mm].

    Formula: read from the table, no formula.
    Holds: for clearance holes; not for the bolts of links, track bar, drag link and shocks.
    Source: asme-b18.2.8, inch series; iso-273, metric series.
    Example: --bolt 1/2 --fit normal

    Raises:
        InputFault: When the size is not in the table.
    """
    entry = _entry(bolt)
    name = {"close": "fine", "normal": "medium", "loose": "coarse"}[fit]
    column = f"{fit} ({name})" if entry.source == "iso-273" else fit
    return Hole(
        diameter=float(getattr(entry, fit)),
        formula=f"table: {entry.id}, {column}",
        source=cite(entry.source),
        trust=entry.trust,
        warnings=(
            "not for joint bolts of links, track bar, drag link and shocks: those are drilled and "
            "reamed 0.005 to 0.010 in over the measured shank",
        ),
    )


def _entry(bolt: str) -> ClearanceHole:
    """The entry of a bolt called by any of its names.

    Raises:
        InputFault: When the size is not in the table.
    """
    entries = [e for e in table("holes").entries.values() if isinstance(e, ClearanceHole)]
    text = bolt.strip()
    metric = re.fullmatch(r"[mM] ?(\d+(?:\.\d+)?)(?: ?[xX×-] ?[\d.]+)?", text, re.ASCII)
    inch = re.fullmatch(r"(\d+(?:/\d+)?|\d*\.\d+)(-\d+)?(?: ?(?:in|\"))?", text, re.ASCII)
    size = None
    try:
        if metric:
            size = parse(f"{metric.group(1)} mm", Length())
        elif inch:
            size = parse(f"{inch.group(1)} in", Length())
    except BadQuantity:
        size = None
    series = "iso-273" if metric else "asme-b18.2.8"
    for entry in entries:
        if size is not None and entry.source == series and abs(entry.bolt - size) < SAME:
            return entry
    names = ", ".join(e.id for e in entries)
    raise InputFault(Fault("--bolt", text[:40], names, "this size is not in the table: choose one that is"))
