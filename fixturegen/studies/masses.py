"""What each thing on the table weighs and where its middle is, without the kernel.

Tubes, bar and tie are closed forms; plates come from the plan's outlines. The centre section is a
shell of the measured skin round the measured envelope, and the stand a sum of its plates: both are
estimates, listed as assumed, good for choosing a sling and no more.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from fixturegen.axle.model import AxleModel, sign_of
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_records import BUSH_RELIEF, INCH, JigPlan

STEEL = 7.85e-6  # kg/mm^3; 0.2836 lb/in^3, carbon steel
STEPS = 72  # points round a disc: area of its polygon 0.13 % small
BEARING_WEB = 2.5  # integral casting: webs, caps and snout root as a multiple of the bare shell [cp]

Point = tuple[float, float, float]


@dataclass(frozen=True)
class Body:
    """One thing with a mass.

    Attributes:
        name: What it is called.
        mass: [kg].
        at: Centre of mass: x and y in frame T, z above the axle line [mm].
        assumed: Whether it is an estimate.
        how: Where the figure comes from.
    """

    name: str
    mass: float
    at: Point
    assumed: bool
    how: str


def together(bodies: Iterable[Body]) -> tuple[float, Point]:
    """Mass [kg] and centre of mass [mm] of several bodies.

    Source: statics, derived.
    """
    some = tuple(bodies)
    total = sum(b.mass for b in some)
    if total <= 0.0:
        return 0.0, (0.0, 0.0, 0.0)
    x, y, z = (sum(b.mass * b.at[i] for b in some) / total for i in range(3))
    return total, (x, y, z)


@lru_cache(maxsize=32)
def hull_area(discs: tuple[tuple[float, float, float], ...]) -> tuple[float, float, float]:
    """Area [mm^2] and centroid (x, z) [mm] of the convex hull of discs (x, z, radius) [mm].

    Each disc is taken as a regular polygon inside it, so the area is 0.13 % small at most.

    Source: shoelace formula; monotone chain; derived.
    """
    points = sorted(
        {
            (
                x + r * math.cos(2.0 * math.pi * i / STEPS),
                z + r * math.sin(2.0 * math.pi * i / STEPS),
            )
            for x, z, r in discs
            for i in range(STEPS)
        }
    )

    def half(some: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
        chain: list[tuple[float, float]] = []
        for p in some:
            while len(chain) > 1 and _cross(chain[-2], chain[-1], p) <= 0.0:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    loop = half(points) + half(reversed(points))
    area = cx = cz = 0.0
    for (x0, z0), (x1, z1) in zip(loop, loop[1:] + loop[:1], strict=True):
        w = x0 * z1 - x1 * z0
        area += w / 2.0
        cx += (x0 + x1) * w / 6.0
        cz += (z0 + z1) * w / 6.0
    return area, cx / area, cz / area


def _cross(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def round_mass(outside: float, inside: float, length: float) -> float:
    """Mass of a steel tube or bar [kg] from diameters and length [mm].

    Source: geometry; density of carbon steel.
    """
    return math.pi / 4.0 * (outside**2 - inside**2) * length * STEEL


def bodies_of(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> dict[str, Body]:
    """Everything that stands on the table, by name.

    Names: `centre`, `tube-l`, `tube-r`, `bar`, `stand`, `cradle-l`, `cradle-r`; on a front axle also
    `knuckle-l`, `knuckle-r`, `clock-l`, `clock-r`, `tie`.
    """
    found = [_centre(sheet, axle), *_tubes(sheet, axle), _bar(sheet), _stand(axle, plan)]
    found += _cradles(plan)
    if plan.clock is not None and plan.tie is not None and sheet.knuckles is not None:
        for knuckle in axle.knuckles:
            x, y, z = knuckle.axis_point
            found.append(
                Body(
                    f"knuckle-{knuckle.side[0]}",
                    float(sheet.knuckles.mass),
                    (x, y, z),
                    bool(sheet.knuckles.mass.assumed),
                    "weighed; its middle taken at the steering axis",
                )
            )
        found += _clocks(sheet, plan)
        tie = plan.tie
        mass = round_mass(tie.diameter, 0.0, tie.length)
        found.append(Body("tie", mass, (0.0, 0.0, tie.radius), False, "round bar"))
    return {b.name: b for b in found}


def _centre(sheet: Sheet, axle: AxleModel) -> Body:
    housing, face = sheet.housing, sheet.housing.face
    integral = housing.kind == "integral"
    back = housing.height / 2.0 if integral else float(housing.cover.projection)
    depth = axle.face_distance + back
    a, b = housing.height / 2.0, depth / 2.0
    h = ((a - b) / (a + b)) ** 2
    round_it = math.pi * (a + b) * (1.0 + 3.0 * h / (10.0 + math.sqrt(4.0 - 3.0 * h)))
    shell = round_it * housing.width + 2.0 * math.pi * a * b
    shell -= math.pi / 4.0 * face.opening_diameter**2
    mass = shell * housing.skin * STEEL * (BEARING_WEB if integral else 1.0)
    ring = round_mass(face.outside_diameter, face.opening_diameter, face.flange_thickness)
    x = axle.face_sign * (axle.face_distance - back) / 2.0
    ring_x = axle.face_sign * axle.face_distance
    total = mass + ring
    middle = (sum(axle.section)) / 2.0
    words = "shell of the measured skin round the envelope"
    if integral:
        words += f", times {BEARING_WEB:g} for webs, caps and snout"
    return Body("centre", total, ((mass * x + ring * ring_x) / total, middle, 0.0), True, words)


def _tubes(sheet: Sheet, axle: AxleModel) -> list[Body]:
    out, inside = sheet.tubes.outside_diameter, sheet.tubes.outside_diameter - 2 * sheet.tubes.wall
    found = []
    for name, root, end in (
        ("tube-r", axle.section[0], axle.tube_ends[0]),
        ("tube-l", axle.section[1], axle.tube_ends[1]),
    ):
        mass = round_mass(out, inside, abs(end - root))
        found.append(Body(name, mass, (0.0, (root + end) / 2.0, 0.0), False, "tube, closed form"))
    return found


def _bar(sheet: Sheet) -> Body:
    mass = round_mass(sheet.bar.diameter, 0.0, sheet.bar.length)
    return Body("bar", mass, (0.0, 0.0, 0.0), False, "round bar, closed form")


def _stand(axle: AxleModel, plan: JigPlan) -> Body:
    s, t = plan.stand, plan.stand_thickness
    tall = plan.height + s.top
    face = (s.face_plate[0] + s.face_plate[1]) / 2.0
    deep = s.foot - s.face_plate[1]
    middle = axle.face_middle[0]
    plates = [
        (2.0 * s.width * tall * t * 0.8, face, tall / 2.0 - plan.height),
        ((s.base[1] - s.base[0]) * (s.base[3] - s.base[2]) * t, (s.base[0] + s.base[1]) / 2.0, -plan.height),
    ]
    # Sides and ribs taper from full height at the face plate to a third of it at the foot.
    for _ in (*s.sides, *s.ribs):
        plates.append((deep * tall * t * 2.0 / 3.0, s.face_plate[1] + deep * 0.42, tall * 0.36 - plan.height))
    volume = sum(v for v, _, _ in plates)
    u = sum(v * at for v, at, _ in plates) / volume
    z = sum(v * at for v, _, at in plates) / volume
    return Body("stand", volume * STEEL, (plan.x(u), middle, z), True, "sum of its plates, roughly")


def _cradles(plan: JigPlan) -> list[Body]:
    found = []
    for cradle in plan.cradles:
        tall = plan.height - cradle.radius
        span = abs(cradle.holes[0][0] - cradle.holes[1][0]) + 60.0
        volume = (span * 2.0 * cradle.half_width + 2.0 * 0.7 * span * tall) * plan.stand_thickness
        found.append(
            Body(
                f"cradle-{cradle.side[0]}",
                volume * STEEL,
                (0.0, cradle.station, -plan.height * 0.65),
                True,
                "sum of its plates, roughly",
            )
        )
    return found


def _clocks(sheet: Sheet, plan: JigPlan) -> list[Body]:
    clock = plan.clock
    if clock is None:
        return []
    area, x, z = hull_area(clock.discs)
    plate = area * plan.clock_thickness * STEEL
    parts = [(plate, x, clock.inner + plan.clock_thickness / 2.0, z)]
    bar = float(sheet.jig.finger_diameter)
    for finger in clock.fingers:
        length = clock.inner + plan.clock_thickness + INCH - finger.tip
        mass = round_mass(bar, 0.0, length)
        for bx, bz in finger.bars:
            parts.append((mass, bx, finger.tip + length / 2.0, bz))
    bush = round_mass(plan.index.bore, plan.bar + BUSH_RELIEF, plan.clock_thickness)
    hole = round_mass(plan.index.bore, 0.0, plan.clock_thickness)
    parts.append((bush - hole, 0.0, clock.inner, 0.0))
    total = sum(p[0] for p in parts)
    cx, cy, cz = (sum(p[0] * p[i] for p in parts) / total for i in (1, 2, 3))
    words = "plate from its outline, fingers and bush"
    return [Body(f"clock-{side[0]}", total, (cx, sign_of(side) * cy, cz), False, words) for side in ("left", "right")]
