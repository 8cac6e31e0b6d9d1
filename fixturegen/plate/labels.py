"""Titles of parts: two different parts of a job never share one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from fixturegen.plate.part import Part

SPOKEN = {"in": "inner", "out": "outer", "l": "left", "r": "right"}


def told_apart(parts: Sequence[Part]) -> tuple[Part, ...]:
    """The parts in their order; where several share a title, each says in words what its name has of its own.

    Args:
        parts: Of one kind or of several.
    """
    names: dict[str, list[str]] = defaultdict(list)
    for part in parts:
        if part.name not in names[part.label]:
            names[part.label].append(part.name)
    return tuple(
        replace(p, label=f"{p.label}, {_own(p.name, names[p.label])}") if len(names[p.label]) > 1 else p for p in parts
    )


def _own(name: str, names: Sequence[str]) -> str:
    """The words of a name that the others do not begin or end with."""
    split = [n.split("-") for n in names]
    least = min(len(s) for s in split)
    front = next((k for k in range(least) if len({s[k] for s in split}) > 1), least)
    back = next((k for k in range(least - front) if len({s[-1 - k] for s in split}) > 1), least - front)
    words = name.split("-")
    own = words[front : len(words) - back] or words
    return " ".join(SPOKEN.get(w, w) for w in own)
