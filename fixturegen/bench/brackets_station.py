"""Placing the brackets: stations, clock angles, lines to scribe, beads."""

from __future__ import annotations

from collections.abc import Iterable

from fixturegen.bench.records import Listing, Reading, Station, assumed_of, tape_reading, taped
from fixturegen.checks.brackets_welded import CODE
from fixturegen.findings import Level
from fixturegen.pages import cautions
from fixturegen.pages.documents import Contents
from fixturegen.plate import Assembly
from fixturegen.studies.bracket_places import BracketPlace, ScribePoint, across_of, places_of
from fixturegen.studies.link_inputs import stance_of

ORDER = 50
ASSEMBLIES = ("brackets", "locators")
STATION_GOOD = "+/- 1/16 in"  # common practice, no source
CLOCK_GOOD = "+/- 0.5 deg"  # common practice, no source
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
        steps=tuple(s for a in assemblies for s in a.steps),
        lists=(_scribes(places, contents.units), _beads(assemblies, contents, forbidden)),
        cautions=(cautions.STEERING, cautions.BRACKETS, cautions.VENT, cautions.LIFT),
    )


def _readings(contents: Contents, places: tuple[BracketPlace, ...]) -> Iterable[Reading]:
    units = contents.units
    for p in places:
        yield from _along(p, units)
        yield from _round_axle(p, units)
    for length in across_of(places):
        tool = "tape, along the dummy bolts"
        yield tape_reading(f"hole to hole: {length.words}", length.length, units, STATION_GOOD, tool)


def _name(place: BracketPlace) -> str:
    return f"{place.mount.label} ({place.mount.hand})" if place.mount.hand else place.mount.label


def _along(p: BracketPlace, units: str) -> Iterable[Reading]:
    """Middle of the joint along the axle: from where a tape hooks, and from the centreline."""
    side = "left" if p.station > 0.0 else "right" if p.station < 0.0 else "middle"
    name = f"{_name(p)}: middle of the joint"
    if p.from_left is not None and p.from_right is not None:
        way, near = ("left", p.from_left) if p.from_left <= p.from_right else ("right", p.from_right)
        yield tape_reading(f"{name}, from the {way} wheel mount surface", near, units, STATION_GOOD, "tape")
    yield tape_reading(f"{name}, from the centreline", abs(p.station), units, STATION_GOOD, "tape", words=(side, ""))


def _round_axle(p: BracketPlace, units: str) -> Iterable[Reading]:
    """Where the hole stands round the axle, or on the frame."""
    if p.clock is not None:
        yield Reading(f"{_name(p)}: clock of the hole", f"{p.clock:.1f} deg", CLOCK_GOOD, "finder, clock gauge")
        return
    line = "axle line" if p.on_axle else "front axle line"
    ahead = "ahead" if p.forward >= 0.0 else "behind"
    above = "over the ground" if not p.on_axle else "above" if p.up >= 0.0 else "below"
    words = f"{_name(p)}: hole, from the {line}"
    yield tape_reading(words, abs(p.forward), units, STATION_GOOD, "square and rule", words=("", ahead))
    words = f"{_name(p)}: hole, {'from the axle line' if p.on_axle else 'truck at ride height'}"
    yield tape_reading(words, abs(p.up), units, STATION_GOOD, "square and rule", words=("", above))


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
        (0.22, 0.12, 0.24, 0.24, 0.18),
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
    rows = tuple(
        (w.parts[0], w.parts[1], taped(w.leg, contents.units, 16), taped(w.length, contents.units, 16), w.words)
        for a in assemblies
        for w in a.welds
        if not any(p in contents.held for p in w.parts)
    )
    note = "Both ends of a bead turned round the corner, no start or stop on it. Tack all, cycle the axle, then weld."
    return Listing("Beads", note, ("Part", "To", "Leg", "Length", "How"), (0.24, 0.18, 0.12, 0.15, 0.31), rows, "done")
