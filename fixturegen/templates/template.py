"""What is laid on steel: one drawing at 1:1, what its lines must measure, and the words beside it."""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.pages import Figure


@dataclass(frozen=True, eq=False)
class Template:
    """One template.

    Attributes:
        name: Slug of its files.
        title: What it is, in words.
        figure: The drawing [mm].
        area: Points (n, 2) round all that must be on paper [mm].
        lines: What the person must know, one sentence each.
        head: Columns of its table; none without one.
        rows: Its rows.
        outlines: Lengths of its closed outlines [mm].
        start: First corner of its outline [mm].
        holes: (x, y, finished diameter) of its round holes [mm].
        parts: Parts it is of.
        dxf: Whether it is written as DXF too; a blank's own cut file is its DXF.
    """

    name: str
    title: str
    figure: Figure
    area: tuple[tuple[float, float], ...]
    lines: tuple[str, ...]
    head: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    outlines: tuple[float, ...] = ()
    start: tuple[float, float] | None = None
    holes: tuple[tuple[float, float, float], ...] = ()
    parts: tuple[str, ...] = ()
    dxf: bool = False
