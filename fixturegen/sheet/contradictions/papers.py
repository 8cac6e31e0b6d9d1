"""Contradictions about tube ends to be wrapped with paper."""

from __future__ import annotations

from collections.abc import Iterator

from fixturegen.sheet.contradictions.rule import Clash, beside, rule, said
from fixturegen.sheet.specs import Sheet


@rule
def tube_ends_that_cannot_meet(sheet: Sheet) -> Iterator[Clash]:
    """A cope without its main tube or beside it, and a mitre that names one."""
    for i, end in enumerate(sheet.tube_ends):
        path = ("tube_ends", i)
        if end.cut == "mitre":
            if end.main is not None:
                remedy = "leave main out: both tubes of a mitre have the size of branch"
                yield Clash((*path, "main"), f'{end.main.text}, with cut = "mitre"', "nothing for a mitre", remedy)
            continue
        if end.main is None:
            remedy = "measure the tube it stands on, over its paint and scale"
            yield Clash((*path, "main"), 'nothing, with cut = "cope"', "a diameter", remedy)
        elif end.branch > end.main:
            given = beside(end.branch, (*path, "main"), end.main)
            remedy = "part of it would pass beside the main tube: cope the smaller tube onto the larger one"
            yield Clash((*path, "branch"), given, f"up to {end.main.text}", remedy)
        elif abs(end.offset) > (room := (float(end.main) - float(end.branch)) / 2.0) + 1e-6:
            remedy = "part of the branch would pass beside the main tube"
            yield Clash((*path, "offset"), end.offset.text, f"up to {said(room)} to either side", remedy)
