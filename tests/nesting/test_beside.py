"""The layout beside the sheet: there and back, whole or not at all, and never trusted blindly."""

import dataclasses
import json

import pytest

from fixturegen.errors import MachineFault
from fixturegen.nesting import beside
from fixturegen.nesting.records import Blank, Layout, Put, StockSheet
from fixturegen.plate.profile import rectangle

BLANKS = (Blank("b", rectangle(0.0, 0.0, 30.0, 20.0), quantity=2), Blank("a", rectangle(0.0, 0.0, 10.0, 10.0)))
SHEETS = (StockSheet("full", 500.0, 300.0, 2, "x"),)
JOB = (BLANKS, SHEETS, 10.0, 12.0)
LAYOUT = Layout(
    (Put("a", 1, "full", 1, 12.0, 12.0, 90.0), Put("b", 1, "full", 2, 40.0, 12.5, 0.0, "a")), (("b", 2),), 10.0, 12.0
)


def test_a_layout_is_read_as_it_was_kept(tmp_path):
    sheet = tmp_path / "front axle.toml"
    path = beside.keep(sheet, {"3/8 in": ("d1", LAYOUT)})
    assert path.name == "front axle.layout.json"
    assert beside.kept(sheet) == {"3/8 in": ("d1", LAYOUT)}
    assert [p.name for p in tmp_path.iterdir()] == [path.name]


def test_nothing_kept_is_nothing(tmp_path):
    assert beside.kept(tmp_path / "none.toml") == {}


@pytest.mark.parametrize(
    "spoil",
    [
        lambda text: text[: len(text) // 2],
        lambda text: "[]",
        lambda text: text.replace('"schema": 1', '"schema": 2'),
        lambda text: text.replace('"copy": 1', '"copy": 1, "more": 2'),
        lambda text: text.replace("12.5", "NaN"),
        lambda text: "[" * 100_000,
    ],
)
def test_a_spoiled_layout_is_worth_as_much_as_none(tmp_path, spoil):
    sheet = tmp_path / "a.toml"
    path = beside.keep(sheet, {"3/8 in": ("d1", LAYOUT)})
    path.write_text(spoil(path.read_text(encoding="utf-8")), encoding="utf-8")
    assert beside.kept(sheet) == {}


def test_the_digest_does_not_hang_on_the_order_and_turns_with_each_value():
    same = beside.digest_of((BLANKS[::-1], SHEETS, 10.0, 12.0))
    assert beside.digest_of(JOB) == same
    others = [
        (BLANKS[:1], SHEETS, 10.0, 12.0),
        ((dataclasses.replace(BLANKS[0], quantity=3), BLANKS[1]), SHEETS, 10.0, 12.0),
        ((dataclasses.replace(BLANKS[0], outer=rectangle(0.0, 0.0, 30.0, 20.001)), BLANKS[1]), SHEETS, 10.0, 12.0),
        (BLANKS, (dataclasses.replace(SHEETS[0], width=500.5),), 10.0, 12.0),
        (BLANKS, SHEETS, 10.5, 12.0),
        (BLANKS, SHEETS, 10.0, 12.5),
    ]
    assert len({same, *(beside.digest_of(j) for j in others)}) == 1 + len(others)


def test_a_folder_that_takes_nothing_is_told_in_a_sentence(tmp_path):
    with pytest.raises(MachineFault, match="a layout that cannot be written"):
        beside.keep(tmp_path / "gone" / "a.toml", {})


def test_the_file_is_the_same_bytes_whatever_the_order_of_plates():
    one = beside.text_of({"a": ("d", LAYOUT), "b": ("e", LAYOUT)})
    assert one == beside.text_of({"b": ("e", LAYOUT), "a": ("d", LAYOUT)})
    assert json.loads(one)["schema"] == beside.SCHEMA
