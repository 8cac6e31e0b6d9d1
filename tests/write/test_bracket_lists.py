"""Lists of a job with brackets: written whole, or without the weld list while a steering part stands in it."""

import csv

import pytest

from fixturegen.checks.brackets_welded import CODE
from fixturegen.findings import Finding, Level
from fixturegen.progress import silent
from fixturegen.write import staging
from tests.brackets.place_jobs import rear


def settled(folder, findings):
    for name in staging.FOLDERS:
        (folder / name).mkdir()
    order = staging.Order(folder, rear(), tuple(rear().parts), "mm", silent)
    staging.settle(order, staging.Draft(), {}, findings, lambda part: "")
    return folder / "lists"


def test_a_job_with_brackets_has_a_list_of_their_places(tmp_path):
    lists = settled(tmp_path, ())
    rows = list(csv.DictReader((lists / "brackets.csv").read_text(encoding="utf-8").splitlines()))
    assert {r["bracket"] for r in rows} == {"lower-left", "lower-right", "upper-left", "upper-right"}
    welds = list(csv.DictReader((lists / "weld-list.csv").read_text(encoding="utf-8").splitlines()))
    assert {"brackets", "locators"} <= {r["assembly"] for r in welds}
    assert not (lists / "weld-list-HELD.txt").exists()


@pytest.mark.parametrize(("level", "there"), [(Level.FAIL, False), (Level.PASS, True)])
def test_a_fail_about_steering_parts_holds_the_weld_list_of_the_job(tmp_path, level, there):
    words = "the bracket of drag-link would be welded to the pitman arm; no such weld is made"
    lists = settled(tmp_path, (Finding(CODE, level, "nothing is welded there", words, "bolt it", holds="nothing"),))
    assert (lists / "weld-list.csv").exists() is there
    assert (lists / "weld-list-HELD.txt").exists() is not there
    if not there:
        assert words in (lists / "weld-list-HELD.txt").read_text(encoding="utf-8")
