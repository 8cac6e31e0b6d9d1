"""How makers are found and what they give back.

A maker is a module of this package with a function `make_<module>(context) -> Made`. No maker
imports another; shared joinery stands in `joinery`, a maker's own drawing in `_<name>` modules.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass

from fixturegen.axle.model import AxleModel
from fixturegen.errors import GeometryFault
from fixturegen.parts.marking import completed
from fixturegen.plate import Assembly, Part, Placement, Weld
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_records import JigPlan

SHARED = ("registry", "holes", "joinery", "layout", "marking")


@dataclass(frozen=True)
class Context:
    """What a maker works from."""

    sheet: Sheet
    axle: AxleModel
    plan: JigPlan


@dataclass(frozen=True)
class Made:
    """What a maker gives back; placements stand in frame T.

    Attributes:
        parts: Parts to make.
        placements: Where they stand, by group.
        welds: What is welded to what.
        hardware: Bought things (what, size, quantity, where).
        steps: (order, words) of the assembly; `Assembly.orders` says which numbers are what.
    """

    parts: tuple[Part, ...] = ()
    placements: tuple[Placement, ...] = ()
    welds: tuple[Weld, ...] = ()
    hardware: tuple[tuple[str, str, int, str], ...] = ()
    steps: tuple[tuple[int, str], ...] = ()


def makers() -> tuple[tuple[str, Callable[[Context], Made]], ...]:
    """Every maker (name, function), by name."""
    package = importlib.import_module("fixturegen.parts")
    found = []
    for module in pkgutil.iter_modules(package.__path__):
        if module.name in SHARED or module.name.startswith("_"):
            continue
        loaded = importlib.import_module(f"fixturegen.parts.{module.name}")
        found.append((module.name, getattr(loaded, f"make_{module.name}")))
    return tuple(sorted(found))


def make_jig(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> tuple[tuple[Part, ...], tuple[Assembly, ...]]:
    """All parts of the jig and the assembly "jig" on the table.

    Raises:
        GeometryFault: When a part cannot be drawn at these sizes.
        ValueError: When two makers give parts of the same name.
    """
    context = Context(sheet, axle, plan)
    made = [_made(name, maker, context) for name, maker in makers()]
    places = [p for m in made for p in m.placements]
    parts = tuple(completed(p, sheet, [q for q in places if q.part == p.name]) for m in made for p in m.parts)
    names = [p.name for p in parts]
    if len(set(names)) != len(names):
        raise ValueError(f"part names are not unique: {sorted(names)}")
    steps = sorted(s for m in made for s in m.steps)
    jig = Assembly(
        name="jig",
        frame="T",
        placements=tuple(places),
        welds=tuple(w for m in made for w in m.welds),
        hardware=tuple(h for m in made for h in m.hardware),
        steps=tuple(words for _, words in steps),
        orders=tuple(order for order, _ in steps),
    )
    return parts, (jig,)


def _made(name: str, maker: Callable[[Context], Made], context: Context) -> Made:
    """What a maker gives; an outline that cannot be drawn is a fault of the part, told in a sentence."""
    try:
        return maker(context)
    except GeometryFault:
        raise
    except ValueError as fault:
        words = f"cannot be drawn at these sizes ({fault})"
        raise GeometryFault(name.replace("_", " "), words, "check the housing's face and the plates") from fault
