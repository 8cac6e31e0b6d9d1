"""The process and the tolerance class on paper. Limit deviations: ISO 9013:2017; 1.5 thicknesses: common practice."""

import pytest

from fixturegen.papers.process_table import process_tables
from tests.checks.bench_jobs import DROPOUT, REAR, job
from tests.checks.test_cut_claims import cut
from tests.checks.test_cut_claims import job as toy


def row(table, words):
    return next(r for r in table.rows if r[0] == words)


@pytest.mark.parametrize(("who", "words"), [("controller", "Set the kerf below"), ("file", "switch the kerf off")])
def test_who_allows_for_the_kerf_is_said_first(who, words):
    rules, _ = process_tables(toy(cut(30.0), kerf_allowed_by=who))
    assert words in rules.note
    assert row(rules, "kerf")[1] == "0.062 in (1.57 mm)"


def test_each_number_says_whether_it_was_measured_or_is_practice():
    rules, _ = process_tables(toy(cut(30.0), smallest_hole="1/2 in"))
    assert row(rules, "kerf")[-1] == "measured"
    assert row(rules, "smallest hole cut to size")[1:] == (
        "0.500 in (12.70 mm)",
        "process.smallest_hole, measured",
        "measured",
    )
    assert row(rules, "least plate between two cuts")[-1] == "shop practice"
    assert row(rules, "room on each side of a locating tab")[-1] == "ASSUMED"
    assert all(len(r) == len(rules.head) for r in rules.rows)


@pytest.mark.parametrize(("name", "wanted"), [(DROPOUT, ("1.80 mm", "1.10 mm")), (REAR, ("1.80 mm", "1.10 mm"))])
def test_the_class_is_told_for_each_plate_and_each_part(name, wanted):
    # ISO 9013:2017 class 2, 10 to 35 mm: 1/2 in and 12 mm over 10 to 15, 3/8 in and 10 mm over 6.3 to 10
    made = job(name)
    rules, parts = process_tables(made)
    cells = row(rules, "plus and minus, class 2, sizes of 10 to 35 mm")
    assert all(w in c for w, c in zip(wanted, cells[1:], strict=False))
    assert [r[0] for r in parts.rows] == [p.name for p in made.parts.values() if p.profile is not None]
    assert all(len(r) == len(parts.head) for r in parts.rows)


def test_a_plate_the_standard_says_nothing_of_is_not_given_a_number():
    rules, parts = process_tables(toy(cut(30.0), thickness=20.0))
    assert row(rules, "plus and minus, class 2, sizes of 10 to 35 mm")[1] == "not on file"
    assert parts.rows[0][3] == "not on file"
    assert process_tables(toy(cut(30.0)))[0].rows
