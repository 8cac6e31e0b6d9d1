"""The axle with what is welded to it: stations from the centreline, heights, clock angles, lists and order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from fixturegen.bodies.axle import bodies_in, part_solid
from fixturegen.checks.registry import Job
from fixturegen.drawings.assemblies import Marks, Scene, best_views, items_of, lists_of, lookings, seen_from, view_page
from fixturegen.drawings.jig import Used, hole_table
from fixturegen.drawings.ordinates import Ordinate
from fixturegen.drawings.record import Drawing, Page, Size
from fixturegen.drawings.sheets import Subject, Table, Words, finished, flowed
from fixturegen.drawings.written import TAPE, Writer
from fixturegen.errors import GeometryFault
from fixturegen.plate import Assembly
from fixturegen.shapes.solids import bounding_box
from fixturegen.shapes.solids import placed as put
from fixturegen.studies.bracket_places import BracketPlace, across_of, places_of
from fixturegen.studies.link_inputs import stance_of

LOCATOR = "locator-"  # groups of what holds a dummy bolt; the bracket's name follows
SEAT = ", seat"
FLAT = "flat"
FROM_TOP = "over the round from the top;\non a flat: ahead of the axle line"
HOLE = 16.0  # [mm] how large a table hole is drawn at least; its size stands in the drawing of the jig
SIDES = {True: "LEFT", False: "RIGHT"}


def axle_drawing(job: Job, assembly: Assembly, subject: Subject, held: Mapping[str, str]) -> Drawing | None:
    """The drawing of an assembly in the axle's frame, or on the table, with the axle pale; none where it is empty.

    Args:
        job: Parts, solids, brackets.
        assembly: What is drawn.
        subject: What is said of it.
        held: Parts that are held; they are left out.
    """
    placed = _on_axle(job, assembly)
    items = items_of(placed, held)
    solids = tuple(_solids(job, placed, held))
    if not solids:
        return None
    ghosts = tuple(shape for name, shape in bodies_in(job, assembly.frame).items() if name != "bar")
    views, writer = seen_from(Scene(solids, ghosts), lookings(front=job.axle.front)), Writer(subject.units)
    named = best_views(views)
    way = 1.0 if job.axle.front else -1.0
    places = _places(job, placed)
    pages: list[Page] = []
    sizes: list[Size] = []
    for seen, marks in zip(views, _marks(job, placed, solids, way), strict=True):
        page, found = view_page(seen, items, named, marks, subject)
        sizes += found
        pages.append(page)
    tables, more = _tables(places, writer)
    if assembly.frame == "T":
        table, holes = hole_table(job.plan, post_holes(job), writer)
        tables, more = [table, *tables], [*holes, *more]
    blocks = [*tables, *lists_of(placed, job.parts, items, named)]
    pages += flowed(blocks, subject.paper, wide=True, heading="places and parts")
    return Drawing(f"assembly-{assembly.name}", subject.label, finished(pages, subject), (*sizes, *more))


def _on_axle(job: Job, assembly: Assembly) -> Assembly:
    """The assembly without brackets that stand on the frame of the vehicle."""
    off = {name for name, facts in job.brackets.facts.items() if facts.mount.spec.end != "axle"}
    return replace(assembly, placements=tuple(p for p in assembly.placements if p.group not in off))


def _solids(job: Job, assembly: Assembly, held: Mapping[str, str]) -> Iterable[tuple[str, Any]]:
    for placement in assembly.placements:
        if placement.part in held:
            continue
        try:
            yield placement.part, put(part_solid(job, placement.part), placement)
        except GeometryFault:
            continue  # a part that cannot be made is held by GEO-01 and said there


def _places(job: Job, assembly: Assembly) -> tuple[BracketPlace, ...]:
    """Places of the brackets of this assembly that stand on the axle, from right to left."""
    there = {p.group for p in assembly.placements}
    facts = [f for name, f in job.brackets.facts.items() if name in there]
    if assembly.frame != "A" or not facts:
        return ()
    found = places_of(job.axle, stance_of(job.sheet, job.axle), facts)
    return tuple(sorted((p for p in found if p.on_axle), key=lambda p: (p.station, p.mount.name)))


Spot = tuple[str, float, float, float]
"""What stands there, forward, left and up in the assembly's frame [mm]."""


def spots_of(job: Job, assembly: Assembly) -> list[Spot]:
    """Bolts and seats of brackets on the axle, or the dummy bolts of their locators; else none.

    Args:
        job: Brackets and their locators.
        assembly: What is drawn.
    """
    groups = {p.group for p in assembly.placements}
    if assembly.frame == "T":
        there = [one for one in job.brackets.locators if f"{LOCATOR}{one.mount.name}" in groups]
        return [(f"{one.mount.label}, dummy bolt", *one.point) for one in there]
    places = _places(job, assembly)
    return [(_told(job, p, p.mount.label), p.forward, p.station, p.up) for p in places]


def _marks(job: Job, assembly: Assembly, solids: Sequence[tuple[str, Any]], way: float) -> tuple[Marks, Marks, Marks]:
    """What is dimensioned in plan, elevation and end."""
    half, spots = job.axle.half_width, spots_of(job, assembly)
    stations = [(0.0, "centreline", 0), (half, "left wheel mount surface", 0), (-half, "right wheel mount surface", 0)]
    ahead: list[tuple[float, str]] = [(0.0, "axle line")]
    on_table = assembly.frame == "T"
    heights = [(0.0, "table"), (job.plan.height, "axle line")] if on_table else [(0.0, "axle line")]
    if spots:
        stations += [(y, words, 0) for words, _, y, _ in spots]
        ahead += [(x, _sideless(words)) for words, x, _, _ in spots]
        heights += [(z, _sideless(words)) for words, _, _, z in spots]
    else:
        boxes = [(name, bounding_box(solid)) for name, solid in solids]
        stations += [(box[k], f"{name}, end", 1) for name, box in boxes for k in (1, 4)]
        heights += [(max(box[5] for _, box in boxes), "highest"), (min(box[2] for _, box in boxes), "lowest")]
        ahead += [(max(box[3] for _, box in boxes), "foremost"), (min(box[0] for _, box in boxes), "rearmost")]
    across = tuple(Ordinate(way * y, 0.0, words, rank, words) for y, words, rank in stations)
    forward = tuple(Ordinate(-way * x, 0.0, words, 0, words) for x, words in ahead)
    upward = tuple(Ordinate(z, 0.0, words, 0, words) for z, words in heights)
    words = "centreline midway between the wheel mount surfaces, and the "
    level = "table top" if on_table else "axle line"
    holes = tuple((way * y, -way * x, HOLE, short) for x, y, short, _ in post_holes(job) if on_table)
    plan = Marks(across, forward, used=holes, centre=(0.0, half, -half), ways=(way, -way), words=words + "axle line")
    front = Marks(across, upward, centre=(0.0, half, -half), ways=(way, 1.0), words=words + level)
    behind = tuple(Ordinate(-x, 0.0, w, 0, w) for x, w in ahead)
    clocks = tuple(
        (-p.forward, p.up, f"{p.mount.label}  {_degrees(p.clock)}")
        for p in _places(job, assembly)
        if p.clock is not None
    )
    told = "; clock angle: 0 up, 90 forward, -90 rearward" if clocks else ""
    words = f"axle line ahead and behind, and the {level}{told}"
    end = Marks(behind, upward, clocks=clocks, ways=(-1.0, 1.0), words=words)
    return plan, front, end


def post_holes(job: Job) -> list[Used]:
    """(x, y, short word, what goes in) of every table hole the posts of the locators use, frame T [mm].

    Args:
        job: Carries the locators.
    """
    found: list[Used] = []
    for n, one in enumerate((one for one in job.brackets.locators if one.post is not None), 1):
        post = one.post
        if post is not None:
            found += [(x, y, f"{n}P{k}", f"pin, {one.mount.label}") for k, (x, y) in enumerate(post.pins, 1)]
            found += [(x, y, f"{n}B{k}", f"bolt, {one.mount.label}") for k, (x, y) in enumerate(post.bolts, 1)]
    return found


def places_proved(job: Job, assembly: Assembly, held: Mapping[str, str]) -> list[str]:
    """Bolts of brackets at whose told place no hole of the bracket as placed is, in words.

    Args:
        job: Parts, solids, brackets.
        assembly: What is drawn.
        held: Parts that are held.
    """
    from fixturegen.drawings.proof import bolt_faults

    if held:
        return []
    placed = _on_axle(job, assembly)
    points = [(words, (x, y, z)) for words, x, y, z in spots_of(job, placed) if not words.endswith(SEAT)]
    return bolt_faults(points, [solid for _, solid in _solids(job, placed, held)]) if points else []


def _told(job: Job, place: BracketPlace, label: str) -> str:
    """A bracket's name with what of it stands there: its bolt, or what it carries where it has no ears."""
    return f"{label}, bolt" if job.brackets.facts[place.mount.name].ears else f"{label}{SEAT}"


def _sideless(words: str) -> str:
    """What a bracket is called without its side: left and right mostly share heights."""
    kept = " ".join(word for word in words.replace(",", " ,").split() if word not in ("left", "right"))
    return kept.replace(" ,", ",")


def _tables(places: tuple[BracketPlace, ...], writer: Writer) -> tuple[list[Table | Words], list[Size]]:
    """Where each bracket stands, lines to scribe, and lengths across."""
    rows, lines, sizes = [], [], []
    for p in places:
        stations = [abs(p.station), p.from_left or 0.0, p.from_right or 0.0]
        told = [writer.short(v, TAPE) for v in stations]
        ahead, up = writer.short(p.forward, TAPE), writer.short(p.up, TAPE)
        rows.append((p.mount.label, SIDES[p.station > 0.0], *told, _degrees(p.clock), ahead, up))
        for name, value, text in zip(("centreline", "left", "right"), stations, told, strict=True):
            sizes.append(Size("distance", f"{p.mount.name} from {name}", value, text))
        for line in p.lines:
            for q in line.points:
                # a plate on a flat has no clock: without how far ahead it stands its point would be a line
                arc = writer.short(q.forward if q.round is None else q.round.arc, TAPE)
                clock = FLAT if q.round is None else _degrees(q.round.clock)
                far = writer.short(q.from_left, TAPE), writer.short(q.from_right, TAPE)
                lines.append((line.part, q.name, *far, clock, arc))
    surfaces = ("from left mount", "from right mount")
    heads = ("bracket", "side", "from centreline", *surfaces, "clock", "forward", "up")
    shares = (1.6, 0.9, 2.8, 2.9, 2.9, 1.0, 3.6, 3.6)
    blocks: list[Table | Words] = [Table("Where the brackets stand", heads, tuple(rows), shares)]
    across = tuple((a.words, writer.full(a.length, TAPE)) for a in across_of(places))
    sizes += [Size("distance", a.words, a.length, writer.full(a.length, TAPE)) for a in across_of(places)]
    blocks.append(Table("Across, to prove them with a tape", ("from middle to middle", "length"), across, (3.0, 4.0)))
    scribe = ("plate", "its point", *surfaces, "clock", FROM_TOP)
    blocks.append(Table("Lines to scribe; forward counts plus", scribe, tuple(lines), (2.4, 1.5, 3.8, 3.8, 0.9, 3.4)))
    return blocks, sizes


def _degrees(angle: float | None) -> str:
    return "-" if angle is None else f"{angle:.1f}\N{DEGREE SIGN}"
