"""CMP-01 and CMP-03 to CMP-05: parts the person has, read from their files and held against the axle."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fixturegen.checks.component_places import components_in
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import INCH, PRACTICE, inch, shared
from fixturegen.errors import GeometryFault
from fixturegen.findings import Finding, Level
from fixturegen.studies.component_records import Component, FileShape, OutlineShape, PlaneShape, Reading
from fixturegen.studies.component_sizes import NAMES, Misread, misread, range_of

if TYPE_CHECKING:
    from fixturegen.shapes.meshes import Mesh

MOST_BROKEN = 0.01
"""[1] of the triangles left out for corners that are no numbers: more, and the file is not what was scanned."""

SIGMAS = 3.0
"""[1] standard deviations that hold 99.7 of 100 points of normal noise (closed form)."""

HOLE_ROOM = INCH / 2.0
"""[mm] a hole's middle may lie off the box of the part: half of a large open hole; common practice, no source."""

REACH_ROOM = INCH / 4.0
"""[mm] between what a cover is read to reach and what was measured; common practice, no source."""

FOLLOWS = "sum of what is stated, of placing, of deflection and of rounding; derived"


@dataclass(frozen=True, eq=False)
class Read:
    """A component, what was found in it, and its surface; or why it could not be read."""

    component: Component
    reading: Reading | None = None
    mesh: Mesh | None = None
    fault: GeometryFault | None = None


def read_in(job: Job) -> tuple[Read, ...]:
    """Every component of the job, read once."""
    return shared(job, "components.read", lambda: tuple(_read(c) for c in components_in(job)))


def _read(component: Component) -> Read:
    from fixturegen.shapes.component_meshes import read_component

    try:
        reading, mesh = read_component(component)
    except GeometryFault as fault:
        return Read(component, fault=fault)
    return Read(component, reading, mesh)


@claim("CMP-01", "each part you have is read whole", holds="nothing")
def check_read(claim: Claim, job: Job) -> list[Finding]:
    """What was read of each part: size, triangles, holes, what was mended, and the accuracy that follows."""
    found = []
    for one in read_in(job):
        if one.reading is None:
            words = str(one.fault.words) if one.fault is not None else "not read"
            remedy = one.fault.remedy if one.fault is not None else ""
            found.append(claim.finding(Level.FAIL, f"{one.component.label}: {words}", remedy=remedy))
        else:
            found.append(_whole(claim, one.component, one.reading))
    return found


def _whole(claim: Claim, part: Component, reading: Reading) -> Finding:
    a, b, c = (inch(s, 2).removesuffix(" in") for s in reading.size)
    words = f"{part.label}: a plane" if isinstance(part.shape, PlaneShape) else f"{part.label}: {a} x {b} x {c} in"
    if isinstance(part.shape, FileShape):
        words += f", {reading.triangles} triangles"
        words += f", closed, {reading.volume / INCH**3:.1f} cu in" if reading.volume is not None else ""
    words = "; ".join([words, *mended(reading), f"its surface may lie {inch(reading.accuracy)} off"])
    if reading.placing > reading.accuracy / 2.0:
        words += f", {inch(reading.placing)} of it by its named points: finer places, farther apart, make it less"
    level, remedy = _judged(part, reading)
    numbers = {"value": reading.accuracy, "unit": "mm", "source": FOLLOWS, "frame": part.frame}
    return claim.finding(level, words, remedy=remedy, **numbers)


def mended(reading: Reading) -> list[str]:
    """What was found wrong and what was done, in words; empty where nothing was."""
    found = []
    if reading.pieces > 1:
        inner = f", {reading.inner} of them wholly inside another" if reading.inner else ""
        found.append(f"{reading.pieces} pieces{inner}")
    if reading.open_edges:
        holes = "1 hole" if reading.holes == 1 else f"{reading.holes} holes"
        found.append(f"open: {holes}, the largest {inch(reading.largest_hole, 2)} round its edge")
    counts = (
        (reading.crowded_edges, "edges with more than two triangles"),
        (reading.turned, "triangles looked inward and were turned"),
        (reading.doubled, "triangles were there twice"),
        (reading.flat, "triangles of no area left out"),
        (reading.broken, "triangles left out for corners that are no numbers"),
    )
    found += [f"{count} {words}" for count, words in counts if count]
    if reading.roughness is not None:
        found.append(f"noise of {inch(reading.roughness, 4)} (standard deviation)")
    return [*found, *reading.notes]


def _judged(part: Component, reading: Reading) -> tuple[Level, str]:
    """How far what was read can be used, and what to do."""
    if _too_broken(reading):
        return Level.FAIL, "export it again: the file holds corners that are no numbers"
    if reading.broken:
        return Level.WARN, "distances do not know what was left out: export it again"
    if reading.roughness is not None and SIGMAS * reading.roughness > part.stated:
        least = inch(SIGMAS * reading.roughness)
        return Level.WARN, f"state an accuracy of {least} or more: three standard deviations of what the surface shows"
    if not reading.closed:
        return Level.WARN, "distances to its surface hold, but nobody can say what lies inside: close it where scanned"
    return Level.PASS, ""


@claim("CMP-03", "each part you have is of a size this axle can have", holds="nothing")
def check_size(claim: Claim, job: Job) -> list[Finding]:
    """The longest side of each part against the axle: inches taken for millimetres are found out."""
    found = []
    for one in read_in(job):
        if one.reading is None or isinstance(one.component.shape, PlaneShape):
            continue
        part, allowed = one.component, range_of(job.sheet, one.component.kind)
        wrong = misread(one.reading, allowed, _unit(part))
        longest = max(one.reading.size)
        words = f"{part.label}: longest side {inch(longest, 2)}; one of kind {part.kind} has {inch(allowed.low, 2)} to "
        words += f"{inch(allowed.high, 2)} ({allowed.why})"
        source = PRACTICE
        if wrong is None:
            found.append(claim.finding(Level.PASS, words, value=longest, unit="mm", source=source))
            continue
        times = wrong.ratio if wrong.ratio > 1.0 else 1.0 / wrong.ratio
        words += f"; {times:.3g} times too {'large' if wrong.ratio > 1.0 else 'small'}"
        remedy = "look at the unit it was exported in, and that the file is of this part"
        if wrong.factor in NAMES:
            scaled = f"it is {inch(longest * wrong.factor, 2)} when taken by {max(wrong.factor, 1 / wrong.factor):g}"
            words += f"; most likely {NAMES[wrong.factor]}: {scaled}"
            remedy = f'write unit = "{wrong.unit}" where that is so' if wrong.unit else "export it in mm or in"
        limit = allowed.high if wrong.ratio > 1.0 else allowed.low
        more = {"remedy": remedy, "value": longest, "limit": limit, "unit": "mm", "source": source}
        found.append(claim.finding(Level.FAIL, words, **more))
    return found


@claim("CMP-04", "named points lie on the part they are said to be on", holds="nothing")
def check_points(claim: Claim, job: Job) -> list[Finding]:
    """How far each named point lies outside the box of what was read."""
    found = []
    for one in read_in(job):
        reading, part = one.reading, one.component
        if reading is None or not part.points:
            continue
        out = [_outside(p, reading) for p in part.points]
        worst = max(range(len(out)), key=out.__getitem__)
        name, limit = part.residuals[worst][0], HOLE_ROOM + part.stated
        numbers = {"value": out[worst], "limit": limit, "unit": "mm", "source": PRACTICE, "frame": "P"}
        if out[worst] <= limit:
            words = f"{part.label}: {len(out)} points within {inch(out[worst])} of its box"
            found.append(claim.finding(Level.PASS, words, **numbers))
            continue
        spans = [max(p[i] for p in part.points) - min(p[i] for p in part.points) for i in range(3)]
        ratio = max(spans) / max(max(reading.size), 1e-9)
        words = f"{part.label}: {name} lies {inch(out[worst])} outside its box; the points span {ratio:.3g} times it"
        remedy = "measure the points in the frame of the file, and look at its unit"
        found.append(claim.finding(Level.FAIL, words, remedy=remedy, point=part.points[worst], **numbers))
    return found


def fit_in(job: Job) -> tuple[tuple[Read, ...], tuple[tuple[str, str], ...]]:
    """Components that distances may be told to, and (label, why) of those left out."""
    good, out = [], []
    for one in read_in(job):
        part, reading = one.component, one.reading
        if reading is None:
            out.append((part.label, one.fault.words if one.fault is not None else "not read"))
        elif part.residual is not None and part.residual > part.placing:
            out.append((part.label, "its named points do not meet their places (CMP-02)"))
        elif _too_broken(reading):
            words = f"{reading.broken} of its triangles have corners that are no numbers (CMP-01)"
            out.append((part.label, words))
        elif not isinstance(part.shape, PlaneShape) and (wrong := _misread(job, part, reading)) is not None:
            out.append((part.label, f"its size is none this axle can have, {_ratio(wrong)} (CMP-03)"))
        else:
            good.append(one)
    return tuple(good), tuple(out)


def _misread(job: Job, part: Component, reading: Reading) -> Misread | None:
    return misread(reading, range_of(job.sheet, part.kind), _unit(part))


def _ratio(wrong: Misread) -> str:
    """How far out a size is, and what it most likely comes from."""
    times = wrong.ratio if wrong.ratio > 1.0 else 1.0 / wrong.ratio
    told = f"longest side {inch(wrong.longest, 2)}, {times:.3g} times too {'large' if wrong.ratio > 1.0 else 'small'}"
    return f"{told}, most likely {NAMES[wrong.factor]}" if wrong.factor in NAMES else told


def _too_broken(reading: Reading) -> bool:
    return reading.broken > MOST_BROKEN * (reading.broken + reading.triangles)


def _unit(part: Component) -> str:
    """Unit its file was taken in; empty where it has none."""
    shape = part.shape.file if isinstance(part.shape, OutlineShape) else part.shape
    return shape.unit if isinstance(shape, FileShape) else ""


def _outside(point: tuple[float, float, float], reading: Reading) -> float:
    """Distance of a point from the box of what was read [mm]; 0 inside it."""
    total = 0.0
    for v, low, high in zip(point, reading.low, reading.high, strict=True):
        total += max(0.0, low - v, v - high) ** 2
    return float(total**0.5)


@claim("CMP-05", "a cover lies on its own side and reaches as far as it was measured", holds="nothing")
def check_cover(claim: Claim, job: Job) -> list[Finding]:
    """Points listed the wrong way round turn a cover inside out and leave no residual: its reach tells."""
    import numpy as np

    from fixturegen.axle.frames import turn_about_y

    axle = job.axle
    way = axle.face_sign if job.sheet.housing.kind == "integral" else -axle.face_sign
    wanted, found = float(job.sheet.housing.cover.projection), []
    for one in read_in(job):
        part, reading = one.component, one.reading
        if one.mesh is None or reading is None or part.kind != "cover" or part.moves_with != "axle":
            continue
        there = one.mesh.vertices @ np.array(part.rotation).T + np.array(part.origin)
        out = way * (turn_about_y(axle.table_turn) @ there.T)[0]
        reach, middle = float(out.max()), float((out.max() + out.min()) / 2.0)
        limit = REACH_ROOM + reading.accuracy
        words = f"{part.label}: reaches {inch(reach)} from the bore axis, measured {inch(wanted)}"
        numbers = {"value": abs(reach - wanted), "limit": limit, "unit": "mm", "source": PRACTICE, "frame": "A"}
        base = axle.face_distance if job.sheet.housing.kind == "integral" else 0.0
        if middle < base:
            words = f"{part.label}: more than half of it lies on the wrong side, turned inside out; {words}"
            remedy = "see that each named point has the place of that same point: the order is the wrong way round"
            found.append(claim.finding(Level.FAIL, words, remedy=remedy, **numbers))
        elif abs(reach - wanted) > limit:
            remedy = "measure housing.cover.projection on this cover, or its points again"
            found.append(claim.finding(Level.WARN, words, remedy=remedy, **numbers))
        else:
            found.append(claim.finding(Level.PASS, words, **numbers))
    return found
