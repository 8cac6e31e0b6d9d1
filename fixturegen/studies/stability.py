"""Whether what stands on the table stays there, step by step, and what each lift weighs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fixturegen.axle.model import AxleModel, Side, sign_of
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_records import BEAD_ROOM, INCH, JigPlan
from fixturegen.studies.masses import Body, bodies_of, together

SPARE = 2.0 * INCH  # centre of mass inside the supports by this much; the job's own rule [mm]
JACK_FOOT = 4.0 * INCH  # half the foot of the jack stand that stands in for a cradle under the bar [mm]
FRICTION = 0.15  # steel on steel, a little oil; Machinery's Handbook, from memory
STRAP = 300.0 * 4.4482216152605  # pull of a ratchet strap drawn by hand, rated 500 lbf [N] [cp]
ROLL_SPARE = 1.5  # strap friction over the moment that would roll the housing [cp]
ONE_PERSON = 50.0 * 0.45359237  # above this two people or a hoist [kg]; common practice (NIOSH 51 lb)
TWO_PEOPLE = 2.0 * ONE_PERSON

Flat = tuple[float, float]


@dataclass(frozen=True)
class Step:
    """One moment of setting up or taking down.

    Attributes:
        name: In words.
        mass: On the supports [kg].
        centre: (x, y) of the centre of mass, frame T [mm].
        supports: Corners of the support polygon, counter-clockwise [mm].
        spare: Least distance of the centre of mass from the polygon's edges, negative outside [mm].
        side_spare: The same along the axle only, to the support on the long side [mm].
    """

    name: str
    mass: float
    centre: Flat
    supports: tuple[Flat, ...]
    spare: float
    side_spare: float


@dataclass(frozen=True)
class Lift:
    """One thing to lift: its name, mass [kg] and where to take it (station [mm])."""

    name: str
    mass: float
    at: float
    assumed: bool


def polygon(points: Sequence[Flat]) -> tuple[Flat, ...]:
    """Convex hull of points (n, 2), counter-clockwise.

    Source: monotone chain, derived.
    """
    unique = sorted(set(points))
    if len(unique) < 3:
        return tuple(unique)

    def half(some: Sequence[Flat]) -> list[Flat]:
        chain: list[Flat] = []
        for p in some:
            while len(chain) > 1 and _left_of(chain[-2], chain[-1], p) <= 0.0:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    return tuple(half(unique) + half(unique[::-1]))


def spare_inside(corners: Sequence[Flat], point: Flat) -> float:
    """Least distance of a point inside a convex polygon from its edges [mm]; negative outside.

    Two supports make a line: nothing is to spare across it, so the answer is never positive.

    Args:
        corners: Counter-clockwise (n, 2) [mm].
        point: (x, y) [mm].

    Source: geometry, derived.
    """
    n = len(corners)
    if n < 3:
        return -max(math.dist(corners[0], point) if n == 1 else 0.0, 0.0)
    return min(
        _left_of(corners[i], corners[(i + 1) % n], point) / math.dist(corners[i], corners[(i + 1) % n])
        for i in range(n)
    )


def _left_of(a: Flat, b: Flat, p: Flat) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def steps_of(sheet: Sheet, axle: AxleModel, plan: JigPlan, bodies: dict[str, Body] | None = None) -> tuple[Step, ...]:
    """Every moment of setting up, in order; taking down passes the same ones backward.

    The polygon is what stands on the table: feet of the cradles and base of the stand. Table bolts,
    hands and hoist are not counted. That the housing does not roll on its cradles meanwhile is the
    roll stop's work (`roll_stop`).
    """
    masses = bodies or bodies_of(sheet, axle, plan)
    housing = [masses["centre"], masses["tube-l"], masses["tube-r"]]
    held = [*housing, masses["stand"]]
    early, late = _cradle_points(axle, plan, before_bar=True), _cradle_points(axle, plan)
    base = tuple((plan.x(u), y) for u in plan.stand.base[:2] for y in plan.stand.base[2:])
    left_in = sheet.bar.free_side == "left"
    end = axle.tube_ends[1 if left_in else 0]
    bar = masses["bar"]
    half_in = Body("bar", bar.mass, (0.0, end, 0.0), False, bar.how)
    found = [
        _step("on jacks alone", housing, early),
        _step("on the face, two nuts on", held, (*early, *base)),
        _step("bar half in", [*held, half_in], (*early, *base)),
    ]
    if plan.clock is None:
        return (*found, _step("bar in", [*held, bar], (*late, *base)))
    for side in ("l", "r"):
        word = "left" if side == "l" else "right"
        one = [*held, bar, masses[f"clock-{side}"], masses[f"knuckle-{side}"]]
        found.append(_step(f"{word} side fitted alone", one, (*late, *base)))
    everything = [*held, bar, masses["tie"]]
    everything += [masses[f"{kind}-{side}"] for kind in ("clock", "knuckle") for side in ("l", "r")]
    found.append(_step("knuckles on, tie in", everything, (*late, *base)))
    return tuple(found)


def _cradle_points(axle: AxleModel, plan: JigPlan, before_bar: bool = False) -> tuple[Flat, ...]:
    """Feet of the cradles; before the bar is in, a jack stands in for a cradle under the bar."""
    points: list[Flat] = []
    for cradle in plan.cradles:
        station, feet = cradle.station, [x for x, _ in cradle.holes]
        if before_bar and cradle.carries == "bar":
            i = 1 if cradle.side == "left" else 0
            station = (axle.section[i] + axle.tube_ends[i]) / 2.0
            feet = [-JACK_FOOT, JACK_FOOT]
        points += [(x, station) for x in feet]
    return tuple(points)


def _step(name: str, bodies: Sequence[Body], supports: Sequence[Flat]) -> Step:
    mass, (x, y, _) = together(bodies)
    corners = polygon(supports)
    ys = [p[1] for p in supports]
    side = min(max(ys) - y, y - min(ys))
    return Step(name, mass, (x, y), corners, spare_inside(corners, (x, y)), side)


def entering_spare(sheet: Sheet, axle: AxleModel, plan: JigPlan, bodies: dict[str, Body] | None = None) -> float:
    """Spare when the bar has just reached the first puck and nobody carries its tail [mm]."""
    masses = bodies or bodies_of(sheet, axle, plan)
    sign = 1.0 if sheet.bar.free_side == "left" else -1.0
    stations = [plan.index.station]
    if plan.index.puck_station is not None:
        stations.append(plan.index.puck_station)
    first = max(stations, key=lambda y: sign * y)
    middle = first + sign * sheet.bar.length / 2.0
    bar = Body("bar", masses["bar"].mass, (0.0, middle, 0.0), False, "")
    base = tuple((plan.x(u), y) for u in plan.stand.base[:2] for y in plan.stand.base[2:])
    held = [masses[n] for n in ("centre", "tube-l", "tube-r", "stand")]
    supports = (*_cradle_points(axle, plan, before_bar=True), *base)
    return _step("bar entering", [*held, bar], supports).spare


def roll_stop(
    sheet: Sheet, axle: AxleModel, plan: JigPlan, bodies: dict[str, Body] | None = None
) -> tuple[float, float]:
    """Moment that rolls the bare housing on its cradles, and what strapped tubes hold [N*mm].

    A strap over the tube at each cradle that carries one, drawn down on both sides, presses the
    tube on its screws; friction holds at the tube's radius.

    Source: statics, derived; friction and strap are common practice.
    """
    masses = bodies or bodies_of(sheet, axle, plan)
    mass, (x, _, _) = together([masses[n] for n in ("centre", "tube-l", "tube-r")])
    weight = mass * 9.80665
    strapped = sum(1 for c in plan.cradles if c.carries == "tube")
    pressed = weight * strapped / len(plan.cradles) + 2.0 * STRAP * strapped
    return abs(weight * x), FRICTION * pressed * sheet.tubes.outside_diameter / 2.0


def earth_room(sheet: Sheet, axle: AxleModel, plan: JigPlan, side: Side) -> float:
    """Bare tube between the bead zone of an end and what stands or is welded inboard of it [mm]."""
    s = sign_of(side)
    i = 1 if s > 0 else 0
    weld = axle.tube_ends[i]
    if axle.knuckles:
        weld = next(k.weld_station for k in axle.knuckles if k.side == side)
    outer = s * weld - BEAD_ROOM
    inner = s * axle.section[i] + BEAD_ROOM
    for cradle in plan.cradles:
        if cradle.side == side and cradle.carries == "tube":
            inner = max(inner, s * cradle.station + cradle.half_width)
    taken = [sorted((s * float(w.station_from), s * float(w.station_to))) for w in sheet.welded]
    for low, high in sorted(taken):
        if low < outer and high > inner:
            # The longer bare piece of the two that a pad leaves is the one to use.
            inner, outer = max(((inner, low), (high, outer)), key=lambda p: p[1] - p[0])
    return outer - inner


def lifts_of(sheet: Sheet, axle: AxleModel, plan: JigPlan, bodies: dict[str, Body] | None = None) -> tuple[Lift, ...]:
    """What is lifted, with the station of its middle [mm]."""
    masses = bodies or bodies_of(sheet, axle, plan)
    housing = [masses["centre"], masses["tube-l"], masses["tube-r"]]
    total, at = together(housing)
    lifts = [Lift("housing with tubes", total, at[1], True)]
    names = [("stand", "face stand"), ("bar", "alignment bar")]
    if plan.clock is not None:
        names += [("tie", "tie"), ("clock-l", "clock plate with fingers")]
        names += [("knuckle-l", "inner knuckle")]
        extra = [masses[f"{kind}-{s}"] for kind in ("clock", "knuckle") for s in ("l", "r")]
        total, at = together([*housing, masses["bar"], masses["tie"], *extra])
        lifts.append(Lift("axle with bar, knuckles and clock plates", total, at[1], True))
    for key, words in names:
        body = masses[key]
        lifts.append(Lift(words, body.mass, body.at[1], body.assumed))
    return tuple(lifts)
