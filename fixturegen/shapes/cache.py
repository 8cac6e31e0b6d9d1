"""Solids, meshes and what two solids share, kept between runs (`keeping`).

Whoever moves a shape moves its location and leaves what is drawn alone, so the drawing's own digest
and the location tell all there is to know. Results of pairs are worked out in the first one's frame
from a location rounded to a millionth of a micrometre: what turns together is asked once.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import cadquery as cq
from OCP.BinTools import BinTools, BinTools_FormatVersion
from OCP.gp import gp_Pnt, gp_Trsf
from OCP.TopLoc import TopLoc_Location

from fixturegen import keeping
from fixturegen.keeping import key_of
from fixturegen.plate import Part
from fixturegen.plate.part import Vector
from fixturegen.shapes.kernel import Shape, Solid
from fixturegen.shapes.primitives import centre_of_mass, common, solids_in, surface, volume
from fixturegen.shapes.solids import solid_of

__all__ = [
    "cached_shape",
    "cached_solid",
    "kept_of_pair",
    "shape_key",
    "shared_piece",
    "solid_key",
]

PLACES = 9  # decimals of a relative location [mm]; far finer than the kernel's tolerance

MOST = 6000  # drawings whose digest is remembered at once

_drawings: dict[int, tuple[Shape, str]] = {}


def solid_key(part: Part, *, as_cut: bool = False) -> str:
    """The digest of all that shapes a part; its name and notes do not enter.

    Args:
        part: What is made.
        as_cut: Holes of a plate at the size they have at the cutter, else finished.
    """
    return key_of(("part", part.form, part.thickness, part.profile, part.turned, part.tube, part.bends, as_cut))


def cached_solid(part: Part, *, as_cut: bool = False) -> Solid:
    """The solid of the part as `solid_of` makes it, from the cache where it is there.

    Args:
        part: What is made; only what shapes it enters the key, not its name or notes.
        as_cut: Holes of a plate at the size they have at the cutter, else finished.
    """
    return _through(solid_key(part, as_cut=as_cut), lambda: solid_of(part, as_cut=as_cut))


def cached_shape(data: object, make: Callable[[], Shape], sources: tuple[Path, ...] = ()) -> Shape:
    """The shape the maker makes from the data, from the cache where it is there.

    Args:
        data: Frozen records, tuples, numbers and texts that settle the shape.
        make: Makes the shape when it is not there.
        sources: Files that hold the maker and lie outside the program, which enter the key.
    """
    return _through(key_of(data, sources), make)


def _through(key: str, make: Callable[[], Shape]) -> Shape:
    # by way of its binary form each time, so that a run goes on with the very same shape whether
    # the entry was there or not: the form changes signs of zeros
    body = keeping.kept("brep", key, lambda: _body(make()))
    shape = cq.Shape.importBin(io.BytesIO(body))
    # now: what is asked of a shape later on leaves flags in it, and its digest would hang on what was asked first
    _remember(_drawing_of(shape), hashlib.sha256(body).hexdigest())
    return shape


def _body(shape: Shape) -> bytes:
    stream = io.BytesIO()
    shape.exportBin(stream)
    return stream.getvalue()


def shape_key(shape: Shape) -> tuple[str, tuple[float, ...]]:
    """Digest of a shape as drawn, and its location as 12 numbers, rows of rotation beside origin [mm].

    Args:
        shape: Moved by its location, as `transformed`, `moved` and `placed` move.
    """
    drawing = _drawing_of(shape)
    known = _drawings.get(hash(drawing.wrapped))
    if known is not None and known[0].wrapped.IsSame(drawing.wrapped):
        digest = known[1]
    else:
        stream = io.BytesIO()
        # without triangles: whether it was meshed before makes no difference
        BinTools.Write_s(drawing.wrapped, stream, False, False, BinTools_FormatVersion.BinTools_FormatVersion_CURRENT)
        digest = hashlib.sha256(stream.getvalue()).hexdigest()
        _remember(drawing, digest)
    return f"{digest} {int(drawing.wrapped.Orientation())}", _numbers(shape.wrapped.Location())


def _drawing_of(shape: Shape) -> Shape:
    return cq.Shape.cast(shape.wrapped.Located(TopLoc_Location()))


def _remember(drawing: Shape, digest: str) -> None:
    if len(_drawings) >= MOST:
        _drawings.clear()
    # the drawing is held on to, so that its number cannot become another's
    _drawings[hash(drawing.wrapped)] = drawing, digest


def shared_piece(first: Shape, second: Shape) -> tuple[float, float, Vector] | None:
    """Depth [mm], volume [mm3] and middle (3,) [mm] of the deepest piece two shapes share.

    Depth is 2 V / A. None when they share nothing.

    Args:
        first: A solid or a compound of solids.
        second: Another.
    """
    here = first.wrapped.Location()
    pair, rounded = _pair_key(first, second)

    def measured() -> list[float]:
        trsf = gp_Trsf()
        trsf.SetValues(*rounded)
        own = cq.Shape.cast(first.wrapped.Located(TopLoc_Location()))
        beside = cq.Shape.cast(second.wrapped.Located(TopLoc_Location(trsf)))
        return _deepest(common(own, beside))

    found = keeping.kept_json("shared", pair, measured)
    if not found:
        return None
    depth, volume_, *local = found
    at = gp_Pnt(*local).Transformed(here.Transformation())
    return float(depth), float(volume_), (at.X(), at.Y(), at.Z())


def kept_of_pair(kind: str, first: Shape, second: Shape, make: Callable[[], Any]) -> Any:
    """What the maker finds of two shapes, from the cache where it is there; plain values (`keeping.kept_json`).

    Args:
        kind: Ending of the entry's name; limits that enter the result stand in it.
        first: A solid or a compound of solids.
        second: Another.
        make: Finds it from where they stand; the same wherever both are moved to together.
    """
    return keeping.kept_json(kind, _pair_key(first, second)[0], make)


def _pair_key(first: Shape, second: Shape) -> tuple[str, tuple[float, ...]]:
    """Digest of two shapes as they stand to each other, and the second's location in the first's frame, rounded."""
    between = _numbers(first.wrapped.Location().Inverted().Multiplied(second.wrapped.Location()))
    rounded = tuple(round(n, PLACES) + 0.0 for n in between)
    return key_of((shape_key(first)[0], shape_key(second)[0], rounded)), rounded


def _deepest(shared: Shape) -> list[float]:
    best: list[float] = []
    for piece in solids_in(shared):
        volume_, area = volume(piece), surface(piece)
        if volume_ <= 0.0 or area <= 0.0:
            continue
        depth = 2.0 * volume_ / area
        if not best or depth > best[0]:
            best = [depth, volume_, *centre_of_mass(piece)]
    return best


def _numbers(location: TopLoc_Location) -> tuple[float, ...]:
    trsf = location.Transformation()
    return tuple(float(trsf.Value(i, j)) for i in range(1, 4) for j in range(1, 5))
