"""The brackets on the axle as one SVG picture: plan, view with stations, and end view with clock angles."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel
from fixturegen.papers.bracket_marks import (
    CENTRE,
    GHOST,
    INK,
    LETTERS,
    STEEL,
    corners,
    dot,
    hull,
    n,
    outline,
    seen_from,
    spot_of,
    spread,
    stroke,
    word,
)
from fixturegen.papers.link_board import Board
from fixturegen.papers.words import INCH
from fixturegen.plate import Part, Placement
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bracket_places import BracketPlace
from fixturegen.studies.bracket_records import FlatBase

DOT = 96.0  # picture points in an inch of paper, as browsers print them
SCALES = (2, 3, 4, 5, 6, 8, 10, 12, 16, 20)
WIDE = 1020.0  # of the picture [px]
PAD, GAP, TITLE = 26.0, 26.0, 26.0  # rim, room between views, height of a title [px]
ROW = 16.0  # from one line of a station's words to the next [px]
WORDS = 250.0  # room for the words of a station, which run upward [px]
LEVEL = 0.9  # [1] a face that looks up or down more than this is level
UP, AHEAD, ACROSS = (0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)
LEGEND = 20  # lines of the legend at most
END = 470.0  # height of the end view [px]
Project = Callable[[Array], Array]


@dataclass(frozen=True)
class Drawn:
    """What is drawn.

    Attributes:
        sheet: The build sheet.
        axle: The axle.
        places: Of the brackets; those on the frame are left out.
        parts: By name.
        placements: Of the brackets' parts, frame A; group is the bracket's name.
    """

    sheet: Sheet
    axle: AxleModel
    places: tuple[BracketPlace, ...]
    parts: Mapping[str, Part]
    placements: tuple[Placement, ...]

    @property
    def on_axle(self) -> tuple[BracketPlace, ...]:
        """Brackets of the axle, from the picture's left to its right."""
        return tuple(sorted((p for p in self.places if p.on_axle), key=lambda p: self.way * p.station))

    @property
    def way(self) -> float:
        """+1 where the vehicle's left lies to the right of the picture: a front axle is seen from the front."""
        return 1.0 if self.axle.front else -1.0


def placement_svg(drawn: Drawn, units: str = "in") -> str:
    """The picture; every length in it stands in a table beside it as well.

    Args:
        drawn: What is drawn.
        units: in or mm, of its words.
    """
    half = drawn.axle.half_width
    scale = next((s for s in SCALES if 2.0 * half * DOT / INCH / s <= WIDE - 2.0 * PAD), SCALES[-1])
    k = DOT / INCH / scale
    names = {p.mount.name for p in drawn.on_axle}
    steel = [corners(drawn.parts[p.part], p) for p in drawn.placements if p.group in names]
    steel = [s for s in steel if len(s)]
    body: list[str] = []
    tall = [_reach(drawn, steel, axis) for axis in (0, 2)]
    y = TITLE
    front = drawn.axle.front
    titles = (
        "PLAN, from above; " + ("FRONT down, LEFT ->" if front else "FRONT up, LEFT <-"),
        "FRONT VIEW, from the front; LEFT ->" if front else "FROM BEHIND; LEFT <-",
    )
    lines: list[tuple[float, float]] = []
    for title, axis, (low, high) in zip(titles, (0, 2), tall, strict=True):
        flip = drawn.way if axis == 0 else -1.0  # front down on a front axle, front or up toward the top else
        top = high if flip < 0.0 else -low
        middle = y + k * top + 8.0
        body.append(word(PAD, y - 8.0, title, bold=True))
        body += _view(drawn, steel, _project(drawn, k, axis, flip, middle), axis)
        lines.append((y, middle))
        y = middle + k * (high - low - top) + 8.0 + GAP + (TITLE if axis == 0 else 0.0)
    bottom = y - GAP
    body += _stations(drawn, _project(drawn, k, 2, -1.0, lines[1][1]), bottom, units)
    y = bottom + 40.0 + WORDS + GAP
    body += _end_view(drawn, steel, y, units)
    body += _scale_bar(k, scale, y, units)
    height = y + TITLE + END + PAD
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {n(WIDE)} {n(height)}" width="{n(WIDE)}" '
        f'height="{n(height)}" role="img" aria-label={quoteattr("Where the brackets stand on the axle")} '
        'font-family="sans-serif" fill="none">' + "".join(body) + "</svg>"
    )


def _reach(drawn: Drawn, steel: list[Array], axis: int) -> tuple[float, float]:
    """Lowest and highest place that a view must show, ahead of or above the axle line [mm]."""
    half = float(drawn.sheet.housing.height) / 2.0
    values = [-half, half, *_section_depth(drawn)] if axis == 0 else [-half, half]
    values += [float(v) for s in steel for v in (s[:, axis].min(), s[:, axis].max())]
    return min(values), max(values)


def _section_depth(drawn: Drawn) -> tuple[float, float]:
    """How far the centre section reaches behind and ahead of the axle line [mm]."""
    face = drawn.axle.face_sign * drawn.axle.face_distance
    cover = -drawn.axle.face_sign * float(drawn.sheet.housing.cover.projection) if drawn.sheet.housing.cover else 0.0
    other = cover or -drawn.axle.face_sign * float(drawn.sheet.housing.height) / 2.0
    return min(face, other), max(face, other)


def _project(drawn: Drawn, k: float, axis: int, flip: float, middle: float) -> Project:
    def project(p: Array) -> Array:
        return np.stack([WIDE / 2.0 + drawn.way * k * p[..., 1], middle + flip * k * p[..., axis]], axis=-1)

    return project


def _view(drawn: Drawn, steel: list[Array], project: Project, axis: int) -> list[str]:
    """Axle line, tubes, centre section, wheel mount surfaces and the brackets' plates."""
    axle = drawn.axle
    radius = float(drawn.sheet.tubes.outside_diameter) / 2.0
    low, high = _section_depth(drawn) if axis == 0 else (-float(drawn.sheet.housing.height) / 2.0,) * 2
    if axis == 2:
        high = -low
    body = []
    for y0, y1 in ((axle.tube_ends[0], axle.section[0]), (axle.section[1], axle.tube_ends[1])):
        body.append(_box(project, axis, (y0, y1), (-radius, radius), "tube"))
    body.append(_box(project, axis, axle.section, (low, high), "section"))
    for side in (1.0, -1.0):
        a, b = (project(_at(axis, side * axle.half_width, v)) for v in (-2.0 * radius, 2.0 * radius))
        body.append(stroke(a, b, INK, 2.0, kind="mount"))
        name = f"{'left' if side > 0.0 else 'right'} WMS"
        body.append(word(float(a[0]) - 30.0, min(float(a[1]), float(b[1])) - 6.0, name))
    far = axle.half_width + 12.0
    body.append(stroke(project(_at(axis, -far, 0.0)), project(_at(axis, far, 0.0)), GHOST, 0.8, "14 4 3 4"))
    reach = _reach(drawn, steel, axis)
    body.append(stroke(project(_at(axis, 0.0, reach[0])), project(_at(axis, 0.0, reach[1])), CENTRE, 0.8, "14 4 3 4"))
    for points in steel:
        along = np.array(UP if axis == 0 else AHEAD)
        body += [outline(ring, STEEL, INK, 1.2, "plate") for ring in seen_from(points, project, along)]
    if axis == 2:
        body += _flats(drawn, project)
    for place in drawn.on_axle:
        body.append(dot(project(np.array(place.mount.point))))
    return body


def _flats(drawn: Drawn, project: Project) -> list[str]:
    """Level faces that brackets stand on, dashed as far as their brackets reach; named in the end view."""
    stretches: dict[float, list[float]] = {}
    for place in drawn.on_axle:
        base = place.mount.base
        if isinstance(base, FlatBase) and abs(base.normal[2]) > LEVEL:
            stretches.setdefault(round(base.point[2], 3), []).extend(
                q.station for line in place.lines for q in line.points
            )
    return [
        stroke(project(_at(2, min(ys) - 20.0, z)), project(_at(2, max(ys) + 20.0, z)), INK, 1.2, "7 4", kind="flat")
        for z, ys in stretches.items()
        if ys
    ]


def _at(axis: int, station: float, value: float) -> Array:
    return np.array([value, station, 0.0] if axis == 0 else [0.0, station, value])


def _stations(drawn: Drawn, project: Project, top: float, units: str) -> list[str]:
    """Under the view: each hole's station from the centreline and from both wheel mount surfaces, words upward."""
    rows: list[tuple[float, float, tuple[str, ...]]] = []
    for place in drawn.on_axle:
        at = project(np.array(place.mount.point))
        side = "L" if place.station > 0.0 else "R"
        words = (
            place.mount.label,
            f"centreline {side} {_both(abs(place.station), units)}",
            f"left WMS {_both(drawn.axle.half_width - place.station, units)}",
            f"right WMS {_both(drawn.axle.half_width + place.station, units)}",
        )
        rows.append((float(at[0]), float(at[1]), words))
    need = 4.0 * ROW + 8.0
    free = WIDE - 2.0 * PAD
    step = min(need, free / max(1, len(rows)))
    places = spread([r[0] for r in rows], step, PAD + need / 2.0, WIDE - PAD - need / 2.0)
    body = []
    foot = top + 34.0
    for (x, y, told), there in zip(rows, places, strict=True):
        body.append(
            f'<path class="leader" d="M{n(x)} {n(y)}L{n(x)} {n(top)}L{n(there)} {n(foot)}" '
            f'stroke="{CENTRE}" stroke-width="0.8"/>'
        )
        shift = (len(told) - 1) / 2.0
        for i, text in enumerate(told):
            left = there + (i - shift) * ROW + 4.0
            weight = ' font-weight="bold"' if i == 0 else ""
            body.append(
                f'<text transform="translate({n(left)} {n(foot + 6.0)}) rotate(-90)" text-anchor="end" '
                f'font-size="{n(LETTERS)}" fill="{INK}"{weight}>{escape(text)}</text>'
            )
    return body


def _both(value: float, units: str) -> str:
    """A length for a picture: the tape's fraction and millimetres, or millimetres and inches."""
    if units == "mm":
        return f"{value:.1f} mm ({value / INCH:.3f} in)"
    steps = round(value / INCH * 32)
    whole, rest = divmod(steps, 32)
    cut = math.gcd(rest, 32) if rest else 1
    words = (
        f"{whole} {rest // cut}/{32 // cut}" if rest and whole else f"{rest // cut}/{32 // cut}" if rest else f"{whole}"
    )
    return f"{words} in ({value:.1f} mm)"


def _end_view(drawn: Drawn, steel: list[Array], top: float, units: str) -> list[str]:
    """Tube, holes with their clock angles and the plates, from the vehicle's left, front to the left."""
    places = drawn.on_axle
    radius = float(drawn.sheet.tubes.outside_diameter) / 2.0
    low, high = _extent(steel, radius)
    room = high - low
    fits = (s for s in SCALES if room[1] * DOT / INCH / s <= END - 70.0 and room[0] * DOT / INCH / s <= WIDE * 0.42)
    scale = next(fits, SCALES[-1])
    k = DOT / INCH / scale
    middle = (low + high) / 2.0
    cx, cy = WIDE * 0.36 + k * float(middle[0]), top + TITLE + END / 2.0 + 10.0 + k * float(middle[1])
    board = Board((PAD, top + 8.0, WIDE * 0.69, top + TITLE + END), size=LETTERS)
    far = max(float(high[1]), 2.0 * radius)

    def project(p: Array) -> Array:
        return np.stack([cx - k * p[..., 0], cy - k * p[..., 2]], axis=-1)

    title = f"END VIEW, from the left, pinion level; FRONT <-; 1 : {scale}"
    body = [word(PAD, top + TITLE - 8.0, title, bold=True)]
    for points in steel:
        body += [outline(ring, "none", GHOST, 1.0, "plate") for ring in seen_from(points, project, np.array(ACROSS))]
        rim = hull(project(points))
        board.lines += list(pairwise([*rim, rim[0]]))
    body.append(f'<circle class="tube" cx="{n(cx)}" cy="{n(cy)}" r="{n(k * radius)}" stroke="{INK}" stroke-width="2"/>')
    up = np.array([0.0, 0.0, far])
    body.append(stroke(project(np.zeros(3)), project(up), CENTRE, 0.8, "14 4 3 4"))
    board.lines.append(((cx, cy), (cx, cy - k * far)))
    board.name([spot_of(project(up))], "0 deg, straight up", CENTRE)
    body += _surfaces(places, project, board, far)
    for (x, z), names in _together(places).items():
        spot = project(np.array([x, 0.0, z]))
        body.append(stroke(project(np.zeros(3)), spot, CENTRE, 1.0, kind="clock"))
        board.lines.append(((cx, cy), spot_of(spot)))
        body.append(dot(spot))
        board.keep_off(*spot_of(spot), 6.0)
        one = next(p for p in places if p.mount.label in names)
        turn = math.degrees(math.atan2(x, z))
        words = f"{_joined(names)}: {turn:.1f} deg" if one.clock is not None else _joined(names)
        board.name([spot_of(spot)], words, INK)
    body += _feet(places, project, board)
    legend = _legend(places, units)
    for i, text in enumerate(legend):
        body.append(word(WIDE * 0.70, top + TITLE + 96.0 + 18.0 * i, text))
    return body + board.body


def _extent(steel: list[Array], radius: float) -> tuple[Array, Array]:
    """Least and largest (forward, up) of the plates, the tube and a stretch over it, each of shape (2,) [mm]."""
    all_of = np.concatenate([*(s[:, [0, 2]] for s in steel), [[-radius, -radius], [radius, 2.0 * radius]]])
    return all_of.min(axis=0), all_of.max(axis=0)


def _surfaces(places: Iterable[BracketPlace], project: Project, board: Board, far: float) -> list[str]:
    """Flat faces that brackets stand on, as dashed lines."""
    body, seen = [], set()
    for place in places:
        base = place.mount.base
        if not isinstance(base, FlatBase) or abs(base.normal[2]) <= LEVEL or round(base.point[2], 3) in seen:
            continue
        seen.add(round(base.point[2], 3))
        a, b = (project(np.array([x, 0.0, base.point[2]])) for x in (-0.5 * far, 0.5 * far))
        body.append(stroke(a, b, INK, 1.2, "7 4"))
        board.lines.append((spot_of(a), spot_of(b)))
        board.name([spot_of(b), spot_of(a)], base.words, INK)
    return body


def _feet(places: Iterable[BracketPlace], project: Project, board: Board) -> list[str]:
    """Ends of the saddles as ticks across the tube, with their clock angles; alike ones once."""
    body: list[str] = []
    seen: set[float] = set()
    for place in places:
        for line in place.lines:
            for point in (line.points[0], line.points[-1]):
                if point.round is None or any(abs(point.round.clock - c) < 4.0 for c in seen):
                    continue
                seen.add(point.round.clock)
                spot = np.array([point.point[0], 0.0, point.point[2]])
                a, b = project(0.93 * spot), project(1.07 * spot)
                body.append(stroke(a, b, INK, 1.6, kind="foot"))
                board.name([spot_of(project(0.93 * spot))], f"{point.round.clock:.0f}", GHOST, LETTERS - 2.0)
    return body


def _together(places: Iterable[BracketPlace]) -> dict[tuple[float, float], list[str]]:
    """Labels by where their holes lie in the end view, those in one place together."""
    found: dict[tuple[float, float], list[str]] = {}
    for p in places:
        found.setdefault((round(p.forward, 1), round(p.up, 1)), []).append(p.mount.label)
    return found


def _joined(names: list[str]) -> str:
    heads = {_head(n) for n in names}
    return f"{heads.pop()} L+R" if len(names) == 2 and len(heads) == 1 else " + ".join(names)


def _head(label: str) -> str:
    return label.replace(" left", "").replace(" right", "").replace("left ", "").replace("right ", "")


def _legend(places: Iterable[BracketPlace], units: str) -> list[str]:
    words = ["WMS: wheel mount surface, machined", "dots: middle of the joint's hole"]
    words += ["ticks on the tube: ends of saddles [deg]", "off the surface, shortest way to the hole:"]
    together: dict[str, list[str]] = {}
    for p in places:
        together.setdefault(f"{_head(p.mount.label)} {_both(p.off, units)}", []).append(p.mount.label)
    words += [f"  {_joined(names)}{text.removeprefix(_head(names[0]))}" for text, names in together.items()]
    return words[:LEGEND]


def _scale_bar(k: float, scale: int, top: float, units: str) -> list[str]:
    long = 6.0 * INCH if units == "in" else 150.0
    x, y = WIDE * 0.70, top + TITLE + 20.0
    wide = k * long
    text = "6 in (152.4 mm)" if units == "in" else "150 mm (5.906 in)"
    words = f"plan and view below it 1 : {scale} where"
    more = f"the bar measures {long / INCH / scale:.3f} in ({long / scale:.2f} mm)"
    bar = f'<path class="bar" d="M{n(x)} {n(y - 6)}v12m0 -6h{n(wide)}m0 -6v12" stroke="{INK}" stroke-width="2"/>'
    return [bar, word(x + wide + 10.0, y + 4.0, text), word(x, y + 28.0, words), word(x, y + 46.0, more)]


def _box(project: Project, axis: int, stations: tuple[float, float], values: tuple[float, float], kind: str) -> str:
    (a, b), (low, high) = stations, values
    ring = [spot_of(project(_at(axis, s, v))) for s, v in ((a, low), (b, low), (b, high), (a, high))]
    return outline(ring, "#fff", INK, 1.4, kind)
