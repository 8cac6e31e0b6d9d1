"""Components on the sheet: each rule at its boundary, and files that are not there."""

import pytest

from fixturegen import pipeline
from fixturegen.errors import SheetFault
from tests.sheet.altered import by_key, faults, line_with, put
from tests.sheet.component_cases import COMPONENT_PAIRS, TEXT


@pytest.mark.parametrize("name", COMPONENT_PAIRS)
def test_a_contradiction_of_a_component_trips_with_what_was_given_its_line_and_a_remedy(name):
    text, trips, passes, key, values, allowed = COMPONENT_PAIRS[name]
    fault = by_key(put(text, *trips), key)
    for value in values:
        assert value in fault.given
    assert fault.allowed == allowed
    assert fault.remedy
    assert fault.line is not None and fault.line > line_with(text, "[[components]]") - 1
    assert key not in [f.key for f in faults(put(text, *passes))]


def test_a_sheet_with_components_of_every_sort_reads():
    assert faults(TEXT) == ()


def test_a_file_that_is_not_there_is_one_sentence_with_its_line(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(TEXT, encoding="utf-8")
    (tmp_path / "coverr.stl").write_bytes(b"x")
    with pytest.raises(SheetFault) as told:
        pipeline.read(path)
    (fault,) = told.value.faults
    assert (fault.key, fault.line) == ("components[2].file", line_with(TEXT, 'file = "cover.stl"'))
    assert "no such file there" in fault.given
    assert "coverr.stl" in fault.remedy
    (tmp_path / "coverr.stl").rename(tmp_path / "cover.stl")
    assert pipeline.read(path).components[1].name == "cover"


def test_a_folder_is_no_file(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(TEXT, encoding="utf-8")
    (tmp_path / "cover.stl").mkdir()
    with pytest.raises(SheetFault, match="a folder"):
        pipeline.read(path)
