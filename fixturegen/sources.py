"""Published sources by id, and the folder the shipped tables stand in."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from fixturegen.errors import ProgramFault
from fixturegen.findings import Trust


@dataclass(frozen=True)
class Source:
    """Where a number comes from.

    Attributes:
        id: What code, tables and JSON call it.
        title: The title as a person would ask for it.
        section: Where in it, or what was taken from it.
        trust: How it is held: read in the original, in a copy, derived, practice, memory.
    """

    id: str
    title: str
    section: str
    trust: Trust


def params_folder(package: Path | None = None) -> Path:
    """The folder of shipped tables: inside the package (a wheel) or beside it (a repository).

    Args:
        package: Folder of the package; our own when not given.

    Raises:
        ProgramFault: When there is none: the installation is broken.
    """
    home = package or Path(__file__).parent
    for folder in (home / "params", home.parent / "params"):
        if (folder / "sources.toml").is_file():
            return folder
    raise ProgramFault("the shipped tables (params) are missing: install fixturegen again")


def read_params(name: str, folder: Path | None = None) -> dict[str, Any]:
    """The parsed TOML of one shipped table.

    Raises:
        ProgramFault: When it cannot be read: the installation is broken.
    """
    path = (folder or params_folder()) / f"{name}.toml"
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise ProgramFault(f"the shipped table {path.name} cannot be read: {error}") from error


def read_sources(folder: Path | None = None) -> Mapping[str, Source]:
    """Every source in a folder of tables, by id.

    Raises:
        ProgramFault: When an entry is not complete or an id stands twice.
    """
    found: dict[str, Source] = {}
    for row in read_params("sources", folder).get("source", []):
        try:
            new = Source(**{**row, "trust": Trust(row["trust"])})
        except (KeyError, TypeError, ValueError) as error:
            raise ProgramFault(f"a source in sources.toml is not complete: {error}") from error
        if new.id in found:
            raise ProgramFault(f"the source {new.id} stands twice in sources.toml")
        found[new.id] = new
    return MappingProxyType(found)


@cache
def sources() -> Mapping[str, Source]:
    """Every shipped source, by id."""
    return read_sources()


def source(id_: str) -> Source:
    """One shipped source.

    Raises:
        ProgramFault: When no source has that id: only code and shipped tables name sources.
    """
    try:
        return sources()[id_]
    except KeyError:
        raise ProgramFault(f"no source is called {id_}") from None


def cite(id_: str, section: str = "") -> str:
    """A source in one line of words: title and section.

    Args:
        id_: Id of the source.
        section: Another section than the one on file.
    """
    found = source(id_)
    where = section or found.section
    return f"{found.title}, {where}" if where else found.title
