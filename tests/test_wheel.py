"""The program from its wheel, away from the repository: the shipped tables travel inside.

The wheel is made and unpacked without a network (hatchling is in the `test` extra); the libraries it
needs are those the tests run with.
"""

import json
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.few_brackets import few_brackets

ROOT = Path(__file__).parents[1]
QUIET = {"PIP_DISABLE_PIP_VERSION_CHECK": "1", "PIP_NO_INPUT": "1"}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of this source, made from a copy so that nothing is written into the repository."""
    source = tmp_path_factory.mktemp("source")
    # with the bundle of the 3-D view as it was made when this was installed: it is not made again
    for name in ("fixturegen", "params", "viewer_js"):
        shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__", "node_modules"))
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / name, source)
    target = tmp_path_factory.mktemp("wheel")
    env = {key: value for key, value in os.environ.items() if key != "SOURCE_DATE_EPOCH"}
    done = subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(target)],
        cwd=source, env=env, capture_output=True, text=True,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    (made,) = target.glob("*.whl")
    return made


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which the wheel alone is installed."""
    target = tmp_path_factory.mktemp("installed")
    done = subprocess.run(
        [
            sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--no-index",
            "--target", str(target), str(wheel),
        ],
        env={**os.environ, **QUIET}, capture_output=True, text=True,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return target


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A folder with one sheet, away from the repository."""
    text = few_brackets((ROOT / "examples" / "rear-dropout.toml").read_text("utf-8"))
    (tmp_path / "my-axle.toml").write_text(text, encoding="utf-8")
    return tmp_path


def run(installed: Path, shop: Path, *words: str) -> subprocess.CompletedProcess[str]:
    env = {
        **os.environ, "PYTHONPATH": str(installed), "PYTHONIOENCODING": "utf-8",
        "XDG_CACHE_HOME": str(shop / "cache"), "XDG_STATE_HOME": str(shop / "state"),
    }  # fmt: skip
    return subprocess.run(
        [sys.executable, "-m", "fixturegen.cli.main", *words],
        cwd=shop, env=env, capture_output=True, text=True, encoding="utf-8",
    )  # fmt: skip


def test_the_wheel_holds_every_shipped_table_and_no_test_or_output(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    inside = {n.removeprefix("fixturegen/params/") for n in names if n.startswith("fixturegen/params/")}
    assert inside == {p.name for p in (ROOT / "params").glob("*.toml")}
    assert {n.partition("/")[0] for n in names} == {"fixturegen", "fixturegen-0.1.0.dist-info"}
    view = [
        f"fixturegen/viewer/{name}"
        for name in ("view.html.j2", "bundle/viewer.js", "bundle/loader.js", "bundle/viewer.css")
    ]
    for name in ("fixturegen/schema/summary-1.json", "fixturegen/papers/report.html.j2", *view):
        assert name in names


def test_the_wheel_carries_no_date_of_its_making(wheel: Path) -> None:
    # the builder's own fixed date; the fixture takes a date from outside away
    assert {info.date_time for info in zipfile.ZipFile(wheel).infolist()} == {(2020, 2, 2, 0, 0, 0)}


def test_it_runs_from_where_it_is_installed(installed: Path, shop: Path) -> None:
    code = "import fixturegen, fixturegen.sources as s; print(fixturegen.__file__); print(s.params_folder())"
    env = {**os.environ, "PYTHONPATH": str(installed)}
    done = subprocess.run([sys.executable, "-c", code], cwd=shop, env=env, capture_output=True, text=True, check=True)
    home, tables = (Path(line) for line in done.stdout.splitlines())
    assert home.is_relative_to(installed)
    assert tables == installed / "fixturegen" / "params"


def test_the_console_script_is_installed(installed: Path) -> None:
    found = list((installed / "bin").glob("fixturegen*"))
    entry = next(installed.glob("fixturegen-*.dist-info/entry_points.txt")).read_text("utf-8")
    assert "fixturegen = fixturegen.cli.main:entry" in entry
    assert found or os.name == "nt"


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["--version"], 0, "0.1.0"),
        (["tables"], 0, "tubes"),
        (["tables", "holes"], 0, "source"),
        (["calc"], 0, "bench-caster"),
        (["calc", "hole", "--bolt", "1/2", "--fit", "normal"], 0, "diameter"),
        (["new", "fresh.toml", "--axle", "rear"], 0, "fresh.toml is written"),
        (["check", "my-axle.toml", "--sheet"], 0, "0 failed"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else None,
)  # fmt: skip
def test_a_command_works_away_from_the_repository(
    installed: Path, shop: Path, words: list[str], code: int, said: str
) -> None:
    done = run(installed, shop, *words)
    assert (done.returncode, done.stderr) == (code, "")
    assert said in done.stdout


def test_a_check_from_the_wheel_says_what_the_repository_says(installed: Path, shop: Path) -> None:
    words = ("check", "my-axle.toml", "--sheet", "--json")
    ours = json.loads(run(ROOT, shop, *words).stdout)
    theirs = json.loads(run(installed, shop, *words).stdout)
    assert ours == theirs


def test_an_installation_without_its_tables_says_so(installed: Path, shop: Path, tmp_path: Path) -> None:
    broken = tmp_path / "broken"
    shutil.copytree(installed, broken)
    shutil.rmtree(broken / "fixturegen" / "params")
    done = run(broken, shop, "tables")
    assert done.returncode == 70
    assert "Traceback" not in done.stderr
