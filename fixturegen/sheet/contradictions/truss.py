"""Contradictions about the truss, and about brackets that stand on it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from fixturegen.sheet.contradictions.rule import Clash, rule, said
from fixturegen.sheet.specs import Sheet

SAME_PLATE = 0.1  # mm; nominal thicknesses that are the same


@rule
def truss_given_twice(sheet: Sheet) -> Iterator[Clash]:
    """A height beside knees, a back brace with a top, a brace where the housing is not closed."""
    truss = sheet.truss
    if truss is None:
        return
    if truss.knees and truss.height is not None:
        remedy = "keep one of the two: knees tell the height all along"
        yield Clash(
            ("truss", "height"), f"{truss.height.text}, with {len(truss.knees)} knees", "knees or height", remedy
        )
    if len(truss.knees) == 1:
        remedy = "give the knee on the other side of the level top as well"
        yield Clash(("truss", "knees"), "1 knee", "two or more", remedy)
    if truss.form == "back-brace" and sheet.housing.kind == "integral":
        given = "back-brace, with housing.kind = integral"
        remedy = 'its cover comes off there: take form = "box", which bridges the casting from above'
        yield Clash(("truss", "form"), given, "a brace behind a closed, fabricated housing", remedy)


@rule
def knees_in_order(sheet: Sheet) -> Iterator[Clash]:
    """Two knees at one station."""
    if sheet.truss is None:
        return
    found = sorted((float(k.station), n) for n, k in enumerate(sheet.truss.knees))
    for (a, _), (b, n) in pairwise(found):
        if b - a < 1.0:
            knee = sheet.truss.knees[n]
            remedy = "a top does not stand upright: set the knees apart"
            yield Clash(("truss", "knees", n, "station"), knee.station.text, "0.04 in from the next or more", remedy)


@rule
def plates_of_truss(sheet: Sheet) -> Iterator[Clash]:
    """A truss of plates that are not in the rack, or beside the tube it is to stand on."""
    truss = sheet.truss
    if truss is None:
        return
    rack = ", ".join(p.nominal.text for p in sheet.plates)
    for key, plate in (("plate", truss.plate), ("top_plate", truss.top_plate)):
        if plate is not None and all(abs(p.nominal - plate) >= SAME_PLATE for p in sheet.plates):
            remedy = "name a plate of the rack by its nominal thickness, or measure it and list it under [[plates]]"
            yield Clash(("truss", key), plate.text, rack, remedy)
    radius = sheet.tubes.outside_diameter / 2.0
    for key, face in (("front", truss.front), ("rear", truss.rear)):
        if face is not None and abs(face) >= radius:
            given = f"{face.text}, with tubes.outside_diameter = {sheet.tubes.outside_diameter.text}"
            remedy = "a plate that hangs beside the tube is welded to nothing: stand it on the tube"
            yield Clash(("truss", key), given, f"less than {said(radius)}", remedy)


@rule
def bracket_on_truss(sheet: Sheet) -> Iterator[Clash]:
    """A bracket on a truss that the sheet does not have, or on a brace, or at another height than the truss."""
    for n, spec in enumerate(sheet.brackets):
        if spec.on != "truss" or spec.end != "axle":
            continue
        truss, path = sheet.truss, ("brackets", n, "surface")
        if truss is None and spec.surface is None:
            remedy = 'measure its top and say facing = "up", surface = "5 in"; or describe the truss in [truss]'
            yield Clash(path, "nothing, with on = truss and no [truss]", "a surface, or a [truss]", remedy)
        elif truss is not None and truss.form == "back-brace" and spec.surface is None:
            remedy = "a brace has no top: stand the bracket on the tube"
            yield Clash(("brackets", n, "on"), "truss, with truss.form = back-brace", "tube", remedy)
        elif truss is not None and truss.form == "box" and spec.surface is not None:
            remedy = "leave surface, facing, wall and rail_width out: the bracket stands on the top of [truss]"
            yield Clash(path, f"{spec.surface.text}, with a [truss]", "nothing", remedy)
