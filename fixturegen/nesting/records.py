"""Frozen records of nesting: what is to be cut, what it is cut from, and where it lies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fixturegen.plate.profile import Loop

QUARTERS = (0.0, 90.0, 180.0, 270.0)


@dataclass(frozen=True)
class Blank:
    """A flat part to be cut.

    Attributes:
        name: Name of the part, unique in a job.
        outer: Its outline in the part frame, either way round.
        openings: Cut-outs and holes cut at the table, either way round; a small part may lie in one.
        quantity: How many to cut.
        turns: Rotations allowed, from the sheet's grain to the part's x axis [deg]. Never mirrored.
    """

    name: str
    outer: Loop
    openings: tuple[Loop, ...] = ()
    quantity: int = 1
    turns: tuple[float, ...] = QUARTERS


@dataclass(frozen=True)
class StockSheet:
    """A kind of sheet or remnant that is there: a rectangle from (0, 0) to (width, height).

    Attributes:
        name: What the shop calls it, unique in a job.
        width: Along x [mm].
        height: Along y [mm].
        count: How many there are.
        grain: Direction of rolling. Where it is not known ("") it is taken to run along x.
    """

    name: str
    width: float
    height: float
    count: int = 1
    grain: Literal["x", "y", ""] = ""


@dataclass(frozen=True)
class Put:
    """One copy of a part on a sheet: p_sheet = p_part turned by `angle`, then moved by (x, y).

    Attributes:
        blank: Name of the part.
        copy: Which copy, from 1.
        sheet: Name of the kind of sheet.
        number: Which sheet of that kind, from 1.
        x: Where the part's origin lies on the sheet [mm].
        y: Where the part's origin lies on the sheet [mm].
        angle: From the sheet's x axis to the part's, counter-clockwise [deg].
        inside: Name of the part in whose opening it lies; empty for none. It is cut before that opening.
    """

    blank: str
    copy: int
    sheet: str
    number: int
    x: float
    y: float
    angle: float
    inside: str = ""


@dataclass(frozen=True)
class Layout:
    """Every copy of every part: where it lies, or that the stock ran out.

    Attributes:
        puts: What lies where, by sheet in the order they are used.
        unplaced: (part, copy) of those the stock had no room for.
        spacing: Asked for between parts [mm].
        edge: Asked for between part and the sheet's edge [mm].
    """

    puts: tuple[Put, ...]
    unplaced: tuple[tuple[str, int], ...]
    spacing: float
    edge: float
