"""Bad input about brackets: one sentence each, with both values, what is allowed and what to do."""

import pytest

from fixturegen.sheet.contradictions.brackets import held_names
from fixturegen.sheet.specs import Links
from tests.sheet.altered import KINGPIN, by_key, faults, only, put
from tests.sheet.bracket_cases import BRACKET_PAIRS, TEXT


@pytest.mark.parametrize("name", BRACKET_PAIRS)
def test_a_contradiction_trips_with_both_values_what_is_allowed_and_a_remedy(name):
    text, trips, passes, key, values, allowed = BRACKET_PAIRS[name]
    fault = by_key(put(text, *trips), key)
    for value in values:
        assert value in fault.given
    assert allowed in fault.allowed
    assert fault.remedy and fault.line is not None
    assert key not in [f.key for f in faults(put(text, *passes))]


def test_the_sheet_they_are_tried_on_contradicts_nowhere():
    assert faults(TEXT) == ()


@pytest.mark.parametrize("key", ["width", "body", "shank", "bolt"])
def test_a_joint_without_a_measured_size_is_refused_by_the_name_of_its_key(key):
    line = next(
        row for row in TEXT.split("\n") if row.startswith(f"{key} =") and TEXT.index(row) > TEXT.index("lower joint")
    )
    fault = only(put(TEXT, (line + "\n", "")))
    assert fault.key == f"joints[1].{key}"
    assert fault.remedy


def test_a_bracket_on_a_steering_part_can_be_written_so_that_the_claim_may_speak():
    text = put(TEXT, ('joint = "lower joint"\nplate', 'joint = "lower joint"\non = "tie-rod"\nplate'))
    assert faults(text) == ()


def test_a_sheet_of_brackets_for_links_that_are_there_names_them_all():
    point = {"frame": ["0 in", "10 in", "20 in"], "axle": ["0 in", "20 in", "20 in"]}
    links = Links.model_validate(
        {
            "kind": "three-link",
            "bump": "4 in",
            "droop": "5 in",
            "gravity_height": "34 in",
            "lower": {"left": point},
            "upper": {"middle": point},
            "track_bar": point,
            "struts": [{"name": "shock, front", "kind": "shock", **point}],
        }
    )
    assert held_names(links) == ("lower-left", "lower-right", "upper", "track-bar", "shock, front")


def test_a_bracket_for_a_link_of_another_kind_is_told_which_there_are():
    rows = TEXT[TEXT.index("\n[[joints]]") :]
    rows = put(rows, ('point = ["0 in", "21 in", "22 in"]\ntoward = ["0 in", "20 in", "34 in"]\n', ""))
    text = KINGPIN[: KINGPIN.index("[[joints]]")] if "[[joints]]" in KINGPIN else KINGPIN
    fault = by_key(text.rstrip("\n") + "\n" + rows, "brackets[3].holds")
    assert "lower" in fault.allowed and "track-bar" in fault.allowed
