"""Earlier revisions of a sheet, kept beside it, and what changed since one of them.

`front-axle.toml` has its history in the folder `front-axle.history/`: one file a revision, named by
`revision.id`. The folder is the person's own; nothing in it is ever overwritten or deleted.
"""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from fixturegen.errors import Fault, MachineFault, SheetFault
from fixturegen.sheet.reading import read
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.values import canonical, digest, flat

NOT_GIVEN = "not given"

_NO_CHANGE = ("revision.id", "revision.since")


def folder_of(sheet_path: Path | str) -> Path:
    """The folder that keeps the revisions of a sheet; it need not exist."""
    path = Path(sheet_path)
    return path.with_name(f"{path.stem}.history")


def revisions(sheet_path: Path | str) -> tuple[str, ...]:
    """The revisions kept of a sheet, in the order of their names."""
    folder = folder_of(sheet_path)
    try:
        return tuple(sorted(p.stem for p in folder.glob("*.toml")))
    except OSError as error:
        raise _unreadable(folder, error) from error


def changes_since(sheet_path: Path | str, sheet: Sheet) -> list[tuple[str, str, str]]:
    """What changed since `revision.since`: (key, before, after), in the order of the sheet.

    Nothing when the sheet names no revision. The same value in other words is no change.

    Raises:
        SheetFault: When that revision is not in the history, or cannot be read any more.
        MachineFault: When the history cannot be read.
    """
    since = sheet.revision.since
    if not since:
        return []
    kept = revisions(sheet_path)
    if since not in kept:
        allowed = ", ".join(kept) or "none yet: a build keeps each revision"
        remedy = f"there is no revision {since} in {folder_of(sheet_path).name}: name one that is"
        if not kept:
            remedy = f"there is no history beside the sheet yet: leave since out until {since} is"
        raise SheetFault(Fault("revision.since", since, allowed, remedy, _since_line(sheet_path)))
    before = read(folder_of(sheet_path) / f"{since}.toml")
    return changes(before, sheet)


def changes(before: Sheet, after: Sheet) -> list[tuple[str, str, str]]:
    """What differs between two sheets: (key, before, after), the revision's own keys aside."""
    old, new = canonical(before), canonical(after)
    old_text, new_text = flat(before), flat(after)
    keys = list(new) + [key for key in old if key not in new]
    return [
        (key, old_text.get(key, NOT_GIVEN), new_text.get(key, NOT_GIVEN))
        for key in keys
        if key not in _NO_CHANGE and old.get(key) != new.get(key)
    ]


def remember(path: Path | str) -> str:
    """An empty text once the sheet is kept under its revision, else a warning.

    A revision once kept stays as it was: a sheet of other values under the same id is not kept, and
    the warning says so.

    Args:
        path: The sheet.

    Raises:
        SheetFault: When the sheet has faults.
        MachineFault: When the history cannot be written.
    """
    sheet = read(path)
    kept = folder_of(path) / f"{sheet.revision.id}.toml"
    try:
        content = Path(path).read_bytes()
        kept.parent.mkdir(exist_ok=True)
        if _keep(content, kept):
            return ""
        same = _same(kept, sheet)
    except OSError as error:
        if isinstance(error, MachineFault):
            raise
        raise MachineFault(
            str(kept),
            f"a history that cannot be written ({error.strerror or error})",
            "look at the disk and at who may write there; the build itself stands",
        ) from error
    if same:
        return ""
    return (
        f"revision {sheet.revision.id} is kept already with other values and stays as it was: "
        "give the sheet a new revision.id, and name the old one in revision.since"
    )


def _keep(content: bytes, kept: Path) -> bool:
    """Whether the file was written: whole or not at all, and never over another."""
    handle, name = tempfile.mkstemp(prefix=".", suffix=".part", dir=kept.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(name).chmod(0o644)
        try:
            os.link(name, kept)  # refuses when the name is taken, unlike a rename
        except FileExistsError:
            return False
        except OSError:  # a disk without hard links
            if kept.exists():
                return False
            Path(name).replace(kept)
        return True
    finally:
        with contextlib.suppress(OSError):
            Path(name).unlink()


def _same(kept: Path, sheet: Sheet) -> bool:
    """Whether a kept revision has the values of a sheet."""
    try:
        before = read(kept)
    except SheetFault:
        return False
    since = {"revision": sheet.revision}
    return digest(before.model_copy(update=since)) == digest(sheet)


def _since_line(sheet_path: Path | str) -> int | None:
    """Line of `since` on the sheet."""
    from fixturegen.sheet.lines import lines_of

    try:
        text = Path(sheet_path).read_bytes().decode("utf-8-sig")
    except (OSError, UnicodeDecodeError):
        return None
    return lines_of(text).get(("revision", "since"))


def _unreadable(folder: Path, error: OSError) -> MachineFault:
    why = error.strerror or str(error)
    return MachineFault(str(folder), f"a history that cannot be read ({why})", "look at the folder")
