"""Contradictions about the centre section: face, studs, bearings, cover, third member."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fixturegen.sheet.contradictions.rule import INCH, Clash, beside, rule, said
from fixturegen.sheet.keys import Path
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.threads import thread_diameter

_STUDS: Path = ("housing", "face", "studs")
_FACE: Path = ("housing", "face")

LEAST_STUDS = 3
"""Nuts that hold the face against three pads."""


@rule
def opening_against_face(sheet: Sheet) -> Iterator[Clash]:
    """An opening as large as the face round it."""
    opening, outside = sheet.housing.face.opening_diameter, sheet.housing.face.outside_diameter
    if opening >= outside:
        yield Clash(
            (*_FACE, "opening_diameter"),
            beside(opening, (*_FACE, "outside_diameter"), outside),
            f"less than {said(outside)}",
            "the opening leaves no face: measure both again",
        )


@rule
def one_stud_pattern(sheet: Sheet) -> Iterator[Clash]:
    """Points and circle both, neither, or half a circle."""
    studs = sheet.housing.face.studs
    circle = studs.circle_diameter is not None
    either = "points, or circle_diameter with angles"
    if studs.points and (circle or studs.angles):
        yield Clash(
            (*_STUDS, "points"),
            f"{len(studs.points)} points, and a circle too",
            either,
            "two patterns are given: keep the one that was measured",
        )
    elif circle and not studs.angles:
        yield Clash(
            (*_STUDS, "angles"),
            "nothing, with circle_diameter given",
            "-360 deg to 360 deg for each stud",
            "measure the angle of every stud, 0 up, toward the vehicle's left positive",
        )
    elif studs.angles and not circle:
        yield Clash(
            (*_STUDS, "circle_diameter"),
            f"nothing, with {len(studs.angles)} angles given",
            "4 in to 20 in",
            "measure the diameter of the stud circle and add it",
        )
    elif not studs.points and not circle:
        yield Clash(_STUDS, "no pattern", either, "measure every stud and add it: it is never invented")


def _places(sheet: Sheet) -> Iterator[tuple[Path, str, float, float]]:
    """Every stud: key, words of the person, station and height from the middle of the face [mm]."""
    face = sheet.housing.face
    studs = face.studs
    if studs.points:
        for n, point in enumerate(studs.points):
            y, z = point.y + face.lateral_offset, point.z + face.vertical_offset
            yield (*_STUDS, "points", n), f"y = {point.y.text}, z = {point.z.text}", y, z
    elif studs.circle_diameter is not None:
        radius = studs.circle_diameter / 2.0
        for n, angle in enumerate(studs.angles):
            a = math.radians(angle)
            text = f"{angle.text} on {studs.circle_diameter.text}"
            yield (*_STUDS, "angles", n), text, radius * math.sin(a), radius * math.cos(a)


@rule
def studs_against_face(sheet: Sheet) -> Iterator[Clash]:
    """Studs that do not stand wholly on the machined ring."""
    face, half = sheet.housing.face, _stud_radius(sheet)
    low, high = face.opening_diameter / 2.0 + half, face.outside_diameter / 2.0 - half
    if face.opening_diameter >= face.outside_diameter:
        return
    if high <= low:
        yield Clash(
            (*_STUDS, "size"),
            f"{face.studs.size}, with a face of {face.outside_diameter.text} round an opening of "
            f"{face.opening_diameter.text}",
            f"studs thinner than {said((face.outside_diameter - face.opening_diameter) / 2.0)}",
            "the studs do not fit on the face: measure face, opening and studs again",
        )
        return
    circle = face.studs.circle_diameter
    for path, words, y, z in _places(sheet):
        radius = math.hypot(y, z)
        if low <= radius <= high:
            continue
        where = "outside the face" if radius > high else "inside the opening"
        if not face.studs.points and circle is not None:
            path, words = (*_STUDS, "circle_diameter"), circle.text
        yield Clash(
            path,
            f"{words}, with a face of {face.outside_diameter.text} round an opening of "
            f"{face.opening_diameter.text} and studs {face.studs.size}",
            f"{said(2.0 * low)} to {said(2.0 * high)} across, from the middle of the face",
            f"a stud stands {where}: measure the studs, the face and its offsets again",
        )
        if not face.studs.points:
            return  # all studs of a circle are as far out


def _stud_radius(sheet: Sheet) -> float:
    """Half the nominal diameter of the studs [mm]; 0 when the size cannot be read."""
    try:
        return thread_diameter(sheet.housing.face.studs.size) / 2.0
    except ValueError:
        return 0.0


@rule
def stud_size(sheet: Sheet) -> Iterator[Clash]:
    """A stud no face carries, or too few of them."""
    studs = sheet.housing.face.studs
    count = len(studs.points) or len(studs.angles)
    key = "points" if studs.points else "angles"
    if 0 < count < LEAST_STUDS:
        yield Clash(
            (*_STUDS, key),
            f"{count}",
            f"{LEAST_STUDS} or more",
            "fewer studs than pads to hold: measure all of them",
        )


@rule
def studs_against_each_other(sheet: Sheet) -> Iterator[Clash]:
    """Studs that overlap."""
    least = 2.0 * _stud_radius(sheet)
    places = list(_places(sheet))
    for n, (path, words, y, z) in enumerate(places):
        for other, (_, words_before, y_before, z_before) in enumerate(places[:n]):
            if math.hypot(y - y_before, z - z_before) < max(least, 1.0):
                yield Clash(
                    path,
                    f"{words}, with number {other + 1} at {words_before}",
                    f"{said(least)} or more from middle to middle",
                    f"studs {other + 1} and {n + 1} overlap: one is written twice or wrong",
                )
                break


@rule
def bearings_against_housing(sheet: Sheet) -> Iterator[Clash]:
    """Bearing bores that overlap, or that do not go into the housing."""
    bearings: Path = ("housing", "bearings")
    over, width = sheet.housing.bearings.width_over, sheet.housing.bearings.bore_width
    if 2.0 * width >= over:
        yield Clash(
            (*bearings, "bore_width"),
            beside(width, (*bearings, "width_over"), over),
            f"less than {said(over / 2.0)}",
            "the two bores would meet: measure both again",
        )
    drop_out = sheet.housing.kind == "drop-out"
    name: Path = (*_FACE, "opening_diameter") if drop_out else ("housing", "width")
    room = sheet.housing.face.opening_diameter if drop_out else sheet.housing.width
    if over >= room:
        yield Clash(
            (*bearings, "width_over"),
            beside(over, name, room),
            f"less than {said(room)}",
            "the bearings of the third member do not pass the opening: measure both again"
            if drop_out
            else "the bearing bores stand wider than the casting: measure both again",
        )


@rule
def cover_against_ring_gear(sheet: Sheet) -> Iterator[Clash]:
    """A cover that the ring gear would cut."""
    out, ring = sheet.housing.cover.projection, sheet.third_member.ring_gear_diameter
    if out <= ring / 2.0:
        yield Clash(
            ("housing", "cover", "projection"),
            beside(out, ("third_member", "ring_gear_diameter"), ring),
            f"more than {said(ring / 2.0)}",
            "the ring gear would cut the cover: measure from the bore axis to the outermost point",
        )


@rule
def nose_against_face(sheet: Sheet) -> Iterator[Clash]:
    """A pinion that does not come out of the housing, or a nose larger than the face."""
    third, face = sheet.third_member, sheet.housing.face
    if sheet.housing.kind == "drop-out":
        if third.pinion_length <= face.bore_distance + INCH:
            yield Clash(
                ("third_member", "pinion_length"),
                beside(third.pinion_length, (*_FACE, "bore_distance"), face.bore_distance),
                f"more than {said(face.bore_distance + INCH)}",
                "the yoke would stand inside the face: measure both from the bearing bore axis",
            )
        if third.nose_diameter >= face.outside_diameter:
            yield Clash(
                ("third_member", "nose_diameter"),
                beside(third.nose_diameter, (*_FACE, "outside_diameter"), face.outside_diameter),
                f"less than {said(face.outside_diameter)}",
                "the nose would cover the studs: measure it outside the housing",
            )
    elif third.pinion_length <= third.ring_gear_diameter / 2.0:
        ring = third.ring_gear_diameter
        yield Clash(
            ("third_member", "pinion_length"),
            beside(third.pinion_length, ("third_member", "ring_gear_diameter"), ring),
            f"more than {said(ring / 2.0)}",
            "the yoke would stand inside the ring gear: measure from the bearing bore axis",
        )


@rule
def cover_face_against_cover(sheet: Sheet) -> Iterator[Clash]:
    """A cover that ends before its own face."""
    if sheet.housing.kind != "integral":
        return
    out, face = sheet.housing.cover.projection, sheet.housing.face.bore_distance
    if out <= face:
        yield Clash(
            ("housing", "cover", "projection"),
            beside(out, (*_FACE, "bore_distance"), face),
            f"more than {said(face)}",
            "the cover ends before the face it is bolted to: measure both from the bore axis",
        )
