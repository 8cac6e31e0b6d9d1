"""Claims about links, each at its boundary: the limit on the sheet is set a hair to either side of what is measured."""

import copy
import functools
import tomllib

import pytest

from fixturegen.axle.model import axle_of
from fixturegen.checks import registry
from fixturegen.checks.registry import Job
from fixturegen.findings import Level
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_plan import plan_of
from tests.studies.study_jobs import DROPOUT, EXAMPLES, REAR

CLAIMS = {c.code: c for c in registry.claims("travel")}
FRONT = tomllib.loads((EXAMPLES / f"{DROPOUT}.toml").read_text(encoding="utf-8"))
BACK = tomllib.loads((EXAMPLES / f"{REAR}.toml").read_text(encoding="utf-8"))


@functools.cache
def plain(front):
    """The example as it stands: worked out once."""
    return made_job(FRONT if front else BACK)


def job(change=None, base=FRONT):
    if change is None and base is FRONT:
        return plain(True)
    return plain(False) if change is None and base is BACK else made_job(base, change or (lambda links: None))


def made_job(base, change=lambda links: None):
    data = copy.deepcopy(base)
    change(data["links"])
    sheet = Sheet.model_validate(data)
    axle = axle_of(sheet)
    return Job(sheet, axle, plan_of(sheet, axle))


def findings(code, made, word=""):
    return [f for f in CLAIMS[code].check(made) if word in f.words]


def levels(code, made, word=""):
    return {f.level for f in findings(code, made, word)}


def put(*path, value):
    def change(links):
        node = links
        for key in path[:-1]:
            node = node[key]
        node[path[-1]] = value

    return change


def test_lnk_01_points_that_reach_pass_and_travel_beyond_reach_is_named():
    assert levels("LNK-01", job()) == {Level.PASS}
    short = job(put("upper", "middle", "frame", value=["-4 in", "-9 in", "32 in"]))
    (told,) = [f for f in findings("LNK-01", short) if f.level is Level.FAIL][:1]
    assert "bind" in told.words
    assert "upper" in told.words


def test_lnk_01_links_that_are_no_linkage_are_told_in_sentences():
    made = job(lambda links: links.pop("track_bar"))
    (told,) = findings("LNK-01", made)
    assert told.level is Level.FAIL
    assert "links.track_bar" in told.words
    assert levels("LNK-02", made) == set()


def test_lnk_02_a_joint_a_hair_past_its_limit_is_named():
    assert levels("LNK-02", job(), "joint ends stay") == {Level.PASS}
    tight = job(put("lower", "left", "limit", value="9 deg"))
    named = findings("LNK-02", tight, "lower-")
    assert {f.level for f in named} == {Level.FAIL}
    worst = max(f.value for f in named)
    assert levels("LNK-02", job(put("lower", "left", "limit", value=f"{worst + 1e-6:.9f} deg")), "stay") == {Level.PASS}
    assert Level.FAIL in levels("LNK-02", job(put("lower", "left", "limit", value=f"{worst - 1e-6:.9f} deg")), "lower-")


def at(limit, value):
    def change(links):
        links["struts"][1][limit] = f"{value:.9f} mm"

    return change


def test_lnk_03_a_shock_that_closes_before_bump_fails_and_a_hair_of_stroke_warns():
    (now,) = findings("LNK-03", job(), "from closed at bump")
    assert now.level is Level.PASS
    length = now.value + 20.0 * 25.4  # closed length on the sheet and what was left
    assert levels("LNK-03", job(at("shortest", length - 12.71)), "from closed at bump") == {Level.PASS}
    assert Level.WARN in levels("LNK-03", job(at("shortest", length - 12.69)), "shock")
    assert Level.FAIL in levels("LNK-03", job(at("shortest", length + 0.001)), "shock")


def test_lnk_04_a_shaft_that_pulls_out_by_a_hair_fails():
    (now,) = findings("LNK-04", job(), "length changes")
    assert now.level is Level.PASS
    for hair, level in ((1e-5, Level.PASS), (-1e-5, Level.FAIL)):
        made = job(put("shaft", "plunge", value=f"{now.value + hair:.9f} mm"))
        assert levels("LNK-04", made, "length changes") == {level}


def test_lnk_05_two_degrees_are_kept_beyond_the_knuckle_stop():
    (now,) = findings("LNK-05", job())
    assert now.level is Level.PASS
    for hair, level in ((1e-6, Level.PASS), (-1e-6, Level.FAIL)):
        # common practice, no source: 2 deg are left beyond the stop
        made = job(put("steering", "shaft_limit", value=f"{now.value + 2.0 + hair:.9f} deg"))
        assert levels("LNK-05", made) == {level}


@pytest.mark.parametrize("code", ["LNK-01", "LNK-02", "LNK-03", "LNK-04", "LNK-05"])
def test_a_sheet_without_links_is_told_nothing_about_them(code):
    data = copy.deepcopy(BACK)
    del data["links"]
    sheet = Sheet.model_validate(data)
    axle = axle_of(sheet)
    assert CLAIMS[code].check(Job(sheet, axle, plan_of(sheet, axle))) == []


def test_a_rear_axle_has_no_lock():
    assert levels("LNK-05", job(base=BACK)) == set()
    assert levels("LNK-01", job(base=BACK)) == {Level.PASS}
