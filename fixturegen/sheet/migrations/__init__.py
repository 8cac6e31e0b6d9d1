"""Older sheets brought to the keys of today, one file a step.

A file `from_<n>.py` holds `migrate(values)`: the values of a sheet of schema n in, those of schema
n + 1 out, the key `schema` aside. The files are the registry: nobody keeps a list. Schema 1 is the
first, so there is no file yet.
"""

from __future__ import annotations

import importlib
import pkgutil
import re
from copy import deepcopy
from functools import cache
from typing import Any


@cache
def steps() -> tuple[int, ...]:
    """The schemas that a step leads on from, in order."""
    names = (module.name for module in pkgutil.iter_modules(__path__))
    found = (re.fullmatch(r"from_(\d+)", name) for name in names)
    return tuple(sorted(int(match.group(1)) for match in found if match))


def newest() -> int:
    """The schema that the specs are of."""
    return max(steps(), default=0) + 1


def migrated(values: dict[str, Any]) -> dict[str, Any]:
    """The values in the keys of today; those given stay as they are."""
    schema = int(values["schema"])
    for step in steps():
        if step >= schema:
            module = importlib.import_module(f"{__name__}.from_{step}")
            values = {**module.migrate(deepcopy(values)), "schema": step + 1}
    return values
