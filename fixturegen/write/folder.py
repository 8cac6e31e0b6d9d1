"""The job folder: built beside its place, swapped in whole, never left half written.

`<out>` carries a marker file. A build writes `<out>.part` while it holds `<out>.lock`, then
renames `<out>` to `<out>.old` and `<out>.part` to `<out>`, and deletes `<out>.old`. Whatever stops
a build before the swap leaves `<out>` as it was; a stop between the two renames is mended at the
next start.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import filelock

from fixturegen.errors import Fault, InputFault, MachineFault

MARKER = ".fixturegen-job"
MARKER_TEXT = (
    "This folder is made by fixturegen and replaced whole at the next build.\nKeep nothing of your own in it.\n"
)
ELSEWHERE = "nothing was changed; give an --out where you may write"


def beside(out: Path, suffix: str) -> Path:
    """The path `<out><suffix>` beside the job folder."""
    return out.with_name(out.name + suffix)


def is_ours(folder: Path) -> bool:
    """Whether the folder carries the marker of a job folder."""
    return (folder / MARKER).is_file()


def refuse_foreign(out: Path) -> None:
    """Refuse a place that holds something this program did not make.

    Raises:
        InputFault: When it is a file, or a folder with something in it and no marker.
    """
    if not out.name:
        raise InputFault(Fault("--out", str(out), "a folder with a name", "name a folder for the result"))
    if not out.exists() and not out.is_symlink():
        return
    if not out.is_dir():
        raise InputFault(
            Fault(
                key="--out",
                given=str(out),
                allowed="a new or empty folder, or one made by an earlier build",
                remedy="a file of that name is in the way; give another --out",
            )
        )
    if not is_ours(out) and any(out.iterdir()):
        raise InputFault(
            Fault(
                key="--out",
                given=str(out),
                allowed="a new or empty folder, or one made by an earlier build",
                remedy="this folder holds other files and a build would replace them; give another --out",
            )
        )


def _refused(path: Path, error: OSError, remedy: str) -> MachineFault:
    reason = error.strerror or str(error)
    return MachineFault(str(path), reason[:1].lower() + reason[1:], remedy)


def _clear(folder: Path) -> None:
    if folder.is_symlink() or folder.is_file():
        folder.unlink()
    elif folder.exists():
        shutil.rmtree(folder)


def recover(out: Path) -> None:
    """Put an earlier result back that a stop between the two renames left under `.old`.

    Raises:
        InputFault: When the folder beside it is not ours.
    """
    old = beside(out, ".old")
    if not old.is_dir():
        return
    # our builds leave an `.old` only with the marker in it; anything else is the user's
    if not is_ours(old) and any(old.iterdir()):
        raise InputFault(
            Fault(
                key="--out",
                given=str(old),
                allowed="a name that no folder of yours uses",
                remedy="a build needs that name; move the folder or give another --out",
            )
        )
    if not out.exists() or (out.is_dir() and not any(out.iterdir())):
        if out.exists():
            out.rmdir()
        os.replace(old, out)  # noqa: PTH105 - one seam for every rename of this room
    else:
        _clear(old)


def _prepare(out: Path) -> Path:
    """An empty `<out>.part` with the marker in it."""
    part = beside(out, ".part")
    if part.exists() and not is_ours(part) and any(part.iterdir() if part.is_dir() else [part]):
        raise InputFault(
            Fault(
                key="--out",
                given=str(part),
                allowed="a name that no folder of yours uses",
                remedy="a build writes there first; move the folder or give another --out",
            )
        )
    _clear(part)
    part.mkdir(parents=True)
    (part / MARKER).write_bytes(MARKER_TEXT.encode("utf-8"))
    return part


def _swap(part: Path, out: Path) -> None:
    """Put `.part` in the place of `<out>`; the earlier result comes back when that fails."""
    old = beside(out, ".old")
    remedy = (
        f"the new result is complete in {part.name} and the earlier one is as it was; close "
        "what has the folder open, then build again"
    )
    try:
        if out.exists():
            os.replace(out, old)  # noqa: PTH105 - one seam for every rename of this room
        os.replace(part, out)  # noqa: PTH105
    except OSError as error:
        if old.exists() and not out.exists():
            os.replace(old, out)  # noqa: PTH105
        raise _Kept(_refused(out, error, remedy)) from error
    except BaseException:
        if old.exists() and not out.exists():
            os.replace(old, out)  # noqa: PTH105
        raise
    # the new result stands: what is left of the earlier one can also go at the next start
    with suppress(KeyboardInterrupt):
        shutil.rmtree(old, ignore_errors=True)


class _Kept(Exception):
    """Carries the fault past the clean-up of `.part`."""

    def __init__(self, fault: MachineFault) -> None:
        self.fault = fault
        super().__init__(str(fault))


@contextmanager
def _locked(out: Path) -> Iterator[None]:
    lock = filelock.FileLock(beside(out, ".lock"))
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        lock.acquire(timeout=0)
    except filelock.Timeout as busy:
        raise MachineFault(
            str(out),
            "another build is writing this folder",
            "wait until it has ended, or give another --out",
        ) from busy
    except (OSError, NotImplementedError) as error:
        reason = error if isinstance(error, OSError) else OSError(str(error))
        raise _refused(out.parent, reason, ELSEWHERE) from error
    try:
        yield
    finally:
        lock.release()


@contextmanager
def staged(out: Path) -> Iterator[Path]:
    """A folder to write a whole result into; it takes the place of `out` when the block ends well.

    Raises:
        InputFault: When `out` holds something this program did not make.
        MachineFault: When another build holds the folder, or the machine refuses to write.
    """
    out = Path(os.path.abspath(out))  # noqa: PTH100 - keeps a symlinked parent as it was given
    refuse_foreign(out)
    with _locked(out):
        try:
            recover(out)
            refuse_foreign(out)
            part = _prepare(out)
        except OSError as error:
            if isinstance(error, MachineFault):
                raise
            raise _refused(out, error, ELSEWHERE) from error
        try:
            yield part
            _swap(part, out)
        except _Kept as kept:
            raise kept.fault from kept.__cause__
        except OSError as error:
            shutil.rmtree(part, ignore_errors=True)
            if isinstance(error, MachineFault):
                raise
            remedy = "the earlier result is as it was; make room or give another --out"
            raise _refused(Path(str(error.filename or out)), error, remedy) from error
        except BaseException:
            shutil.rmtree(part, ignore_errors=True)
            raise
