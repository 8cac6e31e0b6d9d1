"""Pictures of ours as PNG: SVG for a telephone or a message, and shaded ones in few colours: pages stay light."""

from __future__ import annotations

import base64
import io
from importlib.util import find_spec
from pathlib import Path

from fixturegen import keeping
from fixturegen.errors import MachineFault
from fixturegen.keeping import key_of

ZOOM = 2.0
"""Pixels for each picture point: letters of 12 points stay sharp on a telephone and at 200 dots to the inch."""
LETTERS = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
"""Fonts that come with matplotlib, which the kernel's wheels bring along: the same letters on every machine."""
COLOURS = 256
"""[1] colours of a palette: all that eight bits hold; shaded steel in a dozen hues looks the same in so many."""
EFFORT = 6  # of deflate; 9 saves one part in fifty and takes three times as long
PNG = "iVBORw0KGgo"  # a PNG file's first bytes as base64; Source: PNG specification (ISO/IEC 15948), section 5.2
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


def few_colours(data: str) -> str:
    """The PNG with a palette, a third as large, as base64 text; what is no PNG comes back as it is. Kept between runs.

    Args:
        data: A PNG as base64 text.
    """
    if not data.startswith(PNG):
        return data
    return base64.b64encode(keeping.kept("light", key_of(("few colours", data)), lambda: _palette(data))).decode(
        "ascii"
    )


def _palette(data: str) -> bytes:
    # only a report that is written pays for the library
    from PIL import Image

    picture = Image.open(io.BytesIO(base64.b64decode(data))).convert("RGB")
    few = picture.quantize(COLOURS, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
    written = io.BytesIO()
    few.save(written, "PNG", compress_level=EFFORT)
    return written.getvalue()


def _letters() -> list[Path]:
    """The font files; found without loading matplotlib, which would write a cache of its own."""
    spec = find_spec("matplotlib")
    places = [] if spec is None else list(spec.submodule_search_locations or ())
    found = [Path(place) / "mpl-data" / "fonts" / "ttf" / name for place in places for name in LETTERS]
    if not found or not all(path.is_file() for path in found):
        raise MachineFault("--png", "the letters of matplotlib are not installed", REMEDY)
    return found
