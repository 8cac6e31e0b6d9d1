"""The layout as a file beside the build sheet: `<sheet>.layout.json`, the person's own.

The file says what it was made for by a digest of parts, sheets and distances. A build uses it only
while that digest fits; otherwise it is left as it is and told about.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import math
import os
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from fixturegen.errors import MachineFault
from fixturegen.nesting.records import Blank, Layout, Put, StockSheet

SCHEMA = 1
PLACES = 6  # decimals of a length [mm] and an angle [deg] in the file and in the digest
LONGEST = 4 * 1024 * 1024  # bytes; a layout of a thousand parts has a tenth of that

Job = tuple[Sequence[Blank], Sequence[StockSheet], float, float]
"""Parts, sheets, spacing and edge [mm] of one plate."""


def path_of(sheet_path: Path) -> Path:
    """Where the layout of a build sheet is kept; it need not exist."""
    return sheet_path.with_name(f"{sheet_path.stem}.layout.json")


def digest_of(job: Job) -> str:
    """SHA-256 (hex) of what a layout was made for, in an order of its own."""
    blanks, sheets, spacing, edge = job
    body = {
        "blanks": [_rounded(asdict(b)) for b in sorted(blanks, key=lambda b: b.name)],
        "sheets": [_rounded(asdict(s)) for s in sorted(sheets, key=lambda s: s.name)],
        "spacing": round(spacing, PLACES),
        "edge": round(edge, PLACES),
    }
    return hashlib.sha256(json.dumps(body, sort_keys=True).encode()).hexdigest()


def _rounded(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _rounded(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(inner) for inner in value]
    return round(value, PLACES) + 0.0 if isinstance(value, float) else value


def text_of(layouts: Mapping[str, tuple[str, Layout]]) -> str:
    """The file's text: plate (as the sheet calls it) to digest and layout."""
    plates = {
        plate: {
            "digest": digest,
            "spacing_mm": round(layout.spacing, PLACES),
            "edge_mm": round(layout.edge, PLACES),
            "puts": [_rounded(asdict(put)) for put in layout.puts],
            "unplaced": [list(left) for left in layout.unplaced],
        }
        for plate, (digest, layout) in sorted(layouts.items())
    }
    return json.dumps({"schema": SCHEMA, "plates": plates}, indent=1, sort_keys=True, ensure_ascii=True) + "\n"


def read_text(text: str) -> dict[str, tuple[str, Layout]]:
    """Plate to digest and layout; nothing of a text that is no layout of ours.

    A layout only saves time: one that was edited or cut short is worth as much as none, so it is no
    fault. What it says is measured before it is used.
    """
    try:
        body = json.loads(text)
        if body["schema"] != SCHEMA:
            return {}
        return {str(plate): (str(kept["digest"]), _layout(kept)) for plate, kept in body["plates"].items()}
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return {}


def _layout(kept: Mapping[str, Any]) -> Layout:
    puts = tuple(Put(**put) for put in kept["puts"])
    unplaced = tuple((str(name), int(copy)) for name, copy in kept["unplaced"])
    for put in puts:
        if not all(math.isfinite(v) for v in (put.x, put.y, put.angle)):
            raise ValueError("a place that is no number")
    return Layout(puts, unplaced, float(kept["spacing_mm"]), float(kept["edge_mm"]))


def kept(sheet_path: Path) -> dict[str, tuple[str, Layout]]:
    """What is kept beside a build sheet: plate to digest and layout; nothing when nothing is.

    Raises:
        MachineFault: When there is a file that cannot be read.
    """
    path = path_of(sheet_path)
    try:
        if not path.exists():
            return {}
        with path.open("rb") as file:
            data = file.read(LONGEST + 1)
    except OSError as error:
        why = error.strerror or str(error)
        raise MachineFault(str(path), f"a layout that cannot be read ({why})", "look at the file") from error
    return {} if len(data) > LONGEST else read_text(data.decode("utf-8", "replace"))


def keep(sheet_path: Path, layouts: Mapping[str, tuple[str, Layout]]) -> Path:
    """Write the layout beside the build sheet, whole or not at all, and give its path.

    Raises:
        MachineFault: When it cannot be written; an older one stays as it was.
    """
    path = path_of(sheet_path)
    name = ""
    try:
        handle, name = tempfile.mkstemp(prefix=".", suffix=".part", dir=path.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(text_of(layouts).encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())
        Path(name).chmod(0o644)
        Path(name).replace(path)
    except OSError as error:
        why = error.strerror or str(error)
        raise MachineFault(
            str(path), f"a layout that cannot be written ({why})", "look at the disk and at who may write there"
        ) from error
    finally:
        if name:
            with contextlib.suppress(OSError):
                Path(name).unlink()
    return path
