"""The pictures of an axle's links as files: views side by side, every plot with its signs told under it."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from fixturegen.papers.link_board import LETTER
from fixturegen.papers.link_quantities import LinkCase
from fixturegen.papers.link_section import link_section
from fixturegen.papers.report import Figure

SIZE = 12.0
"""Height of the letters under a picture [px]."""
LINE = 16.0
RIM = 10.0
"""Distance of lines of words, and white rim of a picture [px]."""
LONGEST = 60  # letters of a file's name


@dataclass(frozen=True)
class NamedPicture:
    """A picture as a file.

    Attributes:
        name: Of the file, without its ending.
        title: What it shows.
        svg: The picture, the words under it in it.
        words: The words under it.
    """

    name: str
    title: str
    svg: str
    words: str


def link_pictures(cases: Sequence[LinkCase], units: str = "in") -> tuple[NamedPicture, ...]:
    """The views of all geometries in one picture, then each plot over travel and roll in one of its own.

    Args:
        cases: Geometries of the same end of a truck, the one in hand first.
        units: in or mm, of scales and words.

    Raises:
        InputFault: When there is none, too many, two of one name, or front and rear axles are mixed.
    """
    section = link_section(cases, units)
    names = " beside ".join(case.name for case in cases)
    found = [NamedPicture("views", "views", beside(section.views, [c.name for c in cases]), "")]
    taken = {"views"}
    for figure in section.plots:
        title = _label(figure.svg)
        name = _free(slug(title), taken)
        found.append(NamedPicture(name, title, captioned(figure, names), figure.caption))
    return tuple(found)


def about_text(cases: Sequence[LinkCase], pictures: Sequence[NamedPicture], units: str = "in") -> str:
    """What is in the folder, with the cautions and notes of the report's section and each curve's signs."""
    section = link_section(cases, units)
    lines = [section.title, ""]
    for note in section.notes:
        lines += [*textwrap.wrap(note, 100), ""]
    for view in section.views:
        lines += [*textwrap.wrap(f"views: {view.caption}", 100, subsequent_indent="  "), ""]
    for picture in pictures:
        if picture.words:
            lines += [*textwrap.wrap(f"{picture.name}: {picture.words}", 100, subsequent_indent="  "), ""]
    return "\n".join(lines).rstrip() + "\n"


def slug(title: str) -> str:
    """A file name of lower-case letters, digits and hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")[:LONGEST].rstrip("-") or "picture"


def _free(name: str, taken: set[str]) -> str:
    """The name, or the first numbered one that no other picture has."""
    tried, k = name, 1
    while tried in taken:
        k += 1
        tried = f"{name}-{k}"
    taken.add(tried)
    return tried


def _label(svg: str) -> str:
    """What a picture says it is."""
    found = re.search(r'aria-label="([^"]*)"', svg) or re.search(r"aria-label='([^']*)'", svg)
    return found.group(1) if found else "picture"


def _size(svg: str) -> tuple[float, float]:
    """Width and height of a picture of ours [px]."""
    wide, high = re.findall(r'(?:width|height)="([0-9.]+)"', svg.partition(">")[0])[:2]
    return float(wide), float(high)


def _placed(svg: str, x: float, y: float) -> str:
    """A picture in another one, its corner at (x, y)."""
    return svg.replace("<svg ", f'<svg x="{x:g}" y="{y:g}" ', 1)


def _lines(words: str, wide: float) -> list[str]:
    return textwrap.wrap(words, max(20, int(wide / (LETTER * SIZE))))


def _whole(body: str, wide: float, high: float, label: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide:g} {high:g}" width="{wide:g}" height="{high:g}" '
        f'role="img" aria-label={quoteattr(label)} font-family="sans-serif" fill="none">'
        f'<rect width="{wide:g}" height="{high:g}" fill="#fff"/>{body}</svg>\n'
    )


def _row(x: float, y: float, words: str, size: float = SIZE, bold: bool = False) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return f'<text x="{x:g}" y="{y:g}" font-size="{size:g}" fill="#14181c"{weight}>{escape(words)}</text>'


def captioned(figure: Figure, names: str) -> str:
    """A picture with the words that belong to it under it, since a file on its own has no page around it.

    Args:
        figure: The picture and its words.
        names: Of the geometries in it.
    """
    wide, high = _size(figure.svg)
    lines = [line for words in (figure.caption, names) for line in _lines(words, wide - 2.0 * RIM)]
    body = [_placed(figure.svg, RIM, RIM)]
    body += [_row(2.0 * RIM, high + RIM + LINE * (k + 1), line) for k, line in enumerate(lines)]
    return _whole("".join(body), wide + 2.0 * RIM, high + LINE * (len(lines) + 1) + 2.0 * RIM, _label(figure.svg))


def beside(figures: Sequence[Figure], names: Sequence[str]) -> str:
    """Pictures of one size side by side, each under its name and over its words."""
    sizes = [_size(f.svg) for f in figures]
    tall = max(high for _, high in sizes)
    lines = [_lines(f.caption, wide - RIM) for f, (wide, _) in zip(figures, sizes, strict=True)]
    body, x = [], RIM
    for figure, (wide, _), name, words in zip(figures, sizes, names, lines, strict=True):
        body.append(_row(x, RIM + 16.0, name, 16.0, bold=True))
        body.append(_placed(figure.svg, x, RIM + 26.0))
        body += [_row(x, RIM + 26.0 + tall + LINE * (k + 1), line) for k, line in enumerate(words)]
        x += wide + 3.0 * RIM
    high = RIM + 26.0 + tall + LINE * (max(map(len, lines)) + 1) + RIM
    return _whole("".join(body), x - 2.0 * RIM, high, "side view, plan and end view of " + ", ".join(names))
