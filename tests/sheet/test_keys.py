import pytest

from fixturegen.sheet.keys import all_keys, dotted, key_at, section_at, shortened
from fixturegen.sheet.specs import Sheet, Studs
from fixturegen.units.grammar import take


def test_every_key_says_what_it_means():
    silent = [path for path, key in all_keys(Sheet) if not key.doc and key.section is None and path != ("schema",)]
    assert silent == []


def test_every_section_says_what_it_is_about():
    assert [path for path, key in all_keys(Sheet) if key.section and not key.section.__doc__] == []


def test_every_default_lies_inside_its_own_range():
    for path, key in all_keys(Sheet):
        if key.dimension is not None and isinstance(key.default, str):
            assert take(key.default, key.dimension).text == key.default, path


def test_every_quantity_has_both_ends_of_a_range():
    for path, key in all_keys(Sheet):
        if key.dimension is not None:
            assert key.dimension.low, path
            assert key.dimension.high, path


@pytest.mark.parametrize(
    "name",
    [
        *("housing.face.bore_distance", "housing.face.vertical_offset", "housing.face.lateral_offset"),
        *("housing.face.studs.size", "bar.diameter", "bar.free_length", "process.kerf", "table.pin", "table.hole"),
        *("tubes.wall", "knuckles.inclination", "plates.measured", "readings.left", "tools.level_repeatability"),
    ],
)
def test_what_is_measured_has_no_default(name):
    key = key_at(Sheet, tuple(name.split(".")))
    assert key is not None
    assert key.required


def test_a_path_is_spoken_with_entries_counted_from_one():
    assert dotted(("plates", 1, "nominal")) == "plates[2].nominal"
    assert dotted(("a b", "c")) == '"a b".c'
    assert dotted(()) == ""


def test_a_path_leads_to_its_key_and_section():
    assert key_at(Sheet, ("housing", "face", "studs", "points", 3, "y")).allowed() == "-12 in to 12 in"
    assert section_at(Sheet, ("housing", "face", "studs")) is Studs
    assert section_at(Sheet, ()) is Sheet
    assert key_at(Sheet, ("housing", "nose")) is None
    assert key_at(Sheet, ("schema", "nose")) is None


def test_what_is_allowed_is_said_for_lists_choices_and_texts():
    assert key_at(Sheet, ("readings", "left")).allowed() == "a list of 4, each -0.5 in to 0.5 in"
    assert key_at(Sheet, ("axle", "position")).allowed() == "front or rear"
    assert key_at(Sheet, ("job", "name")).allowed() == "a text in quotes, up to 60 characters"
    assert key_at(Sheet, ("process", "stacked")).allowed() == "true or false"


def test_long_and_odd_values_are_shown_on_one_short_line():
    assert shortened("a\nb\tc\x07") == "a b c"
    assert len(shortened("x" * 500)) == 60
    assert "digits" in shortened(10**5000)
