"""The shipped tables, read from `params/` and frozen; every entry carries source and trust."""

from __future__ import annotations

import types
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Annotated, Any, TypeVar, Union, get_args, get_origin, get_type_hints

from fixturegen.errors import EXIT_INPUT, Fault, FixturegenError, ProgramFault
from fixturegen.findings import Trust
from fixturegen.sources import params_folder, read_params, sources
from fixturegen.stock.records import (
    AxleFamily,
    Bolt,
    ClearanceHole,
    CutProcess,
    CutTolerance,
    Dowel,
    DrillSeries,
    EdgeDistance,
    Entry,
    FabTable,
    FilletSize,
    Fit,
    GaugeSet,
    Grade,
    Head,
    Material,
    PlateName,
    Ratchet,
    Socket,
    Tube,
)
from fixturegen.units import BadQuantity, Dimension, take

__all__ = [
    "AxleFamily",
    "Bolt",
    "ClearanceHole",
    "CutProcess",
    "CutTolerance",
    "Dowel",
    "DrillSeries",
    "EdgeDistance",
    "Entry",
    "FabTable",
    "FilletSize",
    "Fit",
    "GaugeSet",
    "Grade",
    "Head",
    "Material",
    "NotInTable",
    "PlateName",
    "Ratchet",
    "Socket",
    "StockTable",
    "Tube",
    "entry",
    "params_folder",
    "read_table",
    "table",
    "table_names",
]

_RECORDS: Mapping[str, type[Entry]] = MappingProxyType(
    {
        "axles": AxleFamily,
        "bolt-grades": Grade,
        "bolts": Bolt,
        "cut-tolerances": CutTolerance,
        "dowels": Dowel,
        "drills": DrillSeries,
        "edge-distances": EdgeDistance,
        "fillets": FilletSize,
        "fits": Fit,
        "gauge-sets": GaugeSet,
        "heads": Head,
        "holes": ClearanceHole,
        "materials": Material,
        "plates": PlateName,
        "processes": CutProcess,
        "ratchets": Ratchet,
        "sockets": Socket,
        "tables": FabTable,
        "tubes": Tube,
    }
)

_Record = TypeVar("_Record", bound=Entry)


@dataclass(frozen=True)
class StockTable:
    """One shipped table.

    Attributes:
        name: Its file in `params/` and its name on the command line.
        title: In words.
        note: What to know before using it.
        entries: By id, in the order of the file.
    """

    name: str
    title: str
    note: str
    entries: Mapping[str, Entry]


class NotInTable(FixturegenError, KeyError):
    """A name that is not in a shipped table; exit 2.

    Attributes:
        given: The name asked for.
        allowed: The names there are.
        remedy: What to do.
        faults: The same as a fault, for whoever does not know the key.
    """

    exit_code = EXIT_INPUT

    def __init__(self, given: str, names: list[str], remedy: str) -> None:
        self.given, self.allowed, self.remedy = given, ", ".join(names), remedy
        self.faults = (Fault("table entry", given, self.allowed, remedy),)
        super().__init__(f"given {given}; allowed: {self.allowed}; {remedy}.")

    def __str__(self) -> str:
        return str(self.args[0])  # KeyError would show the text as a Python literal


def table_names() -> tuple[str, ...]:
    """The names of all shipped tables, in alphabetical order."""
    return tuple(sorted(_RECORDS))


@cache
def table(name: str) -> StockTable:
    """A shipped table, frozen.

    Raises:
        NotInTable: When there is no table of that name.
        ProgramFault: When the shipped file is not right.
    """
    return read_table(name, params_folder())


def entry(name: str, id_: str, record: type[_Record]) -> _Record:
    """One entry of a shipped table.

    Args:
        name: Name of the table.
        id_: Id of the entry.
        record: What the entries of that table are.

    Raises:
        NotInTable: When the table has no such entry.
    """
    entries = table(name).entries
    found = entries.get(id_)
    if found is None:
        raise NotInTable(id_, list(entries), _remedy(id_, list(entries), f"fixturegen tables {name}"))
    if not isinstance(found, record):
        raise ProgramFault(f"table {name} does not hold {record.__name__}")
    return found


def read_table(name: str, folder: Path) -> StockTable:
    """A table read from a folder, checked and frozen.

    Raises:
        NotInTable: When there is no table of that name.
        ProgramFault: When the file is not right.
    """
    record = _RECORDS.get(name)
    if record is None:
        names = list(table_names())
        raise NotInTable(name, names, _remedy(name, names, "fixturegen tables"))
    raw = read_params(name, folder)
    entries: dict[str, Entry] = {}
    try:
        title, note, rows = str(raw["title"]), str(raw["note"]), list(raw["entry"])
    except (KeyError, TypeError) as error:
        raise ProgramFault(f"{name}.toml has no {error}") from error
    hints = get_type_hints(record, include_extras=True)
    for row in rows:
        new = _record(name, record, hints, row)
        if new.id in entries:
            raise ProgramFault(f"{name}.toml: {new.id} stands twice")
        entries[new.id] = new
    return StockTable(name, title, note, MappingProxyType(entries))


def _remedy(given: str, names: list[str], command: str) -> str:
    """What to do about a name that is not there."""
    near = get_close_matches(given, names, n=1)
    start = f"did you mean {near[0]}? " if near else ""
    return f"{start}see `{command}`"


def _record(name: str, record: type[Entry], hints: dict[str, Any], row: dict[str, Any]) -> Entry:
    """One frozen entry from one row of a file, its fields as the annotations say."""
    where = f"{name}.toml: {row.get('id', 'an entry without id')}"
    unknown = sorted(set(row) - set(hints))
    missing = [f.name for f in fields(record) if f.default is MISSING and f.name not in row]
    if unknown or missing:
        raise ProgramFault(f"{where}: unknown {unknown}, missing {missing}")
    try:
        made = record(**{key: _value(value, hints[key]) for key, value in row.items()})
    except (BadQuantity, TypeError, ValueError) as error:
        raise ProgramFault(f"{where}: {error}") from error
    if made.source not in sources():
        raise ProgramFault(f"{where}: no source is called {made.source}")
    return made


def _value(value: object, hint: Any) -> Any:
    """A value of a file as its annotation wants it."""
    origin = get_origin(hint)
    if origin in (Union, types.UnionType):
        return _value(value, next(a for a in get_args(hint) if a is not type(None)))
    if origin is tuple:
        if not isinstance(value, list):
            raise ValueError(f"{value!r} is not a list")
        return tuple(_value(v, get_args(hint)[0]) for v in value)
    if origin is Annotated:
        marker = get_args(hint)[1]
        if isinstance(marker, Dimension):
            return take(value, marker)
    if hint is Trust:
        return Trust(str(value))
    if not isinstance(value, str):
        raise ValueError(f"{value!r} is not a text")
    return value
