"""Published sources by id."""

import re
from pathlib import Path

import pytest

import fixturegen
from fixturegen.errors import ProgramFault
from fixturegen.findings import Trust
from fixturegen.sources import cite, params_folder, read_sources, source, sources

GOOD = '[[source]]\nid = "a"\ntitle = "A"\nsection = "1"\ntrust = "memory"\n'


def test_every_source_has_a_title_and_says_how_it_is_held():
    for found in sources().values():
        assert re.fullmatch(r"[a-z0-9.-]+", found.id)
        assert found.title
        assert "; " not in found.title + found.section  # the sign between two citations
        assert isinstance(found.trust, Trust)


def test_nothing_is_called_read_in_the_original():
    # no original standard has been at hand; a person who holds one may change its entry
    assert all(s.trust is not Trust.STANDARD_READ for s in sources().values())


def test_a_source_is_cited_with_its_section_or_another():
    assert cite("machinerys-31") == "Machinery's Handbook, 31st edition, Sine bar, p. 695"
    assert cite("machinerys-31", "p. 1421") == "Machinery's Handbook, 31st edition, p. 1421"
    assert cite("practice") == "Common practice, no source"


def test_an_unknown_source_is_a_fault_of_the_program():
    with pytest.raises(ProgramFault, match="no-such"):
        source("no-such")


def test_sources_cannot_be_changed():
    with pytest.raises(TypeError):
        sources()["x"] = source("memory")
    with pytest.raises(AttributeError):
        source("memory").title = "x"


def test_the_tables_are_found_inside_the_package_or_beside_it(tmp_path):
    package = tmp_path / "fixturegen"
    package.mkdir()
    with pytest.raises(ProgramFault, match="install"):
        params_folder(package)
    for folder in (tmp_path / "params", package / "params"):
        folder.mkdir()
        (folder / "sources.toml").write_text(GOOD, encoding="utf-8")
        assert params_folder(package) == folder
    assert params_folder().parent in Path(fixturegen.__file__).parents


@pytest.mark.parametrize(
    "text",
    [
        GOOD.replace('title = "A"\n', ""),
        GOOD.replace("memory", "hearsay"),
        GOOD + GOOD,
        GOOD + 'extra = "1"\n',
        "[[source]\n",
    ],
)
def test_a_bad_list_of_sources_is_a_fault_of_the_program(tmp_path, text):
    (tmp_path / "sources.toml").write_text(text, encoding="utf-8")
    with pytest.raises(ProgramFault):
        read_sources(tmp_path)


def test_a_missing_list_of_sources_is_a_fault_of_the_program(tmp_path):
    with pytest.raises(ProgramFault, match="cannot be read"):
        read_sources(tmp_path)
