import pytest

from tests.sheet.altered import KINGPIN, by_key, faults, line_with, only, put

WHEELBASE = 'wheelbase = "112 in"'


@pytest.mark.parametrize(
    "written, remedy",
    [
        ('"3 1/2""', 'write in for it inside the quotes, as in "3 1/2 in"'),
        ('"3.5"" # tape', 'write in for it inside the quotes, as in "3.5 in"'),
        ("'5' 6''", "write in for it inside the quotes"),
        ("3.5 in", 'put quotes round it: "3.5 in"'),
        ("3 1/2 in", 'put quotes round it: "3 1/2 in"'),
        ("3.5 in # tape", 'put quotes round it: "3.5 in"'),
        ("17°", 'put quotes round it: "17°"'),
        ('3.5"', 'put quotes round it: "3.5 in"'),
        ("9' 4\"", 'put quotes round it: "9 ft 4 in"'),
        ("3 1/2", 'put quotes round it with a unit behind the number: "3 1/2 in"'),
        ("112,5", "write a decimal point, not a comma"),
        ('"112" in', "put all of it inside the quotes"),
        ("“112 in”", "use the straight quotes of the keyboard"),
        ("about 112", 'put quotes round it: "about 112"'),
        ('"112 in', "the closing quote is missing"),
        ("'112 in", "the closing quote is missing"),
        ("", "there is no value behind the ="),
        ("{ low = 1", "write all that is in them on one line"),
    ],
)
def test_a_slip_in_a_quantity_has_a_sentence_of_its_own(written, remedy):
    text = put(KINGPIN, (WHEELBASE, f"wheelbase = {written}"))
    fault = only(text)
    assert (fault.key, fault.line) == ("vehicle.wheelbase", line_with(text, "wheelbase ="))
    assert remedy in fault.remedy


def test_a_number_without_quotes_is_told_quotes_and_unit():
    text = put(KINGPIN, (WHEELBASE, "wheelbase = 3.5"))
    fault = only(text)
    assert (fault.key, fault.given, fault.allowed) == ("vehicle.wheelbase", "3.5", "60 in to 220 in")
    assert "put quotes round it and a unit behind it" in fault.remedy
    assert fault.line == line_with(text, "wheelbase =")


@pytest.mark.parametrize("written", [r'"C:\jobs\axle"', r'"C:\Users\me"', r'"C:\table\rear"'])
def test_a_backslash_path_in_double_quotes_is_told_to_use_slashes(written):
    text = put(
        KINGPIN,
        ("[job]\n", "[job]\n"),
        (
            'notes = "Inner knuckles cut off and turned. Truss and link tabs come after the knuckles are set."',
            f"notes = {written}",
        ),
    )
    fault = only(text)
    assert (fault.key, fault.line) == ("job.notes", line_with(text, "notes ="))
    assert "write / instead, or put the text in single quotes" in fault.remedy


def test_a_backslash_path_in_single_quotes_reads():
    assert (
        faults(
            put(KINGPIN, ('units = "in"', 'units = "in"'), ('name = "Trail truck, front axle"', r"name = 'C:\jobs'"))
        )
        == ()
    )


def test_an_inch_mark_in_single_quotes_reads():
    assert faults(put(KINGPIN, (WHEELBASE, "wheelbase = '112\"'"))) == ()


def test_a_line_break_in_braces_is_told_once_where_the_brace_opens():
    text = put(KINGPIN, ('left = { length = "27 11/16 in", ', 'left = { length = "27 11/16 in",\n  '))
    fault = only(text)
    assert (fault.key, fault.line) == ("tubes.left", line_with(text, "left = {"))
    assert "a line break stands inside the braces" in fault.remedy


def test_an_unquoted_quantity_in_braces_is_found():
    text = put(KINGPIN, ('left = { length = "27 11/16 in"', "left = { length = 27 11/16 in"))
    fault = only(text)
    assert (fault.key, fault.line) == ("tubes.left", line_with(text, "left = {"))
    assert '"27 11/16 in"' in fault.remedy


@pytest.mark.parametrize(
    "old, new, remedy",
    [
        ('"14 deg", "46.5', '14 deg, "46.5', '"14 deg"'),
        ('"14 deg", "46.5', '"14"", "46.5', "inch mark"),
        ('"14 deg", "46.5', '"14 deg" "46.5', "a comma is missing"),
    ],
)
def test_a_slip_in_a_list_over_several_lines_has_its_own_line(old, new, remedy):
    text = put(KINGPIN, (old, new))
    fault = only(text)
    assert (fault.key, fault.line) == ("housing.face.studs", line_with(text, new))
    assert remedy in fault.remedy


def test_every_slip_is_told_at_once():
    text = put(
        KINGPIN,
        (WHEELBASE, "wheelbase = 112 in"),
        ('skin = "0.250 in"', 'skin = "1/4""'),
        ("stacked = true", "stacked = yes"),
    )
    assert [f.key for f in faults(text)] == ["vehicle.wheelbase", "housing.skin", "process.stacked"]


@pytest.mark.parametrize("word", ["True", "yes", "off"])
def test_yes_and_no_are_told_true_and_false(word):
    fault = only(put(KINGPIN, ("stacked = true", f"stacked = {word}")))
    assert (fault.key, fault.allowed) == ("process.stacked", "true or false")


def test_an_unquoted_word_is_told_quotes():
    fault = only(put(KINGPIN, ('angle_holes = "mill"', "angle_holes = mill")))
    assert (fault.key, fault.remedy) == ("process.angle_holes", 'put quotes round it: "mill"')


def test_a_colon_is_told_the_equals_sign():
    text = put(KINGPIN, (WHEELBASE, 'wheelbase: "112 in"'))
    fault = only(text)
    assert (fault.key, fault.line) == ("vehicle.wheelbase", line_with(text, "wheelbase:"))
    assert 'wheelbase = "112 in"' in fault.remedy


def test_an_open_section_head_is_told_to_close():
    text = put(KINGPIN, ("[tubes]", "[tubes"))
    fault = only(text)
    assert (fault.key, fault.line, fault.remedy) == ("tubes", line_with(text, "[tubes"), "close the brackets: [tubes]")


def test_a_key_given_twice_is_named_with_its_section():
    text = put(KINGPIN, ('rake = "0.5 deg"', 'rake = "1 deg"\nrake = "0.5 deg"'))
    fault = only(text)
    assert (fault.key, fault.line) == ("vehicle.rake", line_with(text, 'rake = "0.5 deg"'))
    assert "stands on the sheet twice" in fault.remedy


def test_a_section_given_twice_is_named():
    text = put(KINGPIN, ("[table]", "[job]\n[table]"))
    fault = only(text)
    assert (fault.key, fault.line) == ("job", [n for n, x in enumerate(text.split("\n"), 1) if x == "[job]"][1])


def test_any_other_broken_line_is_shown_with_its_number():
    text = put(KINGPIN, ("[tubes]", "= 5\n[tubes]"))
    fault = only(text)
    assert (fault.key, fault.line, fault.given) == ("sheet", line_with(text, "= 5"), "= 5")


def test_slips_inside_a_text_of_several_lines_are_no_slips():
    notes = 'notes = """\nwall = 3 1/2 in\n"""\n'
    text = put(KINGPIN, ('units = "in"\n', ""), ("[revision]", notes.replace("notes", "units") + "[revision]"))
    text = put(text, ("[tubes]", "[tubes"))
    assert [f.key for f in faults(text)] == ["tubes"]


def test_a_good_line_is_never_blamed():
    text = put(KINGPIN, ("[tubes]", "[tubes"), (WHEELBASE, "wheelbase = '112\"'  # 9' 4\" by tape"))
    assert by_key(text, "tubes")
    assert len(faults(text)) == 1
