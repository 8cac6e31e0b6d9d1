"""FIT-14: a 9 in level rests on the level pins of every plate and can be read."""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.checks.overlap import overlap_of
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import Thing, chosen, gap_of_boxes, inches, parts_of, scene_of
from fixturegen.findings import Finding, Level
from fixturegen.studies.jig_records import LEVEL_PIN, level_pin_length

PRACTICE = "common practice, no source"
LONG = 9.0 * 25.4  # level [mm] [cp]
WIDE = 25.4  # its foot [mm] [cp]
HIGH = 2.0 * 25.4  # its body [mm] [cp]
SIGHT = 0.25 * 25.4  # room over it to lift it off; its vial is read from the side [mm] [cp]
STEP = 2.0  # of the search along the pins [mm]


@dataclass(frozen=True)
class Rest:
    """A place the level stands on [mm].

    Attributes:
        plate: Name of the plate.
        middle: X between the two pins.
        top: Z of the pins' tops.
        face: Y of the plate's face the pins stand on.
        tip: Y of the pins' ends.
    """

    plate: str
    middle: float
    top: float
    face: float
    tip: float


def rests(job: Job, things: tuple[Thing, ...]) -> list[Rest]:
    """Where the level may stand: the pins of both clock plates, and of the index plate on either side."""
    pins = job.plan.index.level_pins
    middle = (pins[0][0] + pins[1][0]) / 2.0
    top = job.plan.height + pins[0][1] + LEVEL_PIN / 2.0
    found = []
    for thing in things:
        if thing.part.startswith("clock-plate"):
            side = 1.0 if thing.part.endswith("-l") else -1.0
            mine = [t for t in things if t.part == "level-pin" and t.group == thing.group]
            if not mine:
                continue
            face = thing.box[4] if side > 0 else thing.box[1]
            tip = mine[0].box[4] if side > 0 else mine[0].box[1]
            found.append(Rest(thing.name, middle, top, face, tip))
        if thing.part == "index-plate" and job.plan.tie is not None:
            out = level_pin_length(job.plan.clock_thickness) - job.plan.clock_thickness
            found.append(Rest(thing.name, middle, top, thing.box[4], thing.box[4] + out))
            found.append(Rest(thing.name, middle, top, thing.box[1], thing.box[1] - out))
    return found


def best_place(job: Job, rest: Rest, things: tuple[Thing, ...]) -> tuple[float, list[Thing]]:
    """Y of the level's middle where it meets least [mm], and what it meets there."""
    best: tuple[float, list[Thing]] | None
    # the foot may stand over the pin's end by half its width: it still rests on both pins
    way = 1.0 if rest.tip > rest.face else -1.0
    first, best = rest.face + way * (WIDE / 2.0 + 0.5), None
    for k in range(int(abs(rest.tip - first) / STEP) + 1):
        y = first + way * STEP * k
        met = _met(rest, y, things)
        if best is None or len(met) < len(best[1]):
            best = (y, met)
        if not met:
            break
    return best if best is not None else (first, [])


def _met(rest: Rest, y: float, things: tuple[Thing, ...]) -> list[Thing]:
    from fixturegen.shapes import solids

    x0, x1 = rest.middle - LONG / 2.0, rest.middle + LONG / 2.0
    top = rest.top + HIGH + SIGHT
    room = solids.box(x0, y - WIDE / 2.0, rest.top + 0.1, x1, y + WIDE / 2.0, top)
    level = Thing("level", "", "", room)
    met = []
    for thing in things:
        if thing.part == "level-pin" or gap_of_boxes(level.box, thing.box) > 0.0:
            continue
        one = overlap_of(level, thing, room, thing.solid)
        if one is not None and one.depth > 0.1:
            met.append(thing)
    return met


@claim("FIT-14", "A 9 in level rests on both level pins of every plate and can be read.", holds="assembly")
def check_level_rests(claim: Claim, job: Job) -> list[Finding]:
    """The level with an inch over it, pushed along the pins until it stands free."""
    if job.plan.tie is None:
        return [claim.finding(Level.PASS, "a rear axle has no level pins")]
    things = scene_of(job)
    places: dict[str, list[tuple[Rest, float, list[Thing]]]] = {}
    for rest in rests(job, things):
        y, met = best_place(job, rest, things)
        places.setdefault(rest.plate, []).append((rest, y, met))
    if len(places) < 3:
        return [claim.finding(Level.NOT_CHECKED, f"level pins found on {len(places)} of 3 plates", assembly="jig")]
    return [_finding(claim, name, tried) for name, tried in places.items()]


def _finding(claim: Claim, name: str, tried: list[tuple[Rest, float, list[Thing]]]) -> Finding:
    rest, y, met = min(tried, key=lambda t: len(t[2]))
    if not met:
        return claim.finding(
            Level.PASS,
            f"a 9 in level rests on the pins of {name} with its middle at station {inches(y)}, "
            f"{inches(SIGHT)} free over it",
            assembly="jig",
            parts=parts_of(*met),
            point=(rest.middle, y, rest.top),
            value=SIGHT,
            limit=SIGHT,
            unit="mm",
            source=PRACTICE,
        )
    return claim.finding(
        Level.FAIL,
        f"no place on the pins of {name} for a 9 in level: {', '.join(t.name for t in met)} in the way",
        remedy="longer pins, or another height of the level pins",
        assembly="jig",
        parts=(*parts_of(*met), *([name] if chosen(met, lambda t: t.name == name) else [])),
        point=(rest.middle, y, rest.top),
        value=0.0,
        limit=SIGHT,
        unit="mm",
        source=PRACTICE,
    )
