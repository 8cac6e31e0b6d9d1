"""Loads and strength on paper: cautions first, every case, every bracket, inputs and gaps beside each number."""

from functools import cache

import pytest

from fixturegen.papers.strength_section import HEAD, KIND_WORDS, strength_section
from tests.checks.strength_jobs import TUBES, job


@cache
def section(times=1.0, room="1/64 in"):
    return drawn(times=times, room=room)


def drawn(**changes):
    (found,) = strength_section(job(**changes))
    return found


def table(found, words):
    return next(t for t in found.tables if words in t.title)


def test_cautions_stand_on_top_and_name_what_no_number_covers():
    first, second = section().notes
    assert "not certified" in first and "Local rules and licensed practice come first" in first
    for word in ("fatigue", "heat-affected zone", "impact"):
        assert word in second


def test_every_case_has_its_forces_and_every_factor_what_it_does_not_cover():
    made = job()
    loads = made.store["axle.loads"]
    found = section()
    cases, factors = table(found, "force in each link"), table(found, "Factors")
    assert [r[0] for r in cases.rows] == [c.case.name for c in loads.cases]
    assert {"drive", "jack", "recovery", "rock-left", "side-right"} <= {r[0] for r in cases.rows}
    drive = dict(zip(cases.head, cases.rows[[r[0] for r in cases.rows].index("drive")], strict=True))
    assert float(drive["lower-left"].split()[0]) * 1000 == pytest.approx(
        loads.case("drive").links["lower-left"], abs=51
    )
    used = {f.name for c in loads.cases for f in c.case.factors}
    assert {r[0] for r in factors.rows} == used
    assert all(r[-1] and r[4] for r in factors.rows)


def test_every_bracket_has_its_row_and_each_kind_its_worst_with_what_went_in():
    found = section()
    matrix = table(found, "how much of what is allowed")
    assert [r[0] for r in matrix.rows] == ["lower left", "lower right"]
    assert matrix.head[1:] == tuple(KIND_WORDS.values())
    assert all(cell for row in matrix.rows for cell in row)
    worst = table(found, "the worst bracket of each kind")
    assert worst.head == HEAD and len(worst.rows) == len(KIND_WORDS)
    assert all(cell for row in worst.rows for cell in row)


def test_more_load_is_more_of_what_is_allowed():
    # shear of a bolt grows with its load
    def shear(times):
        row = table(section(times=times), "how much").rows[0]
        return float(row[1].split("%")[0])

    assert shear(4.0) == pytest.approx(4 * shear(1.0), abs=2.5)


def test_a_gap_is_told_in_words():
    words = {room: table(section(room=room), "how much").rows[0][5] for room in ("0.001 in", "0.030 in", "1/8 in")}
    assert words == {"0.001 in": "tight", "0.030 in": "tight, tabs yield a little", "1/8 in": "TOO WIDE"}


def test_tabs_and_walls_are_called_by_what_they_are_on_the_truck():
    text = " ".join(cell for t in section().tables for row in t.rows for cell in row)
    assert "+z" not in text and "-z" not in text
    assert "left tab" in text or "right tab" in text


def test_links_without_a_tube_have_no_row_and_no_loads_no_section():
    tubes = [t for t in TUBES if t["link"] == "upper"]
    rows = table(drawn(loads={"links": tubes}), "nearest to giving out").rows
    assert [r[1].split(":")[0] for r in rows] == ["upper-left", "upper-right"]
    made = job()
    made.store["axle.loads"] = None
    assert strength_section(made) == ()
