"""Parts, turned parts, welds and assemblies as frozen data."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from fixturegen.plate.profile import Hole, Loop

Form = Literal["plate", "bent", "turned", "tube"]
Vector = tuple[float, float, float]
Matrix = tuple[Vector, Vector, Vector]
IDENTITY: Matrix = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


@dataclass(frozen=True)
class Mark:
    """A line, a tick or lettering left on the steel.

    Attributes:
        x: Start [mm].
        y: Start [mm].
        text: Lettering; empty for a line.
        height: Lettering height [mm].
        to: End of a line [mm]; None for lettering.
        angle: Direction of the lettering [deg].
    """

    x: float
    y: float
    text: str = ""
    height: float = 8.0
    to: tuple[float, float] | None = None
    angle: float = 0.0


@dataclass(frozen=True)
class Bend:
    """A bend of a flat blank; `bends` of a part stand in the order they are bent.

    Attributes:
        x0: One end of the bend line, the middle line of what the bend takes up [mm].
        y0: The same end [mm].
        x1: Other end [mm].
        y1: Other end [mm].
        angle: Turned through, 0 for flat and 90 for a square corner [deg].
        radius: Inside radius [mm].
        up: Towards the marked face (Z+ of the flat), else away from it.
        allowance: Flat length the bend takes up, half on each side of the line [mm].
        rule: Where the allowance comes from, in words.
        measured: Whether it was measured on a strip bent at this angle.
        outside: Outside sizes the bend must come to: (fixed side, bent side) [mm]; None when not said.
    """

    x0: float
    y0: float
    x1: float
    y1: float
    angle: float
    radius: float
    up: bool = True
    allowance: float = 0.0
    rule: str = ""
    measured: bool = False
    outside: tuple[float, float] | None = None


@dataclass(frozen=True)
class Profile:
    """The one canonical flat form of a plate part, in the part frame.

    Attributes:
        outer: The outline, counter-clockwise.
        inner: Cut-outs that are not round holes, clockwise.
        holes: Round holes.
    """

    outer: Loop
    inner: tuple[Loop, ...] = ()
    holes: tuple[Hole, ...] = ()


@dataclass(frozen=True)
class TurnedStep:
    """One length of a turned part along its axis (local Z), from the face at Z = 0 upward.

    Attributes:
        length: Along the axis [mm].
        diameter: At the low-Z end [mm].
        end_diameter: At the high-Z end [mm]; None for a cylinder.
        tolerance: Of the diameter, as (lower, upper) [mm].
        note: Thread or finish in words ("1/2-13 UNC", "ground").
    """

    length: float
    diameter: float
    end_diameter: float | None = None
    tolerance: tuple[float, float] | None = None
    note: str = ""


@dataclass(frozen=True)
class Turned:
    """A lathe part: outside steps and bores, both stacked from Z = 0 upward.

    Attributes:
        steps: Outside, in order from Z = 0.
        bores: Inside, each as (from Z, to Z, diameter, end diameter or None, note) [mm].
        flats: Milled flats, each as (from Z, to Z, distance of the flat from the axis, direction
            of its normal about Z [deg]) [mm].
        cross_holes: Holes square to the axis, each as (Z, diameter, direction about Z [deg], note),
            from the axis outward; one right through is given twice, 180 deg apart.
        axial_holes: Holes along Z off the axis, each as (x, y, diameter, note).
        saw_cut: Width of one radial slot through the wall (split collars) at +X [mm]; 0 for none.
    """

    steps: tuple[TurnedStep, ...]
    bores: tuple[tuple[float, float, float, float | None, str], ...] = ()
    flats: tuple[tuple[float, float, float, float], ...] = ()
    cross_holes: tuple[tuple[float, float, float, str], ...] = ()
    axial_holes: tuple[tuple[float, float, float, str], ...] = ()
    saw_cut: float = 0.0


@dataclass(frozen=True)
class Weld:
    """A weld between two parts: leg and length [mm], in words."""

    parts: tuple[str, str]
    leg: float
    length: float
    words: str


@dataclass(frozen=True)
class Part:
    """A part to make.

    Attributes:
        name: Slug `[a-z0-9-]{1,40}`, unique without regard to case.
        label: The words people use.
        kind: Which maker made it.
        form: plate, bent, turned or tube.
        thickness: Plate thickness, measured [mm]; 0 for turned parts and tubes.
        material: Id in the table of materials; plates from a rack name the rack's, turned parts their bar's.
        profile: The flat form of a plate part.
        turned: The lathe data of a turned part.
        tube: (outside diameter or side, wall, length, square?) of a tube part [mm].
        hand: L, R or None.
        quantity: How many to make.
        marks: What is marked on the marked face.
        bends: Bend lines of a bent part, in the order they are bent; the face its datum lies on stays put.
        needs: Codes of the claims that must be checked before release.
        datum: What the origin of the part frame is, in words.
        notes: What the maker must know.
    """

    name: str
    label: str
    kind: str
    form: Form
    thickness: float = 0.0
    material: str = "a36"
    profile: Profile | None = None
    turned: Turned | None = None
    tube: tuple[float, float, float, bool] | None = None
    hand: Literal["L", "R"] | None = None
    quantity: int = 1
    marks: tuple[Mark, ...] = ()
    bends: tuple[Bend, ...] = ()
    needs: tuple[str, ...] = ()
    datum: str = ""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Placement:
    """Where a part stands: p_world = rotation @ p_part + origin.

    Attributes:
        part: Name of the part.
        origin: (3,) [mm].
        rotation: Rows of the rotation matrix (3, 3).
        group: Step of assembly it belongs to ("stand", "cradle-l", "clock-l", "tie" ...).
    """

    part: str
    origin: Vector = (0.0, 0.0, 0.0)
    rotation: Matrix = IDENTITY
    group: str = ""


@dataclass(frozen=True)
class Assembly:
    """Parts placed in one frame.

    Attributes:
        name: Slug of the assembly.
        frame: T for the table, A for the axle.
        placements: Where each part stands (a part made twice is placed twice).
        welds: What is welded to what.
        hardware: Bought things, each as (what, size, quantity, where).
        steps: Order of assembly, in words.
        orders: Of each step, where its maker told it: of the jig 0 to 19 making it, 20 to 55 setting the housing
            up, 56 to 92 setting and reading, from 93 taking it off again.
    """

    name: str
    frame: str
    placements: tuple[Placement, ...]
    welds: tuple[Weld, ...] = ()
    hardware: tuple[tuple[str, str, int, str], ...] = ()
    steps: tuple[str, ...] = field(default=())
    orders: tuple[int, ...] = ()
