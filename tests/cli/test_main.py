"""Every ending of a run has its exit code and its one clear sentence."""

import errno
import io
import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click
import jsonschema
import pytest

from fixturegen.cli import console, main
from fixturegen.errors import Fault, GeometryFault, InputFault, MachineFault, ProgramFault
from fixturegen.write.summary import schema

ROOT = Path(__file__).parents[2]
OUTPUT = {"$ref": "#/$defs/output", "$defs": schema()["$defs"]}


@pytest.fixture(autouse=True)
def log_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    path = tmp_path / "log" / "fixturegen.log"
    monkeypatch.setattr(console, "log_file", lambda: path)
    yield path


@pytest.fixture
def ending(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Makes the command `toy` end as told, and runs it."""

    def run(what: Any, *arguments: str) -> int:
        @click.command()
        @click.option("--json", "as_json", is_flag=True)
        @click.option("--count", type=int)
        def toy(as_json: bool, count: int | None) -> int | None:
            if isinstance(what, BaseException):
                raise what
            return what

        monkeypatch.setattr(main.LazyGroup, "get_command", lambda *_: toy)
        return main.main(["toy", *arguments])

    return run


@pytest.mark.parametrize(
    ("what", "code", "words"),
    [
        (None, 0, ""),
        (0, 0, ""),
        (1, 1, ""),
        (InputFault(Fault("tube.wall", "-3 mm", "above 0", "measure it", 7)), 2, "tube.wall (line 7)"),
        (click.UsageError("no"), 2, "no"),
        (GeometryFault("plate-a", "too thin", "thicker plate"), 1, "too thin"),
        (MachineFault("job", "in use", "wait"), 3, "in use"),
        (OSError(errno.ENOSPC, "No space left on device", "x.dxf"), 3, "no space left on device"),
        (PermissionError(errno.EACCES, "Permission denied", "sheet.toml"), 3, "sheet.toml"),
        (MemoryError(), 3, "memory"),
        (ImportError("libGL.so.1: cannot open shared object file", name="OCP"), 3, "set up again"),
        (KeyboardInterrupt(), 130, "Interrupted"),
        (click.Abort(), 130, "Interrupted"),
        (ZeroDivisionError("division by zero"), 70, "a fault of the program, not of your sheet"),
        (ProgramFault("a loop is open"), 70, "a fault of the program, not of your sheet"),
        (RecursionError("deep"), 70, "a fault of the program, not of your sheet"),
    ],
    ids=lambda value: type(value).__name__ if isinstance(value, BaseException) else None,
)
def test_every_ending_has_its_exit_code_and_its_sentence(
    ending: Any, capsys: pytest.CaptureFixture[str], what: Any, code: int, words: str
) -> None:
    assert ending(what) == code
    told = capsys.readouterr()
    assert words in told.err
    assert "Traceback" not in told.err + told.out
    assert told.out == ""
    assert told.err.strip().count("\n") == 0

    assert ending(what, "--json") == code
    told = capsys.readouterr()
    if words:
        body = json.loads(told.out)
        jsonschema.validate(body, OUTPUT)
        assert (body["command"], body["exit"]) == ("toy", code)
        assert told.err.strip() == ""


@pytest.mark.parametrize(
    "arguments",
    [["--count", "many"], ["--colour"], ["stray"], ["--count"]],
)
def test_a_wrong_command_line_exits_two_and_names_the_help(
    ending: Any, capsys: pytest.CaptureFixture[str], arguments: list[str]
) -> None:
    assert ending(0, *arguments) == 2
    assert "toy --help" in capsys.readouterr().err


def test_an_unknown_command_is_answered_with_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main.main(["chekc"]) == 2
    assert "Did you mean 'check'?" in capsys.readouterr().err


def test_the_details_of_a_fault_of_the_program_go_to_the_log(
    ending: Any, capsys: pytest.CaptureFixture[str], log_folder: Path
) -> None:
    ending(ZeroDivisionError("division by zero"))
    assert str(log_folder) in capsys.readouterr().err
    assert "Traceback" in log_folder.read_text("utf-8")
    assert "division by zero" in log_folder.read_text("utf-8")


def test_a_log_that_cannot_be_written_is_said(
    ending: Any, capsys: pytest.CaptureFixture[str], log_folder: Path
) -> None:
    log_folder.parent.write_text("a file in the way")
    assert ending(ZeroDivisionError("x")) == 70
    assert "could not be written" in capsys.readouterr().err


def test_help_lists_every_command_with_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main.main(["--help"]) == 0
    text = capsys.readouterr().out
    for name in ("new", "check", "build", "calc", "tables"):
        assert name in main.command_names()
        assert f"  {name} " in text
        assert main.one_line_help(name)
        assert "\n" not in main.one_line_help(name)


def test_a_command_is_found_by_its_file_alone(tmp_path: Path) -> None:
    (tmp_path / "weld_order_command.py").write_text('"""Say what is welded first."""\n')
    assert main.command_names(tmp_path) == ["weld-order"]
    assert main.one_line_help("weld-order", tmp_path) == "Say what is welded first"


@pytest.mark.parametrize("encoding", ["ascii", "cp437", "latin-1", "utf-8", None])
def test_a_console_shows_a_degree_sign_or_writes_deg(encoding: str | None) -> None:
    shown = console.fitted("17.5° ± 0.1 – ok", encoding)
    shown.encode(encoding or "ascii")
    assert "?" not in shown
    assert "17.5°" in shown or "17.5 deg" in shown


def test_letters_a_console_lacks_are_no_crash(monkeypatch: pytest.MonkeyPatch) -> None:
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding="ascii"))
    console.say("Mühle 1/2° \N{SNOWMAN}")
    assert raw.getvalue() == b"M?hle 1/2 deg ?\n"


def test_a_closed_pipe_is_no_fault() -> None:
    script = "import sys; from fixturegen.cli.main import main; sys.exit(main(['tables', 'tubes']))"
    with subprocess.Popen(
        [sys.executable, "-c", script], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as run:
        assert run.stdout is not None
        assert run.stderr is not None
        run.stdout.close()
        told = run.stderr.read()
        assert run.wait() == 0
    assert told == b""
