"""Where every plate of a truss stands and what it looks like: numbers only, frame A.

Side plates stand along the axle over the tubes where their skin leans by 45 deg, so that a fillet lies well from
outside; each is cut to the silhouette of tubes and centre section within its own thickness. A back brace is one
plate that lies level behind a closed housing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise
from typing import Any

from fixturegen.axle.model import AxleModel, Point
from fixturegen.errors import Fault, GeometryFault, InputFault
from fixturegen.sheet.specs import Sheet, Truss
from fixturegen.studies.bracket_records import FlatBase, Mount
from fixturegen.studies.centre_shape import FLOOR, centre_shape
from fixturegen.studies.edge_lines import Ring
from fixturegen.studies.jack_pads import jack_pads
from fixturegen.studies.truss_edges import (
    Obstacle,
    grown,
    lower_edge,
    obstacles_along,
    obstacles_behind,
    thinned,
    welded_runs,
)
from fixturegen.studies.truss_ends import LEAN, Ends, ends_of
from fixturegen.studies.truss_height import height_of
from fixturegen.studies.truss_records import Onto, SidePlate, TopRun, TrussPlan, WeldRun
from fixturegen.studies.truss_ribs import with_ribs

SAME_PLATE = 0.1  # mm; nominal thicknesses that are the same
STEEPEST = 45.0
"""A truss that tapers off more steeply ends at once, and the tube cracks there [deg] (common practice, no source)."""
PAD_WIDTH = 2.75 * 25.4  # of a pad across the axle where the sheet gives none [mm]
LIP = 4.0  # of the top beyond leg and side plate, for the bead under it [mm]


def truss_plan(sheet: Sheet, axle: AxleModel, mounts: Iterable[Mount] = ()) -> TrussPlan | None:
    """The plan of the truss of a sheet; None where it has none.

    Args:
        sheet: The build sheet.
        axle: The axle.
        mounts: Brackets of the plan: those on the truss get ribs under them, it ends before those on the tubes.

    Raises:
        InputFault: When a plate is not in the rack.
        GeometryFault: When it cannot be drawn as asked, naming what is in the way.
    """
    truss = sheet.truss
    if truss is None:
        return None
    mounts = tuple(m for m in mounts if m.spec.end == "axle")
    thick, material = plate_of(sheet, truss.plate, "truss.plate")
    top, top_material = _top_plate(sheet, truss, (thick, material))
    bridged = is_bridged(sheet)
    faces = plate_faces(sheet, thick)
    ends = ends_of(sheet, axle, mounts)
    if truss.form == "back-brace":
        return _brace(sheet, axle, (thick, material), ends, bridged=bridged)
    height, why = _height(sheet, axle, faces, top)
    upper, tapers, notes = _upper(sheet, axle, ends, height - top, top)
    plates, kept_off = [], []
    for name, way, x in (("rear", -1, faces[0]), ("front", 1, faces[1])):
        obstacles = obstacles_along(sheet, axle, *x, bridged=bridged)
        plate = SidePlate(f"truss-{name}", f"{name.capitalize()} plate of the truss", way, x, (), upper)
        plates.append(replace(plate, lower=_edge(plate, obstacles, thick)))
        kept_off.append(obstacles)
    plan = TrussPlan(
        form="box",
        bridged=bridged,
        ends=(ends.right, ends.left),
        knees=(upper[1][0], upper[-2][0]),
        height=height,
        why=why,
        taper=tapers,
        gap=float(truss.gap),
        air=float(truss.air),
        plates=tuple(plates),
        runs=_runs(sheet, upper, faces, top, tuple(m for m in mounts if _on_truss(m))),
        ribs=(),
        welds=(),
        cells=(),
        thickness=thick,
        material=material,
        top_material=top_material,
        pads=jack_pads(sheet, axle),
        bend_radius=_inside_radius(sheet, truss) if truss.top == "folded" else 0.0,
        notes=(*ends.notes, *notes),
    )
    plan = with_ribs(sheet, axle, plan, tuple(m for m in mounts if _on_truss(m)))
    # beads are told of the finished edges: they stop at the drains
    beads = [w for p, o in zip(plan.plates, kept_off, strict=True) for w in _beads(p, o, ends, truss)]
    return replace(plan, welds=(*beads, *_top_beads(plates, truss)))


def _height(
    sheet: Sheet, axle: AxleModel, faces: tuple[tuple[float, float], tuple[float, float]], top: float
) -> tuple[float, str]:
    """Height of the top and why; of a truss as long as the axle, so that what stands on it can be placed first."""
    whole = ends_of(sheet, axle, ())
    return height_of(sheet, axle, (whole.right, whole.left), faces, top)


def top_of(sheet: Sheet, axle: AxleModel, station: float) -> tuple[float, float, float]:
    """Height of the top above the axle line, its thickness, and its width between the outer faces [mm].

    Between knees of different height it is that of the straight between them.

    Args:
        sheet: The build sheet; it has [truss].
        axle: The axle.
        station: Where on the truss [mm].

    Raises:
        InputFault: When a plate is not in the rack.
    """
    truss = sheet.truss
    if truss is None:
        raise ValueError("no truss on the sheet")
    thick, _ = plate_of(sheet, truss.plate, "truss.plate")
    top, _ = _top_plate(sheet, truss, (thick, ""))
    rear, front = outer_faces(sheet)
    inner = sorted((float(k.station), float(k.height)) for k in truss.knees)
    for (y0, z0), (y1, z1) in pairwise(inner):
        if y0 <= station <= y1:
            return z0 + (z1 - z0) * (station - y0) / (y1 - y0), top, front - rear
    return _height(sheet, axle, plate_faces(sheet, thick), top)[0], top, front - rear


def roof_of(sheet: Sheet, axle: AxleModel) -> tuple[tuple[float, float], ...]:
    """Upper edge of the side plates of a box, right to left (station, height) [mm]; of a brace its edge behind.

    Of a truss as long as the axle, whatever is on the tubes: what stands round it is placed by this.

    Raises:
        InputFault: When a plate is not in the rack.
        GeometryFault: When it cannot be drawn as asked.
    """
    truss = sheet.truss
    if truss is None:
        return ()
    plate = plate_of(sheet, truss.plate, "truss.plate")
    ends = ends_of(sheet, axle, ())
    if truss.form == "back-brace":
        return _brace_edge(sheet, axle, ends)[0]
    top, _ = _top_plate(sheet, truss, plate)
    height, _ = _height(sheet, axle, plate_faces(sheet, plate[0]), top)
    return _upper(sheet, axle, ends, height - top, top)[0]


def is_bridged(sheet: Sheet) -> bool:
    """Whether a truss stands over the centre section with air: always over castings, unless fabricated steel."""
    if sheet.truss is None or sheet.truss.centre is None:
        return sheet.housing.material != "fabricated steel"
    return sheet.truss.centre == "bridge"


def plate_of(sheet: Sheet, nominal: Any, key: str) -> tuple[float, str]:
    """Measured thickness [mm] and material of a plate of the rack.

    Raises:
        InputFault: When there is none.
    """
    for plate in sheet.plates:
        if abs(plate.nominal - nominal) < SAME_PLATE:
            return float(plate.measured), plate.material
    rack = ", ".join(p.nominal.text for p in sheet.plates)
    remedy = "name a plate of the rack by its nominal thickness, or measure it and list it under [[plates]]"
    raise InputFault(Fault(key, nominal.text, rack, remedy))


def outer_faces(sheet: Sheet) -> tuple[float, float]:
    """Outer faces of the rear and the front plate ahead of the axle line [mm]."""
    usual = sheet.tubes.outside_diameter / 2.0 * math.sin(math.radians(LEAN))
    truss = sheet.truss
    front = usual if truss is None or truss.front is None else float(truss.front)
    rear = usual if truss is None or truss.rear is None else float(truss.rear)
    return -rear, front


def plate_faces(sheet: Sheet, thick: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """(rear face, front face) of the rear and of the front plate ahead of the axle line [mm]."""
    rear, front = outer_faces(sheet)
    return (rear, rear + thick), (front - thick, front)


def _upper(
    sheet: Sheet, axle: AxleModel, ends: Ends, under: float, top: float
) -> tuple[tuple[tuple[float, float], ...], tuple[float, float], tuple[str, ...]]:
    """Upper edge of the side plates right to left, slopes of its ends, and what had to be steeper."""
    truss, low = sheet.truss, end_top(sheet)
    if truss is None:
        raise ValueError("no truss on the sheet")
    if not truss.knees:
        knees, tapers, notes = _tapered(sheet, axle, ends, under - low, float(truss.taper))
        return ((ends.right, low), (knees[0], under), (knees[1], under), (ends.left, low)), tapers, notes
    inner = sorted((float(k.station), float(k.height) - top) for k in truss.knees)
    outside = [y for y, _ in inner if not ends.right < y < ends.left]
    if outside:
        words = f"its top bends at station {outside[0]:.0f} mm, and it ends at {ends.right:.0f} and {ends.left:.0f} mm"
        raise GeometryFault("truss", words, "move that knee inward, or what is in the way of its end")
    upper = ((ends.right, low), *inner, (ends.left, low))
    slopes = [math.degrees(math.atan2(abs(b[1] - a[1]), b[0] - a[0])) for a, b in pairwise(upper)]
    return upper, (slopes[0], slopes[-1]), ()


def _tapered(
    sheet: Sheet, axle: AxleModel, ends: Ends, drop: float, asked: float
) -> tuple[tuple[float, float], tuple[float, float], tuple[str, ...]]:
    """Where the level top ends, the slopes there, and what had to be steeper."""
    knees, tapers, notes = [], [], []
    for side, end in ((-1, ends.right), (1, ends.left)):
        room = side * (end - axle.section[1 if side > 0 else 0])
        need = math.degrees(math.atan2(drop, room)) if room > 0.0 else STEEPEST
        if need > asked:
            word = "left" if side > 0 else "right"
            notes.append(f"its {word} end tapers off at {min(need, STEEPEST):.0f} deg: the tube is short there")
        taper = min(max(asked, need), STEEPEST)
        tapers.append(taper)
        knees.append(end - side * max(0.0, drop) / math.tan(math.radians(taper)))
    if knees[0] >= knees[1]:
        words = f"its ends at {ends.right:.0f} and {ends.left:.0f} mm leave no level top"
        raise GeometryFault("truss", words, "let it end farther out, make it lower, or its taper steeper")
    return (knees[0], knees[1]), (tapers[0], tapers[1]), tuple(notes)


def end_top(sheet: Sheet) -> float:
    """Height of the upper edge of the side plates where they end [mm]."""
    radius = sheet.tubes.outside_diameter / 2.0
    near = max(math.sqrt(max(0.0, radius**2 - f**2)) for f in outer_faces(sheet))
    return near + (0.0 if sheet.truss is None else float(sheet.truss.end_height))


def _edge(plate: SidePlate, obstacles: tuple[Obstacle, ...], thick: float) -> Ring:
    from shapely.geometry import Polygon

    (right, _), *_, (left, _) = plate.upper
    whole = Polygon([(right, FLOOR / 2.0), *plate.upper, (left, FLOOR / 2.0)])
    return lower_edge(whole.difference(grown(obstacles)), plate.label, thick)


def _beads(plate: SidePlate, obstacles: tuple[Obstacle, ...], ends: Ends, truss: Truss) -> list[WeldRun]:
    """Beads of a plate onto tubes and housing, from outside."""
    free = float(truss.unwelded)
    outer = plate.x[1] if plate.way > 0 else plate.x[0]
    found = []
    for name, points in welded_runs(plate.lower, obstacles, (ends.right + free, ends.left - free)):
        onto: Onto = "housing"
        if name in ("tube-left", "tube-right"):
            onto = "tube-left" if name == "tube-left" else "tube-right"
        line = tuple(_at(plate, outer, float(y), float(h)) for y, h in thinned(points))
        found.append(WeldRun(plate.name, onto, line, float(truss.leg)))
    return found


def _at(plate: SidePlate, across: float, y: float, h: float) -> Point:
    return (plate.lies * h, y, across) if plate.lies else (across, y, h)


def _top_beads(plates: list[SidePlate], truss: Truss) -> list[WeldRun]:
    found = []
    for plate in plates:
        outer = plate.x[1] if plate.way > 0 else plate.x[0]
        found.append(WeldRun(plate.name, "top", tuple((outer, y, z) for y, z in plate.upper), float(truss.leg)))
    return found


def _runs(
    sheet: Sheet,
    upper: tuple[tuple[float, float], ...],
    faces: tuple[tuple[float, float], ...],
    thick: float,
    carried: tuple[Mount, ...],
) -> tuple[TopRun, ...]:
    """Lengths of the top; those that carry links reach over the side plates as far as the sheet says."""
    truss = sheet.truss
    if truss is None:
        return ()
    folded, lip = truss.top == "folded", float(truss.leg) + LIP
    light = faces[0][1] - faces[0][0]
    found = []
    for n, (a, b) in enumerate(pairwise(_shortened(upper, float(truss.top_short))), 1):
        above = tuple(m for m in carried if folded or a[0] <= m.point[1] <= b[0])
        heavy = folded or bool(above)
        over = lip if truss.overhang is None else _overhang(above, faces, lip, float(truss.overhang))
        x = (faces[0][0] - over, faces[1][1] + over)
        way = "level" if a[1] == b[1] else "rising to the left" if b[1] > a[1] else "falling to the left"
        name = "truss-top" if folded else f"truss-top-{n}"
        found.append(
            TopRun(name, f"Top of the truss, run {n} from the right, {way}", x, a, b, thick if heavy else light)
        )
    return tuple(found)


def _overhang(above: tuple[Mount, ...], faces: tuple[tuple[float, float], ...], lip: float, asked: float) -> float:
    """Of a length of the top [mm]: as asked under links, under pads no more than they and their beads need."""
    if any(m.joint is not None for m in above):
        return asked
    reach = [abs(m.point[0]) + float(m.spec.width or PAD_WIDTH) / 2.0 + float(m.spec.leg) for m in above]
    return max([lip, *(min(asked, r - max(-faces[0][0], faces[1][1])) for r in reach)])


def _shortened(upper: tuple[tuple[float, float], ...], by: float) -> tuple[tuple[float, float], ...]:
    """The upper edge with both ends moved inward along it, half way to the next knee at most [mm]."""
    found = list(upper)
    for end, inner in ((0, 1), (-1, -2)):
        (y0, z0), (y1, z1) = upper[end], upper[inner]
        share = min(0.5, by / math.dist((y0, z0), (y1, z1)))
        found[end] = (y0 + share * (y1 - y0), z0 + share * (z1 - z0))
    return tuple(found)


def _top_plate(sheet: Sheet, truss: Truss, usual: tuple[float, str]) -> tuple[float, str]:
    """Thickness [mm] and material of the top where brackets stand on it."""
    return usual if truss.top_plate is None else plate_of(sheet, truss.top_plate, "truss.top_plate")


def _inside_radius(sheet: Sheet, truss: Truss) -> float:
    """Of the bends of the top [mm]: the sheet's, or one nominal thickness."""
    if sheet.brake.inside_radius is not None:
        return float(sheet.brake.inside_radius)
    return float(truss.plate if truss.top_plate is None else truss.top_plate)


def _on_truss(mount: Mount) -> bool:
    return isinstance(mount.base, FlatBase) and mount.spec.on == "truss"


def _brace_edge(sheet: Sheet, axle: AxleModel, ends: Ends) -> tuple[tuple[tuple[float, float], ...], str]:
    """Edge of a brace away from the axle, right to left (station, distance) [mm], and why it is so far behind."""
    truss = sheet.truss
    if truss is None:
        raise ValueError("no truss on the sheet")
    shape, radius = centre_shape(sheet, axle), sheet.tubes.outside_diameter / 2.0
    far = -shape.bottom + float(truss.most) if truss.height is None else float(truss.height)
    why = "as given" if truss.height is not None else "as far behind the housing as truss.most says"
    low = radius + float(truss.end_height)
    run = (far - low) / math.tan(math.radians(float(truss.taper)))
    knees = (ends.right + run, ends.left - run)
    if not ends.right < knees[0] < knees[1] < ends.left:
        words = f"its ends at {ends.right:.0f} and {ends.left:.0f} mm leave no room for it"
        raise GeometryFault("back brace", words, "let it end farther out, beyond the centre section")
    return ((ends.right, low), (knees[0], far), (knees[1], far), (ends.left, low)), why


def _brace(sheet: Sheet, axle: AxleModel, plate: tuple[float, str], ends: Ends, *, bridged: bool) -> TrussPlan:
    """One level plate behind a closed housing, in the plane of the axle line."""
    truss = sheet.truss
    if truss is None:
        raise ValueError("no truss on the sheet")
    thick, material = plate
    back = -axle.face_sign
    upper, why = _brace_edge(sheet, axle, ends)
    (_, low), (_, far) = upper[:2]
    knees = (upper[1][0], upper[2][0])
    made = SidePlate("truss-brace", "Back brace", 1, (-thick / 2.0, thick / 2.0), (), upper, lies=back)
    obstacles = obstacles_behind(sheet, axle, back, thick, bridged=bridged)
    made = replace(made, lower=_edge(made, obstacles, thick))
    right, left = (math.degrees(math.atan2(far - low, abs(d))) for d in (knees[0] - ends.right, knees[1] - ends.left))
    beads = _beads(made, obstacles, ends, truss)
    # both sides of a plate that stands free are welded
    return TrussPlan(
        form="back-brace",
        bridged=bridged,
        ends=(ends.right, ends.left),
        knees=knees,
        height=far,
        why=why,
        taper=(right, left),
        gap=float(truss.gap),
        air=float(truss.air),
        plates=(made,),
        runs=(),
        ribs=(),
        welds=tuple(replace(w, sides=2) for w in beads),
        cells=(),
        thickness=thick,
        material=material,
        top_material=material,
        pads=jack_pads(sheet, axle),
        notes=ends.notes,
    )
