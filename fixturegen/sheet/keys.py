"""Every key of the sheet as data: where it stands, what it takes, what it means.

Messages, the starter sheet and the list of assumptions are made from this, so they cannot drift
from the specs.
"""

from __future__ import annotations

import types
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from fixturegen.sheet.specs import Spec
from fixturegen.units import Dimension

Path = tuple[str | int, ...]
"""Where a value stands: names of keys, and places in lists from 0."""


@dataclass(frozen=True)
class Key:
    """One key of one section.

    Attributes:
        name: As it is written on the sheet.
        field: Its name in the spec.
        doc: What it means.
        required: Whether it must be on the sheet.
        many: Whether it is a list.
        section: The section it opens, None for a value.
        dimension: What a quantity must be, None for other values.
        choices: What may be written, for a choice.
        default: What is used when it is left out.
        form: Other values: text, whole number, yes or no.
        plain: Their type.
        longest: Most entries of a list, None where there is no limit.
        shortest: Least entries of a list.
    """

    name: str
    field: str
    doc: str
    required: bool
    many: bool
    section: type[Spec] | None
    dimension: Dimension | None
    choices: tuple[Any, ...]
    default: Any
    form: str
    plain: type | None = None
    longest: int | None = None
    shortest: int = 0

    def allowed(self) -> str:
        """What may be written, in words."""
        each = self._each()
        if not self.many:
            return each
        if self.shortest and self.shortest == self.longest:
            return f"a list of {self.shortest}, each {each}"
        return f"a list of up to {self.longest}, each {each}" if self.longest else f"a list of {each}"

    def _each(self) -> str:
        if self.section is not None:
            return "a section"
        if self.dimension is not None:
            return self.dimension.allowed()
        if self.choices:
            return " or ".join(str(c) for c in self.choices)
        return self.form


def _unwrap(field: FieldInfo) -> tuple[Any, bool, list[Any]]:
    """Bare type of a field, whether it is a list, and all that is said beside the type."""
    annotation, beside, many = field.annotation, list(field.metadata), False
    while True:
        origin = get_origin(annotation)
        if origin is Annotated:
            annotation, *said = get_args(annotation)
            beside += said
        elif origin in (Union, types.UnionType):
            annotation = next(a for a in get_args(annotation) if a is not type(None))
        elif origin is tuple:
            annotation, many = get_args(annotation)[0], True
        else:
            return annotation, many, beside


def _form(kind: Any, beside: list[Any]) -> str:
    """Other values in words."""
    if kind is bool:
        return "true or false"
    if kind is int:
        low = next((b.ge for b in beside if getattr(b, "ge", None) is not None), None)
        high = next((b.le for b in beside if getattr(b, "le", None) is not None), None)
        return "a whole number" if low is None else f"a whole number from {low} to {high}"
    longest = next((b.max_length for b in beside if hasattr(b, "max_length")), None)
    return f"a text in quotes, up to {longest} characters" if longest else "a text in quotes"


def _key(name: str, field: FieldInfo) -> Key:
    kind, many, beside = _unwrap(field)
    is_section = isinstance(kind, type) and issubclass(kind, Spec)
    lengths = [b for b in beside if hasattr(b, "max_length")] if many else []
    shortest = [b.min_length for b in beside if hasattr(b, "min_length")] if many else []
    return Key(
        name=field.alias or name,
        field=name,
        doc=field.description or "",
        required=field.is_required(),
        many=many,
        section=kind if is_section else None,
        dimension=next((b for b in beside if isinstance(b, Dimension)), None),
        choices=get_args(kind) if get_origin(kind) is Literal else (),
        default=None if field.is_required() else field.get_default(call_default_factory=True),
        form=_form(kind, beside),
        plain=kind if kind in (str, int, bool) else None,
        longest=lengths[0].max_length if lengths else None,
        shortest=shortest[0] if shortest else 0,
    )


@cache
def keys_of(section: type[Spec]) -> tuple[Key, ...]:
    """The keys of a section, in the order of the sheet."""
    return tuple(_key(name, field) for name, field in section.model_fields.items())


def key_at(top: type[Spec], path: Path) -> Key | None:
    """The key at a path, None where the sheet knows none."""
    section: type[Spec] | None = top
    found: Key | None = None
    for step in path:
        if isinstance(step, int):
            continue
        if section is None:
            return None
        found = next((k for k in keys_of(section) if k.name == step), None)
        if found is None:
            return None
        section = found.section
    return found


def section_at(top: type[Spec], path: Path) -> type[Spec] | None:
    """The section at a path, None where there is none."""
    if not path:
        return top
    found = key_at(top, path)
    return found.section if found else None


def all_keys(top: type[Spec], at: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Key]]:
    """Every key of a sheet with its path, sections before what stands in them."""
    for key in keys_of(top):
        here = (*at, key.name)
        yield here, key
        if key.section is not None:
            yield from all_keys(key.section, here)


def dotted(path: Sequence[str | int]) -> str:
    """A path as it is spoken: `plates[2].nominal` is the nominal of the second plate."""
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            bare = step.replace("_", "").replace("-", "")
            plain = bare.isascii() and bare.isalnum()
            word = step if plain else '"' + shortened(step, 40) + '"'
            text += f".{word}" if text else word
    return text


def shortened(value: object, length: int = 60) -> str:
    """A value on one line, not longer than `length`, control characters shown as blanks."""
    try:
        text = str(value)
    except ValueError:  # an integer too long to be written out
        return "a number of more digits than can be written"
    text = "".join(c if c.isprintable() else " " for c in text[: 4 * length])
    text = " ".join(text.split())
    return text if len(text) <= length else text[: length - 3] + "..."
