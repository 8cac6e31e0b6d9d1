"""The least height a truss needs: held by the claim about the tubes a step above it, and not a step below."""

import math

import numpy as np
import pytest

from fixturegen.axle.model import axle_of
from fixturegen.calc.composite_section import composite_section
from fixturegen.studies.axle_loads import loads_of
from fixturegen.studies.housing_actions import actions_on
from fixturegen.studies.housing_section import section_of
from fixturegen.studies.strength_records import steel_of
from fixturegen.studies.truss_strength_height import STEP, box_cut, height_for_loads
from tests.studies.study_jobs import REAR, sheet_of

FACES, TOP = ((-32.0, -25.6), (25.6, 32.0)), 6.4
PLATE = 6.4


def test_the_box_is_the_section_of_the_calc_topic():
    section = section_of(82.6, 9.5, box_cut(82.6, FACES, TOP, 130.0))
    topic = composite_section(82.6, 9.5, PLATE, 64.0, 130.0, TOP)
    assert section.area == pytest.approx(topic.area)
    assert section.middle[1] == pytest.approx(topic.centroid)
    assert section.upright == pytest.approx(topic.second_moment)


def test_the_height_found_is_just_enough():
    # statics and yield over 1.67 (AISC 360 F), worked out here from the section alone, worst side of the centre section
    sheet = sheet_of(REAR, loads__vertical_factor="7")
    axle = axle_of(sheet)
    loads = loads_of(sheet, axle)
    limit = steel_of(sheet.tubes.material).yield_strength / 1.67
    stations = np.array([axle.section[0] - 1e-3, axle.section[1] + 1e-3])
    twist = math.pi / 16 * (82.6**4 - 63.6**4) / 82.6

    def worst(height):
        section = section_of(82.6, 9.5, box_cut(82.6, FACES, TOP, height))
        z, found = section.middle[1], []
        for one in loads.cases:
            a = actions_on(axle, loads, one, stations)
            turns = np.linspace(0.0, 2 * math.pi, 721)
            for k in range(2):
                upright = -(a.about_x[k] + z * a.axial[k]) / section.upright
                stress = a.axial[k] / section.area + upright * (41.3 * np.cos(turns) - z)
                stress = stress + a.about_z[k] / section.level * 41.3 * np.sin(turns)
                found.append(math.hypot(np.abs(stress).max(), math.sqrt(3) * a.torque[k] / twist))
        return max(found)

    height = height_for_loads(sheet, axle, FACES, TOP, 50.0)
    assert height is not None and height / STEP == pytest.approx(round(height / STEP))
    assert worst(height) <= limit * 1.0001
    lowest = height_for_loads(sheet, axle, FACES, TOP, 0.0)
    assert worst(lowest) <= limit * 1.0001 and worst(lowest - STEP) > limit
    assert height_for_loads(sheet, axle, FACES, TOP, 100.0) >= 100.0


def test_without_loads_or_where_no_height_is_enough_none_is_told():
    sheet = sheet_of(REAR)
    axle = axle_of(sheet)
    assert height_for_loads(sheet.model_copy(update={"loads": None}), axle, FACES, TOP, 50.0) is None
    # the drive's torque alone is beyond the tube: no truss takes it away
    torn = sheet_of(REAR, loads__drive_factor="5", loads__friction="2")
    assert height_for_loads(torn, axle_of(torn), FACES, TOP, 50.0) is None
