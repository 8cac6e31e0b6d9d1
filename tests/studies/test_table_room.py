"""Room on the fab table, holes on its grid, studs through the stack."""

from dataclasses import replace

import pytest

from fixturegen.studies.table_room import holes_of, off_grid, room_of, stud_needed
from tests.studies.study_jobs import DROPOUT, INTEGRAL, REAR, case


@pytest.mark.parametrize("name", [DROPOUT, INTEGRAL, REAR])
def test_the_examples_find_room_and_holes(name):
    sheet, _, plan = case(name)
    assert off_grid(plan) < 1e-6
    for room in room_of(sheet, plan):
        assert room.needed <= room.have


@pytest.mark.parametrize("name", [DROPOUT, INTEGRAL, REAR])
def test_some_row_of_the_table_takes_every_hole_and_base(name):
    # independent way: lay the holes over a whole grid and look
    sheet, _, plan = case(name)
    table = sheet.table
    ys = sorted({round(y, 6) for _, y in holes_of(plan)})
    rows = [table.edge + i * table.grid for i in range(int((table.length - 2 * table.edge) // table.grid) + 1)]
    length = room_of(sheet, plan)[0]
    start = rows[length.first - 1]
    for y in ys:
        at = start + y - ys[0]
        assert min(abs(at - r) for r in rows) < 1e-3


def test_a_hole_out_of_the_grid_is_told_by_how_much():
    _, _, plan = case(DROPOUT)
    (x, y), second = plan.stand.bolts
    off = replace(plan, stand=replace(plan.stand, bolts=((x + 1.5, y), second)))
    assert off_grid(off) == pytest.approx(1.5)


def test_the_stud_s_stack_adds_up_by_hand():
    # 1/4 in pad + measured plate 0.378 + washer 0.065 + nut 21/64 (ASME B18.2.2, from memory) +
    # one thread of 24 to the inch
    sheet, _, plan = case(DROPOUT)
    by_hand = (0.25 + 0.378 + 0.065 + 21 / 64 + 1 / 24) * 25.4
    assert stud_needed(sheet, plan) == pytest.approx(by_hand, abs=0.05)
