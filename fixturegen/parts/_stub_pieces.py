"""What all stub pins share: steps from stations, gauge head, tail, washer, sleeve."""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.parts.joinery import INCH, decimal
from fixturegen.plate import Part, Turned, TurnedStep
from fixturegen.studies.stub_plan import (
    HEAD_TOLERANCE,
    JACKS,
    PAST,
    WASHER,
    PivotPlan,
    Thread,
    jack_thread,
)

MATERIAL = "1018-cd"
CHAMFER = 1.5  # [mm]
TOMMY = 0.25 * INCH  # hole for a tommy bar
JACK = JACKS[-1]
JACK_DEEP = 0.75 * INCH
TIGHT = (-0.012, 0.0)  # shanks and pilots [mm]
BORED = (0.0, 0.013)  # bores over them [mm]
FLOOR_FREE = 1.5  # corner of a disc kept off the corner of a cup bore [mm]
CUP_PROUD = 1.0  # disc stands this much out of the cup bore [mm]
PILOT = 12.0  # plain tail that a sleeve is bored to fit [mm]
SLEEVE_THREAD = 12.0  # [mm]
SCREW = "1/4-20"
SCREW_DRILL = 0.201 * INCH  # tap drill of 1/4-20, from memory
STRAP_ROD = 0.25 * INCH  # rod of the U-bolts
GROUP = {"left": "stubs-l", "right": "stubs-r"}
ONE_SETTING = "turn all diameters in one setting: gauge head and seat true to each other within 0.0005 in"
HEAD_NOTE = "gauge head: polish to size, no taper over its length"

Cut = tuple[float, float, float | None, tuple[float, float] | None, str]


@dataclass(frozen=True)
class Piece:
    """A turned piece and the station of its low end along the axis [mm]."""

    part: Part
    start: float


@dataclass(frozen=True)
class Stub:
    """All pieces of one pivot's stub and how it goes in and out."""

    pieces: tuple[Piece, ...]
    into: str
    out: str
    hardware: tuple[tuple[str, str, int], ...] = ()
    first: bool = False


def steps_of(start: float, *cuts: Cut) -> tuple[TurnedStep, ...]:
    """Steps from stations along the axis; each cut ends at its first figure."""
    steps, at = [], start
    for to, diameter, end, tolerance, note in cuts:
        if to - at > 1e-6:
            steps.append(TurnedStep(to - at, diameter, end, tolerance, note))
        at = max(at, to)
    return tuple(steps)


def stub_part(pivot: PivotPlan, label: str, turned: Turned, *notes: str, suffix: str = "") -> Part:
    """One turned piece of a pivot's stub."""
    name = f"stub-{pivot.name}{suffix}"
    return Part(
        name=name,
        label=f"{pivot.name} {label}",
        kind="stub_pins",
        form="turned",
        material=MATERIAL,
        turned=turned,
        quantity=2,
        datum="axis, and the face nearest to the axle line",
        notes=(*notes, "break all edges; stamp the name on the outer end"),
    )


def head(pivot: PivotPlan, to: float | None = None) -> tuple[Cut, ...]:
    """Gauge head up to its end, grip beyond it and a chamfer."""
    end = pivot.head_to if to is None else to
    gauge = (end, pivot.head, None, HEAD_TOLERANCE, "gauge head, polished")
    if to is not None:
        return (gauge,)
    grip = pivot.head - 1.0
    past = end + PAST
    return (
        gauge,
        (past - CHAMFER, grip, None, None, "grip, 1/4 in tommy hole across"),
        (past, grip, grip - 2.0 * CHAMFER, None, "chamfer"),
    )


def tommy(start: float, pivot: PivotPlan) -> tuple[tuple[float, float, float, str], ...]:
    """The tommy hole, right through the grip; `start` is the station of the piece's low end [mm]."""
    z = pivot.head_to + PAST / 2.0 - start
    return tuple((z, TOMMY, a, "drill 1/4 in right through, tommy hole") for a in (90.0, 270.0))


def tail(from_: float, to: float, thread: Thread) -> tuple[Cut, ...]:
    """Threaded tail from its inner end, chamfered."""
    d = thread.diameter
    return (
        (from_ + CHAMFER, d - 2.0 * CHAMFER, d, None, "chamfer"),
        (to, d, None, None, f"{thread.name} UNF, undercut at the shoulder"),
    )


def washer(pivot: PivotPlan, bore: float, thread: Thread) -> Piece:
    """Thick washer that bridges the bore on the arm's inner face."""
    outside = pivot.shoulder_diameter(max(bore, thread.flats))
    turned = Turned(
        steps=(TurnedStep(WASHER, outside, None, None, "face both sides parallel"),),
        bores=((0.0, WASHER, thread.diameter + INCH / 32.0, None, "drill 1/32 in over the thread"),),
    )
    part = stub_part(pivot, "stub washer", turned, "bridges the pivot's bore under the nut", suffix="-washer")
    return Piece(part, pivot.inside - WASHER)


def nut(thread: Thread, quantity: int = 2) -> tuple[str, str, int]:
    """The hardware line of a jam nut."""
    return ("hex jam nut", thread.name, quantity)


def sleeve(pivot: PivotPlan, pilot: float, thread: Thread) -> Piece:
    """Gauge-head sleeve that draws a stub up from outside and jacks it out again."""
    start, jack = pivot.outside, jack_thread(thread)
    foot = pivot.shoulder_diameter(pilot + 1.0)
    steps = steps_of(
        start,
        (start + pivot.shoulder, max(foot, pivot.head), None, None, "foot, face square"),
        *head(pivot),
    )
    length = sum(s.length for s in steps)
    deep = PILOT + SLEEVE_THREAD + 3.0
    turned = Turned(
        steps,
        bores=(
            (0.0, PILOT + 0.5, pilot + 0.02, None, f"bore to the stub's tail, {decimal(pilot + 0.02, 4)} +0.0005"),
            (PILOT + 0.5, deep, thread.diameter, None, f"drill {decimal(thread.drill)}, tap {thread.name} UNF"),
            (deep, length, jack.drill, None, f"drill {decimal(jack.drill)}, tap {jack.name} through, jacking thread"),
        ),
        cross_holes=tommy(start, pivot),
    )
    part = stub_part(
        pivot,
        "gauge-head sleeve",
        turned,
        "bore, face of the foot and gauge head in one setting, true within 0.0005 in",
        "tap from the foot end, started in the lathe",
        HEAD_NOTE,
        suffix="-sleeve",
    )
    return Piece(part, start)
