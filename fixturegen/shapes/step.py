"""STEP files: the same shapes give the same bytes; written with names and colours, read, measured."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import cadquery as cq
from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.Interface import Interface_Static
from OCP.Message import Message, Message_Gravity
from OCP.Quantity import Quantity_Color, Quantity_TOC_RGB
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.STEPControl import STEPControl_Reader, STEPControl_StepModelType
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool

from fixturegen import keeping
from fixturegen.errors import GeometryFault
from fixturegen.keeping import key_of
from fixturegen.plate import Placement
from fixturegen.shapes.cache import shape_key
from fixturegen.shapes.kernel import Shape, Solid
from fixturegen.shapes.primitives import Box, bounding_box, placed, solids_in, volume
from fixturegen.shapes.step_colours import in_own_order

Colour = tuple[float, float, float]
GREY: Colour = (0.62, 0.64, 0.66)
FIXED_TIME = "2000-01-01T00:00:00"
NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ._+-]{0,79}")

_HEADER_TIME = re.compile(r"(FILE_NAME\('(?:[^']|'')*',')[^']*(')")
_PRODUCT = re.compile(r"'Open CASCADE STEP translator [0-9.]+( [0-9.]+)?'")
_USAGE = re.compile(r"(NEXT_ASSEMBLY_USAGE_OCCURRENCE\(')([^']*)(')")
_USAGE_LINES = re.compile(r"NEXT_ASSEMBLY_USAGE_OCCURRENCE\([^;]*;")
_MINUS_ZERO = re.compile(r"(?<=[(,])-0\.(?=[,)])")


@dataclass(frozen=True)
class StepItem:
    """One solid of a STEP file.

    Attributes:
        name: Product name; plain letters, digits, blanks and . _ + -.
        shape: The solid, in its part frame.
        colour: Red, green, blue, each 0..1.
        placements: Where it stands; none means once, as drawn. The geometry is written once.
    """

    name: str
    shape: Shape
    colour: Colour = GREY
    placements: tuple[Placement, ...] = ()


@dataclass(frozen=True)
class StepMeasure:
    """What a STEP file holds.

    Attributes:
        solids: How many.
        volume: Of all solids [mm3].
        box: (xmin, ymin, zmin, xmax, ymax, zmax) of all [mm].
        valid: Whether the kernel finds every solid sound.
    """

    solids: int
    volume: float
    box: Box
    valid: bool


def step_bytes(items: Sequence[StepItem], assembly: str | None = None) -> bytes:
    """The STEP file (AP214, mm) as bytes; the same items give the same bytes.

    Args:
        items: The solids, in the order they are written.
        assembly: Name of the assembly that holds them; None writes each as its own product.
    """
    if not items:
        raise GeometryFault(assembly or "STEP file", "there is nothing to write", "give a solid")
    for name in (*(item.name for item in items), *([assembly] if assembly else [])):
        if not NAME.fullmatch(name):
            raise GeometryFault(name, "its name cannot go into STEP", "use letters and digits")
    made_of = [(i.name, shape_key(i.shape), i.colour, i.placements) for i in items]
    return keeping.kept("step", key_of((made_of, assembly)), lambda: _made(items, assembly))


def _made(items: Sequence[StepItem], assembly: str | None) -> bytes:
    _quiet()
    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    # names are ours alone
    shapes.SetAutoNaming_s(False)
    top = None
    if assembly is not None:
        top = shapes.NewShape()
        _name(top, assembly)
    for item in items:
        colour = Quantity_Color(*item.colour, Quantity_TOC_RGB)
        for shape in [_unplaced(item)] if assembly is not None else _baked(item):
            label = shapes.AddShape(shape, False)
            _name(label, item.name)
            colours.SetColor(label, colour, XCAFDoc_ColorType.XCAFDoc_ColorGen)
        for number, location in enumerate(_locations(item) if top is not None else [], start=1):
            part = shapes.AddComponent(top, label, location)
            _name(part, item.name if len(item.placements) < 2 else f"{item.name}-{number}")
    shapes.UpdateAssemblies()
    return normalised(_written(document))


def write_step(path: Path, items: Sequence[StepItem], assembly: str | None = None) -> None:
    """Nothing; writes the STEP file of `step_bytes`.

    Args:
        path: The file.
        items: The solids.
        assembly: Name of the assembly that holds them.
    """
    path.write_bytes(step_bytes(items, assembly))


def write_part_step(path: Path, solid: Solid, name: str, colour: Colour = GREY) -> None:
    """Nothing; writes one solid under its name.

    Args:
        path: The file.
        solid: In its part frame.
        name: Product name.
        colour: Red, green, blue, each 0..1.
    """
    write_step(path, [StepItem(name, solid, colour)])


def assembly_items(
    solids: Mapping[str, Solid],
    placements: Sequence[Placement],
    colours: Mapping[str, Colour] | None = None,
) -> list[StepItem]:
    """The items of an assembly file, each part once with all its places, in the order first placed.

    Args:
        solids: Part name to solid in its part frame.
        placements: Where each part stands; every one must name a solid.
        colours: Part name to colour; grey where it says nothing.
    """
    by_part: dict[str, list[Placement]] = {}
    for placement in placements:
        by_part.setdefault(placement.part, []).append(placement)
    tints = colours or {}
    return [StepItem(part, solids[part], tints.get(part, GREY), tuple(places)) for part, places in by_part.items()]


def read_step(path: Path) -> list[Solid]:
    """Every solid of the file where it stands [mm].

    Args:
        path: The file.
    """
    _quiet()
    Interface_Static.SetCVal_s("xstep.cascade.unit", "MM")
    reader = STEPControl_Reader()
    if reader.ReadFile(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
        raise GeometryFault(path.name, "it cannot be read as STEP", "write it anew")
    reader.TransferRoots()
    solids = solids_in(cq.Shape.cast(reader.OneShape())) if reader.NbShapes() else []
    if not solids:
        raise GeometryFault(path.name, "it holds no solid", "write it anew")
    return solids


def measure_step(path: Path) -> StepMeasure:
    """What the file holds, measured on what is read back from it.

    Args:
        path: The file.
    """
    # a file of the very same bytes has been read and measured before
    key = key_of(("measure", path.read_bytes() if path.is_file() else b""))
    found = keeping.kept_json("measure", key, lambda: asdict(_measured(path)))
    return StepMeasure(found["solids"], found["volume"], tuple(found["box"]), found["valid"])


def _measured(path: Path) -> StepMeasure:
    solids = read_step(path)
    boxes = [bounding_box(s) for s in solids]
    low = [min(b[i] for b in boxes) for i in range(3)]
    high = [max(b[i] for b in boxes) for i in range(3, 6)]
    return StepMeasure(
        solids=len(solids),
        volume=sum(volume(s) for s in solids),
        box=(low[0], low[1], low[2], high[0], high[1], high[2]),
        valid=all(_sound(s) for s in solids),
    )


def _sound(solid: Solid) -> bool:
    # where it stands is no matter: a part that is placed often, or was read before, is asked about once
    drawing = shape_key(solid)[0]
    return bool(keeping.kept_json("sound", key_of(("sound", drawing)), lambda: bool(solid.isValid())))


def placed_all(items: Sequence[StepItem]) -> list[Solid]:
    """Every solid of the items where it stands, in order."""
    return [placed(item.shape, place) for item in items for place in (item.placements or (Placement(item.name),))]


def normalised(data: bytes) -> bytes:
    """The STEP text with a fixed time, no counters or signs of zeros, and colours in their own order.

    Args:
        data: As the kernel wrote it.
    """
    text = data.decode("ascii").replace("\r\n", "\n")
    text = _HEADER_TIME.sub(rf"\g<1>{FIXED_TIME}\g<2>", text, count=1)
    text = _PRODUCT.sub("'fixturegen'", text)
    # where the kernel breaks such a line hangs on how long its counter has grown in this process
    text = _USAGE_LINES.sub(lambda m: re.sub(r"\n *", "", m[0]), text)
    numbers = iter(range(1, 1 + len(_USAGE.findall(text))))
    text = _USAGE.sub(lambda m: f"{m[1]}{next(numbers)}{m[3]}", text)
    return in_own_order(_MINUS_ZERO.sub("0.", text)).encode("ascii")


def _written(document: Any) -> bytes:
    writer = STEPCAFControl_Writer()
    writer.SetColorMode(True)
    writer.SetNameMode(True)
    Interface_Static.SetCVal_s("write.step.schema", "AP214IS")
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    Interface_Static.SetIVal_s("write.precision.mode", 1)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "shape.step"
        good = writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs)
        status = writer.Write(str(path)) if good else None
        if status != IFSelect_ReturnStatus.IFSelect_RetDone:
            raise GeometryFault("STEP file", "the kernel cannot write it", "check its solids")
        return path.read_bytes()


def _locations(item: StepItem) -> list[TopLoc_Location]:
    drawn = item.shape.wrapped.Location()
    if not item.placements:
        return [drawn]
    return [placed(item.shape, place).wrapped.Location() for place in item.placements]


def _unplaced(item: StepItem) -> Any:
    return item.shape.wrapped.Located(TopLoc_Location())


def _baked(item: StepItem) -> list[Any]:
    # a product that stands alone has no place of its own: its points are moved instead
    return [
        BRepBuilderAPI_Transform(_unplaced(item), location.Transformation(), True).Shape()
        if not location.IsIdentity()
        else _unplaced(item)
        for location in _locations(item)
    ]


def _name(label: Any, name: str) -> None:
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(name))


def _quiet() -> None:
    # the translator prints its statistics on standard output, where JSON may be going
    for printer in Message.DefaultMessenger_s().Printers():
        printer.SetTraceLevel(Message_Gravity.Message_Fail)
