"""The housing on paper: curves read back by their ticks, tables against the study, what is not covered said."""

import re
from functools import cache

import numpy as np
import pytest

from fixturegen.checks.housing_judged import housing_in
from fixturegen.papers.axle_plots import AxleLine, AxleMap, axle_svg
from fixturegen.papers.housing_section import housing_section
from tests.checks.test_housing_claims import job
from tests.papers.svg_reading import boxes, corners, elements, paths, texts

AXLE = AxleMap((-800.0, 800.0), (-150.0, 120.0), ((-600.0, -150.0), (120.0, 610.0)), "mm")


@cache
def made(bare=False):
    one = job(bare=bare)
    (section,) = housing_section(one)
    return one, section


def plot(section, words):
    return next(f for f in (*section.views, *section.plots) if words in f.svg)


def pictures(section):
    return (*section.views, *section.plots)


def table(section, words):
    return next(t for t in section.tables if words in t.title)


def read(svg):
    """Curves by name as (station left of the middle in the unit of the ticks, value), by ticks alone."""
    words = elements(svg, "text")
    rows = {float(e.get("y")): float(e.text) for e in words if e.get("text-anchor") == "end" and _number(e.text)}
    heights = sorted(rows)
    y = np.polyfit([h - 4.0 for h in heights], [rows[h] for h in heights], 1)
    (middle,) = (float(d.split()[0][1:]) for d in paths(svg, "middle"))
    under = [e for e in words if e.get("text-anchor") == "middle" and _number(e.text)]
    row = max(float(e.get("y")) for e in under)  # values written at a curve stand higher
    under = [e for e in under if float(e.get("y")) == row]
    lefts = [(float(e.get("x")), float(e.text)) for e in under if float(e.get("x")) < middle - 1.0]
    x = np.polyfit([middle, *(a for a, _ in lefts)], [0.0, *(v for _, v in lefts)], 1)
    found = {}
    for path in elements(svg, "path"):
        if path.get("class") == "curve":
            points = corners(path.get("d"))
            found.setdefault(path[0].text, []).append(
                np.stack([np.polyval(x, points[:, 0]), np.polyval(y, points[:, 1])], axis=1)
            )
    return {name: np.concatenate(parts) for name, parts in found.items()}


def _number(text):
    return bool(re.fullmatch(r"-?[0-9.]+", text or ""))


def test_curves_read_back_by_their_ticks_are_those_of_the_study():
    one, section = made()
    study = housing_in(one).study
    stress = read(plot(section, "Stress along the axle").svg)
    wanted = np.max([c.truss.equivalent for c in study.cases], axis=0)
    drawn = stress["tube, with truss"]
    for station in (-700.0, -400.0, -200.0, 200.0, 500.0):
        # middles of lengths: at their ends two values stand at one place
        k = 1 + 3 * int(np.argmin(np.abs(study.beam.stations[1::3] - station)))
        at = drawn[int(np.argmin(np.abs(drawn[:, 0] - study.beam.stations[k])))]
        assert at[1] == pytest.approx(wanted[k], abs=1.5), station
    stiff = read(plot(section, "Stiffness along the axle").svg)
    assert stiff["tube alone"][:, 1] == pytest.approx(study.beam.bare.upright / 1e6, abs=0.3)
    assert stiff["with truss, upright plane"][:, 1].max() == pytest.approx(
        max(s.upright for s in study.beam.sections) / 1e6, rel=0.02
    )
    shape = read(plot(section, "Shape of the axle line").svg)
    bump = study.case("bump")
    assert shape["tube alone"][:, 1].max() == pytest.approx(bump.bare.ends.rise.max(), abs=0.05)
    assert shape["with truss"][:, 1].max() == pytest.approx(bump.truss.ends.rise.max(), abs=0.05)


def test_left_is_on_the_left_and_a_curve_leaves_out_the_centre_section():
    stations = np.array([-700.0, -160.0, 130.0, 700.0])
    svg = axle_svg("Tried", "MPa", [AxleLine("one", stations, np.array([1.0, 2.0, 3.0, 8.0]), 0)], AXLE)
    (path,) = paths(svg, "curve")
    points = corners(path)
    assert points[-1, 0] < points[0, 0] and points[-1, 1] < points[0, 1]
    gapped = np.array([1.0, np.nan, 3.0, 8.0])
    assert len(paths(axle_svg("Tried", "MPa", [AxleLine("one", stations, gapped, 0)], AXLE), "curve")) == 2
    left, right = (next(e for e in elements(svg, "text") if w in e.text) for w in ("LEFT WHEEL", "RIGHT WHEEL"))
    assert float(left.get("x")) < float(right.get("x"))


def test_words_stay_in_the_picture_and_off_one_another():
    for figure in pictures(made()[1]):
        found = boxes(figure.svg)
        for n, (x0, y0, x1, y1, text) in enumerate(found):
            assert x0 >= 0.0 and x1 <= 660.0 and y0 >= 0.0 and y1 <= 346.0, text
            for a0, b0, a1, b1, other in found[n + 1 :]:
                assert x1 <= a0 + 1 or a1 <= x0 + 1 or y1 <= b0 + 1 or b1 <= y0 + 1, (text, other)


def test_lines_of_a_picture_are_told_apart_by_their_dashes():
    for figure in pictures(made()[1]):
        keys = [e.get("stroke-dasharray") or "" for e in elements(figure.svg, "path") if e.get("class") == "key"]
        assert keys and len(set(keys)) == len(keys)


def test_every_case_stands_in_the_table_with_and_without_the_truss():
    one, section = made()
    study, cases = housing_in(one).study, table(section, "case by case")
    assert [r[0] for r in cases.rows] == [c.name for c in study.cases]
    bump = dict(zip(cases.head, cases.rows[1], strict=True))
    assert float(bump["Stress"].split()[0]) == pytest.approx(study.case("bump").truss.equivalent.max(), abs=0.5)
    assert float(bump["without the truss"].split()[0]) == pytest.approx(
        study.case("bump").bare.equivalent.max(), abs=0.5
    )
    assert [float(v) for v in bump["Camber [deg]"].split(", ")] == pytest.approx(
        study.case("bump").truss.ends.camber[::-1], abs=0.006
    )
    assert all(cell for row in cases.rows for cell in row)
    bare = table(made(bare=True)[1], "case by case")
    assert "without the truss" not in bare.head and all(cell for row in bare.rows for cell in row)


def test_sections_welds_and_steps_have_their_rows_and_inputs():
    one, section = made()
    sections = table(section, "Section of tube and truss")
    assert sections.rows[0][0] == "tube alone" and len(sections.rows) == 7
    assert any("closed" in r[-1] for r in sections.rows)
    beside = next(n for n in housing_in(one).study.beam.lengths if n.begin >= one.axle.section[1])
    assert float(sections.rows[1][3].split()[0]) * 1e4 == pytest.approx(beside.sections[1].upright, rel=1e-3)
    welds = table(section, "Welds of the truss")
    assert len(welds.rows) == len(housing_in(one).welds)
    assert all(cell for row in welds.rows for cell in row)
    assert len(table(section, "Step in stiffness").rows) == 2
    titles = [t.title for t in made(bare=True)[1].tables]
    assert not any("Weld" in t or "Step" in t for t in titles)


def test_what_is_assumed_and_what_is_not_covered_stands_on_top():
    words = " ".join(made()[1].notes)
    for said in ("not certified", "licensed", "rigid", "plane", "fatigue", "casting", "what welding leaves"):
        assert said in words, said
    (bridged,) = housing_section(job(centre="bridge"))
    assert "carry on across" in " ".join(bridged.notes)
    assert "if the truss carries on across" in table(bridged, "case by case").head
    unloaded = job()
    unloaded.store["axle.loads"] = None
    assert housing_section(unloaded) == ()


def test_a_housing_without_truss_is_drawn_without_one():
    section = made(bare=True)[1]
    assert not any("Stiffness" in f.svg or "truss" in " ".join(texts(f.svg)) for f in pictures(section))
    assert set(read(plot(section, "Stress along the axle").svg)) == {"tube alone"}
