"""Toy parts and jobs for tests of templates."""

from types import SimpleNamespace

from fixturegen.pages import LETTER
from fixturegen.pages.documents import Contents
from fixturegen.plate import Bend, Hole, Mark, Part, Profile
from fixturegen.plate.profile import Operation, Purpose, Vertex, rectangle
from fixturegen.sheet.specs import TubeEnd


def plate(name="toy", wide=120.0, high=80.0, **more):
    """A plate with a round corner, an opening, three holes and marks."""
    outer = (
        Vertex(0.0, 0.0), Vertex(wide, 0.0), Vertex(wide, high - 20.0, 0.41421356237309503),
        Vertex(wide - 20.0, high), Vertex(0.0, high),
    )  # fmt: skip
    inner = (tuple(reversed(rectangle(10.0, 10.0, 30.0, 22.0))),)
    holes = (
        Hole(60.0, 40.0, 25.4, Purpose.BORE, "bar bore", Operation.PILOT, None, "bore it with its mate"),
        Hole(20.0, 60.0, 12.7, Purpose.BOLT),
        Hole(100.0, 20.0, 9.0, Purpose.TABLE, operation=Operation.UNDERCUT, cut=7.0, slot=4.0),
    )
    marks = (Mark(40.0, 10.0, "TOY A", 6.0), Mark(50.0, 60.0, to=(90.0, 60.0)))
    profile = Profile(outer, inner, holes)
    return Part(
        name, "toy plate", "toys", "plate", 9.5, profile=profile, marks=marks, datum="lower left corner", **more
    )


def big(wide=600.0, high=500.0):
    """A plate that takes many sheets of paper, cut out in the middle of one side."""
    outer = (
        Vertex(0.0, 0.0), Vertex(wide, 0.0), Vertex(wide, high), Vertex(wide - 60.0, high), Vertex(wide - 60.0, 60.0),
        Vertex(60.0, 60.0), Vertex(60.0, high), Vertex(0.0, high),
    )  # fmt: skip
    holes = (Hole(30.0, 30.0, 20.0, Purpose.BOLT), Hole(wide - 30.0, high - 30.0, 16.0, Purpose.BOLT))
    return Part("big", "big U", "toys", "plate", 6.0, profile=Profile(outer, (), holes))


def bent():
    """A strip with two bends, one down."""
    bends = (
        Bend(40.0, 0.0, 40.0, 50.0, 90.0, 9.5, allowance=14.0, outside=(45.0, 60.0)),
        Bend(100.0, 0.0, 100.0, 50.0, 45.0, 9.5, up=False, allowance=7.0),
    )
    return Part("bent", "bent strip", "toys", "bent", 6.0, profile=Profile(rectangle(0, 0, 150, 50)), bends=bends)


def tube_end(branch=38.1, main=44.45, angle=55.0, offset=0.0, cut="cope", name="brace to hoop"):
    """A tube end as the sheet reads it [mm] [deg]."""
    given = {"name": name, "cut": cut, "branch": f"{branch} mm", "angle": f"{angle} deg", "offset": f"{offset} mm"}
    return TubeEnd.model_validate(given | ({"main": f"{main} mm"} if cut == "cope" else {}))


def contents(*parts, held=(), paper=LETTER, most=30, tube_ends=(), units="in"):
    """What papers are made from, of toy parts."""
    sheet = SimpleNamespace(
        job=SimpleNamespace(name="An invented job", units=units),
        revision=SimpleNamespace(id="B"),
        papers=SimpleNamespace(most_sheets=most),
        tube_ends=tube_ends,
        truss=None,
    )
    job = SimpleNamespace(
        sheet=sheet, parts={p.name: p for p in parts}, assemblies={}, brackets=SimpleNamespace(facts={}), axle=None
    )
    return Contents(job, "3f9ac01d22aa", held=dict.fromkeys(held, "FIT-01: too near the edge"), paper=paper)
