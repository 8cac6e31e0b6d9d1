"""Shaded pictures of solids with their edges, drawn without a screen."""

from __future__ import annotations

import base64
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import vtkmodules.vtkRenderingOpenGL2  # noqa: F401 - registers the drawing back end
from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.GCPnts import GCPnts_TangentialDeflection
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp
from OCP.TopoDS import TopoDS
from OCP.TopTools import TopTools_IndexedDataMapOfShapeListOfShape
from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray, vtk_to_numpy
from vtkmodules.vtkCommonCore import vtkLogger, vtkObject, vtkPoints
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
from vtkmodules.vtkFiltersCore import vtkPolyDataNormals
from vtkmodules.vtkIOImage import vtkPNGWriter
from vtkmodules.vtkRenderingCore import (
    vtkActor,
    vtkLight,
    vtkPolyDataMapper,
    vtkRenderer,
    vtkRenderWindow,
    vtkWindowToImageFilter,
)

from fixturegen import keeping
from fixturegen.errors import GeometryFault, MachineFault
from fixturegen.keeping import key_of
from fixturegen.shapes.cache import shape_key
from fixturegen.shapes.kernel import Shape
from fixturegen.shapes.meshes import Floats, Mesh, mesh_of

Colour = tuple[float, float, float]
Direction = tuple[float, float, float]

# From where it is looked at, in axes X forward, Y to the left, Z up; and what is up in the picture.
VIEWS: dict[str, tuple[Direction, Direction]] = {
    "front": ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    "rear": ((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    "left": ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "right": ((0.0, -1.0, 0.0), (0.0, 0.0, 1.0)),
    "top": ((0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
    "bottom": ((0.0, 0.0, -1.0), (1.0, 0.0, 0.0)),
    "iso": ((1.0, 0.8, 0.7), (0.0, 0.0, 1.0)),
    "iso-rear": ((-1.0, -0.8, 0.7), (0.0, 0.0, 1.0)),
}
PICTURE_DEFLECTION = 0.1  # [mm] finer than a pixel at the size of a housing
PEELS = 3  # layers of ghosts seen through one another
FEW_PIXELS = 0.001  # part of the picture; a further layer that changes fewer of them is left out
MARGIN = 1.06  # [1] white left round the subject
CREASE = 35.0  # [deg] facets that meet at less are shaded as one surface
EDGE_WIDTH = 1.6  # [pixel]
INK: Colour = (0.08, 0.09, 0.10)
GHOST_INK = 0.45  # [1] opacity of a ghost's edges


def picture(
    path: Path,
    items: Sequence[tuple[Shape, Colour, float]],
    view: str | Direction = "iso",
    size: tuple[int, int] = (1400, 1000),
    deflection: float = PICTURE_DEFLECTION,
) -> None:
    """Nothing; writes a PNG of the solids on white, parallel view, fitted to the page.

    Args:
        path: The file.
        items: (solid, colour red-green-blue 0..1, opacity 0..1) each.
        view: Name of `VIEWS`, or the direction (3,) from the subject to the eye.
        size: Width and height [pixel].
        deflection: Of the meshes drawn, absolute [mm].
    """
    path.write_bytes(picture_bytes(items, view, size, deflection))


def picture_bytes(
    items: Sequence[tuple[Shape | Mesh, Colour, float]],
    view: str | Direction = "iso",
    size: tuple[int, int] = (1400, 1000),
    deflection: float = PICTURE_DEFLECTION,
) -> bytes:
    """The PNG of `picture` as bytes; the same solids give the same bytes on one machine.

    Args:
        items: (solid, colour red-green-blue 0..1, opacity 0..1) each.
        view: Name of `VIEWS`, or the direction (3,) from the subject to the eye.
        size: Width and height [pixel].
        deflection: Of the meshes drawn, absolute [mm].
    """
    return pictures_bytes(items, [view], size, deflection)[0]


def pictures_bytes(
    items: Sequence[tuple[Shape | Mesh, Colour, float]],
    views: Sequence[str | Direction],
    size: tuple[int, int] = (1400, 1000),
    deflection: float = PICTURE_DEFLECTION,
) -> list[bytes]:
    """One PNG a view as bytes, of solids meshed once for all.

    Args:
        items: (solid or mesh, colour red-green-blue 0..1, opacity 0..1) each.
        views: Names of `VIEWS`, or directions (3,) from the subject to the eye.
        size: Width and height [pixel].
        deflection: Of the meshes drawn, absolute [mm].
    """
    if not items:
        raise GeometryFault("picture", "there is nothing to draw", "give a solid")
    aims = [_directions(view) for view in views]
    drawn = [(digest_of(shape), colour, opacity) for shape, colour, opacity in items]
    key = key_of(("picture", drawn, [[*eye.tolist(), *up.tolist()] for eye, up in aims], size, deflection))
    shots = keeping.kept_json(
        "picture", key, lambda: [base64.b64encode(s).decode() for s in _shots(items, aims, size, deflection)]
    )
    return [base64.b64decode(shot) for shot in shots]


def digest_of(shape: Shape | Mesh) -> object:
    """What tells a thing to be drawn, and where it stands, from any other."""
    return shape.digest if isinstance(shape, Mesh) else shape_key(shape)


def _shots(
    items: Sequence[tuple[Shape | Mesh, Colour, float]],
    aims: Sequence[tuple[Floats, Floats]],
    size: tuple[int, int],
    deflection: float,
) -> list[bytes]:
    vtkObject.GlobalWarningDisplayOff()
    # it would report the missing screen on standard error
    vtkLogger.SetStderrVerbosity(vtkLogger.VERBOSITY_OFF)
    renderer = vtkRenderer()
    renderer.SetBackground(1.0, 1.0, 1.0)
    drawn: list[Floats] = []
    for item in items:
        shape, colour, opacity = item
        mesh = shape if isinstance(shape, Mesh) else mesh_of(shape, deflection)
        drawn.append(mesh.vertices)
        renderer.AddActor(_surface(mesh, colour, opacity))
        # the edges of a mesh that was read are those of its triangles: they would blacken it
        lines = [] if isinstance(shape, Mesh) else _edge_lines(shape, deflection)
        if lines:
            renderer.AddActor(_ink(lines, 1.0 if opacity >= 1.0 else GHOST_INK * opacity**0.5))
    _light(renderer)
    points = np.concatenate(drawn)
    window = _window(renderer, size, ghosts=any(item[2] < 1.0 for item in items))
    shots: list[bytes] = []
    for eye, up in aims:
        _aim(renderer, points, eye, up, size)
        shots.append(_shot(window, size))
    window.Finalize()
    return shots


def _directions(view: str | Direction) -> tuple[Floats, Floats]:
    if isinstance(view, str):
        if view not in VIEWS:
            raise GeometryFault("picture", f"there is no view {view!r}", f"take one of {', '.join(VIEWS)}")
        eye, up = (np.array(v) for v in VIEWS[view])
    else:
        eye = np.array(view, dtype=float)
        if not np.all(np.isfinite(eye)) or not eye.any():
            raise GeometryFault("picture", "the view has no direction", "give three numbers")
        level = math.hypot(eye[0], eye[1]) < 1e-6 * abs(eye[2])
        up = np.array((1.0, 0.0, 0.0) if level else (0.0, 0.0, 1.0))
    eye = eye / np.linalg.norm(eye)
    up = up - eye * float(eye @ up)
    return eye, up / np.linalg.norm(up)


def _surface(mesh: Mesh, colour: Colour, opacity: float) -> Any:
    data = vtkPolyData()
    data.SetPoints(_points(mesh.vertices))
    cells = vtkCellArray()
    offsets = np.arange(0, 3 * len(mesh.faces) + 1, 3, dtype=np.int64)
    cells.SetData(
        numpy_to_vtkIdTypeArray(offsets, deep=True),
        numpy_to_vtkIdTypeArray(np.ascontiguousarray(mesh.faces).ravel(), deep=True),
    )
    data.SetPolys(cells)
    normals = vtkPolyDataNormals()
    normals.SetInputData(data)
    normals.SetFeatureAngle(CREASE)
    normals.SplittingOn()
    normals.ConsistencyOff()
    mapper = vtkPolyDataMapper()
    mapper.SetInputConnection(normals.GetOutputPort())
    # surfaces stand back a little so that the edges on them are not eaten
    mapper.SetResolveCoincidentTopologyToPolygonOffset()
    mapper.SetRelativeCoincidentTopologyPolygonOffsetParameters(1.0, 1.0)
    actor = vtkActor()
    actor.SetMapper(mapper)
    look = actor.GetProperty()
    look.SetColor(*colour)
    look.SetOpacity(opacity)
    look.SetInterpolationToPhong()
    look.SetAmbient(0.36)
    look.SetDiffuse(0.74)
    look.SetSpecular(0.12)
    look.SetSpecularPower(20.0)
    return actor


def _edge_lines(shape: Shape, deflection: float) -> list[Floats]:
    """Every edge of the shape as points (n, 3) [mm], seams of round faces left out."""
    faces = TopTools_IndexedDataMapOfShapeListOfShape()
    TopExp.MapShapesAndAncestors_s(shape.wrapped, TopAbs_ShapeEnum.TopAbs_EDGE, TopAbs_ShapeEnum.TopAbs_FACE, faces)
    lines: list[Floats] = []
    for number in range(1, faces.Extent() + 1):
        edge = TopoDS.Edge(faces.FindKey(number))
        beside = faces.FindFromIndex(number)
        seam = beside.Size() > 0 and BRep_Tool.IsClosed_s(edge, TopoDS.Face(beside.First()))
        if seam or BRep_Tool.Degenerated_s(edge):
            continue
        walk = GCPnts_TangentialDeflection(BRepAdaptor_Curve(edge), 0.15, deflection, 2, 1e-7)
        points = [walk.Value(i) for i in range(1, walk.NbPoints() + 1)]
        lines.append(np.array([(p.X(), p.Y(), p.Z()) for p in points]))
    return lines


def _ink(lines: list[Floats], opacity: float) -> Any:
    data = vtkPolyData()
    data.SetPoints(_points(np.concatenate(lines)))
    counts = np.array([len(line) for line in lines])
    offsets = np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)
    cells = vtkCellArray()
    cells.SetData(
        numpy_to_vtkIdTypeArray(offsets, deep=True),
        numpy_to_vtkIdTypeArray(np.arange(offsets[-1], dtype=np.int64), deep=True),
    )
    data.SetLines(cells)
    mapper = vtkPolyDataMapper()
    mapper.SetInputData(data)
    actor = vtkActor()
    actor.SetMapper(mapper)
    look = actor.GetProperty()
    look.SetColor(*INK)
    look.SetOpacity(opacity)
    look.SetLineWidth(EDGE_WIDTH)
    look.LightingOff()
    return actor


def _points(points: Floats) -> Any:
    held = vtkPoints()
    held.SetData(numpy_to_vtk(np.ascontiguousarray(points, dtype=np.float64), deep=True))
    return held


def _light(renderer: Any) -> None:
    for place, strength in (((-0.4, 0.6, 1.0), 0.90), ((0.9, -0.2, 0.8), 0.35)):
        light = vtkLight()
        light.SetLightTypeToCameraLight()
        light.SetPosition(*place)
        light.SetFocalPoint(0.0, 0.0, 0.0)
        light.SetIntensity(strength)
        renderer.AddLight(light)


def _aim(renderer: Any, points: Floats, eye: Floats, up: Floats, size: tuple[int, int]) -> None:
    right = np.cross(up, eye)
    flat = np.stack([points @ right, points @ up, points @ eye], axis=1)
    low, high = flat.min(axis=0), flat.max(axis=0)
    middle = (low + high) / 2.0
    half = (high - low) / 2.0
    focus = middle[0] * right + middle[1] * up + middle[2] * eye
    depth = float(half[2]) + 1.0
    camera = renderer.GetActiveCamera()
    camera.ParallelProjectionOn()
    camera.SetFocalPoint(*focus)
    camera.SetPosition(*(focus + eye * 3.0 * depth))
    camera.SetViewUp(*up)
    camera.SetParallelScale(MARGIN * max(float(half[1]), float(half[0]) * size[1] / size[0], 1e-3))
    camera.SetClippingRange(depth, 5.0 * depth)


def _window(renderer: Any, size: tuple[int, int], *, ghosts: bool) -> Any:
    window = vtkRenderWindow()
    window.SetOffScreenRendering(1)
    window.SetMultiSamples(0)
    window.SetAlphaBitPlanes(1)
    window.SetSize(*size)
    # ghosts in front of one another come out right whatever the order of drawing
    renderer.SetUseDepthPeeling(int(ghosts))
    renderer.SetMaximumNumberOfPeels(PEELS)
    renderer.SetOcclusionRatio(FEW_PIXELS)
    # smooths edges in the finished picture; drawn twice as large and averaged takes twice as long
    renderer.UseFXAAOn()
    window.AddRenderer(renderer)
    return window


def _shot(window: Any, size: tuple[int, int]) -> bytes:
    window.Render()
    grab = vtkWindowToImageFilter()
    grab.SetInput(window)
    grab.SetInputBufferTypeToRGB()
    grab.ReadFrontBufferOff()
    # it was drawn just now; drawing again takes as long again
    grab.ShouldRerenderOff()
    grab.Update()
    image = grab.GetOutput()
    pixels = vtk_to_numpy(image.GetPointData().GetScalars())
    if pixels.size != size[0] * size[1] * 3 or int(pixels.min()) == int(pixels.max()):
        raise MachineFault(
            "picture",
            "a blank picture",
            "this machine's drawing library gave nothing; install Mesa's EGL (see README)",
        )
    writer = vtkPNGWriter()
    writer.SetInputData(image)
    writer.WriteToMemoryOn()
    writer.Write()
    return bytes(vtk_to_numpy(writer.GetResult()))
