"""What the script of the 3-D page reads: scenes, parts and findings as JSON, meshes and motions as bytes."""

from __future__ import annotations

import base64
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from fixturegen.findings import Finding
from fixturegen.plate import Part
from fixturegen.shapes.cache import shape_key
from fixturegen.viewer.packing import packed_shape
from fixturegen.viewer.scenes import Body, Motions, Scene, placed_line

FILE_WORDS = {
    "dxf": "cut file (DXF)",
    "step": "solid (STEP)",
    "held": "why it is held",
    "picture": "picture, marked HELD",
}
DECIMALS = 6  # of places [mm] and rotations [1] in the page; finer than the grid of any mesh


@dataclass(frozen=True)
class Told:
    """What the page says beside the scenes.

    Attributes:
        title: Of the job.
        units: in or mm, the sheet's.
        parts: Every part, in order.
        findings: Every finding, in the order of the summary.
        held: Part name to reason.
        masses: Part name to mass [kg].
        files: Part name to kind of file to path in the folder.
        undrawn: Part name to why it cannot be drawn.
        materials: Id of a material to what people call it.
    """

    title: str
    units: str
    parts: tuple[Part, ...]
    findings: tuple[Finding, ...]
    held: Mapping[str, str]
    masses: Mapping[str, float]
    files: Mapping[str, Mapping[str, str]]
    undrawn: Mapping[str, str]
    materials: Mapping[str, str]


def ready(scene: Scene) -> dict[str, Any]:
    """A scene as a plain value that can be kept: its record, its meshes and its motions, bytes as base64 text.

    Args:
        scene: What is shown at once.
    """
    numbers: dict[str, int] = {}
    meshes: list[dict[str, Any]] = []
    bodies = []
    for body in scene.bodies:
        digest, _ = shape_key(body.shape)
        if digest not in numbers:
            numbers[digest] = len(meshes)
            packed = packed_shape(body.shape)
            meshes.append({"of": digest, "low": _short(packed.low), "step": packed.step, "blob": _text(packed.blob)})
        bodies.append(_body(body, numbers[digest]))
    record = {
        "name": scene.name,
        "title": scene.title,
        "frame": scene.frame,
        "frames": {name: _short(line) for name, line in scene.frames.items()},
        "bodies": bodies,
        "motions": None if scene.motions is None else _motions(scene.motions),
        "notes": list(scene.notes),
    }
    return {"record": record, "meshes": meshes}


def payload(scenes: Iterable[dict[str, Any]], told: Told) -> tuple[str, bytes]:
    """The JSON text, and the bytes that it points into.

    Args:
        scenes: As `ready` gives them, in the order in which they are offered.
        told: What is said beside them.
    """
    store = _Store()
    body = {
        "title": told.title,
        "units": told.units,
        "scenes": [store.scene(scene) for scene in scenes],
        "parts": [_part(part, told) for part in told.parts],
        "findings": [f.as_json() for f in told.findings],
        "meshes": store.meshes,
    }
    return json.dumps(body, ensure_ascii=False, separators=(",", ":"), allow_nan=False), bytes(store.data)


class _Store:
    """Bytes one after the other, every mesh once."""

    def __init__(self) -> None:
        self.data = bytearray()
        self.meshes: list[dict[str, Any]] = []
        self._known: dict[str, int] = {}

    def scene(self, scene: dict[str, Any]) -> dict[str, Any]:
        """The record of a scene with its meshes by their number in the page, and its movers by their place."""
        numbers = []
        for mesh in scene["meshes"]:
            if mesh["of"] not in self._known:
                self._known[mesh["of"]] = len(self.meshes)
                self.meshes.append({"at": self._add(mesh["blob"]), "low": mesh["low"], "step": mesh["step"]})
            numbers.append(self._known[mesh["of"]])
        record = dict(scene["record"])
        record["bodies"] = [body | {"mesh": numbers[body["mesh"]]} for body in record["bodies"]]
        if record["motions"] is not None:
            movers = {name: self._add(text) for name, text in record["motions"]["movers"].items()}
            record["motions"] = record["motions"] | {"movers": movers}
        return record

    def _add(self, text: str) -> list[int]:
        """Where bytes lie: first byte and count; at whole words, so that numbers can be read in place."""
        blob = base64.b64decode(text)
        self.data += b"\0" * (-len(self.data) % 4)
        at = [len(self.data), len(blob)]
        self.data += blob
        return at


def _text(blob: bytes) -> str:
    return base64.b64encode(blob).decode("ascii")


def _short(numbers: Iterable[float]) -> list[float]:
    return [round(float(n), DECIMALS) + 0.0 for n in numbers]


def _body(body: Body, mesh: int) -> dict[str, Any]:
    return {
        "mesh": mesh,
        # what is no part may be called like one
        "name": body.name if body.part else f"({body.name})",
        "label": body.label,
        "group": body.group,
        "colour": _short(body.colour),
        "part": body.part,
        "ghost": body.ghost,
        "mover": body.mover,
        "place": _short(placed_line(body)),
    }


def _motions(motions: Motions) -> dict[str, Any]:
    return {
        "poses": [[*_short(pose[:3]), pose[3]] for pose in motions.poses],
        "paths": [{"name": name, "poses": list(order)} for name, order in motions.paths],
        "movers": {name: _text(np.asarray(m, "<f4").tobytes()) for name, m in motions.movers.items()},
    }


def _part(part: Part, told: Told) -> dict[str, Any]:
    files = told.files.get(part.name, {})
    return {
        "name": part.name,
        "label": part.label,
        "hand": part.hand,
        "form": part.form,
        "quantity": part.quantity,
        "thickness_mm": part.thickness or None,
        "material": told.materials.get(part.material, part.material),
        "mass_kg": told.masses.get(part.name),
        "datum": part.datum,
        "notes": list(part.notes),
        "held": told.held.get(part.name),
        "undrawn": told.undrawn.get(part.name),
        "files": [[FILE_WORDS.get(kind, kind), path] for kind, path in files.items()],
    }
