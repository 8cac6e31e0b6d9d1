"""Pictures in few colours: read by a general-purpose image library."""

import base64
import io

import numpy as np
from PIL import Image

from fixturegen.papers.pixels import COLOURS, few_colours


def png(values: np.ndarray) -> str:
    written = io.BytesIO()
    Image.fromarray(values).save(written, "PNG")
    return base64.b64encode(written.getvalue()).decode("ascii")


def read(data: str) -> np.ndarray:
    return np.asarray(Image.open(io.BytesIO(base64.b64decode(data))).convert("RGB")).astype(int)


def shaded() -> np.ndarray:
    """Four hues, each lit from dark to light: more shades than a palette holds."""
    light = np.linspace(0.2, 1.0, 200)[None, :, None]
    hues = np.repeat(np.array([(70, 102, 148), (200, 70, 43), (230, 166, 41), (255, 255, 255)]), 40, axis=0)
    return np.rint(hues[:, None, :] * light).astype(np.uint8)


def test_shaded_steel_keeps_its_looks_and_the_file_shrinks() -> None:
    values = shaded() + np.random.default_rng(1).integers(0, 2, (160, 200, 3), np.uint8) * (shaded() < 255)
    few = few_colours(png(values))
    assert len(few) < 0.6 * len(png(values))
    found = read(few)
    assert len(np.unique(found.reshape(-1, 3), axis=0)) <= COLOURS
    # an eye takes shades a few steps of 255 apart for one (common practice, no source)
    assert np.abs(found - values).mean() < 3.0


def test_few_colours_stay_as_they_are_and_what_is_no_picture_too() -> None:
    flat = np.zeros((20, 30, 3), np.uint8)
    flat[5:, 5:] = (200, 70, 43)
    assert np.array_equal(read(few_colours(png(flat))), flat)
    assert few_colours("bm90IGEgcGljdHVyZQ==") == "bm90IGEgcGljdHVyZQ=="
