"""How cut files are written: entities, version, direction, leads. What the controller gets, as one record."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fixturegen.sheet.specs import Sheet
from fixturegen.studies.cutting_rules import rules_for

Entities = Literal["plain", "polyline"]
Version = Literal["R2000", "R12"]
Swirl = Literal["clockwise", "counter-clockwise"]


@dataclass(frozen=True)
class FileRules:
    """How the contours of one part are written.

    Attributes:
        entities: plain: LINE, ARC and CIRCLE; polyline: closed polylines with bulges, and CIRCLE.
        version: R2000, or R12 for old controllers.
        swirl: Of the torch's gas; the square edge lies on the right of a clockwise one.
        lead: Length of the lead-ins drawn in the file [mm]; None leaves them to the controller.
        kerf: Width of the cut, measured; how near a lead may come to an edge follows from it [mm].
        slat_pitch: From slat to slat; which slugs are loose, and so the order, follow from it [mm].
    """

    entities: Entities = "plain"
    version: Version = "R2000"
    swirl: Swirl = "clockwise"
    lead: float | None = None
    kerf: float = 1.6
    slat_pitch: float = 101.6


def file_rules(sheet: Sheet, thickness: float) -> FileRules:
    """How files of parts of one plate are written.

    Args:
        sheet: The build sheet.
        thickness: Measured thickness of the plate [mm].
    """
    process = sheet.process
    lead = None
    if process.leads_by == "file":
        # no shorter than the plate is thick: the pierce splashes that far (common practice, no source)
        lead = max(float(rules_for(sheet, thickness).lead_in.value), thickness)
    return FileRules(
        process.file_entities, process.file_version, process.swirl, lead, float(process.kerf), float(process.slat_pitch)
    )
