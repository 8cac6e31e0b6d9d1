"""Pictures of gauges in use: the sine gauge on its stub pins, what sits on the tube put together."""

from __future__ import annotations

import base64
from collections.abc import Iterator

from fixturegen.bodies.axle import bench_bodies, jig_solids, part_solid
from fixturegen.bodies.colours import BRACKET, GHOST, HOLDER, TURNED, Colour
from fixturegen.checks.gauges import planned
from fixturegen.checks.registry import Job
from fixturegen.errors import GeometryFault
from fixturegen.gauges.clock import BODY as SEAT
from fixturegen.gauges.clock import HEAD
from fixturegen.gauges.in_use import on_knuckle
from fixturegen.gauges.sine import ROLLER
from fixturegen.papers.report import Picture
from fixturegen.plate import Placement
from fixturegen.plate.part import Matrix
from fixturegen.shapes.kernel import Shape
from fixturegen.shapes.pictures import pictures_bytes
from fixturegen.shapes.primitives import cylinder
from fixturegen.shapes.solids import placed
from fixturegen.studies.gauge_records import Gauge

SIZE = (1100, 760)
UP: Matrix = ((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))  # a plate across the axle, as on the table
OUT: Matrix = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))  # turned parts, their Z along Y of T
ROD: Colour = (0.22, 0.22, 0.24)
Item = tuple[Shape, Colour, float]
SHORT = 0.5  # shank of a seat under the face of its plate [mm]
TUBE_OUT = 60.0  # tube shown beyond what sits on it [mm]


def gauge_shots(job: Job) -> tuple[Picture, ...]:
    """A picture of the first of each kind that is put together from parts; none where it cannot be drawn."""
    found = []
    # one of each kind: the other templates differ in their hole alone
    first = {g.kind: g for g in reversed(planned(job).gauges)}
    for gauge in reversed(first.values()):
        try:
            items = list(_items(job, gauge))
        except GeometryFault:
            continue
        if items:
            shot = pictures_bytes(items, [VIEWS[gauge.kind]], SIZE)[0]
            found.append(Picture(base64.b64encode(shot).decode("ascii"), CAPTIONS[gauge.kind].format(gauge.label)))
    return tuple(found)


VIEWS: dict[str, tuple[float, float, float]] = {
    "sine": (0.75, 1.0, 0.45),
    "clock": (-1.0, -0.75, 0.3),
    "saddle": (0.75, 1.0, 0.45),
}
CAPTIONS = {
    "sine": (
        "{} on the left knuckle, jig off: rods (black) against the gauge heads of the stub pins (light blue), the beam "
        "to the rear; straight edge and stack go over the two rollers."
    ),
    "clock": (
        "{}: two seats (light blue) on the tube, level over the two pins (black), the pointer in place of the joint "
        "bolt with its cone in the hole; the bracket is not drawn."
    ),
    "saddle": "{}: two arches on two seats; scribe along the outer faces.",
}


def _items(job: Job, gauge: Gauge) -> Iterator[Item]:
    if gauge.name == "sine-gauge":
        yield from _sine(job, gauge)
    elif gauge.kind == "clock":
        yield from _clock(job, gauge)
    elif gauge.kind == "saddle":
        yield from _saddle(job, gauge)


def _sine(job: Job, gauge: Gauge) -> Iterator[Item]:
    part = job.parts[gauge.name]
    stands = on_knuckle(part, job.plan, abs(job.axle.knuckles[0].axis_point[1])) if job.axle.knuckles else None
    if stands is None:
        return
    place, rods = stands
    yield placed(part_solid(job, part.name), place), BRACKET, 1.0
    yield from ((cylinder(r.start, r.end, gauge.sizes["rod"]), ROD, 1.0) for r in rods)
    places = job.assemblies["jig"].placements
    yield from ((solid, TURNED, 1.0) for (i, _), solid in jig_solids(job).items() if places[i].group == "stubs-l")
    yield from ((shape, GHOST, 1.0) for name, shape in bench_bodies(job).items() if name == "knuckle-left")


def _rod(diameter: float, long: float, x: float, y: float, z: float) -> Shape:
    """A round along Y from a point on [mm]."""
    return cylinder((x, y, z), (x, y + long, z), diameter)


def _clock(job: Job, gauge: Gauge) -> Iterator[Item]:
    part, seat, pointer = (job.parts[f"{gauge.name}{tail}"] for tail in ("", "-seat", "-pointer"))
    rod = gauge.sizes["rod"]
    yield placed(part_solid(job, part.name), Placement(part.name, (0.0, 0.0, 0.0), UP)), HOLDER, 1.0
    for h in part.profile.holes if part.profile else ():
        if h.label.endswith("seat"):
            yield placed(part_solid(job, seat.name), Placement(seat.name, (-h.x, SHORT, h.y), OUT)), TURNED, 1.0
        elif h.label.endswith("pin"):
            long = part.thickness + ROLLER
            yield _rod(rod, long, -h.x, (part.thickness - long) / 2.0, h.y), ROD, 1.0
        elif h.label == "pointer":
            back = (-h.x, -gauge.sizes["pointer"] - HEAD, h.y)
            yield placed(part_solid(job, pointer.name), Placement(pointer.name, back, OUT)), TURNED, 1.0
    yield _rod(2.0 * gauge.sizes["radius"], SEAT + 2.0 * TUBE_OUT, 0.0, -TUBE_OUT, 0.0), GHOST, 1.0


def _saddle(job: Job, gauge: Gauge) -> Iterator[Item]:
    arch, seat = job.parts["saddle-arch"], job.parts["saddle-seat"]
    apart, body = gauge.sizes["apart"], part_solid(job, arch.name)
    for y in (0.0, apart - arch.thickness):
        yield placed(body, Placement(arch.name, (0.0, y, 0.0), UP)), HOLDER, 1.0
    for h in arch.profile.holes if arch.profile else ():
        yield placed(part_solid(job, seat.name), Placement(seat.name, (-h.x, SHORT, h.y), OUT)), TURNED, 1.0
    yield _rod(2.0 * gauge.sizes["radius"], apart + 2.0 * TUBE_OUT, 0.0, -TUBE_OUT, 0.0), GHOST, 1.0
