"""The whole axle as solids in A, what of it stands on the bench in T, and the jig beside it."""

from __future__ import annotations

from typing import Any, Protocol

from fixturegen.axle.model import AxleModel, to_table
from fixturegen.bodies import ends, housing, knuckle
from fixturegen.bodies.drawing import rows
from fixturegen.errors import GeometryFault
from fixturegen.plate import Assembly, Part
from fixturegen.shapes import solids
from fixturegen.shapes.cache import cached_solid
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_records import JigPlan

BENCH = ("housing", "caps", "studs", "tube", "knuckle", "end-flange", "bar", "welded")
"""Names, or their first words, of what stands on the bench; cover, gears and wheels are off."""

JIG = "jig"
Placed = tuple[int, str]
"""Which placement of the assembly, and the name of its part."""


class OnTheBench(Protocol):
    """What is drawn from: a job of the checks, or anything with the same fields."""

    sheet: Sheet
    axle: AxleModel
    plan: JigPlan
    parts: dict[str, Part]
    assemblies: dict[str, Assembly]
    store: dict[str, Any]


def axle_bodies(sheet: Sheet, axle: AxleModel) -> dict[str, solids.Shape]:
    """Everything of the finished axle by name, frame A.

    housing, studs, caps and cover (integral), tube-left, tube-right, welded-N, knuckle-left,
    knuckle-right, outer-..., end-flange-... (rear), brake-..., wheel-..., ring-gear, pinion, nose
    (drop-out), bar.
    """
    made = bare_bodies(sheet, axle)
    made |= ends.outer_bodies(sheet, axle)
    made |= ends.third_member_bodies(sheet, axle)
    return made


def bare_bodies(sheet: Sheet, axle: AxleModel) -> dict[str, solids.Shape]:
    """What stands on the bench and the cover, by name, frame A."""
    made = housing.housing_bodies(sheet, axle)
    for name, side in (("tube-left", 1), ("tube-right", -1)):
        made[name] = _tube(sheet, axle, side)
    made |= housing.welded_bodies(sheet, axle)
    if sheet.knuckles is not None and axle.knuckles:
        for one in axle.knuckles:
            made[f"knuckle-{one.side}"] = knuckle.knuckle_body(sheet.knuckles, one, float(axle.bench_caster or 0.0))
    else:
        for name, side in (("end-flange-left", 1), ("end-flange-right", -1)):
            made[name] = ends.end_flange(sheet, axle, side)
    half = sheet.bar.length / 2.0
    made["bar"] = solids.cylinder((0.0, -half, 0.0), (0.0, half, 0.0), float(sheet.bar.diameter))
    return made


def _tube(sheet: Sheet, axle: AxleModel, side: int) -> solids.Solid:
    spec = sheet.tubes.left if side > 0 else sheet.tubes.right
    section = axle.section[1 if side > 0 else 0]
    end = axle.tube_ends[1 if side > 0 else 0]
    outside = float(sheet.tubes.outside_diameter)
    insertion = float(spec.insertion)
    if sheet.housing.kind == "integral":
        # a tube ends before the bearing bores, whatever was measured outside
        insertion = min(insertion, (sheet.housing.width - sheet.housing.bearings.width_over) / 2.0)
    tube = solids.tube(
        (0.0, section - side * max(insertion, 1.0), 0.0),
        (0.0, end, 0.0),
        outside,
        outside - 2.0 * sheet.tubes.wall,
    )
    if sheet.housing.kind == "integral":
        tube = solids.checked(solids.cut(tube, housing.flange_zone(sheet, axle)), "tube")
    return tube


def bench_bodies(job: OnTheBench) -> dict[str, solids.Shape]:
    """What of the axle stands on the bench, by name, frame T at the plan's height, face vertical."""
    kept: dict[str, solids.Shape] | None = job.store.get("bench_bodies")
    if kept is None:
        rotation, origin = to_table(job.axle, job.plan.height)
        at = float(origin[0]), float(origin[1]), float(origin[2])
        kept = {
            name: solids.transformed(shape, rows(rotation), at)
            for name, shape in bare_bodies(job.sheet, job.axle).items()
            if name.startswith(BENCH)
        }
        job.store["bench_bodies"] = kept
    return kept


def bodies_in(job: OnTheBench, frame: str) -> dict[str, solids.Shape]:
    """What of the axle is drawn with an assembly: on the bench in T, or by itself in A without the bar."""
    if frame == "T":
        return bench_bodies(job)
    kept: dict[str, solids.Shape] | None = job.store.get("bodies in A")
    if kept is None:
        kept = {name: shape for name, shape in bare_bodies(job.sheet, job.axle).items() if name != "bar"}
        job.store["bodies in A"] = kept
    return kept


def jig_solids(job: OnTheBench, assembly: str = JIG) -> dict[Placed, solids.Solid]:
    """The jig's parts where they stand, by (placement index, part name), frame T.

    A part placed twice is drawn once. A part that cannot be drawn is left out and stands with its
    fault in `undrawn_parts`.
    """
    key = f"solids of {assembly}"
    kept: dict[Placed, solids.Solid] | None = job.store.get(key)
    if kept is None:
        kept = {}
        faults: dict[str, GeometryFault] = job.store.setdefault("undrawn", {})
        placements = job.assemblies[assembly].placements if assembly in job.assemblies else ()
        for i, placement in enumerate(placements):
            if placement.part in faults:
                continue
            try:
                kept[i, placement.part] = solids.placed(part_solid(job, placement.part), placement)
            except GeometryFault as fault:
                faults[placement.part] = fault
        job.store[key] = kept
    return kept


def undrawn_parts(job: OnTheBench) -> dict[str, GeometryFault]:
    """Parts of the jig whose solid cannot be made, and why."""
    jig_solids(job)
    faults: dict[str, GeometryFault] = job.store["undrawn"]
    return faults


def part_solid(job: OnTheBench, name: str) -> solids.Solid:
    """The finished solid of a part in its part frame, drawn once."""
    drawn: dict[str, solids.Solid] = job.store.setdefault("part_solids", {})
    if name not in drawn:
        drawn[name] = cached_solid(job.parts[name])
    return drawn[name]
