"""Results kept between runs, keyed by everything that makes them.

The key is a digest of the data, of the program's own source and tables, and of the versions of the
libraries that do the work. An entry stands behind its own digest: what does not match is a miss and
is made anew. No pickle is read.
"""

from __future__ import annotations

import hashlib
import json
import logging
import os
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from pathlib import Path
from typing import Any

LIBRARIES = (
    *("cadquery", "cadquery-ocp", "ezdxf", "matplotlib", "numpy", "pillow", "pypdfium2", "python-fcl"),
    *("reportlab", "scipy", "shapely", "trimesh", "vtk"),
)
MAGIC = b"fixturegen-kept-1\n"
LARGEST = 512  # [MiB] of entries kept; the oldest go first
TRIM_AFTER = 16  # [MiB] written before the folder is looked through again

_log = logging.getLogger(__name__)
_folder: ContextVar[Path | None] = ContextVar("cache_folder", default=None)
_enabled: ContextVar[bool] = ContextVar("cache_enabled", default=True)
_written = {"bytes": LARGEST * 1024 * 1024}


@contextmanager
def cache_used(use: bool) -> Iterator[None]:
    """A context in which the cache is used, or nothing is read from it or written to it.

    Args:
        use: Whether it is used.
    """
    token = _enabled.set(use)
    try:
        yield
    finally:
        _enabled.reset(token)


@contextmanager
def cache_in(folder: Path) -> Iterator[None]:
    """A context in which the cache lives in another folder.

    Args:
        folder: Made when it is not there.
    """
    token = _folder.set(folder)
    try:
        yield
    finally:
        _folder.reset(token)


def cache_in_use() -> bool:
    """Whether results are kept."""
    return _enabled.get()


def cache_folder() -> Path:
    """The folder entries lie in: the one set, else the user's cache folder."""
    chosen = _folder.get()
    if chosen is not None:
        return chosen
    import platformdirs

    return Path(platformdirs.user_cache_dir("fixturegen", appauthor=False)) / "kept"


def kept(kind: str, key: str, make: Callable[[], bytes]) -> bytes:
    """What the maker makes, from the cache where it is there.

    Args:
        kind: Ending of the entry's name: what sort of result it is.
        key: Digest of all that makes it (`key_of`).
        make: Makes the bytes when they are not there.
    """
    if not _enabled.get():
        return make()
    entry = cache_folder() / f"{key}.{kind}"
    found = _read(entry)
    if found is None:
        found = make()
        _write(entry, found)
    return found


def kept_json(kind: str, key: str, make: Callable[[], Any]) -> Any:
    """The plain value the maker makes, by way of JSON each time, from the cache where it is there.

    Args:
        kind: Ending of the entry's name.
        key: Digest of all that makes it (`key_of`).
        make: Makes a value of lists, objects with text keys, texts, numbers, true, false and none.
    """
    return json.loads(kept(kind, key, lambda: json.dumps(make()).encode()))


def key_of(data: object, sources: tuple[Path, ...] = ()) -> str:
    """The digest (hex) of the data, of the program, and of library versions.

    Args:
        data: Frozen records, tuples, numbers, texts, bytes and mappings of them.
        sources: Further files that enter the key.
    """
    digest = hashlib.sha256(_ground(_surroundings()))
    for path in sources:
        digest.update(hashlib.sha256(path.read_bytes()).digest())
    digest.update(_plain(data).encode())
    return digest.hexdigest()


def digest_of(data: object) -> str:
    """The digest (hex) of the data alone: the same with any program and any library.

    Args:
        data: Frozen records, tuples, numbers, texts, bytes and mappings of them.
    """
    return hashlib.sha256(_plain(data).encode()).hexdigest()


def _plain(data: object) -> str:
    """The data as one text in which different data always differ."""
    if data is None or isinstance(data, bool):
        return repr(data)
    if isinstance(data, Enum):
        return f"{type(data).__name__}.{data.name}"
    if isinstance(data, str):
        return repr(str(data))
    if isinstance(data, int | float):
        # a measure is a float with more to it: only the number shapes the result
        return float(data).hex()
    if isinstance(data, bytes):
        return "bytes " + hashlib.sha256(data).hexdigest()
    if isinstance(data, tuple | list):
        return "(" + ",".join(_plain(d) for d in data) + ",)"
    if isinstance(data, Mapping):
        return "{" + ",".join(f"{_plain(k)}:{_plain(v)}" for k, v in data.items()) + "}"
    if is_dataclass(data) and not isinstance(data, type):
        inner = ",".join(f"{f.name}={_plain(getattr(data, f.name))}" for f in fields(data))
        return f"{type(data).__name__}({inner})"
    known = getattr(type(data), "model_fields", None)
    if known is not None:
        inner = ",".join(f"{name}={_plain(getattr(data, name))}" for name in known)
        return f"{type(data).__name__}({inner})"
    raise TypeError(f"{type(data).__name__} has no fixed text; give records, tuples and numbers")


@cache
def _ground(lines: tuple[str, ...]) -> bytes:
    return hashlib.sha256("".join(lines).encode()).digest()


@cache
def _surroundings() -> tuple[str, ...]:
    lines = [f"python {sys.version}\n", *(f"{name} {_version(name)}\n" for name in LIBRARIES)]
    root = Path(__file__).parent
    tables = root / "params" if (root / "params").is_dir() else root.parent / "params"
    for path in (*sorted(root.rglob("*.py")), *sorted(tables.glob("*.toml"))):
        lines.append(f"{path.name} {hashlib.sha256(path.read_bytes()).hexdigest()}\n")
    return tuple(lines)


def _version(name: str) -> str:
    from importlib import metadata

    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return "absent"


def _read(entry: Path) -> bytes | None:
    try:
        raw = entry.read_bytes()
    except OSError:
        return None
    head = len(MAGIC) + 32
    body = raw[head:]
    if raw[: len(MAGIC)] != MAGIC or hashlib.sha256(body).digest() != raw[len(MAGIC) : head]:
        _log.warning("a damaged entry of the cache is made anew: %s", entry.name)
        return None
    with suppress(OSError):
        os.utime(entry)
    return body


def _write(entry: Path, body: bytes) -> None:
    part = entry.with_name(f"{entry.name}.{os.getpid()}.part")
    try:
        entry.parent.mkdir(parents=True, exist_ok=True)
        part.write_bytes(MAGIC + hashlib.sha256(body).digest() + body)
        part.replace(entry)
        _written["bytes"] += len(body)
        if _written["bytes"] >= min(TRIM_AFTER, LARGEST) * 1024 * 1024:
            _written["bytes"] = 0
            _trim(entry.parent)
    except OSError as fault:
        # a cache that cannot be written costs time and nothing else
        _log.info("the cache cannot be written: %s", fault)
        with suppress(OSError):
            part.unlink(missing_ok=True)


def _trim(folder: Path) -> None:
    found = sorted((p.stat().st_mtime, p.stat().st_size, p) for p in folder.iterdir() if p.is_file())
    total = sum(size for _, size, _ in found)
    for _, size, path in found:
        if total <= LARGEST * 1024 * 1024:
            return
        path.unlink(missing_ok=True)
        total -= size
