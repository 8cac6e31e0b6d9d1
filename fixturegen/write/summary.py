"""`summary.json`: everything a build came to, in one canonical form, checked against its schema."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import fixturegen
from fixturegen.errors import ProgramFault
from fixturegen.findings import Finding, Level, Number
from fixturegen.plate import Part
from fixturegen.plate.placed import SheetFigures
from fixturegen.plate.profile import hole_loop, signed_area

SCHEMA = 1
NAME = "summary.json"
CODE = "JSN-01"
CLAIM = "the summary names every part and file of this folder, and nothing else"
DIGITS = 10  # significant digits of a number; far finer than 1e-6 mm over any axle

Box = tuple[tuple[float, float, float], tuple[float, float, float]]


@dataclass(frozen=True)
class Input:
    """One thing the result is a function of.

    Attributes:
        name: File name, library or program.
        kind: sheet, history, table, program or library.
        version: Of a program or library; empty for files.
        sha256: Of its bytes; of "name version" for a library.
    """

    name: str
    kind: str
    version: str
    sha256: str


@dataclass(frozen=True)
class Measured:
    """What the solid of a part measures: mass [kg] and opposite corners of its box [mm]."""

    mass: float
    box: Box


@dataclass(frozen=True)
class PaperFile:
    """One paper of the folder.

    Attributes:
        path: In the folder.
        title: What it is, in words.
        sha256: Of its bytes.
        pages: Of a PDF; None for other files.
        parts: Names of the parts it is about.
    """

    path: str
    title: str
    sha256: str
    pages: int | None = None
    parts: tuple[str, ...] = ()


@dataclass(frozen=True)
class Contents:
    """What a summary is made from.

    Attributes:
        job: Name of the job.
        revision: Of the sheet.
        units: in or mm.
        inputs: What the result is a function of.
        parts: Every part.
        held: Part name to reason.
        measured: Part name to mass and box; a part that could not be made is not in it.
        files: Part name to kind of file to path in the folder.
        findings: Every finding.
        numbers: Dotted name to number.
        assumptions: (key, what is used, meaning).
        sheets: Sheets with what is cut from them.
        papers: Papers with their digests.
    """

    job: str
    revision: str
    units: str
    inputs: tuple[Input, ...]
    parts: tuple[Part, ...]
    held: Mapping[str, str]
    measured: Mapping[str, Measured]
    files: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    numbers: Mapping[str, Number] = field(default_factory=dict)
    assumptions: tuple[tuple[str, str, str], ...] = ()
    sheets: tuple[SheetFigures, ...] = ()
    papers: tuple[PaperFile, ...] = ()


def sha256(data: bytes) -> str:
    """SHA-256 of bytes (hex)."""
    return hashlib.sha256(data).hexdigest()


def file_input(path: Path, kind: str) -> Input:
    """A file as an input; only its name is kept, never where it lies."""
    return Input(path.name, kind, "", sha256(path.read_bytes()))


def _library(name: str) -> Input:
    from importlib.metadata import version

    found = version(name)
    return Input(name, "library", found, sha256(f"{name} {found}".encode()))


def _program() -> Input:
    home = Path(fixturegen.__file__).parent
    total = hashlib.sha256()
    for path in sorted(p for p in home.rglob("*") if p.suffix in (".py", ".json", ".j2", ".js", ".css")):
        total.update(path.relative_to(home).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return Input("fixturegen", "program", fixturegen.__version__, total.hexdigest())


LIBRARIES = (
    "cadquery",
    "cadquery-ocp",
    "ezdxf",
    "Hershey-Fonts",
    "jinja2",
    "matplotlib",
    "numpy",
    "pillow",
    "pint",
    "pydantic",
    "python-fcl",
    "reportlab",
    "scipy",
    "shapely",
    "trimesh",
    "vtk",
)  # fmt: skip - one look is enough
"""Libraries whose version the bytes of a result may depend on."""


def inputs_of(
    sheet: Path,
    tables: Iterable[Path],
    history: Iterable[Path] = (),
    layouts: Iterable[Path] = (),
    components: Iterable[Path] = (),
) -> tuple[Input, ...]:
    """Everything a result is a function of: sheet, earlier revision, layout, components, tables, program, libraries."""
    files = [file_input(sheet, "sheet")]
    files += [file_input(p, "history") for p in history]
    files += [file_input(p, "layout") for p in layouts]
    files += [file_input(p, "component") for p in components]
    files += [file_input(p, "table") for p in sorted(tables)]
    return (*files, _program(), *(_library(name) for name in LIBRARIES))


def net_area(part: Part) -> float | None:
    """Area of a finished flat part [mm2], openings and holes taken out; None for other forms."""
    if part.profile is None:
        return None
    area = abs(signed_area(part.profile.outer)) - sum(abs(signed_area(i)) for i in part.profile.inner)
    return area - sum(signed_area(hole_loop(h)) for h in part.profile.holes)


def _part_json(part: Part, contents: Contents) -> dict[str, Any]:
    measured = contents.measured.get(part.name)
    flat = part.form in ("plate", "bent")
    holes = part.profile.holes if part.profile is not None else ()
    return {
        "name": part.name,
        "label": part.label,
        "kind": part.kind,
        "form": part.form,
        "hand": part.hand,
        "revision": contents.revision,
        "quantity": part.quantity,
        "material": part.material,
        "thickness_mm": part.thickness if flat else None,
        "mass_kg": measured.mass if measured else None,
        "area_mm2": net_area(part),
        "bbox_mm": [list(corner) for corner in measured.box] if measured else None,
        "holes": [
            {
                "label": h.label,
                "x_mm": h.x,
                "y_mm": h.y,
                "finished_mm": h.finished,
                "cut_mm": h.cut,
                "slot_mm": h.slot,
                "slot_deg": h.slot_angle,
                "operation": h.operation.value,
                "purpose": h.purpose.value,
            }
            for h in holes
        ],
        "bends": [
            {
                "from_mm": [b.x0, b.y0],
                "to_mm": [b.x1, b.y1],
                "angle_deg": b.angle,
                "radius_mm": b.radius,
                "up": b.up,
                "allowance_mm": b.allowance,
                "rule": b.rule,
                "measured": b.measured,
                "outside_mm": None if b.outside is None else list(b.outside),
            }
            for b in part.bends
        ],
        "status": "held" if part.name in contents.held else "released",
        "reason": contents.held.get(part.name, ""),
        "files": dict(contents.files.get(part.name, {})),
    }


def _sheet_json(figures: SheetFigures) -> dict[str, Any]:
    sheet = figures.sheet
    return {
        "number": sheet.number,
        "name": sheet.name,
        "length_mm": sheet.length,
        "width_mm": sheet.width,
        "thickness_mm": sheet.thickness,
        "material": sheet.material,
        "spacing_mm": sheet.spacing,
        "edge_mm": sheet.edge,
        "cut_to_mm": sheet.cut_to,
        "share": figures.share,
        "pierces": figures.work.pierces,
        "cut_length_mm": figures.work.cut_length,
        "mark_length_mm": figures.work.mark_length,
        "time_s": figures.time,
        "mass_kg": figures.mass,
        "cost": figures.cost,
        "placed": [
            {
                "part": put.part.name,
                "copy": put.copy,
                "x_mm": put.x,
                "y_mm": put.y,
                "angle_deg": put.angle,
                "inside": put.inside,
            }
            for put in sheet.placed
        ],
        "files": dict(figures.files),
    }


def summary_of(contents: Contents) -> dict[str, Any]:
    """The summary as a JSON object (schema/summary-1.json)."""
    body = {
        "schema": SCHEMA,
        "job": {"name": contents.job, "revision": contents.revision, "units": contents.units},
        "inputs": [vars(i) for i in contents.inputs],
        "assumptions": [{"key": k, "used": used, "meaning": meaning} for k, used, meaning in contents.assumptions],
        "parts": [_part_json(p, contents) for p in contents.parts],
        "sheets": [_sheet_json(s) for s in contents.sheets],
        "papers": [vars(p) for p in contents.papers],
        "findings": [f.as_json() for f in contents.findings],
        "numbers": {name: n.as_json() for name, n in sorted(contents.numbers.items())},
    }
    plain: dict[str, Any] = _plain(body)
    return plain


def _plain(value: Any) -> Any:
    """The value in plain JSON types, floats at ten significant digits and without a negative zero."""
    if isinstance(value, Mapping):
        return {str(k): _plain(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(v) for v in value]
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, int):
        return int(value)
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ProgramFault(f"a number of the summary is {value}")
        return float(f"{value:.{DIGITS}g}") + 0.0
    return str(value)


def canonical(body: Mapping[str, Any]) -> bytes:
    """The JSON text as bytes: UTF-8, line feeds, one key a line, the keys in their own order."""
    return (json.dumps(_plain(body), ensure_ascii=False, allow_nan=False, indent=1) + "\n").encode("utf-8")


@cache
def schema() -> dict[str, Any]:
    """The JSON Schema that summaries and every `--json` output obey."""
    path = Path(fixturegen.__file__).parent / "schema" / f"summary-{SCHEMA}.json"
    found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return found


def schema_faults(body: Any) -> list[str]:
    """Where a summary breaks its schema, in words."""
    import jsonschema

    checker = jsonschema.Draft202012Validator(schema())
    return [f"{'/'.join(map(str, e.absolute_path)) or 'top'}: {e.message}" for e in checker.iter_errors(body)]


def passed(contents: Contents) -> Finding:
    """The finding of a summary that says what the folder holds (JSN-01)."""
    words = f"{NAME}: {len(contents.parts)} parts, {len(contents.held)} of them held"
    return Finding(code=CODE, level=Level.PASS, claim=CLAIM, words=words, holds="job")


def check_summary(data: bytes, contents: Contents, folder: Path) -> Finding:
    """The finding of reading the summary back (JSN-01); a fail holds the job.

    Args:
        data: The bytes as written.
        contents: What they were written from.
        folder: The folder the files stand in.
    """
    faults = _faults(data, contents, folder)
    if faults:
        return Finding(
            code=CODE,
            level=Level.FAIL,
            claim=CLAIM,
            words=f"{NAME}: {'; '.join(faults[:3])}",
            remedy="use no file of this folder. Report it with the sheet",
            holds="job",
        )
    return passed(contents)


def _faults(data: bytes, contents: Contents, folder: Path) -> list[str]:
    try:
        body = json.loads(data)
    except ValueError as error:
        return [f"cannot be read again: {error}"]
    faults = schema_faults(body)
    if faults:
        return faults
    wanted = [(p.name, "held" if p.name in contents.held else "released", p.quantity) for p in contents.parts]
    if [(p["name"], p["status"], p["quantity"]) for p in body["parts"]] != wanted:
        faults.append("other parts than the job's")
    named = {path for p in (*body["parts"], *body["sheets"]) for path in p["files"].values()}
    named |= {p["path"] for p in body["papers"]}
    faults += [f"{p['path']} is another file" for p in body["papers"] if _altered(folder / p["path"], p["sha256"])]
    faults += [f"{path} is not there" for path in sorted(named) if not (folder / path).is_file()]
    places = ("cut", "step", "held", "sheets")
    there = {p.relative_to(folder).as_posix() for place in places for p in (folder / place).glob("*") if p.is_file()}
    there |= {p.relative_to(folder).as_posix() for p in (folder / "papers").rglob("*") if p.is_file()}
    strangers = sorted(p for p in there - named if not p.startswith("step/assembly-"))
    return faults + [f"{path} belongs to no part, sheet or paper" for path in strangers]


def _altered(path: Path, digest: str) -> bool:
    return path.is_file() and sha256(path.read_bytes()) != digest
