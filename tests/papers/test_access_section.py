"""The section about getting things out: rows of the table, words on top, pictures of what is not free."""

import base64
from types import SimpleNamespace

import numpy as np
import pytest

from fixturegen.bodies.clearing import Scene
from fixturegen.bodies.in_the_way import Item
from fixturegen.checks.access import SCENE, SLACK, STUDY
from fixturegen.findings import Level
from fixturegen.papers import access_pictures as drawn
from fixturegen.papers.access_section import access_sections, access_table, verdict
from fixturegen.shapes import solids
from fixturegen.studies.access_records import AccessStudy, Met, Removal, Result, Rod, Shift, Try
from fixturegen.studies.access_struts import Slack
from fixturegen.studies.clearance_records import AXLE, FRAME, Gaps, Motion, Place, Thing, Tour
from tests.shapes.test_pictures import pixels

PLAIN = Try("straight out", steps=(Shift((1.0, 0.0, 0.0), 100.0),), moving=(Rod((0, 0, 0), (60, 0, 0), 40.0, False),))
WRENCH = Try("no socket goes on, an open-end wrench does", second=True)


def met(name, gap, travel=30.0, **more):
    return Met(name, name, gap, (80.0, 0.0, 0.0), travel, **more)


def result(label, group, *hits, fixed=(), nearest=None, taken=PLAIN, barred=()):
    removal = Removal(label.replace(" ", "-"), label, group, (PLAIN, WRENCH), wanted=1.6, notes="bolts out")
    return Result(removal, taken, hits, nearest, frozenset(fixed), barred)


FREE = [result(f"nut {n}", "bolts", nearest=met("rail", 20.0 * n)) for n in (2, 1, 3)]
AFTER = result("third member", "third-member", met("tie rod", 0.0))
SHUT = result("cover", "cover", met("truss", 0.0), met("tie rod", 0.0), fixed={"truss"})
TIGHT = result("axle shaft, left", "shafts", met("post", 0.4))
SECOND = result("nut 4", "bolts", taken=WRENCH, barred=(met("tie rod", 0.0),))


def rows(*results, units="in"):
    return access_table(AccessStudy(results), units).rows


def test_what_is_free_is_one_row_of_its_kind_with_the_tightest():
    (row,) = rows(*FREE)
    assert row[0] == "3 bolts or nuts of the face; tightest: nut 1"
    assert row[1:3] == ("yes", "nothing") and row[4] == "rail, 0.787 in (20.00 mm)"
    assert rows(FREE[0], units="mm")[0][4] == "rail, 40.00 mm (1.575 in)"


def test_what_is_not_free_has_a_row_of_its_own_with_what_must_be_off():
    cover, third, shaft, nut = rows(SHUT, AFTER, TIGHT, SECOND)[1:] + rows(SECOND)
    assert third[:3] == ("third member", "only then", "tie rod") and third[4] == "tie rod, in the way"
    assert cover[1] == "NO" and cover[2] == "truss stands in the way"
    assert shaft[1] == "TIGHT" and shaft[4] == "post, 0.016 in (0.40 mm)"
    assert nut[1] == "not with a socket" and nut[2] == "nothing; tie rod for a socket"


def test_the_words_on_top_count_what_does_not_come_out():
    assert verdict(AccessStudy(tuple(FREE))).startswith("3 things were looked at; each comes out")
    said = verdict(AccessStudy((*FREE, AFTER, SHUT)))
    assert said.startswith("5 things were looked at: 3 come out with every link and bracket fitted, 1 only with")
    assert said.endswith("SHUT IN: cover.")


def test_there_is_no_section_without_a_study_and_one_with_notes_and_cautions_with_it():
    job = SimpleNamespace(store={}, sheet=SimpleNamespace(job=SimpleNamespace(units="in")))
    assert access_sections(job) == ()
    slack = Slack("coil", Level.WARN, "coil, left: 400 mm", 30.0, 80.0)
    missing = (("plugs", "no place of the breather on the sheet", "measure it"),)
    job.store = {STUDY: AccessStudy(tuple(FREE), missing), SCENE: scene(), SLACK: (slack,)}
    (section,) = access_sections(job)
    assert section.title == "Getting things out" and section.shots == ()
    assert any("NOT LOOKED AT: no place of the breather" in n for n in section.notes)
    assert any("CAUTION" in n and "compressor" in n and "jack or hoist" in n for n in section.notes)
    assert [t.title for t in section.tables] == ["What comes out, and with what off", "Springs at full droop"]
    assert section.tables[1].rows[0][1:3] == ("with a compressor", "1.181 in (30.00 mm)")


def scene():
    eyes, none, known = np.eye(3)[None], np.zeros((1, 3)), np.ones(1, np.bool_)
    still = Motion(eyes, none, known)
    tour = Tour((Place(0.0, 0.0, 0.0, "ride"),), {FRAME: still, AXLE: still})
    rod = Item(Thing("tie rod", "tie rod", FRAME, accuracy=0.1), solids.box(90, -80, -10, 110, 80, 10))
    rail = Item(Thing("rail", "rail", FRAME, accuracy=0.1), solids.box(-50, 60, -10, 0, 90, 10))
    gone = Item(Thing("far", "far", FRAME, accuracy=0.1), solids.box(900, 900, 900, 950, 950, 950))
    return Scene((rod, rail, gone), tour, Gaps({}))


def share(data, colour, near=60):
    """Part of the pixels of a picture that are near a colour (0..255)."""
    seen = np.asarray(pixels(base64.b64decode(data)))[..., :3].astype(int)
    return float((np.abs(seen - np.array(colour)).sum(axis=-1) < near).mean())


@pytest.mark.parametrize(("fixed", "colour"), [((), (35, 95, 165)), (("tie rod",), (160, 28, 28))])
def test_a_picture_shows_the_thing_and_what_stops_it_by_whether_it_unbolts(fixed, colour, monkeypatch):
    monkeypatch.setattr(drawn, "SIZE", (120, 90))  # read by hand, pixel by pixel
    twins = [result(f"coil, {side}", "springs", met("tie rod", 0.0), fixed=fixed) for side in ("left", "right")]
    shots = drawn.access_pictures(scene(), AccessStudy((*FREE, *twins)))
    assert len(shots) == 1  # the mirror image says nothing new
    assert share(shots[0].data, (215, 140, 30)) > 0.01
    assert share(shots[0].data, colour) > 0.01
    other = (160, 28, 28) if not fixed else (35, 95, 165)
    assert share(shots[0].data, other) < 0.001
    assert "coil, left" in shots[0].caption and "tie rod" in shots[0].caption
