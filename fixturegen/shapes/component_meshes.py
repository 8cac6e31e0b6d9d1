"""A component read: its surface as triangles in its own frame, what was found, and how far to trust it."""

from __future__ import annotations

import json
import math
import re
from dataclasses import asdict, replace
from itertools import product
from pathlib import Path

import cadquery as cq
import numpy as np
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.Interface import Interface_Static
from OCP.Message import Message
from OCP.STEPControl import STEPControl_Reader
from scipy.spatial import ConvexHull, QhullError

from fixturegen import keeping
from fixturegen.axle.model import Point
from fixturegen.errors import GeometryFault
from fixturegen.plate.part import Part, Profile
from fixturegen.plate.profile import Vertex
from fixturegen.shapes.cache import cached_shape
from fixturegen.shapes.kernel import Shape, demand_finite, kernel_faults
from fixturegen.shapes.mesh_files import AGAIN, LARGEST, demand_few, read_mesh
from fixturegen.shapes.mesh_health import Floats, Healed, healed
from fixturegen.shapes.meshes import DEFLECTION, Mesh, mesh_of
from fixturegen.shapes.primitives import bounding_box, box, solids_in, surface, volume
from fixturegen.shapes.solids import solid_of
from fixturegen.shapes.tracings import outline_in
from fixturegen.studies.component_records import (
    BoxShape,
    Component,
    FileShape,
    OutlineShape,
    PlaneShape,
    Reading,
)
from fixturegen.studies.rigid_fit import error_at

UNITS = {"mm": 1.0, "in": 25.4}
"""[mm] each; the inch is exact by definition."""

PLANE_REACH = 5000.0
"""[mm] a plane is drawn to each side of the point it is given by: farther than any truck."""

PLANE_DEPTH = 1000.0
"""[mm] the part behind a plane is drawn deep, so that what has passed it is found inside."""

MOST_CORNERS = 10_000
"""Points that errors of placing are worked out at; some tens of a second."""

STEP_ENDINGS = (".step", ".stp")
STEP_FIGURES = 1e-7  # [mm] the kernel's own tolerance of points
_LENGTH_IN = re.compile(r"CONVERSION_BASED_UNIT\s*\(\s*'([^']*)'", re.IGNORECASE)
_LENGTH_SI = re.compile(r"SI_UNIT\s*\(\s*(\$|\.\w+\.)\s*,\s*\.METRE\.\s*\)", re.IGNORECASE)
_END = "END-ISO-10303-21"


def read_component(component: Component) -> tuple[Reading, Mesh]:
    """What was found in a component, and its surface in its own frame; `Mesh.deflection` is its whole accuracy.

    Raises:
        GeometryFault: When it cannot be read; named for the component.
    """
    try:
        reading, mesh = _read(component)
    except GeometryFault as fault:
        words = fault.words if fault.part in (component.label, "") else f"{fault.part}: {fault.words}"
        raise GeometryFault(component.label, words, fault.remedy) from fault
    except OSError as fault:
        why = fault.strerror or "it cannot be read"
        raise GeometryFault(component.label, why, "look at the file and at who may read it") from fault
    except MemoryError as fault:
        raise GeometryFault(component.label, "there is not memory enough for it", "reduce the scan") from fault
    placing = _placing(component, mesh.vertices)
    accuracy = reading.deflection + reading.rounding + component.stated + placing
    found = replace(reading, stated=component.stated, placing=placing, accuracy=accuracy)
    return found, Mesh(mesh.vertices, mesh.faces, accuracy)


def component_solid(component: Component) -> tuple[Shape, float] | None:
    """The exact solid of a component in its own frame, and how far its triangles may lie off it [mm].

    None for what is triangles or open faces only, and for a plane.

    Args:
        component: One that can be read.
    """
    shape = component.shape
    if isinstance(shape, BoxShape):
        return box(*shape.low, *shape.high), 0.0
    if isinstance(shape, OutlineShape):
        return solid_of(_outlined(component, shape)), DEFLECTION
    if not isinstance(shape, FileShape) or shape.path.suffix.lower() not in STEP_ENDINGS:
        return None
    drawn = cached_shape(("component-solid", shape.unit), lambda: _step_shape(shape.path), (shape.path,))
    return (drawn, DEFLECTION) if solids_in(drawn) else None


def _outlined(component: Component, shape: OutlineShape) -> Part:
    loop = tuple(Vertex(x, y) for x, y in shape.corners)
    if shape.file is not None:
        loop = outline_in(shape.file.path, shape.file.unit)
    return Part(component.name, component.label, "component", "plate", thickness=shape.depth, profile=Profile(loop))


def _read(component: Component) -> tuple[Reading, Mesh]:
    shape, name = component.shape, component.name
    if isinstance(shape, FileShape):
        return _from_file(name, shape)
    if isinstance(shape, OutlineShape):
        return _solid(name, solid_of(_outlined(component, shape)), DEFLECTION)
    if isinstance(shape, PlaneShape):
        return _plane(name, shape)
    return _box(name, shape)


def _from_file(name: str, shape: FileShape) -> tuple[Reading, Mesh]:
    """The reading of a file, kept between runs: the same bytes in the same unit give the same."""

    def read() -> tuple[Reading, Mesh]:
        return _step(name, shape) if shape.path.suffix.lower() in STEP_ENDINGS else _triangles(name, shape)

    if shape.path.stat().st_size > LARGEST * 2**20:
        return read()  # refused there before a byte of it is taken
    ending = shape.path.suffix.lower()
    key = keeping.key_of(("component", ending, shape.unit), sources=(shape.path,))
    raw = keeping.kept("component", key, lambda: _packed(*read()))
    head = 16 + int.from_bytes(raw[:8], "little")
    count = int.from_bytes(raw[8:16], "little")
    told = json.loads(raw[16:head])
    corners = {k: tuple(told[k]) for k in ("low", "high", "notes")}
    vertices = np.frombuffer(raw, np.float64, 3 * count, head).reshape(-1, 3)
    faces = np.frombuffer(raw, np.int64, offset=head + 24 * count).reshape(-1, 3)
    return Reading(**{**told, **corners, "name": name}), Mesh(vertices, faces, told["deflection"])


def _packed(reading: Reading, mesh: Mesh) -> bytes:
    """Reading and mesh as bytes; the text is filled up so that numbers stand on whole words."""
    text = json.dumps(asdict(reading)).encode()
    text += b" " * (-len(text) % 8)
    sizes = len(text).to_bytes(8, "little") + len(mesh.vertices).to_bytes(8, "little")
    return b"".join((sizes, text, mesh.vertices.tobytes(), mesh.faces.astype(np.int64).tobytes()))


def _box(name: str, shape: BoxShape) -> tuple[Reading, Mesh]:
    reading, mesh = _solid(name, box(*shape.low, *shape.high), DEFLECTION)
    # flat faces are met exactly
    return replace(reading, deflection=0.0), mesh


def _plane(name: str, shape: PlaneShape) -> tuple[Reading, Mesh]:
    far, deep = PLANE_REACH, PLANE_DEPTH
    reading, mesh = _solid(name, box(-far, -far, -deep, far, far, 0.0), DEFLECTION)
    way = np.array(shape.way)
    side = np.cross(way, np.eye(3)[int(np.argmin(np.abs(way)))])
    side /= np.linalg.norm(side)
    turn = np.stack([side, np.cross(way, side), way], axis=1)
    vertices = mesh.vertices @ turn.T + np.array(shape.point)
    low, high = _corners(vertices)
    note = f"drawn {far / 1000.0:g} m to each side of its point and {deep / 1000.0:g} m deep"
    drawn = replace(reading, low=low, high=high, deflection=0.0, notes=(note,))
    return drawn, Mesh(vertices, mesh.faces, 0.0)


def _solid(name: str, shape: Shape, deflection: float) -> tuple[Reading, Mesh]:
    """The reading of a kernel shape of one or more solids."""
    mesh = mesh_of(shape, deflection)
    found = bounding_box(shape)
    solids = solids_in(shape)
    return Reading(
        name=name,
        low=(found[0], found[1], found[2]),
        high=(found[3], found[4], found[5]),
        triangles=len(mesh.faces),
        vertices=len(mesh.vertices),
        area=surface(shape),
        volume=sum(abs(volume(s)) for s in solids) if solids else None,
        pieces=max(1, len(solids)),
        deflection=deflection,
        rounding=STEP_FIGURES,
    ), mesh


def _triangles(name: str, shape: FileShape) -> tuple[Reading, Mesh]:
    soup = read_mesh(shape.path)
    scale = UNITS[shape.unit]
    largest = float(np.nanmax(np.abs(np.where(np.isfinite(soup.points), soup.points, 0.0)))) * scale
    fit = healed(name, soup.points, soup.faces, scale)
    return _told(name, fit, soup.rounding * largest * math.sqrt(3.0), soup.notes)


def _told(name: str, fit: Healed, rounding: float, notes: tuple[str, ...]) -> tuple[Reading, Mesh]:
    """The reading of triangles out of a file."""
    low, high = _corners(fit.vertices)
    if fit.twisted:
        notes = (*notes, "a piece has one side only: inside and outside cannot be told")
    return Reading(
        name=name,
        low=low,
        high=high,
        triangles=len(fit.faces),
        vertices=len(fit.vertices),
        area=fit.area,
        volume=fit.volume,
        pieces=fit.pieces,
        inner=fit.inner,
        open_edges=fit.open_edges,
        holes=fit.holes,
        largest_hole=fit.largest_hole,
        crowded_edges=fit.crowded,
        turned=fit.turned,
        flat=fit.flat,
        doubled=fit.doubled,
        broken=fit.broken,
        roughness=fit.roughness,
        rounding=rounding,
        notes=notes,
    ), Mesh(fit.vertices, fit.faces, 0.0)


def _corners(vertices: Floats) -> tuple[Point, Point]:
    low, high = vertices.min(axis=0), vertices.max(axis=0)
    return (float(low[0]), float(low[1]), float(low[2])), (float(high[0]), float(high[1]), float(high[2]))


def _placing(component: Component, vertices: Floats) -> float:
    """Farthest errors of the named points put any of it out [mm]."""
    if component.residual is None:
        return 0.0
    # what moves a point is a convex function of where it is: the outermost points are out farthest
    outermost = _outermost(vertices)
    return float(error_at(np.array(component.points), component.placing, outermost).max())


def _outermost(vertices: Floats) -> Floats:
    """Corners of a convex body that holds every point (k, 3) [mm]: their hull, or their box where that is long."""
    if len(vertices) <= MOST_CORNERS:
        return vertices
    try:
        hull: Floats = vertices[ConvexHull(vertices).vertices]
    except QhullError:  # all in one plane
        hull = vertices
    if len(hull) <= MOST_CORNERS:
        return hull
    low, high = vertices.min(axis=0), vertices.max(axis=0)
    return np.array(list(product(*zip(low, high, strict=True))))


def _step(name: str, shape: FileShape) -> tuple[Reading, Mesh]:
    path = shape.path
    text = _step_text(path)
    _demand_unit(path.name, text, shape.unit)
    with kernel_faults(path.name, "its surface"):
        drawn = _step_shape(path)
        demand_finite(path.name, bounding_box(drawn))
        if solids_in(drawn):
            reading, mesh = _solid(name, drawn, DEFLECTION)
            demand_few(path.name, len(mesh.faces))
            loose = len(drawn.Faces()) - sum(len(s.Faces()) for s in solids_in(drawn))
            return (replace(reading, notes=(f"{loose} faces beside the solids",)) if loose else reading), mesh
        mesh = mesh_of(drawn, DEFLECTION)
    demand_few(path.name, len(mesh.faces))
    fit = healed(name, mesh.vertices, mesh.faces, 1.0)
    reading, open_mesh = _told(name, fit, STEP_FIGURES, ("the file holds faces and no solid",))
    return replace(reading, deflection=DEFLECTION, roughness=None), open_mesh


def _step_text(path: Path) -> str:
    """The text of a STEP file that is whole."""
    size = path.stat().st_size
    if size == 0:
        raise GeometryFault(path.name, "the file is empty", AGAIN)
    if size > LARGEST * 2**20:
        raise GeometryFault(path.name, f"the file is {size / 2**20:.0f} MiB", "export the part alone")
    text = path.read_bytes().decode("latin-1")
    if "ISO-10303-21" not in text[:2000]:
        raise GeometryFault(path.name, "it is no STEP file", "export it again as STEP")
    if _END not in text[-2000:]:
        raise GeometryFault(path.name, "it is cut off: its end is not there", AGAIN)
    return text


def _demand_unit(name: str, text: str, unit: str) -> None:
    """Nothing; raises a `GeometryFault` when a STEP file's own unit is another than the sheet's."""
    inches = any("INCH" in found.upper() for found in _LENGTH_IN.findall(text))
    prefixes = {p.upper() for p in _LENGTH_SI.findall(text)}
    # a converted unit stands on millimetres in the same file: the inch is then the unit of its lengths
    own = "in" if inches else "mm" if ".MILLI." in prefixes else "another unit" if prefixes else ""
    if own and own != unit:
        words = f"its own text says {own}, and the sheet says {unit}"
        remedy = f'write unit = "{own}"' if own in UNITS else "export it in mm or in"
        raise GeometryFault(name, words, remedy)


def _step_shape(path: Path) -> Shape:
    """All shapes of a STEP file in one, where they stand [mm]."""
    # what the translator has to say would go to standard output, where JSON may be going
    messenger = Message.DefaultMessenger_s()
    for printer in list(messenger.Printers()):
        messenger.RemovePrinter(printer)
    Interface_Static.SetCVal_s("xstep.cascade.unit", "MM")
    reader = STEPControl_Reader()
    if reader.ReadFile(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
        raise GeometryFault(path.name, "it cannot be read as STEP", AGAIN)
    reader.TransferRoots()
    if not reader.NbShapes():
        raise GeometryFault(path.name, "it holds no shape", "export the part itself, not its drawing")
    shape = cq.Shape.cast(reader.OneShape())
    if not shape.Faces():
        raise GeometryFault(path.name, "it holds no face", "export the part itself, not its drawing")
    return shape
