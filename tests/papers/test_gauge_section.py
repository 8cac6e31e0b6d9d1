"""The gauges in the report: what proves what, with the figures a shop can check without the program."""

import math

import pytest

from fixturegen.papers import gauge_section
from tests.gauges.gauge_jobs import KINGPIN, REAR, example, job_with, sheet_with


@pytest.fixture
def section(monkeypatch):
    """The section of a job without its pictures."""
    monkeypatch.setattr(gauge_section, "gauge_shots", lambda job: ())

    def made(job):
        (one,) = gauge_section.gauge_sections(job)
        return one, {t.title: t for t in one.tables}

    return made


def test_the_caster_is_proved_by_a_stack_that_any_table_of_sines_gives(section):
    one, _ = section(example(KINGPIN))
    (told,) = [n for n in one.notes if "proves the caster" in n]
    # sin 17 deg = 0.29237, sin 16.75 = 0.28820, sin 17.25 = 0.29654: any table of sines, times 10 in
    for angle in (17.0, 16.75, 17.25):
        assert f"{10 * math.sin(math.radians(angle)):.3f} in" in told
    assert "10.000 in" in told
    assert "proves the caster" not in " ".join(section(example(REAR))[0].notes)


def test_every_gauge_has_its_row_with_use_and_caution(section):
    job = example(KINGPIN)
    _, tables = section(job)
    plan = job.store["gauges"].plan
    rows = tables["What proves what"].rows
    assert [r[0] for r in rows] == [g.label for g in plan.gauges]
    assert all(all(cell for cell in r) for r in rows)
    told = {r[0]: r[4] for r in rows}
    for g in plan.gauges:
        assert ("coarser than wanted" in told[g.label]) == (g.ratio < 4.0)


def test_planned_values_stand_beside_an_empty_box(section):
    _, tables = section(example(KINGPIN))
    rows = tables["Stacks, gaps and readings"].rows
    assert all(r[-1] == "[box]" for r in rows)
    stack = next(r for r in rows if r[1].startswith("caster on the bench, pinion level"))
    blocks = [float(b) for b in stack[5].removesuffix(" in").split(" + ")]
    assert sum(blocks) == pytest.approx(10 * math.sin(math.radians(17.0)), abs=5e-5)


def test_a_job_in_millimetres_reads_in_millimetres(section):
    _, tables = section(example(REAR))
    labels = " ".join(r[0] for r in tables["What proves what"].rows)
    assert "mm shank" in labels
    assert " in shank" not in labels


def test_what_is_not_made_is_listed_with_what_to_do(section):
    _, tables = section(job_with(sheet_with(gauges={})))
    text = " ".join(" ".join(r) for r in tables["Gauges that are not made"].rows)
    assert "wheel_stud" in text
    assert "pinion_head" in text


def test_what_is_bought_is_listed_for_the_shop(section):
    job = example(KINGPIN)
    job.assemblies.update({a.name: a for a in job.store["gauges"].assemblies})
    _, tables = section(job)
    rows = tables["Bought things for gauges"].rows
    # two long rods of half an inch for the heads
    assert ("ground rod", f"{0.5:.4f} in x 6 in", "2", "sine gauge, on the gauge heads") in rows


def test_a_sheet_without_gauges_has_no_section():
    sheet = sheet_with().model_copy(update={"gauges": None})
    assert gauge_section.gauge_sections(job_with(sheet, drawn=False)) == ()
