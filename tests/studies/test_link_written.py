"""Points of a found geometry as text of a sheet: they read back to the same points, and the sheet does the same."""

import copy
import re
import tomllib
from dataclasses import replace

import numpy as np
import pytest

from fixturegen.axle.model import axle_of
from fixturegen.sheet import read_text
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.link_asked import wanted_on
from fixturegen.studies.link_inputs import linkage_on
from fixturegen.studies.link_points import both_ends, with_ends
from fixturegen.studies.link_search import search
from fixturegen.studies.link_study import link_numbers
from fixturegen.studies.link_written import as_written, assumed_tolerances, sheet_text, taken, written
from fixturegen.units import Length, parse
from tests.sheet.altered import KINGPIN
from tests.sheet.altered import REAR as REAR_TEXT
from tests.studies.study_jobs import DROPOUT, EXAMPLES, REAR

INCH = 25.4


def with_tables(text, tables):
    """A sheet's text with whole tables exchanged for those of the same names, as a person pastes them."""
    for table in re.split(r"(?m)^(?=\[)", tables):
        if not table.startswith("["):
            continue
        head = table.partition("]")[0] + "]"
        at = text.index(head + "\n")
        end = text.index("\n[", at + 1)
        text = text[:at] + table.rstrip("\n") + "\n" + text[end:]
    return text


def moved(linkage, shift):
    """Every frame end elsewhere, mirrored points by mirrored ways."""
    ends = both_ends(linkage)
    for i, name in enumerate(linkage.names):
        ends[0, i] += np.array(shift) * ([1.0, -1.0, 1.0] if "right" in name else [1.0, 1.0, 1.0])
    return with_ends(linkage, ends)


@pytest.mark.parametrize("value", [0.0, 514.35, -1840.0, 0.79375, 25.4 / 64, -25.4 * 3 / 64, 12.3456789, 1234.5678])
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_length_reads_back_to_what_a_caliper_tells_apart(value, unit):
    assert float(parse(written(value, unit), Length())) == pytest.approx(value, abs=0.0013)


def test_a_length_is_written_as_the_shop_says_it():
    assert written(514.35, "in") == "20 1/4 in"
    assert written(-25.4 * 3 / 8, "in") == "-3/8 in"
    assert written(514.4, "in") == "20.252 in"
    assert written(512.5, "mm") == "512.5 mm"


@pytest.mark.parametrize(("text", "unit"), [(REAR_TEXT, "mm"), (REAR_TEXT, "in"), (KINGPIN, "in")])
def test_pasted_tables_read_back_to_the_same_points(text, unit):
    sheet = read_text(text)
    axle = axle_of(sheet)
    before = linkage_on(sheet, axle)
    after = as_written(moved(before, (3.3, -7.77, 12.34)), before, unit)
    tables = sheet_text(sheet.links, after, before, unit)
    pasted = read_text(with_tables(text, tables))
    assert linkage_on(pasted, axle) == after
    assert linkage_on(pasted, axle) != before
    assert linkage_on(sheet.model_copy(update={"links": taken(sheet.links, tables)}), axle) == after
    # all that is not a point stays as the person wrote it
    was, now = tomllib.loads(text), tomllib.loads(with_tables(text, tables))
    for values in (was, now):
        for group in ("lower", "upper"):
            for ends in values["links"][group].values():
                ends.pop("frame"), ends.pop("axle")
        values["links"].get("track_bar", {}).pop("frame", None), values["links"].get("track_bar", {}).pop("axle", None)
    assert was == now


def test_points_that_stay_are_not_written():
    sheet = read_text(REAR_TEXT)
    before = linkage_on(sheet, axle_of(sheet))
    assert sheet_text(sheet.links, before, before, "mm") == ""
    ends = both_ends(before)
    ends[0, before.names.index("upper-left")] += [0.0, 0.0, 5.0]
    ends[0, before.names.index("upper-right")] += [0.0, 0.0, 5.0]
    tables = sheet_text(sheet.links, as_written(with_ends(before, ends), before, "mm"), before, "mm")
    assert re.findall(r"(?m)^\[.*\]$", tables) == ["[links.upper.left]"]
    assert '"685 mm"' in tables


def test_a_right_side_that_is_no_mirror_image_any_more_gets_its_own_table():
    sheet = read_text(REAR_TEXT)
    axle = axle_of(sheet)
    before = linkage_on(sheet, axle)
    ends = both_ends(before)
    ends[0, before.names.index("lower-right")] += [0.0, 0.0, 5.0]
    after = as_written(with_ends(before, ends), before, "mm")
    tables = sheet_text(sheet.links, after, before, "mm")
    assert re.findall(r"(?m)^\[.*\]$", tables) == ["[links.lower.right]"]
    other = sheet.model_copy(update={"links": taken(sheet.links, tables)})
    again = linkage_on(other, axle)
    assert [k.frame.point for k in again.links] == [k.frame.point for k in after.links]
    bolts = {k.name: k.frame.bolt for k in again.links}
    assert bolts["lower-right"] == pytest.approx({k.name: k.frame.bolt for k in after.links}["lower-right"])


def test_points_given_in_the_axle_frame_are_written_in_it():
    data = copy.deepcopy(tomllib.loads((EXAMPLES / f"{REAR}.toml").read_text(encoding="utf-8")))
    data["links"]["upper"]["left"].update(at="axle", axle=["10 mm", "130 mm", "220 mm"])
    sheet = Sheet.model_validate(data)
    axle = axle_of(sheet)
    before = linkage_on(sheet, axle)
    link = before.links[before.names.index("upper-left")]
    ends = both_ends(before)
    for side, name in ((1.0, "upper-left"), (-1.0, "upper-right")):
        ends[1, before.names.index(name)] = before.stance.to_vehicle((15.0, side * 120.0, 230.0))
    after = as_written(with_ends(before, ends), before, "mm")
    tables = sheet_text(sheet.links, after, before, "mm")
    assert 'axle = ["15 mm", "120 mm", "230 mm"]' in tables
    assert 'at = "axle"' in tables
    assert link.axle.at == "axle"
    assert linkage_on(sheet.model_copy(update={"links": taken(sheet.links, tables)}), axle) == after


def test_a_geometry_found_does_the_same_once_it_is_on_the_sheet():
    text = REAR_TEXT
    sheet = read_text(text)
    axle = axle_of(sheet)
    wanted = wanted_on(sheet, axle)
    found = search(replace(wanted, keep_out=()), seed=1, evaluations=400, count=2)
    assert found.met
    for geometry in found.geometries:
        pasted = read_text(with_tables(text, sheet_text(sheet.links, geometry.linkage, wanted.linkage, wanted.unit)))
        assert linkage_on(pasted, axle) == geometry.linkage
        # the numbers of the plain study of one linkage, which knows nothing of the search
        numbers = link_numbers(pasted, axle_of(pasted))
        for metric in ("anti_squat", "roll_steer", "roll_centre", "pinion_angle", "wheelbase_change"):
            for pose in ("ride", "bump", "droop"):
                told = numbers[f"links.{metric}.{pose}"].value
                assert told == pytest.approx(geometry.values[f"{metric}.{pose}"], rel=1e-9, abs=1e-8)
        for wish in wanted.wishes:
            assert wish.low <= numbers[f"links.{wish.reading}"].value <= wish.high


def test_found_points_are_whole_steps_of_a_tape():
    sheet = read_text(REAR_TEXT)
    wanted = wanted_on(sheet, axle_of(sheet))
    found = search(replace(wanted, keep_out=()), seed=1, evaluations=400, count=1)
    (geometry,) = found.geometries
    for link in geometry.linkage.links:
        for joint in (link.frame, link.axle):
            tenths = np.array(joint.point) * 10.0
            assert tenths == pytest.approx(np.round(tenths), abs=1e-9)


def test_links_without_a_tolerance_are_named():
    sheet = Sheet.model_validate(tomllib.loads((EXAMPLES / f"{DROPOUT}.toml").read_text(encoding="utf-8")))
    linkage = linkage_on(sheet, axle_of(sheet))
    data = tomllib.loads((EXAMPLES / f"{DROPOUT}.toml").read_text(encoding="utf-8"))
    silent = {k for k, v in (("links.lower.left", data["links"]["lower"]["left"]),) if "tolerance" not in v}
    named = set(assumed_tolerances(sheet.links, linkage))
    assert silent <= named
    data["links"]["lower"]["left"]["tolerance"] = "1/16 in"
    given = Sheet.model_validate(data)
    assert "links.lower.left" not in assumed_tolerances(given.links, linkage_on(given, axle_of(given)))
