"""Flow from tube to truss against V Q / I, against the pull the plates end up with, and against a code's fillets."""

from dataclasses import replace

import numpy as np
import pytest

from fixturegen.axle.model import axle_of
from fixturegen.studies.axle_loads import loads_of
from fixturegen.studies.housing_section import TUBE, Cut
from fixturegen.studies.housing_stations import BESIDE
from fixturegen.studies.housing_study import housing_study
from fixturegen.studies.housing_truss import acting, zones_of
from fixturegen.studies.housing_welds import all_flows, centre_flows, nearest, seam_flows, seam_strengths
from fixturegen.studies.strength_records import steel_of
from fixturegen.studies.truss_plan import truss_plan
from fixturegen.studies.truss_records import WeldRun
from tests.studies.housing_jobs import PlainTruss, housing, pushed
from tests.studies.load_jobs import INCH, LBF
from tests.studies.study_jobs import REAR, sheet_of

KIP_PER_INCH = 4448.2216152605 / 25.4
TRUSS = PlainTruss(ends=(-22.0, 22.0), diameter=3.5, hold=True)
LEVEL = (pushed((0, 0, 3000), (0, 0, 3000)),)


def studied(truss, *cases, **more):
    return housing_study(*housing(*(cases or LEVEL), section=(-2.0, 2.0), **more), truss)


def test_between_wheel_and_spring_a_truss_of_one_section_hands_over_v_q_over_i():
    found = studied(TRUSS, springs=8.0)
    section_at = next(one for one in found.beam.lengths if one.begin > 9 * INCH and one.end < 17 * INCH)
    section = section_at.filled[1]
    first = sum(s.carrying * s.width * ((s.start[1] + s.end[1]) / 2 - section.middle[1]) for s in section.cut.strips)
    for flow in all_flows(found):
        if flow.station == pytest.approx(sum((section_at.begin, section_at.end)) / 2) and flow.seam.second == TUBE:
            # two seams share it alike; the tube as a line of walls lacks a per cent of its second moment
            assert abs(flow.along) == pytest.approx(3000 * LBF * first / section.upright / 2, rel=0.01)
            assert abs(flow.taken_up) < 0.35 * abs(flow.along)  # the plates still come in


@pytest.mark.parametrize("taper", [0.0, 0.5])
def test_what_the_seams_hand_over_from_the_end_on_is_the_pull_in_the_plates(taper):
    # equilibrium of the plates from their end to a station; what changes along is spread over the truss's height
    found = studied(replace(TRUSS, taper=taper), springs=8.0)
    station = 12 * INCH
    one = next(k for k in found.beam.lengths if k.begin <= station <= k.end)
    at = found.beam.lengths.index(one)
    moment = float(found.cases[0].actions.about_x[3 * at + 1])
    section = one.filled[1]
    pull = sum(
        -moment / section.upright * s.carrying * s.width * ((s.start[1] + s.end[1]) / 2 - section.middle[1])
        for s in section.cut.strips
    )
    handed = 0.0
    for flow in all_flows(found):
        if flow.station < station or flow.seam.second != TUBE:
            continue
        length = next(k for k in found.beam.lengths if k.stations[1] == flow.station)
        handed += flow.flow * (length.end - max(length.begin, one.stations[1]))
    assert handed == pytest.approx(abs(pull), rel=0.06)


def test_stitches_of_half_the_length_carry_twice_as_much_in_their_runs():
    whole, half = (seam_flows(studied(replace(TRUSS, welded=share))) for share in (1.0, 0.5))
    for one, other in zip(whole, half, strict=True):
        assert other.flow == pytest.approx(one.flow)
        assert other.at_weld == pytest.approx(one.at_weld / other.seam.welded)


def test_a_quarter_inch_fillet_is_allowed_what_the_code_s_table_allows():
    # E70: .928 kip/in for each 1/16 of leg (AISC, allowable, read in a copy)
    flow = next(f for f in seam_flows(studied(TRUSS)) if f.seam.second == TUBE)
    metal, plate = seam_strengths(flow, steel_of("a36"))
    assert metal.capacity / metal.factor.value / KIP_PER_INCH == pytest.approx(4 * 0.928, rel=1e-3)
    # plate: 0.6 x 36 ksi x 1/4 in / 1.5 = 3.6 kip/in (AISC 360 J4.2, from memory)
    assert plate.capacity / plate.factor.value / KIP_PER_INCH == pytest.approx(0.6 * 36 * 0.25 / 1.5, rel=1e-3)
    assert nearest((metal, plate)) is plate


def test_double_loads_double_the_flow_and_a_bare_housing_has_none():
    one = seam_flows(studied(TRUSS))
    other = seam_flows(studied(TRUSS, pushed((0, 0, 6000), (0, 0, 6000))))
    assert [f.flow for f in other] == pytest.approx([2 * f.flow for f in one])
    assert seam_flows(studied(None)) == ()


@pytest.fixture(scope="module")
def planned():
    sheet = sheet_of(REAR, truss={"plate": "6 mm"})
    axle = axle_of(sheet)
    return axle, truss_plan(sheet, axle)


def test_runs_beside_one_another_are_one_stitched_weld_and_far_ones_are_not(planned):
    _, plan = planned

    def run(low, high):
        return WeldRun("truss-front", "tube-left", ((40.0, low, 30.0), (40.0, high, 30.0)), 6.0)

    # 24 thicknesses of 6 mm plate are 144 mm and more: runs of 50 every 100 join, one 400 away stands alone
    runs = tuple(run(y, y + 50.0) for y in (200.0, 300.0, 400.0, 850.0))
    found = [z for z in zones_of(replace(plan, welds=runs)) if z.onto == "tube-left"]
    assert [(z.begin, z.end) for z in found] == [(200.0, 450.0), (850.0, 900.0)]
    assert found[0].welded == pytest.approx(150.0 / 250.0)
    assert found[0].stitched and not found[1].stitched


def test_the_truss_of_a_plan_cuts_as_its_own_section_does(planned):
    axle, plan = planned
    truss = acting(plan, axle.section)
    for station in (-650.0, -300.5, -171.0, 127.0, 200.0, 333.3, 600.0):
        cut, rects = truss.cut_at(station), plan.section_at(station)
        upright = [s for s in cut.strips if "top" not in s.name]
        ours = sorted((s.start[1], s.end[1]) for s in upright)
        theirs = sorted((r.z - r.high / 2, r.z + r.high / 2) for r in rects if "top" not in r.part)
        assert np.array(ours) == pytest.approx(np.array(theirs), abs=1e-6)
        assert len(cut.strips) == len(rects)
        # openings filled: one piece a plate, never less steel
        full = truss.cut_at(station, filled=True)
        assert sum(s.width * s.thickness for s in full.strips) >= sum(s.width * s.thickness for s in cut.strips) - 1e-6
        assert len([s for s in full.strips if "top" not in s.name]) == 2
    assert truss.cut_at(plan.ends[1] + 1.0) == Cut()
    assert truss.anchored() and not acting(replace(plan, welds=()), axle.section).anchored()


def test_a_top_that_leans_counts_as_its_pull_along_the_axle(planned):
    # strain along a flange that leans is cos^2 of that along the axle, its pull along the axle cos of its own
    axle, plan = planned
    truss = acting(plan, axle.section)
    (level,) = [s for s in truss.cut_at(200.0).strips if "top" in s.name]
    (leaning,) = [s for s in truss.cut_at(550.0).strips if "top" in s.name]
    slope = np.radians(plan.taper[1])
    assert leaning.thickness / level.thickness == pytest.approx(np.cos(slope) ** 3)


def test_a_bridge_is_counted_across_only_when_that_is_asked_for(planned):
    axle, plan = planned
    bridged = replace(plan, bridged=True, welds=tuple(w for w in plan.welds if w.onto != "housing"))
    loose, across = (acting(bridged, axle.section, across=a).spans(axle.section) for a in (False, True))
    assert across[1][0] == axle.section[1]
    assert loose[1][0] >= axle.section[1] - BESIDE
    assert across[1][1] == loose[1][1]


def test_the_weld_onto_the_centre_section_takes_what_the_plates_of_both_tubes_differ_by(planned):
    axle, plan = planned
    sheet = sheet_of(REAR)
    loads = loads_of(sheet, axle)
    truss = acting(plan, axle.section)
    study = housing_study(sheet, axle, loads, truss)
    flows = centre_flows(study, truss)
    assert {f.seam.first for f in flows} == {"truss-front", "truss-rear"}
    lengths = {seam.first: length for seam, length, _ in truss.onto_centre()}
    # equilibrium of the plates over the centre section: pull of the left ones less pull of the right ones
    case = [c.name for c in study.cases].index(flows[0].case)
    ends = []
    for one, k in ((study.beam.lengths[i], i) for i in range(len(study.beam.lengths))):
        for section, at, sign in ((one.filled[2], 3 * k + 2, -1), (one.filled[0], 3 * k, 1)):
            if (sign < 0 and one.end != axle.section[0]) or (sign > 0 and one.begin != axle.section[1]):
                continue
            a = study.cases[case].actions
            x, z = section.middle
            g = section.slopes(a.about_x[at] + z * a.axial[at], a.about_z[at] - x * a.axial[at])
            for s in section.cut.strips:
                mid = ((s.start[0] + s.end[0]) / 2 - x, (s.start[1] + s.end[1]) / 2 - z)
                stress = a.axial[at] / section.area + mid[0] * g[0] + mid[1] * g[1]
                ends.append(sign * stress * s.carrying * s.width)
    handed = sum(f.taken_up * lengths[f.seam.first] for f in flows if f.case == flows[0].case)
    if len({f.case for f in flows}) == 1:
        assert handed == pytest.approx(sum(ends), rel=1e-6)
    # a truss that counts on one tube alone hands all of it over: more
    one_sided = acting(replace(plan, welds=tuple(w for w in plan.welds if w.onto != "tube-right")), axle.section)
    other = centre_flows(housing_study(sheet, axle, loads, one_sided), one_sided)
    assert max(f.flow for f in other) > max(f.flow for f in flows)
    assert centre_flows(study, acting(replace(plan, welds=()), axle.section)) == ()
