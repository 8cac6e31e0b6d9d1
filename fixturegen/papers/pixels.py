"""A picture of ours as PNG: for a telephone or a message, where SVG does not open."""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path

from fixturegen.errors import MachineFault

ZOOM = 2.0
"""Pixels for each picture point: letters of 12 points stay sharp on a telephone and at 200 dots to the inch."""
LETTERS = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
"""Fonts that come with matplotlib, which the kernel's wheels bring along: the same letters on every machine."""
REMEDY = "leave --png out, the SVG files say the same, or install fixturegen anew"


def png_bytes(svg: str) -> bytes:
    """The picture as a PNG file on white; the same bytes each time, whatever fonts the machine has.

    Args:
        svg: A picture with its own size.

    Raises:
        MachineFault: When the library that draws it, or its letters, are not installed.
    """
    try:
        from resvg_py import svg_to_bytes
    except ImportError as error:
        raise MachineFault("--png", "the library resvg_py is not installed", REMEDY) from error
    files = [str(path) for path in _letters()]
    family = "DejaVu Sans"
    return bytes(
        svg_to_bytes(
            svg_string=svg,
            background="#ffffff",
            skip_system_fonts=True,
            zoom=ZOOM,
            font_files=files,
            font_family=family,
            sans_serif_family=family,
        )
    )


def _letters() -> list[Path]:
    """The font files; found without loading matplotlib, which would write a cache of its own."""
    spec = find_spec("matplotlib")
    places = [] if spec is None else list(spec.submodule_search_locations or ())
    found = [Path(place) / "mpl-data" / "fonts" / "ttf" / name for place in places for name in LETTERS]
    if not found or not all(path.is_file() for path in found):
        raise MachineFault("--png", "the letters of matplotlib are not installed", REMEDY)
    return found
