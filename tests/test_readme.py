"""Every command of the README run as it is printed, in the order it is printed, with the exit code it tells."""

import re
import shlex
import tomllib
from pathlib import Path

import pytest

from fixturegen import errors
from fixturegen.cli.main import command_names, main
from tests.few_brackets import few_brackets

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
SHEET = "my-axle.toml"


def section(title: str) -> str:
    return README.partition(f"\n## {title}\n")[2].partition("\n## ")[0]


def cheat_sheet() -> list[str]:
    """The command lines of the table, top to bottom."""
    rows = [line for line in section("Cheat sheet").splitlines() if line.startswith("|")][2:]
    return [c for row in rows for c in re.findall(r"`([^`]+)`", row.split("|")[2]) if c.startswith("fixturegen ")]


COMMANDS = cheat_sheet()


def run(line: str) -> int:
    program, *words = shlex.split(line)
    assert program == "fixturegen"
    return main(words)


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a sheet filled in, as it is when the later rows are typed."""
    folder = tmp_path_factory.mktemp("shop")
    # `clear` needs what is in the way; whole examples are built in `test_examples`
    text = few_brackets((ROOT / "examples" / "rear-dropout.toml").read_text("utf-8"), leave=("clearance",))
    for name in (SHEET, "other.toml"):
        (folder / name).write_text(text, encoding="utf-8")
    return folder


@pytest.fixture
def here(shop: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(shop)
    return shop


def test_the_cheat_sheet_shows_every_command() -> None:
    assert {shlex.split(line)[1] for line in COMMANDS} == set(command_names())
    assert len(COMMANDS) == len(set(COMMANDS))


def test_a_fresh_sheet_is_written_once_and_answers_check_with_what_to_measure(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    new = next(line for line in COMMANDS if line.startswith(f"fixturegen new {SHEET}"))
    assert run(new) == 0
    assert run(new) == 2
    assert (tmp_path / SHEET).is_file()
    capsys.readouterr()
    assert "fresh from `new` answers `check` with 2" in " ".join(section("Cheat sheet").split())
    assert run(f"fixturegen check {SHEET} --sheet") == 2
    assert "tubes.outside_diameter" in capsys.readouterr().err


@pytest.mark.parametrize("line", [c for c in COMMANDS if SHEET not in c])
def test_a_line_without_a_sheet_ends_with_0(line: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(line) == 0


@pytest.mark.parametrize("line", [c for c in COMMANDS if SHEET in c and " new " not in c])
def test_a_line_on_a_sheet_filled_in_ends_with_0(line: str, here: Path) -> None:
    before = {p.name for p in here.iterdir()}
    assert run(line) == 0
    if " check " in line:
        assert {p.name for p in here.iterdir()} == before
    if " build " not in line:
        return
    words = shlex.split(line)
    out = here / (words[words.index("--out") + 1] if "--out" in words else f"output/{Path(SHEET).stem}")
    unit = words[words.index("--units") + 1] if "--units" in words else ""
    assert (out / "report.html").is_file()
    cut = [p.name for p in (out / "cut").iterdir()]
    assert cut
    assert all(n.endswith(f"_{unit}.dxf") for n in cut if unit)


def test_a_row_of_the_table_may_be_asked_for_as_json(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "add `--json` to `check`, `build`, `calc`, `tables`" in section("Cheat sheet")
    for line in (f"fixturegen check {SHEET} --sheet", "fixturegen calc", "fixturegen tables"):
        assert run(f"{line} --json") == 0
        assert capsys.readouterr().out.startswith("{")


def test_the_exit_codes_told_are_those_there_are() -> None:
    told = section("Cheat sheet").partition("Exit codes: ")[2].partition(". A sheet fresh")[0]
    codes = {int(n) for n in re.findall(r"(?:^|; |\s)(\d+) ", told)}
    assert codes == {getattr(errors, name) for name in dir(errors) if name.startswith("EXIT_")}


def test_the_two_lines_of_set_up_name_what_is_there() -> None:
    text = section("Two lines from a fresh machine")
    lines = [line.strip() for line in text.splitlines() if line.startswith("    ")]
    assert len(lines) == 4  # two for Linux and macOS, two for Windows
    assert all("-c .ci/constraints.txt" in line and '".[test]"' in line for line in lines[::2])
    for path in (".ci/constraints.txt", "examples/front-dropout-kingpin.toml"):
        assert (ROOT / path).is_file()
    assert all("build examples/front-dropout-kingpin.toml" in line for line in lines[::2])
    assert all(line.endswith("-m pytest -n 2") for line in lines[1::2])


def test_the_system_libraries_told_are_those_the_script_installs() -> None:
    told = {n for part in re.findall(r"`(lib[^`]+)`", README) for n in part.split()}
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    installed = script.partition("--no-install-recommends")[2].partition(">/dev/null")[0]
    assert told == set(re.findall(r"\blib\S+", installed))


def test_every_library_of_the_project_has_its_exact_version_in_the_constraints() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    names = {re.split(r"[><=\[]", w)[0].lower().replace("_", "-") for w in wanted}
    lines = (ROOT / ".ci" / "constraints.txt").read_text(encoding="utf-8").splitlines()
    fixed = {line.partition("==")[0].lower() for line in lines if "==" in line}
    assert names <= fixed, sorted(names - fixed)


def test_the_values_shown_as_good_are_read_and_a_bare_number_is_not() -> None:
    from fixturegen.units import Angle, BadQuantity, Length, parse

    shown = re.findall(r'`"([^"`]+)"`', section("How to write a value"))
    assert len(shown) >= 7
    for text in shown:
        parse(text, Angle("-90 deg", "90 deg") if text.endswith("deg") else Length("0 in", "10 ft"))
    with pytest.raises(BadQuantity):
        parse("3.25", Length("0 in", "10 ft"))
