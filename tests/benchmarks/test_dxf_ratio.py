"""Writing the DXF files of 200 parts against ezdxf writing the very same entities bare; printed, never judged.

Not collected by default: `python -m pytest tests/benchmarks/test_dxf_ratio.py -o addopts="" -s
--import-mode=importlib`. Aim: at most 1.5. Nothing is taken from the cache. Parts are invented.
"""

import io
import math
import time
from typing import Any

import ezdxf
import pytest

from fixturegen.keeping import cache_used
from fixturegen.plate import Hole, Mark, Part, Profile, Purpose, Vertex
from fixturegen.plate.profile import rectangle, reversed_loop
from fixturegen.write.dxf import dxf_bytes
from fixturegen.write.file_rules import Entities, FileRules, Version

COUNT = 200
QUARTER = math.tan(math.pi / 8.0)  # bulge of a quarter turn: tan(90 deg / 4)


def bracket(number: int) -> Part:
    """A bracket with rounded corners, one to eight holes, up to three slots, and its marks."""
    x, y, r = 120.0 + number % 37 * 5.0, 80.0 + number % 11 * 4.0, 8.0
    outer = (
        Vertex(r, 0.0), Vertex(x - r, 0.0, QUARTER), Vertex(x, r), Vertex(x, y - r, QUARTER),
        Vertex(x - r, y), Vertex(r, y, QUARTER), Vertex(0.0, y - r), Vertex(0.0, r, QUARTER),
    )  # fmt: skip
    holes = tuple(Hole(15.0 + 12.0 * k, 15.0, 9.0, Purpose.BOLT, f"bolt {k}") for k in range(1 + number % 8))
    slots = tuple(reversed_loop(rectangle(20.0 + 30.0 * k, 40.0, 42.0 + 30.0 * k, 50.0)) for k in range(number % 4))
    marks = (Mark(12.0, 60.0, f"BRACKET {number} REV A L UP"), Mark(x / 2.0, 0.0, to=(x / 2.0, 6.0)))
    return Part(f"bracket-{number}", "Bracket", "toy", "plate", 9.4, profile=Profile(outer, slots, holes), marks=marks)


def recorded(data: bytes) -> list[tuple[str, tuple[Any, ...], dict[str, Any]]]:
    """The calls that put the entities of a file into an empty drawing."""
    calls: list[tuple[str, tuple[Any, ...], dict[str, Any]]] = []
    for e in ezdxf.read(io.StringIO(data.decode())).modelspace():
        on: dict[str, Any] = {"dxfattribs": {"layer": e.dxf.layer}}
        match e.dxftype():
            case "LINE":
                calls.append(("add_line", (tuple(e.dxf.start)[:2], tuple(e.dxf.end)[:2]), on))
            case "ARC":
                at = (tuple(e.dxf.center)[:2], e.dxf.radius, e.dxf.start_angle, e.dxf.end_angle)
                calls.append(("add_arc", at, on))
            case "CIRCLE":
                calls.append(("add_circle", (tuple(e.dxf.center)[:2], e.dxf.radius), on))
            case "LWPOLYLINE":
                calls.append(("add_lwpolyline", (e.get_points("xyb"),), {"format": "xyb", "close": True, **on}))
            case "POLYLINE":
                points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in e.vertices]
                calls.append(("add_polyline2d", (points,), {"format": "xyb", "close": True, **on}))
    return calls


def bare(calls: list[tuple[str, tuple[Any, ...], dict[str, Any]]], version: Version) -> bytes:
    """What ezdxf alone takes: a new drawing, the four layers, the entities, the text."""
    document = ezdxf.new(version)
    for layer in ("MARK", "CUT_IN", "CUT_OUT", "NOTE"):
        document.layers.add(layer)
    space = document.modelspace()
    for name, places, rest in calls:
        getattr(space, name)(*places, **rest)
    out = io.StringIO(newline="\n")
    document.write(out)
    return out.getvalue().encode()


@pytest.mark.parametrize(
    ("entities", "version", "lead"),
    [
        ("plain", "R2000", None),
        ("plain", "R2000", 9.4),
        ("plain", "R12", None),
        ("polyline", "R2000", None),
        ("polyline", "R12", None),
    ],
)
def test_200_files_against_the_same_entities_bare(entities: Entities, version: Version, lead: float | None) -> None:
    rules = FileRules(entities, version, lead=lead)
    ours, theirs, count = 0.0, 0.0, 0
    with cache_used(False):
        for part in [bracket(n) for n in range(COUNT)]:  # by turns, so that a busy machine slows both
            calls = recorded(dxf_bytes(part, "in", 0.0, rules))
            count += len(calls)
            start = time.perf_counter()
            dxf_bytes(part, "in", 0.0, rules)
            between = time.perf_counter()
            bare(calls, version)
            ours += between - start
            theirs += time.perf_counter() - between
    words = f"{COUNT} files, {count} entities, {entities} {version}, leads {'drawn' if lead else 'left'}"
    print(f"\n{words}: {ours / theirs:.2f} (aim at most 1.5), {ours:.1f} s")
