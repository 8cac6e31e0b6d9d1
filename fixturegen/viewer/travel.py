"""The axle on its links as a scene that moves: both wheels, crossed up, one wheel, steering, and the poses named."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.poses import wheel_travel
from fixturegen.bodies.axle import jig_solids
from fixturegen.bodies.colours import BRACKET, GHOST, OTHER, Colour
from fixturegen.bodies.in_the_way import BRACKETS, Item, items_of
from fixturegen.checks.links import links_in
from fixturegen.checks.registry import Job
from fixturegen.shapes import solids
from fixturegen.studies.clearance_poses import LOCKS, Line, Stage, tour_of
from fixturegen.studies.clearance_records import AXLE, FRAME, LEFT, RIGHT, Motion, Tour
from fixturegen.studies.link_inputs import links_on, lock_on, stance_of
from fixturegen.viewer.scenes import TRAVEL, Body, Motions, Scene, line_of

HALF_STEPS = 6  # steps from ride to a stop: an inch or less of wheel travel on most trucks
LINK: Colour = (0.27, 0.40, 0.58)
WHEEL: Colour = (0.35, 0.36, 0.38)
RODS = "links and rods"
THIN = 12.0  # [mm] across a line whose diameter is not on the sheet
STEERING = "Steering at ride height"
DECIMALS = 6  # to which poses are told apart [mm, deg]
THROUGH = ("wheel-", "brake-")  # what would hide the rest


def travel_scene(job: Job) -> Scene | None:
    """The scene; None where the sheet has no links, or where LNK-01 says that they are no linkage."""
    if job.sheet.links is None or links_in(job) is None:
        return None
    wheels = _wheels(job)
    tour, lines = tour_of(job.sheet, job.axle, tuple(stage for _, stage in wheels))
    items, motions, notes = items_of(job, lines, tuple(f.mount for f in job.brackets.facts.values()))
    bodies = [body for item in items for body in _body(item)]
    thin, more, note = _thin(lines, motions)
    bodies += [*thin, *_brackets(job)]
    moving = tour.motions | motions | more
    used = sorted({b.mover for b in bodies} | {AXLE, FRAME})
    movers = {name: _places(moving[name]) for name in used}
    told = (*tour.notes, *note, *notes[len(note) :])
    return Scene(TRAVEL, "Axle on its links", "V", tuple(bodies), {}, _motions(job, tour, wheels, movers), told)


def _thin(lines: tuple[Line, ...], known: dict[str, Motion]) -> tuple[list[Body], dict[str, Motion], tuple[str, ...]]:
    """Lines without a diameter as thin bars, their motions, and that they are thin; they too show how they move."""
    bodies, motions, thin = [], {}, []
    for line in lines:
        names = [f"{line.name}-{k + 1}" for k in range(len(line.motions))] if len(line.motions) > 1 else [line.name]
        if names[0] in known:
            continue
        thin.append(line.label)
        for name, motion in zip(names, line.motions, strict=True):
            motions[name] = motion
            bar = solids.cylinder((0.0, 0.0, 0.0), (0.0, 0.0, line.length), THIN)
            bodies.append(Body(bar, line.name, line.label, RODS, OTHER, part=False, mover=name))
    note = (f"drawn thin, no diameter on the sheet: {', '.join(thin)}",) if thin else ()
    return bodies, motions, note


def _wheels(job: Job) -> tuple[tuple[str, Stage], ...]:
    """Name and wheel positions of each movement; nameless are poses that findings speak of."""
    links = links_on(job.sheet)
    up, down = float(links.bump), float(links.droop)
    stops = np.concatenate([np.linspace(-down, 0.0, HALF_STEPS + 1), np.linspace(0.0, up, HALF_STEPS + 1)[1:]])
    ride = np.zeros_like(stops)
    corners = np.array([(a, b) for a in (-down, 0.0, up) for b in (-down, 0.0, up)])
    shares = tuple(k / HALF_STEPS for k in range(-HALF_STEPS, HALF_STEPS + 1))
    return (
        ("Both wheels", Stage(stops, stops)),
        ("Crossed up", Stage(stops, stops[::-1])),
        ("Left wheel alone", Stage(stops, ride)),
        ("Right wheel alone", Stage(ride, stops)),
        (STEERING, Stage(np.zeros(1), np.zeros(1), shares)),
        ("", Stage(corners[:, 0], corners[:, 1], LOCKS)),
    )


def _motions(job: Job, tour: Tour, wheels: tuple[tuple[str, Stage], ...], movers: dict[str, Array]) -> Motions:
    """The poses, and the order in which each movement goes through them; what is not reached is left out."""
    known: dict[tuple[float, ...], int] = {}
    for k, place in enumerate(tour.places):
        known.setdefault(_at(place.heave, place.roll, place.steer), k)
    lock = lock_on(job.sheet) or 0.0
    half = stance_of(job.sheet, job.axle).half_track
    paths = []
    for name, stage in wheels:
        heave, roll = wheel_travel(stage.left, stage.right, half)
        asked = [_at(z, r, share * lock) for share in stage.shares for z, r in zip(heave, roll, strict=True)]
        order = tuple(dict.fromkeys(known[key] for key in asked if key in known))
        if name and len(order) > 1:
            paths.append((name, order))
    poses = tuple((p.heave, p.roll, p.steer, p.name) for p in tour.places)
    return Motions(poses, movers, tuple(paths))


def _at(heave: float, roll: float, steer: float) -> tuple[float, ...]:
    return tuple(round(float(n), DECIMALS) + 0.0 for n in (heave, roll, steer))


def _places(motion: Motion) -> Array:
    """Rotation beside origin at each pose, (m, 12); no number where it is not known."""
    rows = np.concatenate([motion.rotations, motion.origins[:, :, None]], axis=2).reshape(-1, 12)
    return np.asarray(np.where(motion.known[:, None], rows, np.nan), dtype=np.float64)


def _body(item: Item) -> Iterator[Body]:
    """The body of an item; of brackets each plate is shown by itself, and a plane has none."""
    thing = item.thing
    if item.solid is None or thing.name.startswith("bracket-"):
        return
    soft = thing.name.startswith(THROUGH)
    line = thing.rides not in (FRAME, AXLE, LEFT, RIGHT)
    colour = LINK if line else WHEEL if soft else GHOST if thing.own else OTHER
    group = RODS if line else "axle" if thing.own else "round about"
    # rails, tank and fenders would hide what moves
    ghost = soft or not (line or thing.own)
    yield Body(item.solid, thing.name, thing.label, group, colour, part=False, ghost=ghost, mover=thing.rides)


def _brackets(job: Job) -> Iterator[Body]:
    """Every plate of the brackets, on the axle or on the frame; both are drawn in A at ride height."""
    if BRACKETS not in job.assemblies:
        return
    places = job.assemblies[BRACKETS].placements
    stance = stance_of(job.sheet, job.axle)
    on_frame = {f.mount.name for f in job.brackets.facts.values() if f.mount.spec.end == "frame"}
    for (i, part), solid in jig_solids(job, BRACKETS).items():
        group, label = places[i].group, job.parts[part].label
        if group in on_frame:
            place = line_of(stance.rotation, stance.origin)
            yield Body(solid, part, label, group, BRACKET, mover=FRAME, place=place)
        else:
            yield Body(solid, part, label, group, BRACKET, mover=AXLE)
