"""The numbers of a job that reach paper, by dotted name, each with unit, source and trust."""

from __future__ import annotations

import math

from fixturegen.axle.model import AxleModel
from fixturegen.findings import Number, Trust, weakest
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bar_sag import needed_length, sag_of
from fixturegen.studies.error_budget import Budget, budget_of
from fixturegen.studies.jig_deviations import SIDES
from fixturegen.studies.jig_pose import Simulation
from fixturegen.studies.jig_records import INCH, JigPlan
from fixturegen.studies.masses import bodies_of, together
from fixturegen.studies.readings import eccentricity_of
from fixturegen.studies.table_room import room_of
from fixturegen.units import Measure

WHEEL_FLANGES = 1.0 * INCH  # wheel over its flanges less bead to bead; common practice [mm]

Numbers = dict[str, Number]


def numbers_of(sheet: Sheet, axle: AxleModel, plan: JigPlan, budget: Budget | None = None) -> Numbers:
    """Dotted name to number, without the kernel; `budget` when it has been worked out already."""
    found = {
        **_axle(sheet, axle),
        **_wheels(sheet, axle),
        **_jig(sheet, axle, plan),
        **_masses(sheet, axle, plan),
        **_readings(sheet),
    }
    if axle.bench_caster is not None:
        found |= _knuckles(sheet, axle, plan)
        found |= _budget(budget or budget_of(sheet, axle, plan))
    return dict(sorted(found.items()))


def wheel_centre_out(sheet: Sheet) -> float:
    """Middle of the wheel outboard of its mount surface [mm].

    The backspacing is measured from the inner flange's edge; flanges add an inch to the bead width.

    Source: geometry; flanges half an inch each: common practice.
    """
    v = sheet.vehicle
    return (v.wheel_width + WHEEL_FLANGES) / 2.0 - v.wheel_backspacing


def _trust(*values: Measure | None) -> Trust:
    known = (Trust.ASSUMED if v is None or v.assumed else Trust.MEASURED for v in values)
    return weakest(*known)


def _given(value: Measure, unit: str, key: str) -> Number:
    return Number(float(value), unit, f"sheet {key}", _trust(value))


def _axle(sheet: Sheet, axle: AxleModel) -> Numbers:
    a, face = sheet.axle, sheet.housing.face
    found = {
        "axle.wheel_mount_width": _given(a.wheel_mount_width, "mm", "axle.wheel_mount_width"),
        "axle.pinion_angle": _given(a.pinion_angle, "deg", "axle.pinion_angle"),
        "axle.face_angle": Number(axle.face_angle, "deg", "sheet housing.face.angle", _trust(face.angle)),
        "axle.face_distance": _given(face.bore_distance, "mm", "housing.face.bore_distance"),
        "axle.pinion_offset": _given(sheet.housing.pinion_offset, "mm", "housing.pinion_offset"),
        "axle.bearing_middle": Number(
            axle.bearing_middle,
            "mm",
            "pinion offset + housing.face.lateral_offset",
            weakest(Trust.DERIVED, _trust(sheet.housing.pinion_offset, face.lateral_offset)),
        ),
    }
    for side, i in (("left", 1), ("right", 0)):
        tube = sheet.tubes.left if side == "left" else sheet.tubes.right
        trust = weakest(Trust.DERIVED, _trust(tube.length, sheet.housing.width))
        found[f"axle.tube_end.{side}"] = Number(
            axle.tube_ends[i],
            "mm",
            f"side of the centre section + tubes.{side}.length, station in A",
            trust,
        )
        found[f"axle.tube_length.{side}"] = _given(tube.length, "mm", f"tubes.{side}.length")
    if axle.bench_caster is not None and a.caster is not None:
        rests = weakest(Trust.DERIVED, _trust(a.pinion_angle, a.caster))
        found["axle.caster.vehicle"] = Number(
            axle.bench_caster - a.pinion_angle, "deg", "bench caster - pinion angle", rests
        )
        found["axle.caster.bench"] = Number(axle.bench_caster, "deg", "axle.caster + axle.pinion_angle", rests)
    return found


def _wheels(sheet: Sheet, axle: AxleModel) -> Numbers:
    v = sheet.vehicle
    out = wheel_centre_out(sheet)
    rests = weakest(
        Trust.PRACTICE,
        _trust(v.wheel_width, v.wheel_backspacing, v.tyre_section_width, sheet.axle.wheel_mount_width),
    )
    width = sheet.axle.wheel_mount_width
    how = "(wheel width + 1 in of flanges) / 2 - backspacing"
    found = {
        "tyre.centre_from_mount": Number(out, "mm", f"{how}, outboard positive", rests),
        "tyre.track": Number(width + 2.0 * out, "mm", f"wheel mount width + 2 x ({how})", rests),
        "tyre.width_over_tyres": Number(
            width + 2.0 * out + v.tyre_section_width,
            "mm",
            f"wheel mount width + 2 x ({how}) + tyre section width",
            rests,
        ),
        "tyre.loaded_radius": _given(v.tyre_loaded_radius, "mm", "vehicle.tyre_loaded_radius"),
    }
    spec = sheet.knuckles
    if spec is None or axle.bench_caster is None:
        return found
    # A front axle's V stands turned by +p against A (frames): caster falls by the pinion angle, the
    # axis' offset at axle height stays in the knuckle.
    caster = math.radians(axle.bench_caster - sheet.axle.pinion_angle)
    offset = spec.axis_offset / math.cos(caster)
    radius = float(v.tyre_loaded_radius)
    found["steering.trail"] = Number(
        radius * math.tan(caster) + offset,
        "mm",
        "loaded radius x tan(caster) + axis offset ahead; ISO 8855 castor offset at ground",
        weakest(Trust.DERIVED, _trust(v.tyre_loaded_radius, sheet.axle.caster)),
    )
    lean = math.radians(inclination_in_vehicle(sheet, math.degrees(caster)))
    found["steering.scrub_radius"] = Number(
        spec.axis_to_wheel_mount + out - radius * math.tan(lean),
        "mm",
        "steering axis to tyre centre at axle height - loaded radius x tan(inclination); ISO 8855 "
        "steering-axis offset at ground, axis inboard positive",
        weakest(rests, _trust(spec.inclination)),
    )
    return found


def inclination_in_vehicle(sheet: Sheet, caster: float) -> float:
    """Steering-axis inclination at a caster [deg], from that measured at zero caster [deg].

    Source: ISO 8855 projections; tan(i) = tan(i0) / cos(caster), derived.
    """
    spec = sheet.knuckles
    zero = math.radians(spec.inclination) if spec is not None else 0.0
    return math.degrees(math.atan(math.tan(zero) / math.cos(math.radians(caster))))


def _knuckles(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> Numbers:
    spec = sheet.knuckles
    if spec is None or axle.bench_caster is None:
        return {}
    rests = weakest(Trust.DERIVED, _trust(sheet.axle.pinion_angle, sheet.axle.caster))
    vehicle = axle.bench_caster - sheet.axle.pinion_angle
    turn = vehicle - spec.made_for_caster
    g, d = math.radians(spec.camber), math.radians(turn)
    built = weakest(rests, _trust(spec.camber, spec.made_for_caster))
    found = {
        "jig.plate_caster": Number(
            axle.plate_caster,
            "deg",
            "bench caster - face angle, face set vertical",
            weakest(rests, _trust(sheet.housing.face.angle)),
        ),
        "knuckle.inclination": Number(
            inclination_in_vehicle(sheet, vehicle),
            "deg",
            "atan(tan(inclination at zero caster) / cos(caster)), in the vehicle; ISO 8855",
            weakest(rests, _trust(spec.inclination)),
        ),
        "knuckle.turn": Number(turn, "deg", "caster in the vehicle - caster it was made for", built),
        "knuckle.camber": Number(
            math.degrees(math.asin(math.sin(g) * math.cos(d))),
            "deg",
            "asin(sin(camber as made) x cos(turn)); plain rotation",
            built,
        ),
        "knuckle.toe_gain": Number(
            math.degrees(math.atan(math.tan(g) * math.sin(d))),
            "deg",
            "atan(tan(camber as made) x sin(turn)), toe-in of each wheel; plain rotation",
            built,
        ),
    }
    if plan.tie is not None:
        for hole in plan.tie.row[1:]:
            # The plate hangs a little low, which beside the top turns it: simulated, not the step.
            pose = Simulation(sheet, axle, plan, hole).pose()
            found[f"jig.row.{_slug(hole.label)}"] = Number(
                pose.left.caster_bench - axle.bench_caster,
                "deg",
                f"jig simulated with the tie in holes {hole.label}: change of caster",
                Trust.DERIVED,
            )
    for sag in sag_of(sheet, axle, plan):
        found[f"bar.sag.{sag.side}"] = Number(
            sag.sag,
            "mm",
            "beam overhanging two supports, Machinery's Handbook; own weight and clock plate",
            Trust.DERIVED,
        )
        found[f"bar.slope.{sag.side}"] = Number(sag.slope, "deg", "the same beam, at the clock plate", Trust.DERIVED)
    return found


def _jig(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> Numbers:
    derived = Trust.DERIVED
    found = {
        "jig.axle_height": Number(plan.height, "mm", "plan: axle line above the table", derived),
        "jig.bar_diameter": _given(sheet.bar.diameter, "mm", "bar.diameter"),
        "jig.index_station": Number(plan.index.station, "mm", "plan: middle of the index plate", derived),
        "bar.needed_length": Number(
            needed_length(axle, plan),
            "mm",
            "over both ends, collars and a hand's grip",
            Trust.PRACTICE,
        ),
    }
    if plan.tie is not None and plan.clock is not None:
        found["jig.tie_radius"] = Number(plan.tie.radius, "mm", "plan: bar to tie", derived)
        found["jig.clock_plate_inner"] = Number(
            plan.clock.inner, "mm", "plan: inboard face of the clock plates from the centreline", derived
        )
        found["jig.finger_lever"] = Number(
            sum(f.along for f in plan.clock.fingers),
            "mm",
            "plan: upper to lower gauge head along the steering axis",
            derived,
        )
    for cradle in plan.cradles:
        found[f"jig.cradle.{cradle.side}"] = Number(cradle.station, "mm", "plan: station of the cradle", derived)
    for room, way in zip(room_of(sheet, plan), ("length", "width"), strict=True):
        found[f"table.needed_{way}"] = Number(room.needed, "mm", "bases and holes on the grid", derived)
    return found


def _masses(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> Numbers:
    bodies = bodies_of(sheet, axle, plan)
    found = {
        f"mass.{b.name}": Number(b.mass, "kg", b.how, Trust.ASSUMED if b.assumed else Trust.DERIVED)
        for b in bodies.values()
    }
    total, at = together([bodies[n] for n in ("centre", "tube-l", "tube-r")])
    found["mass.housing"] = Number(total, "kg", "centre section and tubes", Trust.ASSUMED)
    found["mass.housing_middle"] = Number(at[1], "mm", "station of the bare housing's centre of mass", Trust.ASSUMED)
    return found


def _readings(sheet: Sheet) -> Numbers:
    found = {}
    for side in SIDES:
        e = eccentricity_of(sheet, side)
        how = f"half the difference of opposite readings.{side}"
        found[f"readings.{side}.forward"] = Number(e.x, "mm", how, Trust.MEASURED)
        found[f"readings.{side}.up"] = Number(e.z, "mm", how, Trust.MEASURED)
    return found


def _budget(b: Budget) -> Numbers:
    trust = weakest(*(c.trust for c in b.contributors))
    how = "jig simulated contact by contact, each feature moved by its tolerance"
    found = {
        "budget.caster.left.worst": Number(b.caster_left, "deg", f"{how}; worst case", trust),
        "budget.caster.right.worst": Number(b.caster_right, "deg", f"{how}; worst case", trust),
        "budget.caster.left.rss": Number(b.caster_left_rss, "deg", f"{how}; root of the sum of squares", trust),
        "budget.caster.right.rss": Number(b.caster_right_rss, "deg", f"{how}; root of the sum of squares", trust),
        "budget.split.worst": Number(b.split, "deg", f"{how}; worst case", trust),
        "budget.split.rss": Number(b.split_rss, "deg", f"{how}; root of the sum of squares", trust),
        "budget.shim": Number(
            b.shim, "mm", "shim under the upper pad (negative: lower) that the tube ends ask for", trust
        ),
    }
    for side, value in (("left", b.untrimmed_left), ("right", b.untrimmed_right)):
        found[f"budget.untrimmed.{side}"] = Number(
            value, "deg", "shift of the caster by the tube ends as read, before the trim", trust
        )
    return found


def _slug(label: str) -> str:
    """A hole's label as a name may have it: "+" becomes plus, "-" minus."""
    return {"+": "plus", "-": "minus"}.get(label, label.lower())
