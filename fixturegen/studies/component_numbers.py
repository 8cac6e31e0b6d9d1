"""Numbers of the parts a person has, for summary and report."""

from __future__ import annotations

from collections.abc import Iterable

from fixturegen.findings import Number, Trust
from fixturegen.studies.component_records import Component, FileShape, PlaneShape, Reading

FOLLOWS = "stated accuracy + placing by its points + deflection of the mesh + rounding of the file"
SIDES = ("along x", "along y", "along z")


def component_numbers(read: Iterable[tuple[Component, Reading]]) -> dict[str, Number]:
    """Dotted name to number of every component that was read.

    Args:
        read: Each component with what was found in it.
    """
    found: dict[str, Number] = {}
    for part, reading in read:
        at, source = f"components.{part.name}", f"read from {part.label}"
        endless = isinstance(part.shape, PlaneShape)
        for axis, words, size in zip("xyz", SIDES, reading.size, strict=True) if not endless else ():
            found[f"{at}.size_{axis}"] = Number(size, "mm", f"{source}, {words} of its own frame", Trust.MEASURED)
        if isinstance(part.shape, FileShape):
            found[f"{at}.triangles"] = Number(reading.triangles, "1", source, Trust.MEASURED)
            found[f"{at}.open_edges"] = Number(reading.open_edges, "1", source, Trust.MEASURED)
        if reading.volume is not None and not endless:
            formula = f"{source}, divergence theorem or kernel"
            found[f"{at}.volume"] = Number(reading.volume, "mm^3", formula, Trust.MEASURED)
        found[f"{at}.accuracy"] = Number(reading.accuracy, "mm", FOLLOWS, Trust.DERIVED)
        if part.residual is not None:
            found[f"{at}.residual"] = Number(part.residual, "mm", "best rigid fit, root mean square", Trust.DERIVED)
    return found
