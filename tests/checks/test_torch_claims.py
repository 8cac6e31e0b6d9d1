"""Tipping, slope, bow and marks as claims: each passes on one side of its limit and trips on the other."""

import dataclasses
import math

import pytest

from fixturegen.checks.registry import Job, claims
from fixturegen.findings import Level
from fixturegen.parts.marking import LEFT_OUT, completed
from fixturegen.plate import Assembly, Hole, Mark, Part, Placement, Profile, Purpose
from fixturegen.plate.profile import Operation, rectangle, reversed_loop
from fixturegen.studies.error_budget import Budget
from fixturegen.studies.plate_bow import bow_of, tilt_for_caster
from tests.checks.bench_jobs import DROPOUT, REAR
from tests.checks.bench_jobs import job as example
from tests.studies.study_jobs import case

INCH = 25.4
CLAIMS = {c.code: c for c in claims()}


def findings(code, made):
    return CLAIMS[code].check(made)


def plate(name="toy-l", hand="L", size=(300.0, 250.0), thickness=9.525, inner=(), holes=()):
    profile = Profile(rectangle(0.0, 0.0, *size), inner, holes)
    return Part(name, "Toy", "toy", "plate", thickness, profile=profile, hand=hand)


def job(*parts, **changes):
    made = Job(*case(DROPOUT, **changes))
    made.parts.update({p.name: p for p in parts})
    return made


def opening(size):
    return (reversed_loop(rectangle(20.0, 20.0, 20.0 + size, 20.0 + size)),)


def test_tch_01_a_slug_tips_when_its_edge_is_nearer_to_its_middle_than_the_pitch():
    # a square of side a: its edge stands a / 2 from its middle, less the kerf on each side
    kerf = float(case(DROPOUT)[0].process.kerf)
    side = 2.0 * (2.0 * INCH + kerf)
    for by, wanted in ((0.1, Level.PASS), (-0.1, Level.WARN)):
        part = plate(size=(500.0, 500.0), inner=opening(side + by))
        (found,) = findings("TCH-01", job(part, process__slat_pitch="2 in"))
        assert found.level is wanted
    assert "toy-l opening 1" in found.words
    assert "1/16 in tab" in found.remedy
    assert not found.holding


def test_tch_01_small_parts_and_slugs_are_told_apart_and_falling_from_tipping():
    hole = Hole(250.0, 150.0, 30.0, Purpose.BOLT, "bolt", Operation.CUT, 30.0)
    parts = (
        plate(size=(500.0, 500.0), holes=(hole,)),
        plate("chip", None, (40.0, 30.0)),
        plate("bar", None, (300.0, 60.0)),
    )
    slugs, small = findings("TCH-01", job(*parts))
    assert "1 of the cut-outs can fall" in slugs.words
    assert slugs.parts == ("toy-l",)
    assert "1 of the parts can tip: bar" in small.words
    assert "1 of the parts can fall between the slats or hang on one: chip" in small.words
    assert "last on their sheet" in small.remedy


@pytest.mark.parametrize("code", ["TCH-01", "TCH-02", "MRK-01"])
def test_without_plates_there_is_nothing_to_say(code):
    assert findings(code, job()) == []


def test_tch_02_the_slope_is_the_thickness_times_its_tangent_against_the_room_of_a_tab():
    # air plasma, 3 deg (shop practice): 1/4 in leans 0.0133 in, as the practice's own example has it
    lean = 0.25 * math.tan(math.radians(3.0))
    assert lean == pytest.approx(0.013, abs=0.0005)
    for by, wanted in ((1e-5, Level.PASS), (-1e-5, Level.WARN)):
        made = job(plate(thickness=6.35), process__slot_room=f"{lean + by:.7f} in")
        (found,) = findings("TCH-02", made)
        assert found.level is wanted
        assert found.value == pytest.approx(lean * INCH, abs=1e-6)
    assert "unmarked" in found.words
    assert "marked face up" in found.words


def test_tch_02_speaks_once_for_each_thickness():
    found = findings("TCH-02", job(plate(), plate("b", None), plate("c", None, thickness=12.7)))
    assert [f.parts for f in found] == [("toy-l", "b"), ("c",)]


def with_caster(made, caster):
    zero = dict.fromkeys((f.name for f in dataclasses.fields(Budget)), 0.0)
    budget = Budget(**{**zero, "contributors": (), "caster_left": caster, "caster_right": caster})
    return dataclasses.replace(made, store={**made.store, "study.budget": budget})


def test_tch_03_the_bow_left_by_the_budget_must_be_one_the_feeler_shows():
    made = example(DROPOUT)
    clock, feeler = made.plan.clock, float(made.sheet.tools.feeler)
    reach, stand = max(clock.inner - f.tip for f in clock.fingers), sum(f.along for f in clock.fingers)
    xs = [v.x for v in made.parts["clock-plate-l"].profile.outer]
    wide = max(xs) - min(xs)
    # chord and tangent of a flat arc, tips two reaches apart: caster = 2 reach (4 f / L) / stand
    left = math.degrees(2.0 * reach * 4.0 * feeler / wide / stand)
    for share, wanted in ((1.02, Level.PASS), (0.98, Level.WARN)):
        found = findings("TCH-03", with_caster(made, 0.25 - share * left))
        assert {f.level for f in found} == {wanted}
        assert [f.parts for f in found] == [("clock-plate-l",), ("clock-plate-r",)]
    assert "spot-face" in found[0].remedy
    assert found[0].value == pytest.approx(bow_of(tilt_for_caster(0.98 * left, reach, stand), wide), rel=0.02)


def test_tch_03_nothing_left_is_no_bow_at_all_and_a_rear_jig_has_nothing_to_bow():
    (left, _) = findings("TCH-03", with_caster(example(DROPOUT), 0.3))
    assert left.level is Level.WARN
    assert left.value == 0.0
    (rear,) = findings("TCH-03", example(REAR))
    assert rear.level is Level.PASS


def marked(**more):
    sheet = case(DROPOUT)[0]
    return completed(plate(**more), sheet)


def levels(*parts, **changes):
    return [f.level for f in findings("MRK-01", job(*parts, **changes))]


def without(part, word):
    return dataclasses.replace(part, marks=tuple(m for m in part.marks if word not in m.text.split()))


def changed(part, word, **more):
    marks = tuple(dataclasses.replace(m, **more) if word in m.text.split() else m for m in part.marks)
    return dataclasses.replace(part, marks=marks)


def test_mrk_01_trips_when_any_mark_goes():
    whole = marked()
    assert levels(whole) == [Level.PASS]
    for word in ("TOY", "REV", "TAPE"):
        (found,) = findings("MRK-01", job(without(whole, word)))
        assert found.level is Level.FAIL
        assert "is not marked" in found.words
        assert found.holding


def test_mrk_01_the_hand_must_be_there_and_be_the_parts_own():
    whole = marked()
    for text, told in (("TOY", "is not marked"), ("TOY R", "carries R")):
        (found,) = findings("MRK-01", job(changed(whole, "TOY", text=text)))
        assert found.level is Level.FAIL
        assert told in found.words


def test_mrk_01_the_tape_check_is_measured_again_on_the_profile():
    whole = marked()
    told = next(m.text for m in whole.marks if "TAPE" in m.text)
    assert told == "TAPE 11 13/16"  # 300 mm is 11.811 in
    (found,) = findings("MRK-01", job(changed(whole, "TAPE", text="TAPE 11 7/8")))
    assert found.level is Level.FAIL
    assert '"TAPE 11 7/8" is not what its ticks measure' in found.words
    assert "11 13/16" in found.words
    shrunk = dataclasses.replace(whole, profile=Profile(rectangle(0.0, 0.0, 299.0, 250.0)))
    assert levels(shrunk) == [Level.FAIL]
    no_ticks = dataclasses.replace(whole, marks=tuple(m for m in whole.marks if m.text))
    assert levels(no_ticks) == [Level.FAIL]


def test_mrk_01_marks_stand_a_millimetre_clear_of_what_is_cut():
    # common practice, no source: 1 mm
    whole = marked()
    for x, wanted in ((1.02, Level.PASS), (0.98, Level.FAIL)):
        own = Mark(x, 20.0, to=(x, 30.0))
        assert levels(dataclasses.replace(whole, marks=(*whole.marks, own))) == [wanted]
    box = next(m for m in whole.marks if "REV" in m.text.split())
    over = Hole(box.x + 10.0, box.y, 8.0, Purpose.BOLT, "bolt", Operation.CUT, 8.0)
    holed = dataclasses.replace(whole, profile=dataclasses.replace(whole.profile, holes=(over,)))
    (found,) = findings("MRK-01", job(holed))
    assert '"REV A" is not' in found.words
    outside = changed(whole, "REV", x=400.0)
    assert levels(outside) == [Level.FAIL]


def test_mrk_01_lettering_over_lettering_is_refused():
    whole = marked()
    name = next(m for m in whole.marks if "TOY" in m.text.split())
    (found,) = findings("MRK-01", job(changed(whole, "REV", x=name.x, y=name.y + 2.0)))
    assert found.level is Level.FAIL
    assert "runs into" in found.words


def test_mrk_01_letters_below_the_rule_and_marks_without_room_are_told_and_hold_nothing():
    whole = marked()
    for high, wanted in ((6.35, Level.PASS), (6.34, Level.WARN)):
        assert levels(changed(whole, "REV", height=high)) == [wanted]
    tiny = marked(size=(34.0, 30.0))
    assert any(n.startswith(LEFT_OUT) for n in tiny.notes)
    (found,) = findings("MRK-01", job(tiny))
    assert found.level is Level.WARN
    assert "TAPE" in found.words
    assert not found.holding
    silent = dataclasses.replace(tiny, notes=())  # a mark that is left out without a word
    assert levels(silent) == [Level.FAIL]


def test_mrk_01_a_place_that_mirrors_the_plate_hides_its_marks():
    whole = marked()
    made = job(whole)
    for first, wanted in ((1.0, Level.PASS), (-1.0, Level.FAIL)):
        turn = ((first, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
        made.assemblies["jig"] = Assembly("jig", "T", (Placement("toy-l", rotation=turn),))
        assert [f.level for f in findings("MRK-01", made)] == [wanted]


@pytest.mark.parametrize("name", ["front-dropout-kingpin", "front-integral-balljoint", "rear-dropout"])
def test_the_examples_carry_their_marks(name):
    assert not any(f.level is Level.FAIL for f in findings("MRK-01", example(name)))
