"""Contexts of the examples, and of the front example with another pivot."""

from __future__ import annotations

import functools
import tomllib
from pathlib import Path

from fixturegen.axle.model import axle_of
from fixturegen.parts.registry import Context
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_plan import plan_of

EXAMPLES = Path(__file__).parents[2] / "examples"
KINGPIN, BALL, REAR = "front-dropout-kingpin", "front-integral-balljoint", "rear-dropout"
ARM = {"arm_thickness": "1.5 in", "boss_diameter": "2.5 in"}
PIVOTS: dict[str, dict[str, str]] = {
    "straight": {"kind": "straight", "diameter": "1.25 in"},
    "taper-outside": {"kind": "taper", "diameter": "1.0 in", "taper_per_foot": "1.5 in", "large_end": "outside"},
    "taper-inside": {"kind": "taper", "diameter": "1.0 in", "taper_per_foot": "1.5 in", "large_end": "inside"},
    "thread": {"kind": "thread", "diameter": "1.25 in", "thread": "1 1/4-12"},
    "cup-through": {
        "kind": "cup",
        "diameter": "2.25 in",
        "depth": "0.75 in",
        "through": "1.25 in",
        "boss_diameter": "3.25 in",
    },
    "cup-blind": {"kind": "cup", "diameter": "2.25 in", "depth": "0.75 in", "boss_diameter": "3.25 in"},
    "cup-inside": {
        "kind": "cup",
        "diameter": "1.75 in",
        "depth": "0.75 in",
        "through": "0.75 in",
        "large_end": "inside",
        "boss_diameter": "2.75 in",
    },
    "pin": {"kind": "pin", "diameter": "0.75 in", "length": "1.25 in"},
    "pin-long": {"kind": "pin", "diameter": "1.0 in", "length": "3 in"},
}


def context_from(data: dict) -> Context:
    sheet = Sheet.model_validate(data)
    axle = axle_of(sheet)
    return Context(sheet, axle, plan_of(sheet, axle))


def raw(name: str) -> dict:
    return tomllib.loads((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))


@functools.cache
def example(name: str) -> Context:
    return context_from(raw(name))


@functools.cache
def with_pivot(name: str, which: str) -> Context:
    data = raw(KINGPIN)
    data["knuckles"][which] = {**ARM, **PIVOTS[name]}
    return context_from(data)
