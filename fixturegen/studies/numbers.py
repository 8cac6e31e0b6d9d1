"""The numbers of a job that reach paper, by dotted name, each with unit, source and trust."""

from __future__ import annotations

from fixturegen.axle.model import AxleModel
from fixturegen.findings import Number, Trust, weakest
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_plan import JigPlan
from fixturegen.units import Measure


def numbers_of(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> dict[str, Number]:
    """Dotted name to number, without the kernel."""
    found = {
        "axle.pinion_angle": _given(sheet.axle.pinion_angle, "deg", "axle.pinion_angle"),
        "axle.wheel_mount_width": _given(sheet.axle.wheel_mount_width, "mm", "axle.wheel_mount_width"),
        "axle.face_angle": Number(axle.face_angle, "deg", "housing.face.angle", _trust(sheet.housing.face.angle)),
        "jig.axle_height": Number(plan.height, "mm", "plan: axle line above the table", Trust.DERIVED),
    }
    if axle.bench_caster is not None and sheet.axle.caster is not None:
        rests_on = weakest(Trust.DERIVED, _trust(sheet.axle.pinion_angle), _trust(sheet.axle.caster))
        face = weakest(rests_on, _trust(sheet.housing.face.angle))
        vehicle = axle.bench_caster - sheet.axle.pinion_angle
        found["axle.caster.vehicle"] = Number(vehicle, "deg", "bench caster - pinion angle", rests_on)
        found["axle.caster.bench"] = Number(axle.bench_caster, "deg", "axle.caster + axle.pinion_angle", rests_on)
        cut = axle.bench_caster - axle.face_angle
        found["jig.plate_caster"] = Number(cut, "deg", "bench caster - face angle, face set vertical", face)
    for side, end in zip(("right", "left"), axle.tube_ends, strict=True):
        found[f"axle.tube_end.{side}"] = Number(end, "mm", f"tubes.{side}.length, station in A", Trust.MEASURED)
    return dict(sorted(found.items()))


def _trust(value: Measure | None) -> Trust:
    return Trust.ASSUMED if value is None or value.assumed else Trust.MEASURED


def _given(value: Measure, unit: str, key: str) -> Number:
    return Number(float(value), unit, key, _trust(value))
