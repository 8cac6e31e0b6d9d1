"""Nesting against rectangles round the parts, and its cost against the number of parts; printed, never judged.

Not collected by default: `python -m pytest tests/benchmarks/test_nesting_ratios.py -o addopts="" -s
--import-mode=importlib`. Parts are invented.
"""

import time
from dataclasses import replace

import pytest

from fixturegen.nesting import improver, measure, rectangles, steady
from fixturegen.nesting.records import Blank, StockSheet
from tests.nesting.shop import EDGE, PARTS, SPACING

SHEETS = (StockSheet("full", 2438.4, 1219.2, 6, "x"),)
SECONDS = 10.0


def of_many(copies: int) -> tuple[Blank, ...]:
    """The invented parts, in the same shares, so many copies in all."""
    whole = sum(b.quantity for b in PARTS)
    found = [replace(b, quantity=max(1, b.quantity * copies // whole)) for b in PARTS]
    more = copies - sum(b.quantity for b in found)
    return (*found[:-1], replace(found[-1], quantity=found[-1].quantity + more))


@pytest.mark.parametrize("copies", [10, 30, 100])
def test_sheet_and_time_against_rectangles(copies: int) -> None:
    blanks = of_many(copies)
    rows = []
    start = time.perf_counter()
    boxes = rectangles.by_rectangles(blanks, SHEETS, SPACING, EDGE)
    rows.append(("rectangles", boxes, time.perf_counter() - start))
    start = time.perf_counter()
    laid = steady.nested(blanks, SHEETS, SPACING, EDGE)
    rows.append(("steady", laid, time.perf_counter() - start))
    start = time.perf_counter()
    better = improver.improved(laid, blanks, SHEETS, SECONDS)
    rows.append(("improved", better, time.perf_counter() - start))
    used = measure.area_used(boxes, blanks, SHEETS)
    for words, layout, taken in rows:
        area = measure.area_used(layout, blanks, SHEETS)
        share = measure.steel_area(layout, blanks) / area
        print(f"\n{copies} copies, {words}: {area / used:.3f} of the sheet, utilization {share:.3f}, {taken:.2f} s")
