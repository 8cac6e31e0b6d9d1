"""Values of a sheet that cannot both be right, each told in one sentence with both of them."""

from __future__ import annotations

from fixturegen.sheet.contradictions import (
    access,
    brackets,
    clearance,
    components,
    cutting,
    ends,
    link_search,
    loads,
    middle,
    papers,
    shop,
    truss,
)
from fixturegen.sheet.contradictions.rule import RULES, Clash
from fixturegen.sheet.draft import Unknown
from fixturegen.sheet.specs import Sheet

__all__ = [
    "RULES",
    "Clash",
    "access",
    "brackets",
    "clearance",
    "components",
    "contradictions",
    "cutting",
    "ends",
    "link_search",
    "loads",
    "middle",
    "papers",
    "shop",
    "truss",
]


def contradictions(sheet: Sheet) -> list[Clash]:
    """Every contradiction of a sheet; of a draft, those among the values that can be read."""
    found: list[Clash] = []
    for rule in RULES:
        try:
            for clash in rule(sheet):
                found.append(clash)
        except Unknown:
            continue
    return found
