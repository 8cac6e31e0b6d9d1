"""Sheets of the examples with single values changed, their axle and plan."""

import copy
import tomllib
from functools import cache
from pathlib import Path

from fixturegen.axle.model import axle_of
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_plan import plan_of

EXAMPLES = Path(__file__).parents[2] / "examples"
DROPOUT = "front-dropout-kingpin"
INTEGRAL = "front-integral-balljoint"
REAR = "rear-dropout"


@cache
def _raw(name):
    return tomllib.loads((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))


def sheet_of(name=DROPOUT, **changes):
    data = copy.deepcopy(_raw(name))
    for dotted, value in changes.items():
        *path, last = dotted.split("__")
        node = data
        for key in path:
            node = node.setdefault(key, {})
        node[last] = value
    return Sheet.model_validate(data)


def case(name=DROPOUT, **changes):
    sheet = sheet_of(name, **changes)
    axle = axle_of(sheet)
    return sheet, axle, plan_of(sheet, axle)
