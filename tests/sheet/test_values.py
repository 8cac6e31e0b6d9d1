import tomllib

import pytest

from fixturegen.sheet import assumptions, digest, flat, read_text
from fixturegen.units import Measure
from tests.sheet.altered import BALLJOINT, KINGPIN, REAR, put, sheet


def _assumed(text):
    return {key: (used, doc) for key, used, doc in assumptions(read_text(text))}


def test_a_given_measure_is_not_assumed_and_a_default_is():
    found = sheet(KINGPIN, ('feeler = "0.002 in"\n', ""))
    assert found.tools.level_repeatability.assumed is False
    assert found.tools.feeler.assumed is True
    assert found.tools.feeler.text == "0.002 in"
    assert float(found.tools.feeler) == pytest.approx(0.0508)  # 0.002 x 25.4


def test_defaults_of_a_section_left_out_are_assumed():
    assert sheet().jig.tie_radius.assumed is True
    assert sheet(KINGPIN, ("[tools]", '[jig]\ntie_radius = "12 in"\n[tools]')).jig.tie_radius.assumed is False


def test_entries_of_lists_are_marked_one_by_one():
    found = sheet(
        KINGPIN, ('left = { length = "27 11/16 in", insertion = "2 in" }', 'left = { length = "27 11/16 in" }')
    )
    assert found.tubes.left.insertion.assumed is True
    assert found.tubes.right.insertion.assumed is False
    assert all(not angle.assumed for angle in found.housing.face.studs.angles)


def test_marking_keeps_the_values_and_what_was_given():
    found = sheet()
    # the sections another reader of TOML finds in the example, no fewer and no more
    assert found.model_fields_set == {"schema_" if k == "schema" else k for k in tomllib.loads(KINGPIN)}
    assert isinstance(found.jig.tie_radius, Measure)
    assert found == read_text(KINGPIN)


def test_a_face_without_an_angle_is_listed_as_assumed_square():
    text = put(KINGPIN, ('angle = "0.5 deg +/- 0.05 deg"', ""))
    used, doc = _assumed(text)["housing.face.angle"]
    assert used == "assumed square"
    assert "square to the face" in doc
    assert "housing.face.angle" not in _assumed(KINGPIN)


def test_every_default_used_is_listed_with_its_text_and_meaning():
    text = put(
        KINGPIN,
        ('flange_thickness = "3/8 in"\n', ""),
        ('mass = "78 lb"\n', ""),
        ('angle_holes = "mill"\n', ""),
        ("stacked = true\n", ""),
        ('material = "dom-1020"\n', ""),
    )
    found = _assumed(text)
    assert found["housing.face.flange_thickness"] == ("3/8 in", "thickness at the studs")
    assert found["third_member.mass"][0] == "60 lb"
    assert found["process.angle_holes"][0] == "mill"
    assert found["process.stacked"][0] == "yes"
    assert found["tubes.material"][0] == "dom-1020"
    assert found["jig.tie_radius"][0] == "12 in"


def test_what_plays_no_part_on_this_axle_is_not_listed():
    front = put(KINGPIN, ('bolt_head_height = "0 in"\n', ""))
    assert "wheel_ends.end_flange_thickness" not in _assumed(front)
    assert "housing.cover.bolt_head_height" not in _assumed(front)
    assert "knuckles.upper.through" not in _assumed(front)
    assert "knuckles.upper.large_end" not in _assumed(front)
    assert "knuckles.lower.through" in _assumed(put(front, ('through = "1 1/4 in"\n', "")))
    assert "housing.cover.bolt_head_height" in _assumed(put(BALLJOINT, ('bolt_head_height = "0.35 in"\n', "")))
    assert "wheel_ends.end_flange_thickness" in _assumed(put(REAR, ('end_flange_thickness = "12.7 mm"\n', "")))
    assert not [key for key in _assumed(REAR) if key.startswith(("knuckles", "jig.tie"))]


def test_flat_gives_the_persons_own_words_by_dotted_key():
    found = flat(sheet())
    assert found["tubes.left.length"] == "27 11/16 in"
    assert found["housing.face.angle"] == "0.5 deg +/- 0.05 deg"
    assert found["housing.face.studs.angles[2]"] == "46.5 deg"
    assert found["plates[2].measured"] == "0.378 in"
    assert found["process.stacked"] == "true"
    assert found["wheel_ends.wheel_stud_count"] == "8"
    assert found["schema"] == "1"
    assert found["jig.tie_radius"] == "12 in"
    assert "jig.axle_height" not in found
    assert "knuckles.kind" not in flat(sheet(REAR))


def test_the_same_values_in_other_words_have_the_same_digest():
    # 112 in = 9 ft 4 in = 2844.8 mm
    same = [sheet(KINGPIN, ('"112 in"', f'"{text}"')) for text in ("9 ft 4 in", "2844.8 mm", "112.000 in")]
    assert {digest(s) for s in same} == {digest(sheet())}
    assert digest(sheet(KINGPIN, ("# Build sheet", "# My sheet"))) == digest(sheet())


@pytest.mark.parametrize(
    "old, new",
    [
        ('"112 in"', '"112.001 in"'),
        ('"0.5 deg +/- 0.05 deg"', '"0.5 deg +/- 0.06 deg"'),
        ("stacked = true", "stacked = false"),
        ('"14 deg", "46.5 deg"', '"46.5 deg", "14 deg"'),
    ],
)
def test_another_value_has_another_digest(old, new):
    assert digest(sheet(KINGPIN, (old, new))) != digest(sheet())


def test_a_digest_is_sixty_four_hex_digits():
    assert len(digest(sheet())) == 64
    assert int(digest(sheet()), 16) >= 0
