"""A part that no maker can draw is one sentence and an exit code, never a traceback or a folder."""

from pathlib import Path

import pytest

from fixturegen.cli.main import main
from fixturegen.errors import EXIT_HELD, EXIT_INPUT
from tests.sheet.altered import KINGPIN, put

CASES = {
    "a blind cup that opens toward the axle line": (
        [
            (
                'large_end = "outside"\ndepth = "0.750 in"\nthrough = "1 1/4 in"',
                'large_end = "inside"\ndepth = "0.750 in"',
            )
        ],
        "stub-lower: a blind cup bore that opens toward the axle line",
    ),
    "a bar too thick for a nut beside it": (
        [('pivot_spread = "7 in"', 'pivot_spread = "4 1/2 in"'), ('diameter = "1.500 in" ', 'diameter = "2.000 in" ')],
        "stub-upper: a drawing nut needs",
    ),
}


@pytest.mark.parametrize("command", ["check", "build"])
@pytest.mark.parametrize("name", CASES)
def test_a_part_no_maker_can_draw_is_told_in_a_sentence(
    name: str, command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    changes, words = CASES[name]
    sheet, out = tmp_path / "odd.toml", tmp_path / "job"
    sheet.write_text(put(KINGPIN, *changes), encoding="utf-8")
    place = ["--out", str(out)] if command == "build" else []
    assert main([command, *place, str(sheet)]) in (EXIT_HELD, EXIT_INPUT)
    told = "".join(capsys.readouterr())
    assert words in told
    assert "Traceback" not in told
    assert "fault of the program" not in told
    assert not out.exists()
