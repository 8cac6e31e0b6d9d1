"""Pictures drawn without a screen: what is where, what colour, and the same bytes each time."""

import io
import math
import struct
import zlib

import numpy as np
import pytest

from fixturegen.errors import GeometryFault
from fixturegen.shapes import pictures, solids

SIZE = (240, 160)
RED, BLUE = (0.9, 0.1, 0.1), (0.1, 0.1, 0.9)


def pixels(data):
    """A PNG of 8 bits a colour read by hand: (rows, columns, 3) from the top.

    Source: W3C Portable Network Graphics (second edition), 9.2 filter types.
    """
    wide, high, depth, kind = struct.unpack(">IIBB", data[16:26])
    assert (depth, kind) == (8, 2)
    packed, at = b"", 8
    while at < len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        if data[at + 4 : at + 8] == b"IDAT":
            packed += data[at + 8 : at + 8 + length]
        at += 12 + length
    lines = np.frombuffer(zlib.decompress(packed), dtype=np.uint8).reshape(high, 1 + 3 * wide)
    image = np.zeros((high, wide, 3), dtype=int)
    above = np.zeros((wide, 3), dtype=int)
    for row, line in enumerate(lines):
        image[row] = unfiltered(line[0], line[1:].reshape(wide, 3).astype(int), above)
        above = image[row]
    return image


def unfiltered(kind, line, above):
    if kind == 2:
        return (line + above) % 256
    done = np.zeros_like(line)
    for k in range(len(line)):
        left = done[k - 1] if k else np.zeros(3, dtype=int)
        corner = above[k - 1] if k else np.zeros(3, dtype=int)
        p = left + above[k] - corner
        far = np.stack([abs(p - left), abs(p - above[k]), abs(p - corner)])
        paeth = np.choose(far.argmin(axis=0), [left, above[k], corner])
        guess = {0: 0, 1: left, 3: (left + above[k]) // 2, 4: paeth}[int(kind)]
        done[k] = (line[k] + guess) % 256
    return done


def shot(*items, view="front", size=SIZE):
    return pixels(pictures.picture_bytes(items, view, size))


def redness(image):
    return image[..., 0] - (image[..., 1] + image[..., 2]) / 2


def test_the_subject_fills_the_page_on_white_and_is_drawn_with_edges():
    block = solids.box(0, 0, 0, 100, 300, 100)
    image = shot((block, RED, 1.0))
    assert image.shape == (160, 240, 3)
    assert (image[0, 0] == 255).all() and (image[-1, -1] == 255).all()
    red = redness(image) > 60
    rows, columns = np.where(red.any(axis=1))[0], np.where(red.any(axis=0))[0]
    # 300 wide fills the width but for the margin; a third of that is the height
    wide, high = np.ptp(columns) + 1, np.ptp(rows) + 1
    assert wide == pytest.approx(240 / pictures.MARGIN, abs=4)
    assert high == pytest.approx(wide / 3, abs=4)
    assert (image.sum(axis=2) < 200).sum() > 200


def test_views_look_from_where_they_say():
    # red ahead (+X), blue to the left (+Y): seen from the front, left is on the right-hand side
    ahead, left = solids.box(50, -5, 0, 60, 5, 10), solids.box(-5, 50, 0, 5, 60, 10)
    both = ((ahead, RED, 1.0), (left, BLUE, 1.0))

    def places(view):
        image = shot(*both, view=view)
        red, blue = redness(image), image[..., 2] - (image[..., 0] + image[..., 1]) / 2
        return [np.argwhere(tint > 60).mean(axis=0)[::-1] for tint in (red, blue)]

    red, blue = places("front")
    assert blue[0] > red[0]
    red, blue = places("rear")
    assert blue[0] < red[0]
    red, blue = places("top")
    # forward is up the page, the vehicle's left to the left
    assert red[1] < blue[1] and blue[0] < red[0]
    red, blue = places("left")
    assert red[0] < blue[0]
    assert places((0.0, 1.0, 0.0))[0] == pytest.approx(red)


def test_a_ghost_lets_what_is_behind_it_through_whatever_the_order():
    front = solids.box(50, -50, -50, 60, 50, 50)
    behind = solids.box(-60, -20, -20, -50, 20, 20)
    solid = shot((front, BLUE, 1.0), (behind, RED, 1.0))
    ghosts = [
        shot(*order) for order in (
            ((front, BLUE, 0.3), (behind, RED, 1.0)), ((behind, RED, 1.0), (front, BLUE, 0.3)),
        )
    ]  # fmt: skip
    middle = (80, 120)
    assert redness(solid)[middle] < 0
    assert redness(ghosts[0])[middle] > 30
    assert np.abs(ghosts[0] - ghosts[1]).max() <= 2


def test_the_same_solids_give_the_same_bytes(tmp_path):
    def drawn():
        bush = solids.tube((0, 0, 0), (0, 0, 40), 60, 40)
        return [(bush, RED, 1.0), (solids.sphere((0, 0, 50), 30), BLUE, 0.4)]

    first = pictures.picture_bytes(drawn(), "iso", SIZE)
    assert first == pictures.picture_bytes(drawn(), "iso", SIZE)
    pictures.picture(tmp_path / "a.png", drawn(), "iso", SIZE)
    assert (tmp_path / "a.png").read_bytes() == first
    assert io.BytesIO(first).read(8) == b"\x89PNG\r\n\x1a\n"


def test_a_picture_of_nothing_or_from_nowhere_is_refused():
    block = (solids.box(0, 0, 0, 1, 1, 1), RED, 1.0)
    with pytest.raises(GeometryFault, match="nothing to draw"):
        pictures.picture_bytes([])
    with pytest.raises(GeometryFault, match="no view 'sideways'"):
        pictures.picture_bytes([block], "sideways")
    for view in ((0.0, 0.0, 0.0), (math.nan, 0.0, 1.0)):
        with pytest.raises(GeometryFault, match="no direction"):
            pictures.picture_bytes([block], view)


def test_views_drawn_together_are_those_drawn_alone():
    items = [(solids.box(0, 0, 0, 10, 20, 30), RED, 1.0), (solids.sphere((0, 0, 0), 20), BLUE, 0.5)]
    together = pictures.pictures_bytes(items, ["front", "iso"], SIZE)
    assert together == [pictures.picture_bytes(items, view, SIZE) for view in ("front", "iso")]
    assert together[0] != together[1]
