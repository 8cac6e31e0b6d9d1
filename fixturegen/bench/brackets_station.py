"""Placing the brackets: stations, clock angles, lines to scribe, beads."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from fixturegen.bench.gauge_tools import made, tool, tool_or
from fixturegen.bench.records import Listing, Reading, Station, assumed_of, fraction, tape_reading, tape_within, taped
from fixturegen.checks.brackets_welded import CODE
from fixturegen.findings import Level
from fixturegen.pages import cautions
from fixturegen.pages.documents import Contents
from fixturegen.plate import Assembly
from fixturegen.studies.bracket_places import BracketPlace, ScribePoint, across_of, places_of
from fixturegen.studies.link_inputs import stance_of
from fixturegen.units.written import MM_PER_INCH

ORDER = 50
SHARED = 3  # beads with the same words: they are said once, above the list
ASSEMBLIES = ("brackets", "locators")
STATION_GOOD = MM_PER_INCH / 16.0  # [mm] common practice, no source
CLOCK_GOOD = "+/- 0.5 deg"  # common practice, no source
STANDING = (
    cautions.STEERING,
    cautions.BRACKETS,
    cautions.VENT,
    cautions.CLEANER,
    cautions.EARTH_HOUSING,
    cautions.LIFT,
)
ZERO = (
    "ZERO along the axle is the machined wheel mount surface, where a tape hooks; round the axle it is straight up "
    "with the pinion level: clock 0 up, 90 forward, 180 down, -90 rearward. Scribe the top line of each tube first."
)


def station(contents: Contents) -> Station | None:
    """The sheet on which the brackets are placed; None where the sheet lists none."""
    job = contents.job
    if not job.sheet.brackets or not job.brackets.facts:
        return None
    facts = [f for f in job.brackets.facts.values() if not any(p in contents.held for p in f.parts)]
    places = places_of(job.axle, stance_of(job.sheet, job.axle), facts)
    assemblies = [job.assemblies[name] for name in ASSEMBLIES if name in job.assemblies]
    forbidden = [f.words for f in contents.findings if f.code == CODE and f.level is Level.FAIL]
    return Station(
        slug="place-brackets",
        title="Place the brackets",
        zero=ZERO,
        assumed=assumed_of(contents.assumptions, ("brackets", "joints")),
        readings=tuple(_readings(contents, places)),
        steps=(*_steps(contents, places), *(s for a in assemblies for s in a.steps)),
        lists=(_scribes(places, contents.units), _beads(assemblies, contents, forbidden)),
        cautions=(
            *STANDING,
            *((cautions.TACKED,) if job.axle.bench_caster is not None else ()),
            *((cautions.ON_FRAME,) if any(not p.on_axle for p in places) else ()),
        ),
    )


def _readings(contents: Contents, places: tuple[BracketPlace, ...]) -> Iterable[Reading]:
    units = contents.units
    good = tape_within(STATION_GOOD, units)
    for p in places:
        yield from _along(contents, p)
        yield from _round_axle(contents, p)
    for length in across_of(places):
        # a bar of the job goes over the middles of one pair on the axle
        pair = length.words.partition(", hole to hole across the axle")
        bar = tool(contents, "hole-bar", f"hole-bar-{pair[0].replace(' ', '-')}") if pair[1] else ""
        with_what = f"{bar}, or tape along the dummy bolts" if bar else "tape, along the dummy bolts"
        words = length.words if "hole to hole" in length.words else f"hole to hole, {length.words}"
        yield tape_reading(words, length.length, units, good, with_what)


def _name(place: BracketPlace) -> str:
    """What people call it; its hand where the words do not tell the side already."""
    label, hand = place.mount.label, place.mount.hand
    sided = any(word in label.replace(",", "").split() for word in ("left", "right"))
    return f"{label} ({hand})" if hand and not sided else label


def _along(contents: Contents, p: BracketPlace) -> Iterable[Reading]:
    """Middle of the joint along the axle: from where a tape hooks, and from the centreline."""
    units = contents.units
    saddle = tool(contents, "saddle") if p.clock is not None else ""
    good = tape_within(STATION_GOOD, units)
    side = "left" if p.station > 0.0 else "right" if p.station < 0.0 else "middle"
    name = f"{_name(p)}: middle of the joint"
    if p.from_left is not None and p.from_right is not None:
        way, near = ("left", p.from_left) if p.from_left <= p.from_right else ("right", p.from_right)
        with_what = f"tape; {saddle}" if saddle else "tape"
        yield tape_reading(f"{name}, from the {way} wheel mount surface", near, units, good, with_what)
    yield tape_reading(f"{name}, from the centreline", abs(p.station), units, good, "tape", words=(side, ""))


def _round_axle(contents: Contents, p: BracketPlace) -> Iterable[Reading]:
    """Where the hole stands round the axle, or on the frame."""
    units = contents.units
    if p.clock is not None:
        name, planned = f"{_name(p)}: clock of the hole", f"{p.clock:.1f} deg"
        stem = p.mount.holds.removesuffix("-left").removesuffix("-right")
        template = next((g for g in made(contents, "clock") if g.name == f"clock-{stem}"[:30]), None)
        if template is None or not p.on_axle:
            yield Reading(name, planned, CLOCK_GOOD, "finder, square and rule")
            return
        with_what = tool_or(contents, "clock", "finder", template.name)
        # the bolt leans: where its line meets the template is not where the middle of the joint is
        remark = (
            f"middle of the joint; {template.sizes['clock']:.1f} deg on the template is the bolt's line outboard of "
            "the ear: both are right"
        )
        yield Reading(name, planned, CLOCK_GOOD, with_what, beside=remark)
        return
    good, with_what = tape_within(STATION_GOOD, units), "square and rule"
    line = "axle line" if p.on_axle else "front axle line"
    ahead = _way(p.forward, units, "ahead", "behind")
    words = f"{_name(p)}: hole, fore and aft, from the {line}"
    yield tape_reading(words, abs(p.forward), units, good, with_what, words=("", ahead))
    above = _way(p.up, units, "above", "below") if p.on_axle else "over the ground"
    words = f"{_name(p)}: hole, {'up or down, from the axle line' if p.on_axle else 'height, truck at ride height'}"
    yield tape_reading(words, abs(p.up), units, good, with_what, words=("", above))


def _way(value: float, units: str, plus: str, minus: str) -> str:
    """Which way a length [mm] is laid off; none where what is printed is nothing."""
    if abs(value) < 0.05 if units == "mm" else fraction(abs(value)) == "0 in":
        return ""
    return plus if value > 0.0 else minus


def _each(contents: Contents, kind: str, words: str) -> str:
    """A gauge of the job in the middle of a step; nothing where there is none."""
    named = tool(contents, kind)
    return f"; {named}: {words}" if named else ""


def _steps(contents: Contents, places: tuple[BracketPlace, ...]) -> tuple[str, ...]:
    """What is done in which order, whatever kinds of brackets there are."""
    plugs = _each(contents, "plugs", "go end enters, the other does not")
    widths = _each(contents, "widths", "go end between the ears, top and bottom")
    leaves = _each(contents, "fillets", "on every bead")
    steered = contents.job.axle.bench_caster is not None
    frame = any(not p.on_axle for p in places)
    round_axle = any(p.clock is not None for p in places)
    return (
        f"Drill and ream the ears on the bench, pairs clamped together{plugs}. Bolt each pair on its own joint, or on "
        "a spool of the joint's measured width, so that both holes stay in line until the beads are cold.",
        "Bright steel where a bead will run. Scribe the top line of each tube, then the lines of the list below"
        + (
            "; wrap the paper that shows where the bracket stands (its template 1:1): both must agree."
            if round_axle
            else "."
        ),
        "Axle brackets on their lines, root gap even along each edge. Tack each plate at both ends and on both sides, "
        f"tacks 1/2 in long, ends ground{widths}.",
        "Read station, clock or height, and hole to hole; write them in. What is out is moved now. STA on a plate is "
        "the middle of that plate (of a folded one: of its web), the rows above are the middle of the joint: they "
        "differ, and both are right.",
        *(
            (
                "Frame brackets: truck level at ride height on stands, weight off the axle. Plumb and tape from the "
                "front axle line and the ground; tack as on the axle; read and write in.",
            )
            if frame
            else ()
        ),
        "Mock-up, brackets"
        + (" and knuckles" if steered else "")
        + " on tacks and so without load: truck on stands, axle under it on links only, springs out, straps on, wheels "
        "off the floor; hoist or jacks move it through bump, droop, crossed both ways"
        + ("; knuckles lock to lock by hand, drag link off" if steered else "")
        + ". Nobody under it. What touches is moved on its tacks.",
        "Spools in, bolts snug. Weld the beads of the list in short runs, left and right in turn; let each cool to the "
        "hand before its neighbour.",
        f"Cold: spools must come out by hand{leaves}. Read hole to hole again, write it beside the first reading.",
    )


def _scribes(places: tuple[BracketPlace, ...], units: str) -> Listing:
    rows = tuple(
        (line.part, q.name, _nearer(q, units), *_round(q, units))
        for p in places
        for line in p.lines
        for q in line.points
    )
    return Listing(
        "Lines to scribe",
        "Where each plate's bead runs, at the root: both ends and the middle. Arc: thin steel tape over the round; "
        "chord: dividers straight across; both from the top line. Fractions to the nearest 1/32, mm as planned.",
        ("Plate", "Point", "From the wheel mount surface", "Arc from the top line", "Chord"),
        (0.26, 0.1, 0.23, 0.25, 0.16),
        rows,
        "scribed",
    )


def _nearer(point: ScribePoint, units: str) -> str:
    if point.from_left <= point.from_right:
        return f"left {taped(point.from_left, units)}"
    return f"right {taped(point.from_right, units)}"


def _round(point: ScribePoint, units: str) -> tuple[str, str]:
    if point.round is None:
        ahead = "ahead" if point.forward >= 0.0 else "behind"
        return f"flat: {taped(abs(point.forward), units)} {ahead}", ""
    way = "forward" if point.round.arc >= 0.0 else "rearward"
    return f"{taped(abs(point.round.arc), units)} {way}", taped(point.round.chord, units)


def _beads(assemblies: list[Assembly], contents: Contents, forbidden: list[str]) -> Listing:
    if forbidden:
        return Listing("Beads: HELD", "; ".join(forbidden), ("",), (1.0,), (("No bead is run until this is mended.",),))
    welds = [w for a in assemblies for w in a.welds if not any(p in contents.held for p in w.parts)]
    # what is true of many beads is said once
    tails = Counter(w.words.partition("; ")[2] for w in welds)
    tail, count = max(tails.items(), key=lambda t: (bool(t[0]), t[1]), default=("", 0))
    shared = tail if count >= SHARED else ""
    rows = tuple(
        (
            w.parts[0],
            w.parts[1],
            taped(w.leg, contents.units, 32),
            taped(w.length, contents.units, 16),
            w.words.removesuffix(f"; {shared}") if shared else w.words,
        )
        for w in welds
    )
    note = "Both ends of a bead turned round the corner, no start or stop on it. Tack all, cycle the axle, then weld."
    if shared:
        note += f" Along tube, rail or truss: {shared}."
    shares = (0.18, 0.17, 0.15, 0.18, 0.32)
    return Listing("Beads", note, ("Part", "To", "Leg", "Length", "How"), shares, rows, "done", 0.08)
