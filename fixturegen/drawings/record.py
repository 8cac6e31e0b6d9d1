"""A drawing as frozen data that no renderer and no kernel is needed for.

Lengths of paper are in mm from the lower left corner of the page, y up. What is drawn and what is
said stand apart: `items` are ink, `sizes` are the dimensions the ink says, for comparing with the model.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from fixturegen.pages.figure import Item

Kind = Literal["x", "y", "z", "diameter", "length", "thickness", "radius", "angle", "distance"]
Point = tuple[float, float]


@dataclass(frozen=True)
class Size:
    """One dimension a drawing says.

    Attributes:
        kind: x, y and z are counted from the drawing's zero; the others stand by themselves.
        name: What is measured, in words.
        value: As the model has it [mm] or [deg], unrounded.
        text: As printed.
        at: Where in the part frame: a point (2,) of a plate's flat, or (z,) of a turned part [mm].
        zero: What is counted from along that direction, in the part frame [mm].
    """

    kind: Kind
    name: str
    value: float
    text: str
    at: tuple[float, ...] = ()
    zero: float = 0.0


@dataclass(frozen=True)
class View:
    """Where a view lies on paper: paper = origin + scale * model.

    Attributes:
        name: What it shows.
        scale: Paper over steel [1].
        x: Paper place of the model's origin [mm].
        y: Paper place of the model's origin [mm].
        true: Whether it is to scale; a broken view is not.
    """

    name: str
    scale: float
    x: float
    y: float
    true: bool = True

    def at(self, x: float, y: float) -> Point:
        """Paper place of a model point [mm]."""
        return self.x + self.scale * x, self.y + self.scale * y


@dataclass(frozen=True)
class Page:
    """One page of paper.

    Attributes:
        width: [mm].
        height: [mm].
        heading: What this page of the drawing shows.
        scale: In words.
        items: What is drawn, in order.
        views: Views on it.
    """

    width: float
    height: float
    heading: str
    scale: str
    items: tuple[Item, ...]
    views: tuple[View, ...] = ()


@dataclass(frozen=True)
class Drawing:
    """The drawing of one part or assembly.

    Attributes:
        name: Slug of what is drawn.
        label: In the words people use.
        pages: Its sheets.
        sizes: Every dimension on them.
    """

    name: str
    label: str
    pages: tuple[Page, ...]
    sizes: tuple[Size, ...] = field(default=())
