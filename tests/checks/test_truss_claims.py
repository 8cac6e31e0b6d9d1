"""Claims about the truss, each with a truss that passes and one that trips it."""

from dataclasses import replace

import pytest

from fixturegen.bodies.in_the_way import _more_welded
from fixturegen.checks import registry
from fixturegen.checks.truss_solid import root_openings
from fixturegen.findings import Level
from fixturegen.plate import Assembly, Part, Placement, Profile
from fixturegen.plate.bracket_set import BracketSet
from fixturegen.plate.profile import rectangle
from fixturegen.studies.bracket_plan import bracket_plan
from fixturegen.studies.bracket_records import BracketFacts, Seam
from tests.studies.study_jobs import DROPOUT, INTEGRAL, REAR, sheet_of
from tests.studies.truss_jobs import number_job, truss_job

CLAIMS = {c.code: c for c in registry.claims() if c.code.startswith("TRS")}
BOX = {"name": "oil pan", "x": ["-3000 mm", "-2700 mm"], "y": ["-300 mm", "300 mm"], "z": ["800 mm", "900 mm"]}


def told(code, job):
    return CLAIMS[code].check(job)


def levels(code, job):
    return {f.level for f in told(code, job)}


@pytest.fixture(scope="module")
def plain():
    return truss_job()


def test_trs_01_a_web_of_three_thicknesses_and_one_a_hair_less(plain):
    # common practice, no source: three thicknesses; the crest of the drum is height / 2 over the axle line
    assert levels("TRS-01", plain) == {Level.PASS}
    low = number_job(truss={"height": "180 mm"})
    (found,) = told("TRS-01", low)
    assert found.level is Level.FAIL and "three thicknesses" in found.words
    (none,) = told("TRS-01", number_job(truss={"height": "150 mm"}))
    assert none.level is Level.FAIL and "cut into" in none.words and none.remedy


def test_trs_02_half_an_inch_short_passes_and_less_is_held():
    # common practice, no source: half an inch short of the bead of a knuckle
    keys = {"plate": "1/4 in", "height": "7 3/4 in", "left_end": "15 in"}
    good, near = (number_job(DROPOUT, {**keys, "right_end": e}) for e in ("-24.4 in", "-24.6 in"))
    assert {f.level for f in told("TRS-02", good)} == {Level.PASS}
    assert [f.level for f in told("TRS-02", near)] == [Level.FAIL, Level.PASS]


def test_trs_02_of_a_rear_axle_the_sleeve_of_the_bearing_end_counts():
    # the sleeve is three flanges of 12.7 mm long as the axle is drawn; half an inch short of it, common practice
    end = number_job().axle.tube_ends[1] - 3.0 * 12.7 - 12.7
    for left, wanted in ((end - 0.1, Level.PASS), (end + 0.1, Level.FAIL)):
        found = told("TRS-02", number_job(truss={"left_end": f"{left} mm"}))
        assert found[1].level is wanted and "sleeve" in found[1].words
    usual = number_job(truss={"left_end": None, "right_end": None})
    assert levels("TRS-02", usual) == {Level.PASS}


def test_a_back_brace_is_drawn_and_keeps_to_its_roots_and_its_place():
    # single plane: one part, nothing across it; its openings against the kernel's own section of the axle
    job = truss_job(truss={"form": "back-brace", "height": "190 mm", "plate": "10 mm", "end_height": "12 mm"})
    assert [p.name for p in job.parts.values()] == ["truss-brace"]
    for code in ("TRS-01", "TRS-02", "TRS-04", "TRS-12"):
        assert levels(code, job) == {Level.PASS}, code
    assert all(told(code, job) == [] for code in ("TRS-03", "TRS-08", "TRS-11"))
    high = _moved(job, "truss-brace", (-0.4, 0.0, 0.0))
    assert levels("TRS-04", high) == {Level.FAIL}


def test_trs_03_a_truss_too_tall_for_the_oil_pan_is_refused_for_that():
    # plane geometry: the box less bump less the gap wanted, over the axle line
    sheet = sheet_of(REAR)
    line, bump = float(sheet.vehicle.tyre_loaded_radius), float(sheet.links.bump)
    pan = {**BOX, "z": [f"{line + bump + 12.7 + 201.0} mm", "1200 mm"]}
    good = _under(pan, "200 mm")
    tall = _under(pan, "202 mm")
    assert levels("TRS-03", good) == {Level.PASS}
    (found,) = told("TRS-03", tall)
    assert found.level is Level.FAIL and "oil pan" in found.words and "lower" in found.remedy
    assert levels("TRS-03", number_job()) == {Level.WARN}


def _under(box, height):
    job = number_job(truss={"height": height}, axle__pinion_angle="0 deg")
    clearance = type(job.sheet.clearance).model_validate({"boxes": [box], "moving": "1/2 in"})
    return replace(job, sheet=job.sheet.model_copy(update={"clearance": clearance}), store={})


def test_trs_04_the_plate_as_cut_keeps_the_gap_and_one_set_too_high_does_not(plain):
    # the kernel's own section of the axle by the planes of the plate, against the plan's closed forms
    for plate in ("truss-rear", "truss-front"):
        rows = root_openings(plain, plain.store.get("truss.plan") or _plan(plain), plate)
        assert len(rows) > 100
    assert levels("TRS-04", plain) == {Level.PASS}
    high = _moved(plain, "truss-front", (0.0, 0.0, 0.4))
    found = {f.parts[0]: f.level for f in told("TRS-04", high)}
    assert found == {"truss-rear": Level.PASS, "truss-front": Level.FAIL}


def _plan(job):
    from fixturegen.checks.truss import drawn_plan

    return drawn_plan(job)


def _moved(job, part, by):
    old = job.assemblies["truss"]
    places = tuple(
        replace(p, origin=tuple(a + b for a, b in zip(p.origin, by, strict=True))) if p.part == part else p
        for p in old.placements
    )
    kept = {k: v for k, v in job.store.items() if k in ("truss.plan", "bodies in A", "part_solids", "bare axle in A")}
    return replace(job, assemblies={"truss": replace(old, placements=places)}, store=kept)


def test_trs_05_plates_clear_what_comes_off_and_one_over_the_face_does_not(plain):
    assert levels("TRS-05", plain) == {Level.PASS}
    # the third member is drawn straight out ahead of its face: a plate moved there stands in its way
    over = _moved(plain, "truss-front", (45.0, 0.0, -60.0))
    found = told("TRS-05", over)
    assert found and all(f.level is Level.FAIL and f.parts == ("truss-front",) for f in found)
    assert any("third member" in f.words for f in found) and any("stud" in f.words for f in found)


def test_trs_05_a_fill_plug_with_its_wrench_keeps_its_air(plain):
    plug = {"name": "plug", "kind": "fill plug", "out": ["1", "0", "0"], "across": "30 mm"}
    far, near = (truss_job(truss={"fittings": [{**plug, "at": [x, "-14 mm", "170 mm"]}]}) for x in ("36 mm", "32 mm"))
    for job in (far, near):
        job.store.update({k: plain.store[k] for k in ("bodies in A",) if k in plain.store})
    # 6.35 mm are usual beside the front plate, whose face stands at 29.2 mm
    assert not any("plug" in f.words and f.level is Level.FAIL for f in told("TRS-05", far))
    assert any("plug" in f.words and f.level is Level.FAIL for f in told("TRS-05", near))


def test_trs_06_rooms_drain_and_a_breather_inside_is_refused():
    assert levels("TRS-06", number_job()) == {Level.PASS}
    fit = {"name": "breather", "kind": "breather", "out": ["0", "0", "1"], "across": "10 mm", "pull": "10 mm"}
    inside = number_job(truss={"fittings": [{**fit, "at": ["0 mm", "300 mm", "41 mm"]}]})
    (found,) = told("TRS-06", inside)
    assert found.level is Level.FAIL and "inside the truss" in found.words
    job = number_job()
    plan = _plan(job)
    shut = replace(plan, cells=tuple(replace(c, drains=(), open_ends=0) for c in plan.cells[:1]))
    job.store["truss.plan"] = shut
    (found,) = told("TRS-06", job)
    assert found.level is Level.FAIL and "no drain" in found.words


def test_trs_07_iron_is_bridged_or_held_and_steel_is_cautioned():
    keys = {"plate": "1/4 in", "height": "7 1/4 in"}
    assert levels("TRS-07", number_job(INTEGRAL, keys, housing__material="nodular iron")) == {Level.PASS}
    welded = {**keys, "centre": "weld"}
    assert levels("TRS-07", number_job(INTEGRAL, welded, housing__material="nodular iron")) == {Level.FAIL}
    assert levels("TRS-07", number_job(INTEGRAL, welded, housing__material="cast steel")) == {Level.WARN}


def test_trs_08_beads_inside_the_top_pass_and_beyond_its_edge_are_held():
    job = truss_job(truss={"overhang": "32 mm"})
    mount = next(m for m in bracket_plan(sheet_of(REAR), job.axle).mounts if m.spec.on == "truss")
    for reach, wanted in ((27.0, Level.PASS), (42.0, Level.FAIL)):
        seam = Seam("tab", (-reach, mount.point[1], 200.0), (reach, mount.point[1], 200.0), 8.0)
        facts = {mount.name: BracketFacts(mount, ("tab",), (seam,), ())}
        assert levels("TRS-08", replace(job, brackets=BracketSet(facts=facts))) == {wanted}


def test_trs_09_tabs_enter_and_a_plate_thicker_than_measured_does_not(plain):
    assert levels("TRS-09", plain) == {Level.PASS}
    parts = {n: replace(p, thickness=p.thickness + 1.2) if n == "truss-front" else p for n, p in plain.parts.items()}
    found = told("TRS-09", replace(plain, parts=parts, store={}))
    assert any(f.level is Level.FAIL and "truss-front" in f.parts for f in found)


def test_trs_10_a_jack_pad_keeps_off_the_centre_section():
    # common practice, no source: an inch off the centre section; a pad is 70 mm long
    side = number_job().axle.section[1]
    for off, wanted in ((61.0, Level.PASS), (59.0, Level.FAIL)):
        job = number_job(truss={"jack_pads": [f"{side + off} mm"]})
        pads = [f for f in told("TRS-10", job) if "jack pad" in f.words]
        assert [f.level for f in pads] == [wanted]


def test_trs_11_a_plate_too_far_out_on_the_tube_is_no_fillet():
    # AWS D1.1, from memory: 135 deg between the plates is the most, which is 45 deg of lean, 29.2 mm of 41.3 mm
    front = {name: number_job(truss={"front": name}) for name in ("29 mm", "32 mm", "37 mm")}
    found = {n: [f.level for f in told("TRS-11", j)][1] for n, j in front.items()}
    assert found == {"29 mm": Level.PASS, "32 mm": Level.WARN, "37 mm": Level.FAIL}


def test_trs_12_parts_stand_apart_and_a_block_in_the_truss_is_found(plain):
    assert levels("TRS-12", plain) == {Level.PASS}
    block = Part("truss-block", "block", "truss", "plate", thickness=8.0, profile=Profile(rectangle(-30, -20, 30, 20)))
    old = plain.assemblies["truss"]
    more = Assembly("truss", "A", (*old.placements, Placement("truss-block", (0.0, 300.0, 60.0), group="truss")))
    kept = {k: v for k, v in plain.store.items() if k in ("truss.plan", "bodies in A", "part_solids", "bare axle in A")}
    job = replace(plain, parts={**plain.parts, "truss-block": block}, assemblies={"truss": more}, store=kept)
    found = told("TRS-12", job)
    assert any(f.level is Level.FAIL and "truss-block" in f.parts for f in found)


def test_without_a_truss_nothing_is_said():
    job = replace(number_job(), sheet=sheet_of(REAR, brackets=[], truss=None), parts={}, assemblies={}, store={})
    assert all(c.check(job) == [] for c in CLAIMS.values())


def test_the_truss_is_a_body_in_the_way_without_more_code(plain):
    (item,) = list(_more_welded(plain))
    assert item.thing.name == "truss" and item.box[1, 2] == pytest.approx(200.0, abs=1e-3)
