"""A changed link point changes the bracket at it and what holds that bracket, and nothing else of the job."""

import functools
from pathlib import Path

import pytest

from fixturegen.axle.model import axle_of
from fixturegen.brackets.registry import make_brackets
from fixturegen.sheet import read
from fixturegen.studies.bracket_plan import bracket_plan
from fixturegen.studies.jig_plan import plan_of

EXAMPLE = Path(__file__).parents[2] / "examples" / "rear-dropout.toml"
UPPER = 'axle = ["-2902 mm", "115 mm", "712 mm"]'


@functools.cache
def bracket_parts(text: str, folder: Path) -> dict[str, object]:
    """Part name to part, of all brackets and locators of a sheet's text; nothing is drawn."""
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    sheet = read(path)
    axle = axle_of(sheet)
    made = make_brackets(sheet, axle, plan_of(sheet, axle), bracket_plan(sheet, axle))
    assert not made.unmade
    return {p.name: p for p in made.parts}


def changed(before: dict[str, object], after: dict[str, object]) -> set[str]:
    return {name for name in before | after if before.get(name) != after.get(name)}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("changed")


def test_an_upper_point_moved_up_changes_the_upper_brackets_and_their_locators_only(folder: Path) -> None:
    text = EXAMPLE.read_text("utf-8")
    assert text.count(UPPER) == 1
    moved = text.replace(UPPER, UPPER.replace("712", "720"))
    found = changed(bracket_parts(text, folder), bracket_parts(moved, folder))
    assert found
    assert all(name.startswith("upper-") for name in found)
    # both sides: the sheet gives the left points, the right ones are their mirror
    for side in ("left", "right"):
        assert any(side in name for name in found)


def test_a_point_of_the_frame_end_changes_the_bolt_s_direction_and_so_the_bracket_at_the_axle(folder: Path) -> None:
    text = EXAMPLE.read_text("utf-8")
    frame = 'frame = ["-2030 mm", "470 mm", "680 mm"]'
    assert text.count(frame) == text.count("\nbolt_way = ") == 1
    # square to the link again, as without a direction of its own
    text = "".join(line for line in text.splitlines(keepends=True) if not line.startswith("bolt_way = "))
    found = changed(
        bracket_parts(text, folder), bracket_parts(text.replace(frame, frame.replace("470", "490")), folder)
    )
    assert any(name.startswith("upper-") for name in found)
    assert not any(name.startswith("lower-") for name in found)


def test_a_value_no_bracket_hangs_on_changes_none(folder: Path) -> None:
    text = EXAMPLE.read_text("utf-8")
    other = text.replace('gravity_height = "860 mm"', 'gravity_height = "880 mm"')
    assert other != text
    assert changed(bracket_parts(text, folder), bracket_parts(other, folder)) == set()
