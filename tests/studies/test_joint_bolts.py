"""Bolts of joints: listed and unlisted sizes, their grades, and the shank as measured."""

import math

import pytest

from fixturegen.errors import InputFault
from fixturegen.studies.bracket_records import JointSize
from fixturegen.studies.joint_bolts import grade_id, joint_bolt, thread_area

KSI, INCH = 6.894757293168, 25.4


def joint(bolt, grade, shank=50.0):
    return JointSize("joint", 60.0, 50.0, bolt, shank, grade)


@pytest.mark.parametrize(
    ("bolt", "grade", "area", "tensile"),
    [
        # stress areas in mm^2 as ISO 898-1 prints them (secondary copy; M18 and M22 from memory), 10.9: 1040 MPa
        ("M20", "10.9", 245.0, 1040.0),
        ("M18", "10.9", 192.0, 1040.0),
        ("M22", "10.9", 303.0, 1040.0),
        ("M20x2.5", "8.8", 245.0, 830.0),  # over 16 mm 8.8 has 830 MPa; from memory
        ("M16", "8.8", 157.0, 800.0),
        # in^2 of ASME B1.1, from memory; SAE J429: 150 and 120 ksi
        ("3/4-10", "SAE 8", 0.334 * INCH**2, 150 * KSI),
        ("3/4-16", "SAE 8", 0.373 * INCH**2, 150 * KSI),
        ("3/4", "SAE 5", 0.334 * INCH**2, 120 * KSI),
        ("1 1/4-12", "SAE 8", 1.073 * INCH**2, 150 * KSI),
        ("1 1/4", "grade 8", 0.969 * INCH**2, 150 * KSI),
    ],
)
def test_a_bolt_has_the_stress_area_and_strength_its_standard_prints(bolt, grade, area, tensile):
    found = joint_bolt(joint(bolt, grade))
    assert found.stress_area == pytest.approx(area, rel=3e-3)
    assert found.tensile == pytest.approx(tensile, rel=1e-6)
    assert found.root == pytest.approx(math.sqrt(4 * found.stress_area / math.pi))


def test_the_shank_that_was_measured_carries():
    assert joint_bolt(joint("M20", "10.9", 19.8)).diameter == 19.8
    assert joint_bolt(joint("M20", "10.9", 20.3)).diameter == 20.0
    assert joint_bolt(joint("M20", "8.8", 19.8)).diameter == 19.8


@pytest.mark.parametrize(
    ("bolt", "grade", "words"),
    [
        ("M20", "SAE 8", "8.8, 10.9 or 12.9"),
        ("3/4-10", "10.9", "for an inch bolt"),
        ("M22", "SAE 8", "8.8, 10.9 or 12.9"),
        ("1 1/8-7", "10.9", "for an inch bolt"),
        ("3/4-10", "SAE 9", "SAE 2"),
        ("7/8-9", "SAE 2", "choose another size or grade"),
        ("1 1/8-7", "SAE 5", "choose another size or grade"),
        ("M19", "10.9", "pitch is known"),
        ("M19", "8.8", "pitch is known"),
    ],
)
def test_what_does_not_go_together_is_one_sentence(bolt, grade, words):
    with pytest.raises(InputFault) as told:
        joint_bolt(joint(bolt, grade))
    assert len(told.value.faults) == 1
    assert words in told.value.faults[0].sentence()


def test_grades_are_read_as_people_write_them():
    assert [grade_id(t) for t in ("SAE 8", "grade 8", "8", "10.9", "class 8.8", "Gr. 5")] == [
        *("grade-8", "grade-8", "grade-8", "10.9", "8.8", "grade-5"),
    ]


def test_threads_of_rod_ends_have_their_area_and_a_size_of_no_pitch_none():
    # ASME B1.1, 0.7854 (D - 0.9743 / n)^2
    assert thread_area("1-14") == pytest.approx(0.7854 * (1 - 0.9743 / 14) ** 2 * INCH**2)
    assert thread_area("M24 x 1.5") == pytest.approx(math.pi / 4 * (24 - 0.9382 * 1.5) ** 2)
    assert thread_area("M19") is None
