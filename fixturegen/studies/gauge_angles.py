"""Gauges that prove a place or a line on the axle: clock templates, hole bars, end disc, toe bars, saddle.

A gauge takes its accuracy from holes and ground rods, never from a cut edge: rods lie on the tube and on the
stub pins, rollers carry the level, and all of them stand in holes whose places follow from how they are made.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from fixturegen.axle.model import AxleModel
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.threads import thread_diameter
from fixturegen.studies.bracket_places import clock_of
from fixturegen.studies.bracket_records import BracketPlan, Mount, TubeBase
from fixturegen.studies.budget_inputs import PRACTICE, THOU
from fixturegen.studies.gauge_records import Gauge, NotMade, Setting, Term, Ways
from fixturegen.studies.jig_records import INCH, JigPlan

BRACKET = INCH / 16.0  # place of a bracket's hole [mm]: build target of the trade [cp]
END_SQUARE = 5.0 * THOU  # tube end square to the bar, over the face [mm]: build target of the trade [cp]
LINE = INCH / 32.0  # a scribed line from its station [mm]: what a tape is read to [cp]
TOE_FRONT = (1.0 / 16.0 * INCH, 1.0 / 8.0 * INCH)  # total toe-in over the tyres, front axle [mm] [cp]
TOE_REAR = (0.0, 1.0 / 16.0 * INCH)  # the same of a bare rear housing [mm] [cp]
OVAL = 0.01 * INCH  # drawn tube out of round where a rod lies on it [mm] [cp]
FEEL = 0.5 * THOU  # a feeler leaf read between two [mm] [cp]
RODS_AT = 45.0  # seats of a saddle, from the top of the tube to either side [deg]
LEVELS = 6.0 * INCH  # between the level pins of a clock template [mm]
LONG_REACH = 24.0 * INCH  # holes further apart are laid out with a trammel, not on one mill table [mm] [cp]
MARKED = 0.4  # place of a hole drilled from a mark [mm] [cp]
LEAN = {"mill": 0.001, "press": 0.004}  # a hole drilled across a round leans that much, by the machine [1] [cp]
SEAT = 1.0 * THOU  # dirt and burrs under a bar on a cleaned flange [mm] [cp]
TRAMMEL = 4.0 * THOU  # one reading of a trammel set behind and carried to the front [mm] [cp]
TOE_SPAN = 28.0 * INCH  # between the reading points of a toe bar [mm]
FLAT = 0.25  # a cut plate out of flat over a hand's width [mm] [cp]
BORE_PLAY = 0.65 * THOU  # bore turned 0.0008 to 0.0013 in over the measured bar: half the most [mm] [cp]
POINT_OUT = 0.5 * INCH  # end of the pointer's cone beyond the outer ear [mm]
POINTER_PLAY = 0.1  # pointer turned 0.004 in under the reamed hole: half of that, and the fit [mm] [cp]
WALL = 0.75  # depth a pin stands in a spool over its diameter, least [1] [cp]
LEVEL_BOLT = 0.2  # a bolt whose direction rises by more does not take an upright pin [1]
LINKS = ("lower", "upper")  # what is set hole to hole; struts are not
SEAT_BODY = 1.25 * INCH  # diameter of a seat: its shank needs a web to the opening round the tube [mm]
POINT_HOLE = 3.0 / 8.0 * INCH  # hole that the pointer's cone stands in [mm]
ALONG = 0.9  # a bolt this much along the axle meets a plate that stands across it [1]
BAR_CURE = "measure over both pins with a caliper or a long micrometer, stamp the bar with that and judge by it"
PRESS_CURE = "drill the spools' cross holes in a mill vice"
ROD_CURE = "read with an inside micrometer rod in place of the trammel"
OVAL_CURE = "try the saddle at the place, turn it and see whether the line closes; scribe from the mean"


def clocks(sheet: Sheet, plan: BracketPlan, ways: Ways) -> Iterator[Gauge | NotMade]:
    """Clock templates: two seats on the tube, two level pins, and the place of a bracket's hole on both sides."""
    done: set[tuple[int, int, str]] = set()
    for m in plan.mounts:
        if m.spec.end != "axle" or m.joint is None:
            continue
        if not isinstance(m.base, TubeBase):
            why = "it stands on a flat, not on the tube"
            yield NotMade("clock", f"clock template of {m.label}", why, "tape its hole as in the table of brackets")
            continue
        key = (round(m.point[0]), round(m.point[2]), m.joint.name)
        if key in done:
            continue
        done.add(key)
        if abs(m.bolt[1]) < ALONG:
            why = "its bolt does not run along the axle, so no plate across the axle meets it"
            yield NotMade(
                "clock", f"clock template of {m.label}", why, "scribe its lines with the saddle, tape the hole"
            )
            continue
        yield _clock(sheet, m, ways)


def _clock(sheet: Sheet, m: Mount, ways: Ways) -> Gauge:
    if m.joint is None or not isinstance(m.base, TubeBase) or sheet.gauges is None:  # pragma: no cover - asked before
        raise ValueError(m.name)
    # the cone of the pointer stands outboard of the outboard ear; the template's near face is there
    reach = m.inside / 2.0 + m.thickness + POINT_OUT
    way = math.copysign(1.0, m.bolt[1] * m.point[1]) if m.point[1] else 1.0
    x, z = m.point[0] + way * reach * m.bolt[0], m.point[2] + way * reach * m.bolt[2]
    far, rod, radius = math.hypot(x, z), float(sheet.gauges.rod), m.base.radius
    seat = radius + SEAT_BODY / 2.0
    level = math.radians(1.0) * far
    # a seat that stands off by so much moves the tube's middle along the other seat's tangent
    lean = 1.0 / math.sin(math.radians(2.0 * RODS_AT))
    terms = (
        *(Term(f"place of the {w} seat", ways.place, "mm", lean, ways.hole_words) for w in ("front", "rear")),
        Term("place of the pointer's hole", ways.place, "mm", 1.0, ways.hole_words),
        *(
            Term(f"place of the {w} level pin", ways.place, "mm", far / LEVELS, ways.hole_words)
            for w in ("front", "rear")
        ),
        *(Term(f"tube out of round, {w} seat", OVAL / 2.0, "mm", lean, PRACTICE) for w in ("front", "rear")),
        Term("level", float(sheet.tools.level_repeatability), "deg", level, "largest spread, on the sheet"),
        Term("pointer in the ears", POINTER_PLAY, "mm", 2.0 * reach / (m.inside + 2.0 * m.thickness), PRACTICE),
    )
    return Gauge(
        kind="clock",
        name=f"clock-{m.holds.removesuffix('-left')}"[:30],
        label=f"clock template of {m.holds.removesuffix('-left').replace('-', ' ')} brackets",
        proves=f"clock angle and distance of the hole of {m.label}; the other side's with the seats on the other face",
        unit="mm",
        tolerance=BRACKET,
        limit_source=f"hole of a bracket within 1/16 in, {PRACTICE}",
        terms=terms,
        sizes={
            "radius": radius,
            "rod": rod,
            "seat": seat,
            "x": x,
            "z": z,
            "clock": clock_of(x, z),
            "far": far,
            "station": m.point[1] + way * reach * m.bolt[1],
            "shank": m.joint.shank,
            "pointer": reach + m.inside / 2.0 + m.thickness,
            "holds": m.inside + 2.0 * m.thickness,
        },
        settings=(
            Setting("hole from the tube's middle, at the template", far, far - BRACKET, far + BRACKET, clock_of(x, z)),
        ),
        use=(
            "seats on the tube, template just outboard of the bracket's outer ear; pinion level: the level on the two "
            "pins must read as on the index plate's; bracket on its pointer: the cone must find the hole. Right "
            "side: screw the seats to the other face"
        ),
        caution="scale and paint off the tube under both seats; on the left side the marked face looks outboard",
        words={"holds": m.holds},
    )


def hole_bars(sheet: Sheet, plan: BracketPlan, ways: Ways) -> Iterator[Gauge | NotMade]:
    """Bars from hole to hole of the left and right bracket of a link, pins upright in spools between the ears."""
    lefts = [m for m in plan.mounts if m.side == "left" and m.spec.end == "axle" and m.joint is not None]
    for left in lefts:
        right = next((m for m in plan.mounts if m.side == "right" and m.row == left.row and m.spec.end == "axle"), None)
        if right is None or left.joint is None or not left.holds.startswith(LINKS):
            continue
        what = f"hole bar of {left.label}"
        if max(abs(left.bolt[2]), abs(right.bolt[2])) > LEVEL_BOLT:
            why = "its bolt is not level, so no upright pin stands square in it"
            yield NotMade("hole-bar", what, why, "tape from hole to hole as in the table of brackets")
            continue
        wall = (left.joint.body - left.joint.shank) / 2.0
        if sheet.gauges is not None and wall < WALL * float(sheet.gauges.rod):
            why = f"its joint leaves a wall of {wall / INCH:.2f} in round the bolt, too little to hold a pin upright"
            yield NotMade("hole-bar", what, why, "tape from hole to hole as in the table of brackets")
            continue
        span = math.dist(left.point[:2], right.point[:2])
        yield _hole_bar(sheet, left, span, ways)


def _hole_bar(sheet: Sheet, m: Mount, span: float, ways: Ways) -> Gauge:
    if m.joint is None or sheet.gauges is None:  # pragma: no cover - asked before
        raise ValueError(m.name)
    over = m.point[2] > 0.0
    # from left to right it always passes the centre section, over it or under it
    clear = float(sheet.housing.height) / 2.0 + INCH / 2.0
    drop = max(m.joint.body / 2.0 + INCH, clear - abs(m.point[2]))
    place, how = (ways.place, ways.hole_words) if span <= LONG_REACH else (MARKED, "laid out with a trammel")
    machine = "mill" if ways.place < MARKED else "press"
    terms = (
        Term("left hole of the bar", place, "mm", 1.0, how, BAR_CURE),
        Term("right hole of the bar", place, "mm", 1.0, how, BAR_CURE),
        *(Term(f"{w} pin leans", LEAN[machine], "1", drop, PRACTICE, PRESS_CURE) for w in ("left", "right")),
        *(
            Term(f"{w} spool between its ears", float(m.spec.room) / 2.0, "mm", 0.5, PRACTICE)
            for w in ("left", "right")
        ),
    )
    return Gauge(
        kind="hole-bar",
        name=f"hole-bar-{m.holds}".removesuffix("-left")[:34],
        label=f"hole-to-hole bar of {m.holds.replace('-', ' ').removesuffix(' left')} brackets",
        proves="distance of the left and right joints' middles",
        unit="mm",
        tolerance=BRACKET,
        limit_source=f"hole to hole within 1/16 in, {PRACTICE}",
        terms=terms,
        sizes={
            "span": span,
            "rod": float(sheet.gauges.rod),
            "shank": m.joint.shank,
            "body": m.joint.body,
            "spool": m.joint.width,
            "drop": drop,
            "pin": drop + m.joint.body / 2.0 + INCH,
        },
        settings=(Setting("hole to hole", span, span - BRACKET, span + BRACKET),),
        use=(
            f"spools on the joint bolts between the ears, pins {'up' if over else 'down'} out of their cross holes; "
            "the bar must go over both pins by hand. Tight at one side: the leaf between pin and hole tells how much"
        ),
        caution="stamp the measured distance over both pins on the bar; it goes past the housing: check before tacking",
        words={"way": "up" if over else "down", "joint": m.joint.name},
    )


def end_disc(sheet: Sheet, plan: JigPlan) -> Gauge:
    """Disc on the bar against a tube end: feeler all round shows whether the end is square."""
    face = float(sheet.tubes.outside_diameter) + INCH / 4.0
    hub = max(3.0 * plan.bar, math.ceil(1.5 * face / INCH) * INCH)
    share = face / hub
    terms = (
        Term("disc on the bar, one way", BORE_PLAY, "mm", share, PRACTICE),
        Term("disc on the bar, other way", BORE_PLAY, "mm", share, PRACTICE),
        Term("face of the disc, faced with its bore", 0.5 * THOU, "mm", 1.0, PRACTICE),
        Term("feeler", FEEL, "mm", 1.0, PRACTICE),
    )
    return Gauge(
        kind="end-disc",
        name="end-disc",
        label="squareness disc for tube ends",
        proves="end of each tube square to the bar",
        unit="mm",
        tolerance=END_SQUARE,
        limit_source=f"within 0.005 in over the face, {PRACTICE}",
        terms=terms,
        sizes={"bar": plan.bar, "face": face, "hub": hub, "disc": INCH / 2.0},
        settings=(Setting("largest gap less smallest, feeler all round", 0.0, 0.0, END_SQUARE),),
        use="slide the disc along the bar against the end, face first; feeler at four places; half a turn, and again",
        caution="bar wiped and oiled; a burr on the tube's end is read as a lean",
        words={},
    )


def toe_bars(sheet: Sheet) -> Gauge | NotMade:
    """Bars on the bare wheel mount surfaces; a trammel behind and in front shows the toe."""
    ends, gauges = sheet.wheel_ends, sheet.gauges
    if gauges is None or not gauges.wheel_stud:
        why, remedy = "the sheet does not say which wheel studs there are", "give [gauges] wheel_stud"
        return NotMade("toe-bars", "toe bars", why, remedy)
    front = sheet.axle.position == "front"
    limits = TOE_FRONT if front else TOE_REAR
    tyre = float(sheet.vehicle.tyre_diameter)
    readings = [TOE_SPAN * t / tyre for t in limits]
    middle, half = sum(readings) / 2.0, (readings[1] - readings[0]) / 2.0
    seat = TOE_SPAN / float(ends.flange_diameter)
    terms = (
        *(Term(f"{w} bar on its flange", SEAT, "mm", seat, PRACTICE) for w in ("left", "right")),
        Term("trammel behind", TRAMMEL, "mm", 1.0, PRACTICE, ROD_CURE),
        Term("trammel in front", TRAMMEL, "mm", 1.0, PRACTICE, ROD_CURE),
    )
    chord = float(ends.wheel_pattern_diameter) * math.sin(math.pi / ends.wheel_stud_count)
    angle = math.degrees(2.0 * math.asin(middle / 2.0 / TOE_SPAN))
    return Gauge(
        kind="toe-bars",
        name="toe-bar",
        label="toe bars for the bare wheel mount surfaces",
        proves="total toe, no wheels on",
        unit="mm",
        tolerance=half,
        limit_source=(
            f"total toe-in {limits[0] / INCH:.4g} to {limits[1] / INCH:.4g} in over the tyres, {PRACTICE}, "
            f"times {TOE_SPAN / INCH:.0f} in over the tyre's diameter"
        ),
        terms=terms,
        sizes={
            "span": TOE_SPAN,
            "chord": chord,
            "stud": thread_diameter(gauges.wheel_stud),
            "below": float(ends.wheel_pattern_diameter) / 2.0 * math.cos(math.pi / ends.wheel_stud_count),
        },
        settings=(Setting("behind less in front, toe-in positive", middle, readings[0], readings[1], angle),),
        use=(
            "bars on two neighbouring studs each, level, nuts hand-tight and then snug; trammel set between the points "
            "behind, carried to the front, the rest by feeler or rule; then turn each hub half round and read again: "
            "the mean of both is free of the bars' own bend"
        ),
        caution="a tape alone reads 1/64 in at best: twice that is as much as the whole band",
        words={"stud": gauges.wheel_stud},
    )


def saddle(sheet: Sheet, axle: AxleModel, plan: BracketPlan) -> Gauge:
    """Scribing saddle: two rods along the tube, two plates square to them, the outer faces scribed along."""
    rod = float(sheet.gauges.rod) if sheet.gauges is not None else INCH / 2.0
    radius = float(sheet.tubes.outside_diameter) / 2.0
    long = 4.0 * INCH
    terms = (
        Term("length of the front seat", 1.0 * THOU, "mm", 1.0, "faced in one setting"),
        Term("length of the rear seat", 1.0 * THOU, "mm", 1.0, "faced in one setting"),
        Term("plate out of flat", FLAT / 2.0, "mm", 1.0, PRACTICE),
        Term("tube out of round under the seats", OVAL, "mm", 2.0 * radius / long, PRACTICE, OVAL_CURE),
    )
    stations = sorted({round(m.point[1], 2) for m in _on_tube(plan.mounts)}, reverse=True)
    settings = [
        Setting(f"joint's middle, {'left' if y > 0 else 'right'}, from its wheel mount surface", d, d - LINE, d + LINE)
        for y in stations
        for d in [axle.half_width - abs(y)]
    ]
    return Gauge(
        kind="saddle",
        name="saddle",
        label="scribing saddle for station lines",
        proves="a line square round the tube at a station",
        unit="mm",
        tolerance=LINE,
        limit_source=f"within 1/32 in of the station, {PRACTICE}",
        terms=terms,
        sizes={"radius": radius, "rod": rod, "seat": radius + SEAT_BODY / 2.0, "apart": long},
        settings=tuple(settings),
        use=(
            "seats on the tube; hook the tape on the wheel mount surface and bring the scribing face to the figure "
            "of the line (table of lines to scribe); hold it down, scribe along the face's edge, then roll the saddle "
            "on round the tube to its own line"
        ),
        caution="the line is the face's, not the scriber's middle: hold the point against the plate",
        words={},
    )


def _on_tube(mounts: Iterable[Mount]) -> Iterator[Mount]:
    return (m for m in mounts if m.spec.end == "axle" and isinstance(m.base, TubeBase))
