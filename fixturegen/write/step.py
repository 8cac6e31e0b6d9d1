"""STEP files of released parts and of the jig on the table, read back and measured."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fixturegen.errors import GeometryFault
from fixturegen.findings import Finding, Level
from fixturegen.plate import Part, Placement
from fixturegen.write.summary import net_area

if TYPE_CHECKING:
    from fixturegen.shapes.step import StepMeasure

CODE = "STP-01"
CLAIM = "the STEP file holds exactly this solid: sound, true to size"
VOLUME = 1e-6  # relative: a STEP file carries sixteen digits, and read-back loses few of them
SIZE = 0.001  # of the box [mm]; far below what a machine resolves, common practice

AXLE_COLOUR = (0.55, 0.62, 0.75)
JIG_COLOUR = (0.85, 0.62, 0.25)
Box = tuple[float, float, float, float, float, float]


def file_name(name: str) -> str:
    """Name of a part's STEP file."""
    return f"{name}.step"


def flat_volume(part: Part) -> float | None:
    """Volume of a finished flat part by closed form [mm3]; None for other forms."""
    area = net_area(part)
    return None if area is None or part.form != "plate" else area * part.thickness


def write_part(path: Path, solid: Any, name: str) -> None:
    """Write one finished solid in its part frame.

    Args:
        path: The file.
        solid: The finished solid.
        name: Name of the part.
    """
    from fixturegen.shapes.step import write_part_step

    write_part_step(path, solid, name, JIG_COLOUR)


def write_assembly(
    path: Path,
    solids: Mapping[str, Any],
    placements: Iterable[Placement],
    axle: Mapping[str, Any],
    name: str,
) -> tuple[int, float]:
    """Write the placed parts with the axle among them; how many solids and their volume [mm3].

    Args:
        path: The file.
        solids: Part name to solid in its part frame.
        placements: Where each part stands, frame T.
        axle: Name to shape of what stands on the bench, frame T.
        name: Name of the assembly.
    """
    from fixturegen.shapes import step
    from fixturegen.shapes.solids import solids_in, volume

    items = step.assembly_items(solids, tuple(placements), dict.fromkeys(solids, JIG_COLOUR))
    items += [step.StepItem(f"axle {body}", shape, AXLE_COLOUR) for body, shape in axle.items()]
    step.write_step(path, items, name)
    count, total = 0, 0.0
    for item in items:
        times = max(1, len(item.placements))
        inside = solids_in(item.shape)
        count += times * len(inside)
        total += times * sum(volume(s) for s in inside)
    return count, total


def check_step(
    path: Path, volume: float, box: Box | None, parts: tuple[str, ...], solids: int = 1, assembly: str | None = None
) -> Finding:
    """The finding of reading a STEP file back (STP-01); a fail holds what it is about.

    Args:
        path: The file.
        volume: What it must hold [mm3].
        box: Its box (xmin, ymin, zmin, xmax, ymax, zmax) [mm]; None to leave it unchecked.
        parts: The part it is of; empty for an assembly.
        solids: How many solids it must hold.
        assembly: The assembly it is of.
    """
    from fixturegen.shapes.step import measure_step

    try:
        found = measure_step(path)
    except GeometryFault as fault:
        faults = [fault.words]
    else:
        faults = _faults(found, volume, box, solids)
        if not faults:
            words = f"{path.name}: {found.solids} sound, {found.volume / 1000.0:.3f} cm3"
            return Finding(CODE, Level.PASS, CLAIM, words, parts=parts, assembly=assembly, frame=_frame(parts))
    return Finding(
        code=CODE,
        level=Level.FAIL,
        claim=CLAIM,
        words=f"{path.name}: {'; '.join(faults)}",
        remedy="do not use this file; what it is about is held. Report it with the sheet",
        parts=parts,
        assembly=assembly,
        frame=_frame(parts),
        holds="part" if parts else "assembly",
    )


def _frame(parts: tuple[str, ...]) -> str:
    return "P" if parts else "T"


def _faults(found: StepMeasure, volume: float, box: Box | None, solids: int) -> list[str]:
    faults = []
    if found.solids != solids:
        faults.append(f"{found.solids} solids, not {solids}")
    if not found.valid:
        faults.append("a solid is not sound")
    if not math.isclose(found.volume, volume, rel_tol=VOLUME):
        faults.append(f"volume {found.volume:.3f} mm3, not {volume:.3f}")
    if box is not None and max(abs(a - b) for a, b in zip(found.box, box, strict=True)) > SIZE:
        faults.append("other overall sizes")
    return faults
