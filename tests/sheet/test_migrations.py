import sys

import pytest

from fixturegen.sheet import migrations, read_text
from tests.sheet.altered import KINGPIN, only, put


@pytest.fixture
def older_steps(tmp_path, monkeypatch):
    """Two steps, found as files: schema 3 is then today's."""
    (tmp_path / "from_1.py").write_text(
        "def migrate(values):\n    values['tubes']['wall'] = values['tubes'].pop('thickness')\n    return values\n"
    )
    (tmp_path / "from_2.py").write_text(
        "def migrate(values):\n    values['vehicle']['wheelbase'] += ' in'\n    return values\n"
    )
    monkeypatch.setattr(migrations, "__path__", [str(tmp_path), *migrations.__path__])
    migrations.steps.cache_clear()
    yield
    migrations.steps.cache_clear()
    for name in ("from_1", "from_2"):
        sys.modules.pop(f"{migrations.__name__}.{name}", None)


def test_schema_one_is_the_first_and_needs_no_step():
    assert migrations.newest() == 1
    values = {"schema": 1, "a": {"b": 1}}
    assert migrations.migrated(values) == values


def test_older_sheets_go_through_each_step_by_file(older_steps):
    assert migrations.newest() == 3
    old = put(KINGPIN, ('wall = "0.375 in"', 'thickness = "0.375 in"'), ('"112 in"', '"112"'))
    sheet = read_text(old)
    assert sheet.schema_ == 3
    assert sheet.tubes.wall.text == "0.375 in"
    assert sheet.vehicle.wheelbase.text == "112 in"


def test_a_sheet_from_between_skips_the_earlier_step(older_steps):
    sheet = read_text(put(KINGPIN, ("schema = 1", "schema = 2"), ('"112 in"', '"112"')))
    assert sheet.vehicle.wheelbase.text == "112 in"


def test_a_sheet_newer_than_the_last_step_is_refused(older_steps):
    fault = only(put(KINGPIN, ("schema = 1", "schema = 4")))
    assert fault.allowed == "1 to 3"
    assert "reads schema 4" in fault.remedy


def test_the_values_given_stay_as_they_are(older_steps):
    values = {"schema": 1, "tubes": {"thickness": "1 in"}, "vehicle": {"wheelbase": "9"}}
    assert migrations.migrated(values)["tubes"] == {"wall": "1 in"}
    assert values["tubes"] == {"thickness": "1 in"}
