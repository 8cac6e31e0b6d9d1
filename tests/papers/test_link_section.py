"""The section of the links in the report: what is in it, what it refuses, what it says of cases that bind."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from fixturegen.errors import InputFault
from fixturegen.papers.link_plots import STYLES
from fixturegen.papers.link_quantities import LinkCase, quantities
from fixturegen.papers.link_section import link_section
from tests.papers import invented_cases as cases
from tests.papers.svg_reading import elements


def captions(section):
    return {re.search('aria-label="([^"]*)"', f.svg).group(1): f.caption for f in section.plots}


def test_every_kind_of_linkage_has_its_views_tables_and_plots():
    for name, case in cases.of_every_kind().items():
        section = link_section((case,))
        assert len(section.views) == 1, name
        assert len(section.plots) >= 10, name
        for figure in (*section.views, *section.plots):
            ET.fromstring(figure.svg)
            assert figure.caption


def test_two_geometries_have_views_side_by_side_and_share_every_plot():
    both = (cases.splayed_case(), cases.flat_case())
    section = link_section(both)
    assert len(section.views) == 2
    for figure in section.plots:
        names = {e[0].text for e in elements(figure.svg, "path") if e.get("class") == "curve"}
        assert names == {"splayed", "flat"}
    assert len(section.plots) == len(link_section(both[:1]).plots)


def test_a_geometry_without_a_number_is_named_under_the_plot():
    bare = LinkCase("bare", replace(cases.sheet_case(cases.KINGPIN).study, steering=None))
    told = captions(link_section((cases.sheet_case(cases.KINGPIN), bare)))
    assert "Not given for bare." in told["Caster, left side over wheel travel"]
    assert "Not given" not in told["Pinion angle over wheel travel"]


def test_a_case_that_binds_is_told_in_the_notes_and_under_its_plots():
    section = link_section((cases.binding_case(),))
    assert any("BINDS" in note and "upper-left" in note for note in section.notes)
    assert "A cross: short cannot go farther." in captions(section)["Pinion angle over wheel travel"]
    free = link_section((cases.splayed_case(),))
    assert not any("BINDS" in note for note in free.notes)
    assert not any("A cross" in f.caption for f in free.plots)


def test_a_line_that_does_not_move_is_called_level():
    # alike on both sides: the axle cannot walk sideways in heave (mirror symmetry)
    told = captions(link_section((cases.splayed_case(),)))
    assert "As good as level: splayed." in told["Sideways shift of the axle over wheel travel"]
    assert "As good as level" not in told["Pinion angle over wheel travel"]


def test_leaf_springs_are_called_approximate():
    case = cases.of_every_kind()["leaf springs"]
    assert any("APPROXIMATE" in note for note in link_section((case,)).notes)


def test_the_caution_stands_on_top():
    assert "trained hands" in link_section((cases.splayed_case(),)).notes[0]


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ((), "0 geometries"),
        (tuple(cases.splayed_case(f"g{i}") for i in range(len(STYLES) + 1)), f"{len(STYLES) + 1} geometries"),
        ((cases.splayed_case("a"), cases.flat_case("a")), "a twice"),
        ((cases.splayed_case("a"), cases.front_case("b")), "a front and a rear axle"),
    ],
    ids=["none", "too many", "one name", "both ends"],
)
def test_geometries_that_cannot_stand_together_are_refused_in_a_sentence(given, words):
    with pytest.raises(InputFault, match=words):
        link_section(given)


def test_as_many_geometries_as_there_are_dashes_can_be_told_apart():
    most = tuple(cases.splayed_case(f"g{i}") for i in range(len(STYLES)))
    figure = link_section(most).plots[0]
    dashes = [e.get("stroke-dasharray") for e in elements(figure.svg, "path") if e.get("class") == "curve"]
    assert len(set(dashes)) == len(STYLES)


def test_the_same_geometry_gives_the_same_section():
    assert link_section((cases.sheet_case(cases.REAR),)) == link_section((cases.sheet_case(cases.REAR),))
    assert link_section((cases.sheet_case(cases.REAR),)) != link_section((cases.sheet_case(cases.REAR),), "mm")


def test_plots_over_heave_roll_and_steer_are_those_the_quantities_ask_for():
    case = cases.sheet_case(cases.KINGPIN)
    asked = sum(bool(q.climb) + bool(q.roll_climb) + bool(q.lock_climb) for q in quantities((case,)))
    assert len(link_section((case,)).plots) == asked
