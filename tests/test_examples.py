"""The examples as a newcomer runs them: one command each, and what comes out read by others."""

import csv
import hashlib
import io
import json
import os
import shutil
import subprocess
import sys
import tomllib
from html.parser import HTMLParser
from pathlib import Path

import jsonschema
import pyogrio
import pytest

from fixturegen.write.summary import schema

ROOT = Path(__file__).parents[1]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))


def built(sheet: Path, folder: Path, seed: str) -> subprocess.CompletedProcess[str]:
    """One build in a fresh process, away from the repository, with an empty cache."""
    env = {
        **os.environ, "PYTHONPATH": str(ROOT), "PYTHONHASHSEED": seed, "PYTHONIOENCODING": "utf-8",
        "XDG_CACHE_HOME": str(folder / "cache"), "XDG_STATE_HOME": str(folder / "state"),
    }  # fmt: skip
    return subprocess.run(
        [sys.executable, "-m", "fixturegen.cli.main", "build", sheet.name],
        cwd=folder, env=env, capture_output=True, text=True, encoding="utf-8",
    )  # fmt: skip


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda p: p.stem)
def run(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Path, subprocess.CompletedProcess[str]]:
    return built_once(request.param, tmp_path_factory)


ONCE: dict[Path, tuple[Path, subprocess.CompletedProcess[str]]] = {}


def built_once(
    example: Path, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Path, subprocess.CompletedProcess[str]]:
    """The folder of an example and what its build said; a whole build takes most of a minute."""
    if example not in ONCE:
        folder = tmp_path_factory.mktemp("shop")
        sheet = Path(shutil.copy(example, folder))
        ONCE[example] = (folder / "output" / sheet.stem, built(sheet, folder, "1"))
    return ONCE[example]


def test_an_example_builds_and_every_part_is_released(
    run: tuple[Path, subprocess.CompletedProcess[str]],
) -> None:
    out, done = run
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stderr == ""
    assert "all of bench (" in done.stdout
    assert not (out / "held").exists()


def test_the_summary_obeys_its_schema_and_names_every_file(
    run: tuple[Path, subprocess.CompletedProcess[str]],
) -> None:
    out, _ = run
    body = json.loads((out / "summary.json").read_text("utf-8"))
    jsonschema.validate(body, schema())
    for part in body["parts"]:
        for path in part["files"].values():
            assert (out / path).is_file()
        assert part["status"] == "held" or ("dxf" in part["files"]) == (part["form"] in ("plate", "bent"))
    assert len({p["name"] for p in body["parts"]}) == len(body["parts"])
    for sheet in body["sheets"]:
        assert {"dxf", "picture"} <= set(sheet["files"])
        assert all((out / path).is_file() for path in sheet["files"].values())
    for paper in body["papers"]:
        assert paper["sha256"] == hashlib.sha256((out / paper["path"]).read_bytes()).hexdigest()
    assert all(("template" in p["files"]) == (p["form"] in ("plate", "bent")) for p in body["parts"])
    assert {p["path"] for p in body["papers"]} >= {f"papers/drawings/{p['name']}.pdf" for p in body["parts"]}
    ends = tomllib.loads((out.parents[1] / f"{out.name}.toml").read_text("utf-8")).get("tube_ends", ())
    wraps = sum("tube-end" in p["path"] and p["path"].endswith(".dxf") for p in body["papers"])
    assert wraps == sum(1 + (end.get("cut", "cope") == "cope") for end in ends)  # a cope has the place it lands on too
    assert {"PDF-01", "PDF-02", "PDF-03"} <= {f["code"] for f in body["findings"] if f["level"] == "pass"}
    cut_first = {p["name"] for p in body["parts"] if p["kind"] == "coupons"}
    flat = {p["name"] for p in body["parts"] if p["form"] in ("plate", "bent")}
    assert {put["part"] for sheet in body["sheets"] for put in sheet["placed"]} == flat - cut_first


def test_every_cut_file_is_read_by_another_reader_with_its_layers(
    run: tuple[Path, subprocess.CompletedProcess[str]],
) -> None:
    out, _ = run
    for path in (out / "cut").glob("*.dxf"):
        _, _, geometry, fields = pyogrio.raw.read(path, columns=["Layer"])
        assert len(geometry) > 0
        assert set(fields[0]) <= {"CUT_OUT", "CUT_IN", "MARK", "NOTE"}
        assert "CUT_OUT" in fields[0]


def test_lists_are_tables_and_name_the_long_and_short_tube(
    run: tuple[Path, subprocess.CompletedProcess[str]],
) -> None:
    out, _ = run
    for path in (out / "lists").glob("*.csv"):
        rows = list(csv.reader(io.StringIO(path.read_bytes().decode("utf-8"))))
        assert len({len(row) for row in rows}) == 1, path.name
    tubes = (out / "lists" / "tube-list.csv").read_text("utf-8")
    assert "axle tube" in tubes


def test_no_file_names_a_place_on_this_machine(run: tuple[Path, subprocess.CompletedProcess[str]]) -> None:
    out, _ = run
    places = [str(p).encode() for p in (ROOT, out.parents[1], Path.home())]
    for path in (p for p in out.rglob("*") if p.is_file()):
        data = path.read_bytes()
        assert not any(place in data for place in places if place != b"/"), path.name


class Asked(HTMLParser):
    """What a page would fetch: addresses in its elements, text of its style; and whether the 3-D view stands in it."""

    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self.style, self.view, self._in = "", False, ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._in = tag
        self.links += [value or "" for name, value in attrs if name in ("src", "href", "srcset", "data", "poster")]
        self.view |= ("id", "view") in attrs

    def handle_data(self, data: str) -> None:
        self.style += data if self._in == "style" else ""


def test_the_report_opens_without_a_network(run: tuple[Path, subprocess.CompletedProcess[str]]) -> None:
    out, _ = run
    asked = Asked()
    asked.feed((out / "report.html").read_text("utf-8"))
    assert all(link.startswith(("data:", "#")) for link in asked.links)
    assert "url(" not in asked.style
    assert asked.view


def test_the_report_says_what_clears_what(run: tuple[Path, subprocess.CompletedProcess[str]]) -> None:
    out, _ = run
    page = (out / "report.html").read_text("utf-8")
    section = page.partition("<h2>What clears what</h2>")[2].partition("<h2>")[0]
    for moment in ("ride height", "full bump", "full droop", "crossed up"):
        assert section.count(f"Smallest gap {'' if moment == 'crossed up' else 'at '}{moment}:") == 1
    assert "every one keeps the gap" in section and section.count('<td class="heat"') > 20
    # the whole scene of the tightest pair, and the place of three
    assert section.count("data:image/png;base64,") == 4


def test_the_same_sheet_gives_the_same_bytes_in_another_process(
    tmp_path: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    first, _ = built_once(ROOT / "examples" / "rear-dropout.toml", tmp_path_factory)
    sheet = Path(shutil.copy(ROOT / "examples" / "rear-dropout.toml", tmp_path))
    built(sheet, tmp_path, "2")
    folders = (first, tmp_path / "output" / sheet.stem)
    one, two = ({p.relative_to(f).as_posix(): p.read_bytes() for p in f.rglob("*") if p.is_file()} for f in folders)
    assert set(one) == set(two)
    assert [name for name in one if one[name] != two[name]] == []
