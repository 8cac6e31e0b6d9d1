"""A sheet with faults, as far as it can be read, so that contradictions are told with the rest."""

from __future__ import annotations

from typing import Any, cast

from fixturegen.sheet.keys import Key, keys_of
from fixturegen.sheet.specs import Sheet, Spec
from fixturegen.units import BadQuantity
from fixturegen.units.grammar import take


class Unknown(AttributeError):
    """A value that is missing or cannot be read."""


class Draft:
    """Values by name; asking for one that could not be read raises `Unknown`."""

    def __init__(self, values: dict[str, Any]) -> None:
        self.__dict__.update(values)

    def __getattr__(self, name: str) -> Any:
        raise Unknown(name)


def draft_of(values: dict[str, Any]) -> Sheet:
    """A stand-in for the sheet of these raw values; what is missing or wrong raises `Unknown`."""
    return cast(Sheet, _section(values, Sheet))


def _section(values: Any, section: type[Spec]) -> Draft:
    read: dict[str, Any] = {}
    for key in keys_of(section):
        try:
            read[key.field] = _value(values, key)
        except Unknown:
            continue
    return Draft(read)


def _value(values: Any, key: Key) -> Any:
    """The value of one key."""
    if not isinstance(values, dict):
        raise Unknown(key.name)
    if key.name not in values:
        if key.required:
            raise Unknown(key.name)
        default = key.default
        return _one(default, key) if isinstance(default, str | dict) else default
    value = values[key.name]
    if not key.many:
        return _one(value, key)
    if not isinstance(value, list):
        raise Unknown(key.name)
    return tuple(_one(entry, key) for entry in value)


def _one(value: Any, key: Key) -> Any:
    """One value of a key."""
    if key.section is not None:
        if not isinstance(value, dict):
            raise Unknown(key.name)
        return _section(value, key.section)
    if key.dimension is not None:
        try:
            return take(value, key.dimension)
        except BadQuantity:
            raise Unknown(key.name) from None
    if key.choices and value not in key.choices:
        raise Unknown(key.name)
    if not key.choices and type(value) is not key.plain:
        raise Unknown(key.name)
    return value
