"""The page for those who work on the program agrees with what it speaks of."""

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_the_rooms_stand_in_the_rows_that_are_enforced() -> None:
    contract = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    layers = contract["tool"]["importlinter"]["contracts"][0]["layers"]
    enforced = [{r.strip(" ()").removeprefix("fixturegen.") for r in row.split("|")} for row in reversed(layers)]
    rows = re.findall(r"^\| \d+ \| ([^|]+) \|", PAGE, flags=re.MULTILINE)
    told = [set(re.findall(r"`([a-z_]+)/?`", row)) for row in rows]
    assert told == enforced


def test_every_file_and_folder_the_page_names_is_there() -> None:
    named = set(re.findall(r"`((?:tests|params|fixturegen|\.ci|[a-z]+)/[\w/.-]+)`", PAGE))
    promised = {"tests/golden/", "tests/long/"} if "not there yet" in PAGE else set()
    missing = {n for n in named if not any((base / n).exists() for base in (ROOT, ROOT / "fixturegen"))}
    assert missing <= promised


def test_the_page_stays_short_enough_to_be_read() -> None:
    assert len(PAGE.splitlines()) <= 250
