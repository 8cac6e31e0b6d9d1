"""LCT: locators hold each dummy bolt where the sheet has its hardpoint, stand free and come off again."""

from __future__ import annotations

from fixturegen.checks.overlap import TOUCH, Passage, overlap, slide
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import Thing, gap_of_boxes, inches, parts_of, scene_of
from fixturegen.findings import Finding, Level
from fixturegen.plate.part import Vector
from fixturegen.studies.locator_error import LIMIT
from fixturegen.studies.locator_records import Locator
from fixturegen.studies.table_room import Room, room_of

ASSEMBLY = "locators"
TRUSS = "truss"
CLOSE = 0.5  # pairs farther apart than this by mesh are not handed to the kernel [mm]
POST_AWAY = 350.0  # a post is slid so far before it is lifted [mm]
ARM_AWAY = 150.0  # an arm is drawn off the tube so far [mm]
ON_GRID = 1e-6  # [mm] a hole of the table that is off by less is the table's own
SOURCE = "common practice, no source"


@claim("LCT-01", "Locators hold each hardpoint within 1/16 in.", holds="part")
def check_place_error(claim: Claim, job: Job) -> list[Finding]:
    """One finding a locator with its largest contributor; one for every bracket that has none."""
    found = [_placed(claim, one) for one in job.brackets.locators]
    for gone in job.brackets.unlocated:
        words = f"{gone.mount}: no locator, {gone.words}"
        found.append(claim.finding(Level.WARN, words, remedy=gone.remedy, assembly="brackets", source=SOURCE))
    return found


def _placed(claim: Claim, one: Locator) -> Finding:
    error, first = one.error, one.error.items[0]
    what = "table post" if one.form == "post" else "arm on the tube"
    words = (
        f"{one.mount.label}: {what}, {inches(error.worst)} worst case, {inches(error.likely)} by root of squares; "
        f"most from {first.name}, {inches(first.size)}"
    )
    level = Level.PASS if error.worst <= LIMIT else Level.WARN if error.likely <= LIMIT else Level.FAIL
    remedy = "" if level is Level.PASS else _remedy(one)
    return claim.finding(
        level,
        words,
        remedy=remedy,
        parts=one.parts,
        value=error.worst,
        limit=LIMIT,
        unit="mm",
        source=SOURCE,
        data={i.name: {"across": i.across, "up": i.up, "source": i.source} for i in error.items},
    )


def _remedy(one: Locator) -> str:
    if one.form == "arm":
        return "before tacking read the dummy bolt from the table and from the bar, and turn the arm until both agree"
    return "bore the holes on the mill, or read the dummy bolt from the bar before tacking and shim until it agrees"


@claim("LCT-02", "Locators share no steel with axle, truss, jig or bracket, and come off again.", holds="part")
def check_stand_free(claim: Claim, job: Job) -> list[Finding]:
    """Steel in one place, then the ways of dummy bolt and plates; one pass a locator that is free."""
    from fixturegen.bodies.axle import undrawn_parts

    if not job.brackets.locators:
        return []
    held = _held(job)
    bench = (*scene_of(job), *_truss(job))
    undrawn = undrawn_parts(job)
    found = []
    for one in job.brackets.locators:
        own = tuple(t for t in held if t.group == f"locator-{one.name}")
        others = tuple(t for t in held if t not in own)
        bad = [
            claim.finding(Level.FAIL, f"{n} cannot be drawn: {undrawn[n].words}", remedy=undrawn[n].remedy, parts=(n,))
            for n in one.parts
            if n in undrawn
        ]
        bad += _shared(claim, own, (*bench, *others))
        bad += _drawn_out(claim, one, own, (*bench, *others))
        bad += _taken_away(claim, one, own, (*bench, *others))
        found += bad or [_free(claim, one)]
    return found


def _free(claim: Claim, one: Locator) -> Finding:
    words = (
        f"{one.mount.label}: stands free of axle, jig and brackets; dummy bolt and plates come off without meeting any"
    )
    return claim.finding(Level.PASS, words, parts=one.parts, value=0.0, limit=TOUCH, unit="mm")


def _held(job: Job) -> tuple[Thing, ...]:
    """Locators and the brackets on them, as they stand on the table."""
    from fixturegen.bodies.axle import jig_solids

    if ASSEMBLY not in job.assemblies:
        return ()
    kept: tuple[Thing, ...] | None = job.store.get("scene of locators")
    if kept is None:
        places = job.assemblies[ASSEMBLY].placements
        kept = tuple(
            Thing(name, places[i].group, name, solid, i) for (i, name), solid in jig_solids(job, ASSEMBLY).items()
        )
        job.store["scene of locators"] = kept
    return kept


def _truss(job: Job) -> tuple[Thing, ...]:
    """The truss where it stands on the table: it is on the axle before its brackets are."""
    from fixturegen.axle.model import to_table
    from fixturegen.bodies.axle import jig_solids
    from fixturegen.bodies.drawing import rows
    from fixturegen.shapes import solids

    turn, up = to_table(job.axle, job.plan.height)
    at = (float(up[0]), float(up[1]), float(up[2]))
    drawn = jig_solids(job, TRUSS)
    return tuple(
        Thing(name, TRUSS, name, solids.transformed(solid, rows(turn), at), i) for (i, name), solid in drawn.items()
    )


def _shared(claim: Claim, own: tuple[Thing, ...], others: tuple[Thing, ...]) -> list[Finding]:
    """Steel of a locator in one place with something else."""
    from fixturegen.shapes.meshes import State, clearance

    found = []
    for i, a in enumerate(own):
        for b in (*own[i + 1 :], *others):
            if gap_of_boxes(a.box, b.box) > CLOSE:
                continue
            gap = clearance(a.body, b.body)
            if gap.state is State.APART and gap.measured > CLOSE:
                continue
            one = overlap(a, b)
            if one is not None and one.depth > TOUCH:
                words = f"{a.name} and {b.name} are in one place, {inches(one.depth)} deep"
                found.append(_failed(claim, words, (a, b), one.depth, one.point))
    return found


def _drawn_out(claim: Claim, one: Locator, own: tuple[Thing, ...], others: tuple[Thing, ...]) -> list[Finding]:
    """What the dummy bolt meets on its way out; what lies on it has its axis and was looked at where it stands."""
    bolts = tuple(t for t in own if t.part.endswith("-locator-bolt"))
    still = tuple(t for t in others if t.group != f"brackets-{one.name}")
    way = _times(one.bolt, float(one.pull))
    long = sum(abs(v) for v in _reach(bolts, way))
    return _met(claim, f"the dummy bolt of {one.mount.label}", bolts, slide(bolts, still, way, long))


def _taken_away(claim: Claim, one: Locator, own: tuple[Thing, ...], others: tuple[Thing, ...]) -> list[Finding]:
    """What the plates meet once the dummy bolt is out and they are unbolted; spool and spacers are out too."""
    plates = tuple(t for t in own if "-post-" in t.part or "-arm-" in t.part)
    name = "post" if one.form == "post" else "arm"
    far = POST_AWAY if one.form == "post" else ARM_AWAY
    gone = slide(plates, others, one.leave, far)
    return _met(claim, f"the {name} of {one.mount.label}", plates, gone)


def _reach(things: tuple[Thing, ...], way: Vector) -> Vector:
    """Extent of the things along a way, axis by axis [mm]."""
    if not things:
        return 0.0, 0.0, 0.0
    box = things[0].box
    return (box[3] - box[0]) * way[0], (box[4] - box[1]) * way[1], (box[5] - box[2]) * way[2]


def _times(way: Vector, by: float) -> Vector:
    return way[0] * by, way[1] * by, way[2] * by


def _met(claim: Claim, what: str, moving: tuple[Thing, ...], gone: Passage) -> list[Finding]:
    return [
        _failed(
            claim,
            f"{what} meets {hit.second.name} after {inches(hit.travel)}, {inches(hit.depth)} deep",
            (*moving, hit.second),
            hit.depth,
            hit.point,
        )
        for hit in gone.hits
    ]


def _failed(claim: Claim, words: str, things: tuple[Thing, ...], depth: float, point: Vector) -> Finding:
    return claim.finding(
        Level.FAIL,
        words,
        remedy="move what stands there, or hold the bracket by square and rule",
        parts=tuple(p for p in parts_of(*things) if "-post-" in p or "-arm-" in p or "-locator-" in p),
        point=point,
        value=depth,
        limit=TOUCH,
        unit="mm",
    )


@claim("LCT-03", "Posts of locators stand on the table's own holes, and on the table.", holds="part")
def check_on_the_table(claim: Claim, job: Job) -> list[Finding]:
    """Holes off the grid, and how much table jig and posts want together."""
    posts = [m for m in job.brackets.locators if m.post is not None]
    if not posts:
        return []
    found = []
    for one in posts:
        off = _off_grid(job, one)
        if off > ON_GRID:
            words = f"{one.mount.label}: a hole of its base stands {inches(off)} off the table's holes"
            remedy = "measure table.grid again"
            found.append(
                claim.finding(Level.FAIL, words, remedy=remedy, parts=one.parts, value=off, limit=ON_GRID, unit="mm")
            )
    parts = tuple(dict.fromkeys(p for m in posts for p in m.parts))
    rooms = _rooms(job, posts)
    for name, room in rooms:
        if room.needed > room.have:
            words = f"jig and posts want a table {inches(room.needed)} {name}, it has {inches(room.have)}"
            remedy = "take a larger table, or set the brackets by square and rule"
            found.append(
                claim.finding(
                    Level.FAIL, words, remedy=remedy, parts=parts, value=room.needed, limit=room.have, unit="mm"
                )
            )
    return found or [_on_table(claim, parts, rooms)]


def _on_table(claim: Claim, parts: tuple[str, ...], rooms: list[tuple[str, Room]]) -> Finding:
    told = ", ".join(f"{inches(r.needed)} of {inches(r.have)} {n} from row {r.first}" for n, r in rooms)
    name, tightest = min(rooms, key=lambda r: r[1].have - r[1].needed)
    return claim.finding(
        Level.PASS,
        f"every hole of the posts' bases is one of the table's; jig and posts take {told}; tightest {name}",
        parts=parts,
        value=tightest.needed,
        limit=tightest.have,
        unit="mm",
    )


def _rooms(job: Job, posts: list[Locator]) -> list[tuple[str, Room]]:
    holes = tuple(p for m in posts if m.post is not None for p in (*m.post.pins, *m.post.bolts))
    bases = tuple(m.post.base for m in posts if m.post is not None)
    along, across = room_of(job.sheet, job.plan, holes, bases)
    return [("long", along), ("wide", across)]


def _off_grid(job: Job, one: Locator) -> float:
    """Largest distance of a post's hole from the table's grid [mm]."""
    if one.post is None:
        return 0.0
    x0, y0, pitch = job.plan.grid
    worst = 0.0
    for x, y in (*one.post.pins, *one.post.bolts):
        for d in (x - x0, y - y0):
            worst = max(worst, abs(d - round(d / pitch) * pitch))
    return worst
