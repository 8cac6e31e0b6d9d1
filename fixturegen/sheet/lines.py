"""Where on the sheet each key stands; only wanted once something is wrong."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from fixturegen.sheet.keys import Path

if TYPE_CHECKING:
    from tree_sitter import Node

_BLANK = re.compile(r"# measure: (\w+) =")  # a blank of the starter sheet


def lines_of(text: str) -> dict[Path, int]:
    """Line, from 1, of every section, key and list entry of a sheet; whatever of it can be read."""
    import tree_sitter_toml
    from tree_sitter import Language, Parser

    root = Parser(Language(tree_sitter_toml.language())).parse(text.encode("utf-8")).root_node
    found: dict[Path, int] = {}
    counted: dict[Path, int] = {}
    for node in root.named_children:
        if node.type == "pair":
            _pair(node, (), found)
        elif node.type in ("table", "table_array_element"):
            _table(node, found, counted)
    return found


def line_of(lines: dict[Path, int], path: Path) -> int | None:
    """Line of a key, or of the nearest section round it; None when even that is missing."""
    for end in range(len(path), 0, -1):
        if path[:end] in lines:
            return lines[path[:end]]
    return None


def _table(node: Node, found: dict[Path, int], counted: dict[Path, int]) -> None:
    """One `[section]` or `[[section]]` and all that stands in it."""
    heads = [n for n in node.named_children if n.type in ("bare_key", "quoted_key", "dotted_key")]
    if not heads:
        return
    path: Path = ()
    names = _names(heads[0])
    for place, name in enumerate(names):
        path = (*path, name)
        last = place == len(names) - 1
        found.setdefault(path, _line(node))
        if last and node.type == "table_array_element":
            counted[path] = counted.get(path, -1) + 1
        if path in counted:
            path = (*path, counted[path])
            found.setdefault(path, _line(node))
    for child in node.named_children:
        if child.type == "pair":
            _pair(child, path, found)
        elif child.type == "comment" and (blank := _BLANK.match((child.text or b"").decode())):
            found.setdefault((*path, blank.group(1)), _line(child))


def _pair(node: Node, prefix: Path, found: dict[Path, int]) -> None:
    """One `key = value`."""
    parts = [n for n in node.named_children if n.type != "comment"]
    if not parts:
        return
    path = prefix
    for name in _names(parts[0]):
        path = (*path, name)
        found.setdefault(path, _line(node))
    if len(parts) > 1:
        _value(parts[1], path, found)


def _value(node: Node, path: Path, found: dict[Path, int]) -> None:
    """What stands in a list or in braces."""
    if node.type == "inline_table":
        for child in node.named_children:
            if child.type == "pair":
                _pair(child, path, found)
    elif node.type == "array":
        entries = [n for n in node.named_children if n.type != "comment"]
        for place, child in enumerate(entries):
            found.setdefault((*path, place), _line(child))
            _value(child, (*path, place), found)


def _names(node: Node) -> list[str]:
    """The parts of a key."""
    if node.type == "dotted_key":
        return [name for child in node.named_children for name in _names(child)]
    text = (node.text or b"").decode("utf-8", "replace")
    return [text[1:-1] if node.type == "quoted_key" else text]


def _line(node: Node) -> int:
    return int(node.start_point[0]) + 1
