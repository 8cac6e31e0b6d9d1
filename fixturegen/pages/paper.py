"""Sizes of paper, and what a printer leaves of them."""

from __future__ import annotations

from dataclasses import dataclass

MM_PER_INCH = 25.4  # exact, international inch
MARGIN = 10.0  # [mm] left blank all round: printers leave 4 to 7 mm unprinted (common practice, no source)


@dataclass(frozen=True)
class Paper:
    """A size of paper, upright.

    Attributes:
        name: As the sheet and the command have it.
        width: [mm].
        height: [mm].
    """

    name: str
    width: float
    height: float

    @property
    def lying(self) -> Paper:
        """The same paper turned by a quarter."""
        return Paper(self.name, self.height, self.width)


LETTER = Paper("letter", 8.5 * MM_PER_INCH, 11.0 * MM_PER_INCH)  # ASME Y14.1, size A
A4 = Paper("a4", 210.0, 297.0)  # ISO 216
PAPERS = {paper.name: paper for paper in (LETTER, A4)}
