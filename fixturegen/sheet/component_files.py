"""Whether the files a sheet names for its components are there; they are not opened."""

from __future__ import annotations

import difflib
from pathlib import Path

from fixturegen.errors import Fault, SheetFault
from fixturegen.sheet.keys import dotted
from fixturegen.sheet.specs import Sheet


def files_of(sheet: Sheet) -> tuple[tuple[tuple[str | int, ...], str], ...]:
    """Every file the components name, with its key."""
    found: list[tuple[tuple[str | int, ...], str]] = []
    for n, part in enumerate(sheet.components):
        if part.file:
            found.append((("components", n, "file"), part.file))
        if part.outline is not None and part.outline.file:
            found.append((("components", n, "outline", "file"), part.outline.file))
    return tuple(found)


def demand_files(sheet: Sheet, path: Path) -> None:
    """Nothing, when every file the components name is there.

    Args:
        sheet: The sheet.
        path: Where it lies; files are looked for beside it.

    Raises:
        SheetFault: With every file that is not.
    """
    missing = [(key, name) for key, name in files_of(sheet) if not (path.parent / name).is_file()]
    if not missing:
        return
    from fixturegen.sheet.lines import line_of, lines_of

    lines = lines_of(path.read_text(encoding="utf-8-sig"))
    faults = []
    for key, name in missing:
        place = path.parent / name
        near = difflib.get_close_matches(place.name, _beside(place.parent), n=1)
        what = f"did you mean {near[0]}?" if near else "put the file beside the sheet, or write its name again"
        kind = "a folder" if place.is_dir() else "no such file there"
        allowed = "a file, its path from the sheet's own folder"
        faults.append(Fault(dotted(key), f"{name} ({kind})", allowed, what, line_of(lines, key)))
    raise SheetFault(*faults)


def _beside(folder: Path) -> list[str]:
    """Names of the files in a folder; none where it is not there."""
    try:
        return sorted(p.name for p in folder.iterdir() if p.is_file())
    except OSError:
        return []
