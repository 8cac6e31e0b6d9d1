"""Solids kept between runs, keyed by everything that makes them.

The key is a digest of the frozen data, of the source of the rooms that turn data into solids, and
of the kernel's version. An entry is the kernel's binary form behind its own digest: what does not
match is a miss and is made anew. No pickle is read.
"""

from __future__ import annotations

import hashlib
import io
import logging
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from importlib import metadata
from pathlib import Path

import cadquery as cq
import platformdirs

import fixturegen
from fixturegen.plate import Part
from fixturegen.shapes.kernel import Shape, Solid
from fixturegen.shapes.solids import solid_of

LIBRARIES = ("cadquery", "cadquery-ocp", "numpy")
ROOMS = ("plate", "shapes")
MAGIC = b"fixturegen-solid-1\n"
LARGEST = 512  # [MiB] of entries kept; the oldest go first

_log = logging.getLogger(__name__)
_folder: ContextVar[Path | None] = ContextVar("cache_folder", default=None)
_enabled: ContextVar[bool] = ContextVar("cache_enabled", default=True)


@contextmanager
def cache_disabled() -> Iterator[None]:
    """A context in which nothing is read from the cache or written to it."""
    token = _enabled.set(False)
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


def cache_folder() -> Path:
    """The folder entries lie in: the one set, else the user's cache folder."""
    return _folder.get() or Path(platformdirs.user_cache_dir("fixturegen", appauthor=False)) / "solids"


def cached_solid(part: Part, *, as_cut: bool = False) -> Solid:
    """The solid of the part as `solid_of` makes it, from the cache where it is there.

    Args:
        part: What is made; only what shapes it enters the key, not its name or notes.
        as_cut: Holes of a plate at the size they have at the cutter, else finished.
    """
    data = ("part", part.form, part.thickness, part.profile, part.turned, part.tube, as_cut)
    return cached_shape(data, lambda: solid_of(part, as_cut=as_cut))


def cached_shape(data: object, make: Callable[[], Shape], sources: tuple[Path, ...] = ()) -> Shape:
    """The shape the maker makes from the data, from the cache where it is there.

    Args:
        data: Frozen records, tuples, numbers and texts that settle the shape.
        make: Makes the shape when it is not there.
        sources: Files of other rooms that hold the maker, which enter the key.
    """
    if not _enabled.get():
        return _shape(_body(make()))
    entry = cache_folder() / f"{key_of(data, sources)}.brep"
    found = _read(entry)
    if found is not None:
        return found
    body = _body(make())
    _write(entry, body)
    # by way of its binary form each time, so that a run goes on with the very same shape whether
    # the entry was there or not: the form changes signs of zeros
    return _shape(body)


def key_of(data: object, sources: tuple[Path, ...] = ()) -> str:
    """The digest (hex) of the data, of the sources that make solids, and of library versions.

    Args:
        data: Frozen records, tuples, numbers and texts.
        sources: Further files that enter the key.
    """
    digest = hashlib.sha256()
    for line in _surroundings():
        digest.update(line.encode())
    for path in sources:
        digest.update(hashlib.sha256(path.read_bytes()).digest())
    digest.update(_plain(data).encode())
    return digest.hexdigest()


def _plain(data: object) -> str:
    """The data as one text in which different data always differ."""
    if is_dataclass(data) and not isinstance(data, type):
        inner = ",".join(f"{f.name}={_plain(getattr(data, f.name))}" for f in fields(data))
        return f"{type(data).__name__}({inner})"
    if isinstance(data, Enum):
        return f"{type(data).__name__}.{data.name}"
    if isinstance(data, tuple | list):
        return "(" + ",".join(_plain(d) for d in data) + ",)"
    if data is None or isinstance(data, bool | str):
        return repr(str(data)) if isinstance(data, str) else repr(data)
    if isinstance(data, int | float):
        # a measure is a float with more to it: only the number shapes the solid
        return float(data).hex()
    raise TypeError(f"{type(data).__name__} has no fixed text; give records, tuples and numbers")


@cache
def _surroundings() -> tuple[str, ...]:
    lines = [f"{name} {_version(name)}\n" for name in LIBRARIES]
    root = Path(fixturegen.__file__).parent
    for room in ROOMS:
        for path in sorted((root / room).glob("*.py")):
            lines.append(f"{path.name} {hashlib.sha256(path.read_bytes()).hexdigest()}\n")
    return tuple(lines)


def _version(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return "absent"


def _read(entry: Path) -> Shape | None:
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
    return _shape(body)


def _shape(body: bytes) -> Shape:
    return cq.Shape.importBin(io.BytesIO(body))


def _body(shape: Shape) -> bytes:
    stream = io.BytesIO()
    shape.exportBin(stream)
    return stream.getvalue()


def _write(entry: Path, body: bytes) -> None:
    part = entry.with_suffix(f".{os.getpid()}.part")
    try:
        entry.parent.mkdir(parents=True, exist_ok=True)
        part.write_bytes(MAGIC + hashlib.sha256(body).digest() + body)
        part.replace(entry)
        _trim(entry.parent)
    except OSError as fault:
        # a cache that cannot be written costs time and nothing else
        _log.info("the cache cannot be written: %s", fault)
        with suppress(OSError):
            part.unlink(missing_ok=True)


def _trim(folder: Path) -> None:
    found = sorted((p.stat().st_mtime, p.stat().st_size, p) for p in folder.glob("*.brep"))
    total = sum(size for _, size, _ in found)
    for _, size, path in found:
        if total <= LARGEST * 1024 * 1024:
            return
        path.unlink(missing_ok=True)
        total -= size
