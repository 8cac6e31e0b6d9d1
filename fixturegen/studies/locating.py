"""Which freedoms of each body the jig takes away, which it leaves, and which it takes twice.

A contact with unit normal n at r stops the motion with twist (v, w) when n.v + (r x n).w = 0: one
row [n, r x n] of the locator matrix. The rank says how many freedoms are taken; what is left is the
null space, named in the shop's words; rows beyond the rank are constraints in excess. A contact
between two bodies has the row of the one and less the row of the other.

Source: Asada and By, IEEE J. Robotics and Automation RA-1, 1985 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel, Side, sign_of
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bar_sag import supports_of
from fixturegen.studies.jig_contacts import pad_points
from fixturegen.studies.jig_records import JigPlan

Triple = tuple[float, float, float]
X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
RANK_TOLERANCE = 1e-6  # of the largest singular value, rows scaled to the size of the body
COLLAR = 25.0  # radius at which a split collar holds a plate square on the bar [mm]
FREEDOMS = (
    "moves fore and aft",
    "moves along the axle",
    "moves up and down",
    "rolls (about the fore-and-aft line)",
    "turns about the axle line",
    "swings in plan",
)


@dataclass(frozen=True)
class Contact:
    """One locator: point [mm] and unit normal, on a body, against the table or another body."""

    body: str
    point: Triple
    normal: Triple
    words: str
    other: str = ""


@dataclass(frozen=True)
class TurnStop:
    """A locator that stops only the turn about the axle line (a difference of two gaps)."""

    body: str
    words: str


@dataclass(frozen=True)
class Located:
    """How a body, or two that locate each other, are held.

    Attributes:
        name: What is held.
        rank: Freedoms taken.
        freedoms: Freedoms there are: 6 a body.
        condition: Largest by smallest singular value that counts; large is touchy.
        free: Freedoms left, in words.
        wanted: Which of them are meant to be left, in words.
        excess: Constraints beyond the rank.
        locators: In words.
    """

    name: str
    rank: int
    freedoms: int
    condition: float
    free: tuple[str, ...]
    wanted: tuple[str, ...]
    excess: int
    locators: tuple[str, ...]

    @property
    def unwanted(self) -> tuple[str, ...]:
        """Freedoms left that should not be."""
        return tuple(f for f in self.free if f not in self.wanted)


def row(point: Triple, normal: Triple) -> Array:
    """Row (6,) of the locator matrix of a contact at a point [mm] with a unit normal.

    Source: Asada and By 1985, [n, r x n]; from memory.
    """
    return np.concatenate([np.array(normal), np.cross(point, normal)])


def rank_of(rows: Array) -> int:
    """Rank of locator rows (n, 6 k) whose lengths are scaled to the body's size."""
    values = np.linalg.svd(rows, compute_uv=False)
    return int(np.sum(values > RANK_TOLERANCE * values[0])) if len(values) else 0


def located(name: str, contacts: Sequence[Contact | TurnStop], wanted: tuple[str, ...] = ()) -> Located:
    """How the bodies named in the contacts are held."""
    bodies = list(dict.fromkeys(c.body for c in contacts))
    points = np.array([c.point for c in contacts if isinstance(c, Contact)])
    middle = points.mean(axis=0)
    size = max(1.0, float(np.sqrt(((points - middle) ** 2).sum(axis=1).mean())))
    rows = np.zeros((len(contacts), 6 * len(bodies)))
    for i, c in enumerate(contacts):
        at = 6 * bodies.index(c.body)
        if isinstance(c, TurnStop):
            rows[i, at + 4] = 1.0
            continue
        r = (np.array(c.point) - middle) / size
        one = row((float(r[0]), float(r[1]), float(r[2])), c.normal)
        rows[i, at : at + 6] = one
        if c.other:
            other = 6 * bodies.index(c.other)
            rows[i, other : other + 6] = -one
    _, values, directions = np.linalg.svd(rows)
    rank = int(np.sum(values > RANK_TOLERANCE * values[0]))
    return Located(
        name=name,
        rank=rank,
        freedoms=6 * len(bodies),
        condition=float(values[0] / values[rank - 1]),
        free=_named(directions[rank:], bodies),
        wanted=wanted,
        excess=len(contacts) - rank,
        locators=tuple(c.words for c in contacts),
    )


def _named(null: Array, bodies: list[str]) -> tuple[str, ...]:
    """Null space (k, 6 n) in words: by elimination, each motion by its largest share."""
    space = null.copy()
    names = []
    for i in range(len(space)):
        column = int(np.argmax(np.round(np.abs(space[i:]).max(axis=0), 6)))
        pivot = i + int(np.argmax(np.abs(space[i:, column])))
        space[[i, pivot]] = space[[pivot, i]]
        space[i] /= space[i, column]
        for j in range(len(space)):
            if j != i:
                space[j] -= space[j, column] * space[i]
        names.append(f"{bodies[column // 6]} {FREEDOMS[column % 6]}")
    return tuple(sorted(names))


def bodies_located(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> tuple[Located, ...]:
    """How every body of the jig and the axle is held, frame T with the bar at z = 0."""
    found = [_housing(axle, plan), _index(plan), _bar(sheet, axle, plan)]
    if plan.clock is not None and plan.tie is not None:
        found.append(_tie(plan))
        found += [_clock(sheet, axle, plan, side) for side in ("left", "right")]
    return tuple(found)


def _housing(axle: AxleModel, plan: JigPlan) -> Located:
    face = (float(plan.face_sign), 0.0, 0.0)
    contacts: list[Contact | TurnStop] = [
        Contact("housing", p, face, f"pad {i}") for i, p in enumerate(pad_points(plan), start=1)
    ]
    for cradle in plan.cradles:
        # An integral's bar is fixed in its housing, so a cradle under the bar carries the housing;
        # a drop-out's bar lies in the stand, and a cradle under it carries nothing of the housing.
        if cradle.carries == "tube" or plan.kind == "integral":
            point = (0.0, cradle.station, -cradle.radius)
            contacts.append(Contact("housing", point, Z, f"{cradle.side} cradle screw"))
    x, y = plan.x(plan.index.face), axle.face_middle[0]
    contacts.append(Contact("housing", (x, y, plan.index.pads[0][0]), Y, "y stop"))
    return located("housing", contacts)


def _index(plan: JigPlan) -> Located:
    index, stand = plan.index, plan.stand
    if index.puck_station is not None:
        (x0, y0), (x1, y1) = stand.pins
        far = plan.x(stand.base[1])
        floor = -plan.height
        contacts: list[Contact | TurnStop] = [
            Contact("stand", (plan.x(stand.base[0]), stand.base[2], floor), Z, "table"),
            Contact("stand", (plan.x(stand.base[0]), stand.base[3], floor), Z, "table"),
            Contact("stand", (far, (y0 + y1) / 2.0, floor), Z, "table"),
            Contact("stand", (x0, y0, floor), X, "round pin hole"),
            Contact("stand", (x0, y0, floor), Y, "round pin hole"),
            Contact("stand", (x1, y1, floor), X, "pin slot"),
        ]
        return located("stand with index and puck plates", contacts)
    y = index.station
    (low, _), (_, high) = index.pads
    x = plan.x(index.riser[0])
    contacts = [
        Contact("index plate", (0.0, y, 0.0), X, "bush on the bar"),
        Contact("index plate", (0.0, y, 0.0), Z, "bush on the bar"),
        TurnStop("index plate", "two equal gaps to the face"),
        Contact("index plate", (x, y, low), Y, "side of the stand"),
        Contact("index plate", (x, y, high), Y, "side of the stand"),
        Contact("index plate", (plan.x(index.riser[1]), y, 0.0), Y, "side of the stand"),
    ]
    return located("index plate", contacts)


def _bar(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> Located:
    contacts: list[Contact | TurnStop] = [
        Contact("bar", (0.0, y, 0.0), n, "puck") for y in supports_of(sheet, axle, plan) for n in (X, Z)
    ]
    contacts.append(Contact("bar", (0.0, plan.index.station, plan.bar / 2.0), Y, "collar"))
    return located("bar", contacts, ("bar turns about the axle line",))


def _tie(plan: JigPlan) -> Located:
    if plan.tie is None:
        raise ValueError("a rear axle has no tie")
    r, y = plan.tie.radius, plan.index.station
    contacts: list[Contact | TurnStop] = [
        Contact("tie", (0.0, y, r), X, "index hole"),
        Contact("tie", (0.0, y, r), Z, "index hole"),
        Contact("tie", (0.0, plan.tie.steady, r), X, "steady"),
        Contact("tie", (0.0, y, r + plan.tie.diameter / 2.0), Y, "keeper"),
    ]
    # Its own turn changes nothing, and a tie that dips at one end moves along the radius only.
    wanted = ("tie rolls (about the fore-and-aft line)", "tie turns about the axle line")
    return located("tie", contacts, wanted)


def _clock(sheet: Sheet, axle: AxleModel, plan: JigPlan, side: Side) -> Located:
    """A clock plate and its knuckle, which locate each other."""
    if plan.tie is None or plan.clock is None or sheet.knuckles is None:
        raise ValueError("a rear axle has no clock plates")
    s = sign_of(side)
    y = s * (plan.clock.inner + plan.clock_thickness / 2.0)
    hole = plan.tie.row[0]
    a = math.radians(hole.clock_angle)
    tie = (plan.tie.radius * math.sin(a), y, plan.tie.radius * math.cos(a))
    plate, knuckle = "clock plate", "knuckle"
    contacts: list[Contact | TurnStop] = [
        Contact(plate, tie, (math.cos(a), 0.0, -math.sin(a)), "tie, along the tangent"),
        Contact(plate, (0.0, y, plan.bar / 2.0), Z, "bush on top of the bar"),
    ]
    for k in range(3):
        t = 2.0 * math.pi * k / 3.0
        point = (COLLAR * math.sin(t), y, COLLAR * math.cos(t))
        contacts.append(Contact(plate, point, Y, "collar's face"))
    end = axle.tube_ends[1 if s > 0 else 0]
    for station in (end, end - s * float(sheet.knuckles.neck_length)):
        contacts += [Contact(knuckle, (0.0, station, 0.0), n, "tube in the knuckle") for n in (X, Z)]
    for finger in plan.clock.fingers:
        (x0, z0), (x1, z1) = finger.bars
        n = math.hypot(x0 - x1, z0 - z1)
        across = ((x0 - x1) / n, 0.0, (z0 - z1) / n)
        point = (finger.middle[0], s * finger.tip, finger.middle[1])
        contacts.append(Contact(knuckle, point, across, f"{finger.pivot} fingers", plate))
    # The knuckle's station is taped before the tacks and left free, so that the weld may shrink.
    return located(f"{side} clock plate and knuckle", contacts, ("knuckle moves along the axle",))
