"""Contradictions about getting things off: fittings without a direction or out of order, names given twice."""

from __future__ import annotations

from collections.abc import Iterator

from fixturegen.sheet.contradictions.rule import Clash, rule
from fixturegen.sheet.keys import Path
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.specs.truss import Fitting


def _fittings(sheet: Sheet) -> Iterator[tuple[Path, Fitting]]:
    """Plugs and breathers of both sections with where they stand on the sheet."""
    for section, given in (("truss", sheet.truss), ("access", sheet.access)):
        for n, one in enumerate(() if given is None else given.fittings):
            yield (section, "fittings", n), one


@rule
def fittings_have_a_way_out(sheet: Sheet) -> Iterator[Clash]:
    """A plug that is screwed out in no direction."""
    for path, one in _fittings(sheet):
        if not any(float(v) for v in one.out):
            given = f"[{', '.join(v.text for v in one.out)}]"
            remedy = 'write the way it is screwed out, like ["0", "0", "-1"] for straight down'
            yield Clash((*path, "out"), given, "a direction", remedy)


@rule
def fittings_stand_in_order(sheet: Sheet) -> Iterator[Clash]:
    """A drain above the fill plug, or a breather below it: oil would run out where it should not."""
    every = list(_fittings(sheet))
    fills = [one for _, one in every if one.kind == "fill plug"]
    for path, one in every:
        for fill in fills:
            low = one.kind == "breather" and one.at[2] <= fill.at[2]
            high = one.kind == "drain plug" and one.at[2] >= fill.at[2]
            if low or high:
                given = f"{one.at[2].text} up, with {fill.name} {fill.at[2].text} up"
                allowed = f"{'above' if low else 'below'} the fill plug"
                remedy = "measure both again: heights are from the axle line, up positive"
                yield Clash((*path, "at"), given, allowed, remedy)


@rule
def rounds_of_access_are_listed_once(sheet: Sheet) -> Iterator[Clash]:
    """A spring or shock with a diameter in both sections, or two in one."""
    if sheet.access is None:
        return
    known = {r.name.casefold() for r in (() if sheet.clearance is None else sheet.clearance.rounds)}
    for n, one in enumerate(sheet.access.rounds):
        if one.name.casefold() in known:
            given = f"{one.name} a second time"
            yield Clash(("access", "rounds", n, "name"), given, "one entry each", "leave one of the two out")
        known.add(one.name.casefold())
