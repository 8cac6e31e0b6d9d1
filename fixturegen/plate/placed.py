"""Flat parts lying on a sheet of plate: frozen records, and the loops where they lie."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from fixturegen.plate.part import Mark, Part, Profile
from fixturegen.plate.profile import Hole, Loop, Vertex, bounds
from fixturegen.studies.cut_costs import CutWork


@dataclass(frozen=True)
class Placed:
    """One copy of a flat part on a sheet: p_sheet = p_part turned by `angle`, then moved by (x, y).

    Attributes:
        part: The part, as cut.
        x: Where its origin lies on the sheet [mm].
        y: Where its origin lies on the sheet [mm].
        angle: From the sheet's x axis to the part's, counter-clockwise [deg].
        copy: Which copy, from 1.
        inside: Name of the part in whose opening it lies; empty for none.
    """

    part: Part
    x: float
    y: float
    angle: float
    copy: int = 1
    inside: str = ""


@dataclass(frozen=True)
class CutSheet:
    """One sheet or remnant with what is cut from it.

    Attributes:
        number: Which sheet of the job, from 1; files and pictures carry it.
        name: What the shop calls it.
        length: Along x [mm].
        width: Along y [mm].
        thickness: Measured [mm].
        material: Id in the table of materials.
        grain: length, width or unknown.
        placed: What lies on it, in the order it is cut.
        spacing: Kept between parts [mm].
        edge: Kept to the sheet's edge [mm].
        cut_to: x beyond which nothing is cut, spacing allowed for; the rest is the remnant [mm].
        price: Of the whole sheet, in the person's money; None where none was given.
        plate: Nominal thickness as the build sheet says it.
    """

    number: int
    name: str
    length: float
    width: float
    thickness: float
    material: str
    grain: str
    placed: tuple[Placed, ...]
    spacing: float
    edge: float
    cut_to: float
    price: float | None = None
    plate: str = ""

    @property
    def border(self) -> Loop:
        """The sheet's own outline."""
        return (Vertex(0.0, 0.0), Vertex(self.length, 0.0), Vertex(self.length, self.width), Vertex(0.0, self.width))

    @property
    def remnant(self) -> Loop:
        """Outline of what is left over the whole width; empty where that is no strip worth its name."""
        if self.length - self.cut_to < REMNANT:
            return ()
        x0, x1, y1 = self.cut_to, self.length, self.width
        return (Vertex(x0, 0.0), Vertex(x1, 0.0), Vertex(x1, y1), Vertex(x0, y1))


@dataclass(frozen=True)
class SheetFigures:
    """A sheet and what it comes to.

    Attributes:
        sheet: The sheet with its parts.
        files: Kind of file to path in the job folder: dxf, picture, remnant.
        work: Pierces and lengths.
        time: Estimate of the torch's time [s].
        share: Steel in the parts over the part of the sheet that is used up [1].
        mass: Of the parts on it [kg].
        cost: Share of the price that is used up, in the person's money; None without a price.
    """

    sheet: CutSheet
    files: Mapping[str, str]
    work: CutWork
    time: float
    share: float
    mass: float
    cost: float | None


REMNANT = 75.0  # a strip narrower than 3 in is scrap [mm] (common practice, no source)


def _turn(angle: float) -> tuple[float, float]:
    """Cosine and sine of an angle [deg]; quarter turns without rounding."""
    quarter = angle / 90.0
    if quarter == round(quarter):
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    return math.cos(math.radians(angle)), math.sin(math.radians(angle))


def placed_point(put: Placed, x: float, y: float) -> tuple[float, float]:
    """Where a point of the part (x, y) [mm] lies on the sheet."""
    c, s = _turn(put.angle)
    return c * x - s * y + put.x, s * x + c * y + put.y


def placed_loop(put: Placed, loop: Loop) -> Loop:
    """Where a loop of the part lies on the sheet; arcs stay arcs."""
    return tuple(Vertex(*placed_point(put, v.x, v.y), v.bulge) for v in loop)


def placed_part(put: Placed) -> Part:
    """The part with its profile and marks where they lie on the sheet; one of no profile as it is."""
    profile = put.part.profile
    if profile is None:
        return put.part
    return replace(
        put.part,
        profile=Profile(
            outer=placed_loop(put, profile.outer),
            inner=tuple(placed_loop(put, loop) for loop in profile.inner),
            holes=tuple(_hole(put, hole) for hole in profile.holes),
        ),
        marks=tuple(_mark(put, mark) for mark in put.part.marks),
        bends=(),
    )


def _hole(put: Placed, hole: Hole) -> Hole:
    x, y = placed_point(put, hole.x, hole.y)
    return replace(hole, x=x, y=y, slot_angle=hole.slot_angle + put.angle)


def _mark(put: Placed, mark: Mark) -> Mark:
    x, y = placed_point(put, mark.x, mark.y)
    to = None if mark.to is None else placed_point(put, *mark.to)
    return replace(mark, x=x, y=y, to=to, angle=mark.angle + put.angle)


def turned_size(loop: Loop, angle: float) -> tuple[float, float]:
    """Length along x and y [mm] of a loop turned by `angle` [deg]."""
    c, s = _turn(angle)
    x0, y0, x1, y1 = bounds(tuple(Vertex(c * v.x - s * v.y, s * v.x + c * v.y, v.bulge) for v in loop))
    return x1 - x0, y1 - y0
