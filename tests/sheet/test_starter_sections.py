"""Sections a fresh sheet leaves out: written whole, read back by a general reader of the format."""

import re
import tomllib

import pytest

from fixturegen.cli.main import cli, main
from fixturegen.sheet.keys import all_keys, key_at
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.starter import LATER, starter
from fixturegen.sheet.starter_sections import section_starter
from fixturegen.sheet.starter_values import Variant
from tests.sheet.altered import faults

CODE = r"^# (?:measure: )?(?=\[+[\w.]+\]|\w+ = )"


def bare(name):
    """The text with the # of every heading and key taken away."""
    return re.sub(CODE, "", section_starter(name), flags=re.MULTILINE)


def walked(value, path=()):
    """Paths of all keys of a read text, without the places in lists."""
    for key, inner in value.items():
        yield (*path, key)
        for entry in inner if isinstance(inner, list) else [inner]:
            if isinstance(entry, dict):
                yield from walked(entry, (*path, key))


@pytest.mark.parametrize("name", LATER)
def test_every_key_of_the_section_is_in_it_with_its_words(name):
    text = section_starter(name)
    for path, key in all_keys(Sheet):
        if path[0] == name and key.section is None:
            assert re.search(rf"^# (measure: )?{key.name} = ", text, re.MULTILINE), path
            assert key.doc.split(";")[0] in text, path
        elif path[0] == name:
            assert re.search(
                rf"^(# )?\[+{re.escape('.'.join(str(p) for p in path if isinstance(p, str)))}\]", text, re.M
            )


@pytest.mark.parametrize("name", LATER)
def test_it_reads_as_it_stands_and_with_every_mark_taken_away(name):
    assert set(tomllib.loads(section_starter(name))) <= {name}
    whole = tomllib.loads(bare(name))
    known = set(walked(whole))
    assert len(known) > 5
    for path in known:
        assert key_at(Sheet, path) is not None, path


def test_links_pasted_into_a_sheet_name_exactly_what_is_still_blank():
    text = starter(Variant(), "Try", filled=True) + section_starter("links")
    blanks = {
        f"links.{m.group(1)}": text[: m.start()].count("\n") + 1
        for m in re.finditer(r"^# measure: (\w+) = ", text, re.MULTILINE)
    }
    assert set(blanks) == {"links.kind", "links.bump", "links.droop", "links.gravity_height"}
    assert {f.key: f.line for f in faults(text)} == blanks


def test_a_fresh_sheet_says_where_the_other_sections_are_and_stays_short():
    text = starter(Variant())
    for name in LATER:
        assert f"\n[{name}" not in text and f"\n# [{name}" not in text
        assert name in text.split("Jobs of their own")[1]
    assert "`fixturegen new links.toml --section links`" in text
    (option,) = [p for p in cli.get_command(None, "new").params if p.name == "section"]
    assert tuple(option.type.choices) == LATER


def test_new_writes_a_section_and_never_over_a_file(tmp_path, capsys):
    path = tmp_path / "links.toml"
    assert main(["new", str(path), "--section", "links"]) == 0
    assert path.read_text(encoding="utf-8") == section_starter("links")
    assert "paste" in capsys.readouterr().out
    assert main(["new", str(path), "--section", "links"]) == 2
    capsys.readouterr()
    assert main(["new", str(tmp_path / "other.toml"), "--section", "links", "--filled"]) == 2
    assert "--filled" in capsys.readouterr().err and not (tmp_path / "other.toml").exists()
