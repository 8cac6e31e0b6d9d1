"""The section about parts a person has: texts and picture of parts whose sizes are known."""

import re

import numpy as np
import pytest

from fixturegen.axle.model import axle_of
from fixturegen.checks import component_places, components
from fixturegen.checks.registry import Job
from fixturegen.findings import Trust
from fixturegen.papers.component_picture import component_svg, standing
from fixturegen.papers.component_section import component_sections
from fixturegen.sheet import assumptions, read_text
from fixturegen.studies.component_numbers import component_numbers
from fixturegen.studies.jig_plan import plan_of
from fixturegen.studies.link_inputs import stance_of
from tests.sheet.altered import KINGPIN
from tests.sheet.component_cases import PAN

WHOLE = KINGPIN + PAN


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    """Pan, floor and tank are read; the cover's file is no STL."""
    folder = tmp_path_factory.mktemp("parts")
    (folder / "cover.stl").write_bytes(b"no mesh")
    sheet = read_text(WHOLE)
    axle = axle_of(sheet)
    made = Job(sheet, axle, plan_of(sheet, axle), store={component_places.FOLDER: folder})
    components.read_in(made)
    return made


def test_without_components_there_is_no_section():
    sheet = read_text(KINGPIN)
    axle = axle_of(sheet)
    made = Job(sheet, axle, plan_of(sheet, axle))
    components.read_in(made)
    assert component_sections(made) == ()


def test_every_part_has_its_row_and_one_that_was_not_read_says_why(job):
    (section,) = component_sections(job)
    read, trusted, points = section.tables
    assert [row[0] for row in read.rows] == ["oil pan", "cover", "floor", "tank"]
    # sides of the sheet's own box: 22 x 12 x 7 in, 1848 cu in
    assert read.rows[0][3:6] == ("22.00 x 12.00 x 7.00 in", "", "1848.0 cu in")
    assert read.rows[1][3] == "NOT READ"
    assert "cut off" in read.rows[1][6]
    assert [row[0] for row in trusted.rows] == ["oil pan", "floor", "tank"]
    assert {row[0] for row in points.rows} == {"cover", "tank"}


def test_the_picture_shows_each_part_where_it_stands(job):
    """The pan's box from 12 in behind to 10 in ahead of the front axle, 24 to 31 in up, drawn to the bar's scale."""
    stance = stance_of(job.sheet, job.axle)
    read = components.read_in(job)
    pan = standing(read[0], stance)
    assert pan.min(axis=0) == pytest.approx(np.array([-12.0, -6.0, 24.0]) * 25.4)
    svg = component_svg(read, job.sheet, stance, "in")
    assert svg.count("<polygon") == 4  # pan and tank in two views; the floor is a line in each
    assert svg.count("stroke-dasharray") == 2
    band = next(m for m in re.findall(r'points="([^"]+)"', svg))
    corners = np.array([[float(v) for v in p.split(",")] for p in band.split()])
    bar = re.search(r'd="M([\d.]+) [\d.]+H([\d.]+)" stroke="#000"', svg)
    foot = float(bar[2]) - float(bar[1])
    assert np.ptp(corners, axis=0) / foot == pytest.approx(np.array([22.0, 7.0]) / 12.0, abs=0.01)


def test_numbers_tell_sizes_and_accuracy_with_their_trust(job):
    numbers = component_numbers((r.component, r.reading) for r in components.read_in(job) if r.reading is not None)
    assert numbers["components.oil-pan.size_x"].value == pytest.approx(22.0 * 25.4)
    assert numbers["components.oil-pan.volume"].value == pytest.approx(1848.0 * 25.4**3)
    assert numbers["components.oil-pan.accuracy"].value == pytest.approx(25.4 / 8.0, abs=1e-5)
    assert numbers["components.oil-pan.accuracy"].trust is Trust.DERIVED
    assert "components.floor.size_x" not in numbers
    assert not any(name.startswith("components.cover") for name in numbers)


def test_only_a_tolerance_that_plays_a_part_is_told_as_assumed():
    keys = {key for key, *_ in assumptions(read_text(WHOLE)) if key.startswith("components")}
    assert keys == {"components[2].tolerance", "components[4].tolerance"}
