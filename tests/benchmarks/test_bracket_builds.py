"""Forty brackets drawn, solids and all, cold and from the cache; printed, never judged.

Not collected by default: `python -m pytest tests/benchmarks/test_bracket_builds.py -o addopts="" -s
--import-mode=importlib`. The set is that of the rear example with its link points moved, ten times over;
the peer is the kernel's own solids of the same parts, made from their profiles without plan, outline,
saddle, marks or cache.
"""

import time
from pathlib import Path

from fixturegen import keeping
from fixturegen.axle.model import axle_of
from fixturegen.brackets.registry import make_brackets
from fixturegen.plate import Part
from fixturegen.shapes.cache import cached_solid
from fixturegen.shapes.solids import solid_of
from fixturegen.sheet import read
from fixturegen.studies.bracket_plan import bracket_plan
from fixturegen.studies.jig_plan import plan_of

EXAMPLE = Path(__file__).parents[2] / "examples" / "rear-dropout.toml"
UPPER = 'axle = ["-2820 mm", "130 mm", "660 mm"]'
LOWER = 'axle = ["-2750 mm", "480 mm", "420 mm"]'
SETS = 10  # of four link brackets each


def parts_of(folder: Path, k: int) -> list[Part]:
    """Blanks of the brackets at the links, the points moved by 2 mm for each k."""
    text = EXAMPLE.read_text("utf-8")
    assert UPPER in text and LOWER in text
    text = text.replace(UPPER, UPPER.replace("660", str(660 + 2 * k))).replace(
        LOWER, LOWER.replace("420", str(420 - k))
    )
    path = folder / f"job-{k}.toml"
    path.write_text(text, encoding="utf-8")
    sheet = read(path)
    axle = axle_of(sheet)
    made = make_brackets(sheet, axle, plan_of(sheet, axle), bracket_plan(sheet, axle))
    return [p for p in made.parts if p.kind == "brackets" and p.name.startswith(("upper-", "lower-"))]


def drawn(folder: Path) -> tuple[float, list[Part]]:
    """Seconds for forty brackets with their solids, and their parts."""
    start = time.perf_counter()
    parts = [p for k in range(SETS) for p in parts_of(folder, k)]
    for part in parts:
        cached_solid(part)
    return time.perf_counter() - start, parts


def test_forty_brackets_cold_and_warm_against_the_kernels_solids_alone(tmp_path: Path) -> None:
    parts_of(tmp_path, 99)  # libraries loaded
    with keeping.cache_in(tmp_path / "cache"):
        cold, parts = drawn(tmp_path)
        warm, again = drawn(tmp_path)
    assert parts == again
    start = time.perf_counter()
    for part in parts:
        solid_of(part)
    floor = time.perf_counter() - start
    print(
        f"\n40 brackets of {len(parts)} blanks: cold {cold:.1f} s, warm {warm:.1f} s ({warm / cold:.2f} of cold); "
        f"the kernel's solids alone {floor:.1f} s (cold is {cold / floor:.1f} times that)"
    )
