"""TRS-13 and TRS-14: beads of brackets beside those of a truss, told by angles round the tube; what nobody draws."""

import math
from dataclasses import replace

import pytest

from fixturegen.axle.model import axle_of
from fixturegen.checks.registry import Job, claims
from fixturegen.checks.truss import drawn_plan
from fixturegen.findings import Level
from fixturegen.plate.bracket_set import BracketSet
from fixturegen.studies.bracket_plan import bracket_plan
from fixturegen.studies.bracket_records import BracketFacts, Seam
from fixturegen.studies.jig_plan import plan_of
from tests.studies.study_jobs import REAR, sheet_of
from tests.studies.truss_jobs import number_job

CLAIMS = {c.code: c for c in claims() if c.code in ("TRS-13", "TRS-14")}
RADIUS = 41.3  # of the tube [mm]
MEASURED = {
    "holds": "upper-left", "kind": "tower", "joint": "upper joint", "plate": "10 mm", "on": "truss",
    "facing": "up", "surface": "200 mm", "wall": "8 mm", "rail_width": "120 mm",
}  # fmt: skip


def told(code, job):
    return CLAIMS[code].check(job)


def beside(job, clock, leg, station=400.0):
    """The job with one bracket whose bead runs along the tube at a clock angle [deg]."""
    sheet = sheet_of(REAR)
    mount = next(m for m in bracket_plan(sheet, axle_of(sheet)).mounts if m.name == "lower-left")
    x, z = (RADIUS * f(math.radians(clock)) for f in (math.sin, math.cos))
    seam = Seam("lower-left-tab", (x, station - 20.0, z), (x, station + 20.0, z), leg)
    facts = {mount.name: BracketFacts(mount, ("lower-left-tab",), (seam,), ())}
    return replace(job, brackets=BracketSet(facts=facts))


@pytest.fixture(scope="module")
def plain():
    return number_job()


@pytest.mark.parametrize(("left", "wanted"), [(12.8, ""), (12.5, "warn"), (0.1, "warn"), (-0.1, "fail")])
def test_trs_13_half_an_inch_of_tube_between_toes_passes_and_beads_in_one_place_are_held(plain, left, wanted):
    # the outer face of the plate meets the tube 45 deg from its top (its place), an arc is radius times angle;
    # half an inch: common practice, no source
    legs = 8.0 + float(plain.sheet.truss.leg)
    clock = 45.0 + math.degrees((left + legs) / RADIUS)
    (found,) = told("TRS-13", beside(plain, clock, 8.0))
    assert found.level.value == (wanted or "pass")
    assert found.value == pytest.approx(left, abs=0.05)
    assert ("truss-front" in found.words) and bool(found.remedy) is bool(wanted)


def test_trs_13_of_a_brace_the_side_that_is_nearer_counts():
    job = number_job(truss={"form": "back-brace", "height": "190 mm", "plate": "10 mm", "end_height": "12 mm"})
    assert drawn_plan(job).form == "back-brace"
    legs = 8.0 + float(job.sheet.truss.leg)
    # a level plate 10 mm thick meets the tube asin(5 / radius) above and below its rear
    nearest = math.radians(30.0) - math.asin(5.0 / RADIUS)
    for clock in (-60.0, -120.0):
        (found,) = told("TRS-13", beside(job, clock, 8.0))
        assert found.value == pytest.approx(RADIUS * nearest - legs, abs=0.1)


def test_trs_13_says_nothing_beside_the_truss_of_nobody(plain):
    bare = replace(plain, sheet=plain.sheet.model_copy(update={"truss": None}), store={})
    assert told("TRS-13", beside(bare, 60.0, 8.0)) == []


def test_trs_14_a_bracket_on_a_truss_that_was_measured_is_told_and_one_on_the_sheet_s_own_passes():
    sheet = sheet_of(REAR)
    axle = axle_of(sheet)
    job = Job(sheet, axle, plan_of(sheet, axle))
    assert [f.level for f in told("TRS-14", job)] == [Level.PASS]
    measured = replace(job, sheet=sheet_of(REAR, truss=None, brackets=[MEASURED]), store={})
    (found,) = told("TRS-14", measured)
    assert found.level is Level.WARN and not found.holding
    assert "not drawn" in found.words and "200" in found.words and "[truss]" in found.remedy
    assert told("TRS-14", replace(job, sheet=sheet_of(REAR, truss=None, brackets=[]), store={})) == []
