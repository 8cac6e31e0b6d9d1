import pytest

from fixturegen.sheet.faults import nearest
from tests.sheet.altered import KINGPIN, by_key, faults, line_with, only, put


def test_a_misspelled_key_gets_the_nearest_and_its_own_missing_is_not_told_twice():
    text = put(KINGPIN, ("wheelbase =", "wheel_base ="))
    fault = only(text)
    assert (fault.key, fault.given, fault.line) == ("vehicle.wheel_base", "112 in", line_with(text, "wheel_base"))
    assert fault.remedy == "there is no such key: did you mean wheelbase?"
    assert "tyre_diameter" in fault.allowed


def test_a_misspelled_section_gets_the_nearest():
    text = put(KINGPIN, ("[third_member]", "[third-member]"))
    fault = only(text)
    assert (fault.key, fault.line) == ("third-member", line_with(text, "[third-member]"))
    assert "did you mean third_member?" in fault.remedy


def test_a_key_of_another_section_is_told_where_it_belongs():
    text = put(KINGPIN, ("[tubes]", '[tubes]\npinion_offset = "3 in"'))
    fault = only(text)
    assert (fault.key, fault.line) == ("tubes.pinion_offset", line_with(text, 'pinion_offset = "3 in"'))
    assert "housing.pinion_offset" in fault.remedy


def test_a_key_like_nothing_is_told_what_there_is():
    fault = only(put(KINGPIN, ("[tubes]", "[tubes]\nzzzz = 1")))
    assert fault.key == "tubes.zzzz"
    assert fault.allowed == "outside_diameter, wall, material, left, right"


def test_the_nearest_of_a_key_prefers_those_that_are_missing():
    assert nearest(("tubes", "lengt")) is None
    assert nearest(("tubes", "left", "lengt")) == ("tubes", "left", "length")
    assert nearest(("vehicle", "wheel_widht"), [("vehicle", "wheel_width")]) == ("vehicle", "wheel_width")


def test_a_missing_key_is_told_range_meaning_and_section():
    text = put(KINGPIN, ('skin = "0.250 in"\n', ""))
    fault = only(text)
    assert (fault.key, fault.given, fault.allowed) == ("housing.skin", "nothing", "0.08 in to 1 in")
    assert fault.line == line_with(text, "[housing]")
    assert fault.remedy == 'add skin = "..." to [housing]: wall thickness'


def test_a_missing_measured_distance_is_never_guessed():
    text = put(KINGPIN, ('bore_distance = "2.372 in +/- 0.002 in"', "#"))
    assert by_key(text, "housing.face.bore_distance").given == "nothing"


def test_a_missing_section_is_told_with_the_keys_it_needs():
    start, end = KINGPIN.index("[tools]"), len(KINGPIN)
    fault = only(KINGPIN[:start] + KINGPIN[end:])
    assert (fault.key, fault.given, fault.line) == ("tools", "nothing", None)
    assert fault.remedy == "add the section [tools] with level_repeatability"


def test_a_missing_list_of_sections_is_told_double_brackets():
    text = KINGPIN[: KINGPIN.index("[[plates]]")] + KINGPIN[KINGPIN.index("[process]") :]
    fault = only(text)
    assert fault.key == "plates"
    assert "[[plates]] with nominal, measured" in fault.remedy


def test_the_wrong_dimension_is_told_which_is_wanted():
    text = put(KINGPIN, ('"112 in"', '"112 deg"'))
    fault = only(text)
    assert (fault.key, fault.given, fault.allowed) == ("vehicle.wheelbase", "112 deg", "60 in to 220 in")
    assert "this takes a length" in fault.remedy
    assert fault.line == line_with(text, '"112 deg"')


@pytest.mark.parametrize("written", ["banana", "3..5 in", "1/0 in", "3,5 in", "1e3 in", "in", ""])
def test_a_nonsense_number_is_told_key_range_and_line(written):
    text = put(KINGPIN, ('"112 in"', f'"{written}"'))
    fault = only(text)
    assert (fault.key, fault.allowed) == ("vehicle.wheelbase", "60 in to 220 in")
    assert fault.line == line_with(text, "wheelbase =")
    assert fault.remedy


def test_a_negative_wall_is_outside_its_range():
    text = put(KINGPIN, ('wall = "0.375 in"', 'wall = "-0.375 in"'))
    fault = only(text)
    assert (fault.key, fault.given, fault.allowed) == ("tubes.wall", "-0.375 in", "0.08 in to 1.5 in")
    assert fault.line == line_with(text, "wall =")


def test_an_entry_of_a_list_is_counted_from_one_and_has_its_own_line():
    text = put(KINGPIN, ('"262 deg"', '"262 in"'))
    fault = only(text)
    assert (fault.key, fault.given) == ("housing.face.studs.angles[8]", "262 in")
    assert fault.line == line_with(text, '"262 in"')


def test_an_entry_of_a_list_of_sections_has_its_own_line():
    text = put(KINGPIN, ('measured = "0.378 in"', 'measured = "0.378 deg"'), ('measured = "0.251 in"\n', ""))
    assert [(f.key, f.line) for f in faults(text)] == [
        ("plates[2].measured", line_with(text, '"0.378 deg"')),
        ("plates[3].measured", line_with(text, 'nominal = "1/4 in"') - 1),
    ]


def test_a_wrong_choice_gets_the_nearest():
    text = put(KINGPIN, ('position = "front"', 'position = "frnt"'))
    fault = only(text)
    assert (fault.key, fault.given, fault.allowed) == ("axle.position", "frnt", "front or rear")
    assert fault.remedy == "did you mean front?"


def test_a_value_where_a_section_is_wanted():
    text = put(KINGPIN, ("schema = 1", "schema = 1\ntools = 5"))
    text = text[: text.index("[tools]")]
    fault = only(text)
    assert (fault.key, fault.given, fault.line) == ("tools", "5", line_with(text, "tools = 5"))
    assert "write [tools] once" in fault.remedy


def test_double_brackets_where_single_ones_are_wanted():
    text = put(KINGPIN, ("[bar]", "[[bar]]"))
    fault = by_key(text, "bar")
    assert "write [bar] once, with single brackets" in fault.remedy


def test_single_brackets_where_double_ones_are_wanted():
    text = put(KINGPIN, ("[[welded]]", "[welded]"))
    fault = only(text)
    assert (fault.key, fault.line) == ("welded", line_with(text, "[welded]"))
    assert "write [[welded]] with double brackets" in fault.remedy


def test_points_that_are_no_sections_are_told_braces():
    text = put(KINGPIN, ('circle_diameter = "10 1/2 in"', 'points = ["1 in", "2 in", "3 in"]'))
    assert "{ key = ..., key = ... }" in by_key(text, "housing.face.studs.points[1]").remedy


@pytest.mark.parametrize("written, given", [('"8"', '"8"'), ("88", "88"), ("8.5", "8.5"), ("true", "true")])
def test_a_count_is_a_whole_number(written, given):
    fault = only(put(KINGPIN, ("wheel_stud_count = 8", f"wheel_stud_count = {written}")))
    assert (fault.key, fault.given) == ("wheel_ends.wheel_stud_count", given)
    assert fault.allowed == "a whole number from 3 to 12"


def test_a_quoted_true_is_told_to_lose_its_quotes():
    fault = only(put(KINGPIN, ("stacked = true", 'stacked = "true"')))
    assert (fault.key, fault.given, fault.remedy) == ("process.stacked", '"true"', "write true or false without quotes")


def test_three_readings_are_one_too_few():
    text = put(KINGPIN, ('left = ["0.000 in", ', "left = ["))
    fault = only(text)
    assert (fault.key, fault.given) == ("readings.left", "a list of 3")
    assert "too few" in fault.remedy


@pytest.mark.parametrize(
    "old, new, key, remedy",
    [
        ('size = "3/8-24"', 'size = "3/8 coarse"', "housing.face.studs.size", 'write it like "3/8-24" or "M10x1.5"'),
        ('bolt = "1/2-13"', 'bolt = "half inch"', "table.bolt", 'write it like "1/2-13" or "M12"'),
        ('id = "A"', 'id = "../A"', "revision.id", "up to 8 letters, digits, points and hyphens"),
        ('name = "Trail truck, front axle"', 'name = "  "', "job.name", "not blank"),
        ('name = "Trail truck, front axle"', f'name = "{"x" * 61}"', "job.name", "make it shorter"),
        ('name = "Trail truck, front axle"', "name = 5", "job.name", "put quotes round it"),
    ],
)
def test_a_text_of_the_wrong_form_is_told_the_right_one(old, new, key, remedy):
    text = put(KINGPIN, (old, new))
    fault = only(text)
    assert (fault.key, fault.line) == (key, line_with(text, new))
    assert remedy in fault.remedy


def test_a_key_with_odd_signs_is_shown_on_one_line():
    fault = only(put(KINGPIN, ("[tubes]", '[tubes]\n"a\\nb.c" = 1')))
    assert fault.key == 'tubes."a b.c"'
