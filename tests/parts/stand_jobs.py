"""Jobs and plane geometry for the tests of stand, index plates, steady and cradles.

Polygons are shapely's, an outside library: containment and distance are never our own.
"""

import tomllib
from functools import cache
from itertools import permutations
from pathlib import Path

import numpy as np
from shapely.geometry import LinearRing, LineString, Point, Polygon, box

from fixturegen.axle.model import axle_of
from fixturegen.parts import cradles, index_plates, stand_stops, stand_walls, stands, steadies
from fixturegen.parts.registry import Context
from fixturegen.plate.profile import polyline
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_plan import plan_of

EXAMPLES = Path(__file__).parents[2] / "examples"
DROPOUT, INTEGRAL, REAR = "front-dropout-kingpin", "front-integral-balljoint", "rear-dropout"
ALL = (DROPOUT, INTEGRAL, REAR)
FINE = 0.002  # chords of arcs [mm]


@cache
def raw(name):
    return tomllib.loads((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))


def context_of(values):
    sheet = Sheet.model_validate(values)
    axle = axle_of(sheet)
    return Context(sheet, axle, plan_of(sheet, axle))


@cache
def job(name):
    return context_of(raw(name))


MAKERS = (
    index_plates.make_index_plates,
    stands.make_stands,
    stand_walls.make_stand_walls,
    stand_stops.make_stand_stops,
    steadies.make_steadies,
    cradles.make_cradles,
)


def everything(context):
    made = [maker(context) for maker in MAKERS]
    return {p.name: p for m in made for p in m.parts}, [p for m in made for p in m.placements]


def polygon(loop):
    return Polygon(polyline(loop, FINE))


def ring(loop):
    return LinearRing(polyline(loop, FINE))


def steel(part):
    """The part's plate as a polygon with its openings and holes taken out."""
    shape = polygon(part.profile.outer)
    for loop in part.profile.inner:
        shape = shape.difference(polygon(loop))
    for hole in part.profile.holes:
        shape = shape.difference(Point(hole.x, hole.y).buffer(hole.finished / 2.0, quad_segs=64))
    return shape


def in_table(placement, x, y, z=0.0):
    return np.array(placement.rotation) @ np.array([x, y, z]) + np.array(placement.origin)


def hole_of(part, label):
    return next(h for h in part.profile.holes if h.label == label)


def joints(parts, placements):
    """Those crossings that lie in an opening: (passing plate, other plate, rectangle, opening)."""
    for a, b, rectangle in crossings(parts, placements):
        for loop in parts[b].profile.inner:
            if polygon(loop).contains(rectangle):
                yield a, b, rectangle, polygon(loop)


def blocked(parts, placements):
    """Pairs of plates of which one stands in the other's steel."""
    return {
        (a, b)
        for a, b, rectangle in crossings(parts, placements)
        if rectangle.intersection(steel(parts[b])).area > 0.01
    }


def crossings(parts, placements):
    """Where a plate passes the middle plane of a plate square to it, within the other's outline.

    Yields (name of the passing plate, name of the other, rectangle in the other's frame).
    """
    plates = [(parts[p.part], p) for p in placements if parts[p.part].profile]
    for (a, pa), (b, pb) in permutations(plates, 2):
        turn = np.array(pb.rotation).T @ np.array(pa.rotation)
        shift = np.array(pb.rotation).T @ (np.array(pa.origin) - np.array(pb.origin))
        if abs(turn[2, 2]) > 0.5:
            continue
        for section in _cuts(steel(a), turn[2, :2], b.thickness / 2.0 - shift[2]):
            corners = [
                (turn @ np.array([x, y, z]) + shift)[:2]
                for (x, y), z in zip((*section, *section[::-1]), (0.0, 0.0, a.thickness, a.thickness), strict=True)
            ]
            rectangle = Polygon(corners)
            if rectangle.intersects(polygon(b.profile.outer)):
                yield a.name, b.name, rectangle


def _cuts(shape, normal, offset):
    """Pieces of the line normal . p = offset inside a polygon, each as two end points."""
    foot, way = np.array(normal) * offset, np.array([-normal[1], normal[0]])
    line = LineString([foot - 5000.0 * way, foot + 5000.0 * way])
    cut = shape.intersection(line)
    pieces = getattr(cut, "geoms", [cut])
    return [tuple(p.coords) for p in pieces if p.geom_type == "LineString" and p.length > 1e-6]


def text_box(mark):
    """Room of a piece of lettering, 0.8 of its height a letter [mm]."""
    return box(mark.x, mark.y, mark.x + 0.8 * mark.height * len(mark.text), mark.y + mark.height)
