"""Claims about tabs in slots: a wall on two tabs in a base, 1/32 in a side loose (common practice, no source)."""

import dataclasses

import pytest

from fixturegen.findings import Level
from fixturegen.parts.joinery import slot, stand_xy, stand_xz, tab
from fixturegen.plate import Assembly, Part, Profile
from fixturegen.plate.outlines import filleted
from fixturegen.plate.profile import rectangle, reversed_loop
from tests.checks.bench_jobs import INCH, fails, findings, job

THICK, KERF, LONG = 9.6, 1.575, 40.0
PLACES = (-60.0, 60.0)


def bench(locating=(True, False), *, deep=0.0, sharp=False, kerf=KERF):
    """A wall across the axle on two tabs; `deep` makes the tabs longer than the base is thick."""

    def opening(x, tight):
        if not sharp:
            return slot(x, 0.0, 0.0, LONG, THICK, kerf, locating=tight)
        room = 0.2032 if tight else INCH / 32.0
        half, high = LONG / 2.0 + room, THICK / 2.0 + room
        return reversed_loop(rectangle(x - half, -high, x + half, high))

    base = Profile(
        rectangle(-120.0, -60.0, 120.0, 60.0), tuple(opening(x, t) for x, t in zip(PLACES, locating, strict=True))
    )
    items = ((-100.0, THICK, 0.0), *(tab(x, THICK, 0.0, LONG, THICK + deep, kerf) for x in PLACES))
    wall = Profile(filleted((*items, (100.0, THICK, 0.0), (100.0, 120.0, 0.0), (-100.0, 120.0, 0.0))))
    parts = {n: Part(n, n, "test", "plate", thickness=THICK, profile=p) for n, p in (("base", base), ("wall", wall))}
    places = (stand_xy("base", 0.0, 0.0, 0.0, "stand"), stand_xz("wall", 0.0, THICK, 0.0, "stand"))
    jig = Assembly("jig", "T", places)
    made = job()
    sheet = made.sheet.model_copy(
        update={"process": made.sheet.process.model_copy(update={"kerf": type(made.sheet.process.kerf)(kerf)})}
    )
    return dataclasses.replace(made, sheet=sheet, parts=parts, assemblies={"jig": jig}, store={})


def level(code, made):
    (finding, *_) = findings(code, made)
    return finding.level


def test_jnt_01_one_tab_of_a_joint_is_tight():
    assert level("JNT-01", bench((True, False))) is Level.PASS
    assert level("JNT-01", bench((False, True))) is Level.PASS
    assert level("JNT-01", bench((True, True))) is Level.FAIL
    assert level("JNT-01", bench((False, False))) is Level.FAIL
    assert fails("JNT-01", bench((True, True)), "fight")
    assert fails("JNT-01", bench((False, False)), "nothing sets its place")


def test_jnt_02_tabs_end_from_flush_to_a_thirty_second_below():
    # drawn 1/64 in short; made longer by that they are flush, shorter by that 1/32 in below
    for deep, wanted in (
        (0.0, Level.PASS),
        (INCH / 64.0, Level.PASS),
        (INCH / 64.0 + 0.05, Level.FAIL),
        (-INCH / 64.0, Level.PASS),
        (-INCH / 64.0 - 0.05, Level.FAIL),
    ):
        assert level("JNT-02", bench(deep=deep)) is wanted, deep


@pytest.mark.parametrize("kerf", [1.0, 1.575, 2.8])
def test_jnt_03_a_tab_goes_into_relieved_corners_and_not_into_square_ones(kerf):
    assert level("JNT-03", bench(kerf=kerf)) is Level.PASS
    # square: a corner with room c on both sides is reached while half the kerf is under c / (1 - 1 / sqrt 2)
    wanted = Level.PASS if kerf / 2.0 < 0.2032 / (1.0 - 0.5**0.5) else Level.FAIL
    assert level("JNT-03", bench(kerf=kerf, sharp=True)) is wanted
