"""The brackets as a section of the report: where each is put, what to scribe and tape, what to weld and to buy."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from fixturegen.papers.report import Figure, Section, Table
from fixturegen.papers.words import INCH, fraction, length
from fixturegen.plate import Assembly
from fixturegen.studies.bracket_places import Across, BracketPlace, OnRound, ScribePoint
from fixturegen.studies.bracket_records import BracketFacts, FlatBase

CAUTIONS = (
    "Setting-out aid, not certified: measure before you weld, and cycle the axle on its tacks through its whole travel "
    "before a bead is run. No strength is claimed here beyond the load cases stated elsewhere in this report.",
    "Never weld on outer knuckles, steering arms, pitman arms, tie rods, drag links, spindles, ball-joint bodies or "
    "brake calipers. A bracket that would need it is held, and the weld list with it.",
    "Earth clamp beside the weld, on the same piece of steel: never through bearings, bar, post, arm or dummy bolt.",
    "Local rules, your inspector and licensed practice come first.",
)
TAPE_PARTS = 32  # of an inch: what a tape is read to where it matters (common practice, no source)
MORE = (
    "Pinion level when the top line of the tube is scribed. Clock angles: 0 straight up, 90 forward, 180 straight "
    "down, -90 rearward. Stations are along the axle line, from the machined wheel mount surfaces."
)


@dataclass(frozen=True)
class BracketCase:
    """What the section is made from.

    Attributes:
        places: Of every bracket that was drawn.
        across: Lengths from hole to hole.
        facts: Of every bracket, by name.
        assemblies: "brackets" and "locators", as far as there are any.
        held: Part name to reason.
        views: Placement drawing.
        weld_list_held: Why the weld list is held; empty when it is not.
    """

    places: tuple[BracketPlace, ...]
    across: tuple[Across, ...]
    facts: Mapping[str, BracketFacts]
    assemblies: tuple[Assembly, ...]
    held: Mapping[str, str]
    views: tuple[Figure, ...] = ()
    weld_list_held: str = field(default="")


def bracket_section(case: BracketCase, units: str = "in") -> Section:
    """The section: cautions on top, the placement drawing, then tables in the order of the work."""
    tables = (
        _places(case, units),
        _turns(case, units),
        _scribes(case, units),
        _proofs(case, units),
        _joints(case, units),
        _steps(case),
        _welds(case, units),
        _hardware(case),
    )
    return Section("Brackets", (*CAUTIONS, MORE), case.views, tuple(t for t in tables if t is not None), ())


def taped(value: float, units: str = "in") -> str:
    """A length [mm] for a tape: nearest 1/32 with the decimals and the millimetres beside it; mm first where asked."""
    size = abs(value)
    if units == "mm":
        return f"{value:.1f} mm ({value / INCH:.3f} in)"
    nearest = Fraction(round(size / INCH * TAPE_PARTS), TAPE_PARTS)
    whole, rest = divmod(nearest, 1)
    words = f"{int(whole)} {rest}" if whole and rest else f"{rest if rest else int(whole)}"
    sign = "-" if value < 0.0 and nearest else ""
    return f"{sign}{words} in ({value / INCH:.3f} in, {value:.1f} mm)"


def side_words(station: float) -> str:
    """Which side of the centreline a station lies on."""
    return "left" if station > 0.0 else "right" if station < 0.0 else "on the centreline"


def _places(case: BracketCase, units: str) -> Table | None:
    rows = []
    for p in case.places:
        rows.append(
            (
                p.mount.label,
                p.mount.hand or "",
                p.mount.base.words,
                f"{side_words(p.station)} {taped(abs(p.station), units)}",
                "" if p.from_left is None else taped(p.from_left, units),
                "" if p.from_right is None else taped(p.from_right, units),
                "[box]",
            )
        )
    if not rows:
        return None
    return Table(
        "Stations of the holes along the axle",
        "Middle of the joint; of several holes the first. A tape hooks on the machined wheel mount surface, not on a "
        "drum or a tube end. Brackets on the frame have no wheel mount surface beside them.",
        (
            "Bracket",
            "Hand",
            "Welded to",
            "From the centreline",
            "From the left wheel mount surface",
            "From the right wheel mount surface",
            "Measured",
        ),
        tuple(rows),
        (),
    )


def _turns(case: BracketCase, units: str) -> Table | None:
    rows = []
    for p in case.places:
        frame = not p.on_axle
        rows.append(
            (
                p.mount.label,
                "" if p.clock is None else f"{p.clock:.1f}",
                _ahead(p.forward, units) + (" of the front axle line" if frame else ""),
                f"{taped(p.up, units)} over the ground" if frame else _above(p.up, units),
                taped(p.off, units),
                f"{p.turn:+.1f}",
                f"{p.tilt:+.1f}",
                "[box]",
            )
        )
    if not rows:
        return None
    return Table(
        "Round the axle, pinion level",
        "Clock: from straight up, forward positive. Ahead and above: square and rule from the axle line. Bolt: turned "
        "in plan, its left end forward positive; tilted, its left end up positive. Off the surface: the shortest way.",
        (
            "Bracket",
            "Clock of the hole [deg]",
            "Hole ahead of the axle line",
            "Hole above the axle line",
            "Hole off the surface",
            "Bolt turned [deg]",
            "Bolt tilted [deg]",
            "Measured",
        ),
        tuple(rows),
        (1, 5, 6),
    )


def _ahead(value: float, units: str) -> str:
    return f"{taped(abs(value), units)} {'ahead' if value >= 0.0 else 'behind'}"


def _above(value: float, units: str) -> str:
    return f"{taped(abs(value), units)} {'above' if value >= 0.0 else 'below'}"


def _scribes(case: BracketCase, units: str) -> Table | None:
    rows = []
    for place in case.places:
        for line in place.lines:
            for point in line.points:
                rows.append(
                    (
                        line.part,
                        point.name,
                        f"{side_words(point.station)} {taped(abs(point.station), units)}",
                        _nearer(point, units),
                        *_round_words(point.round, point.forward, units),
                    )
                )
    if not rows:
        return None
    return Table(
        "Lines to scribe",
        "The face of each plate that its bead runs along, at the root. Scribe the top line of each tube first, then "
        "both ends and the middle of each plate; the arc is read with the tape laid over the round, the chord with "
        "dividers set straight across, both from the top line. Take a thin steel tape.",
        (
            "Plate",
            "Point",
            "From the centreline",
            "From the nearer wheel mount surface",
            "Clock [deg]",
            "Arc over the round",
            "Chord straight across",
            "Ahead of the axle line",
        ),
        tuple(rows),
        (4,),
    )


def _nearer(point: ScribePoint, units: str) -> str:
    if point.from_left <= point.from_right:
        return f"left, {taped(point.from_left, units)}"
    return f"right, {taped(point.from_right, units)}"


def _round_words(place: OnRound | None, forward: float, units: str) -> tuple[str, str, str, str]:
    if place is None:
        return "flat", "", "", _ahead(forward, units)
    way = "forward and down" if place.arc >= 0.0 else "rearward and down"
    return f"{place.clock:.1f}", f"{taped(abs(place.arc), units)} {way}", taped(place.chord, units), ""


def _proofs(case: BracketCase, units: str) -> Table | None:
    if not case.across:
        return None
    rows = tuple((a.words, taped(a.length, units), "[box]") for a in case.across)
    return Table(
        "Prove the brackets before the beads",
        "Hole to hole, tape along the dummy bolts' middles; both diagonals of one figure read alike where the right "
        "side is the mirror image of the left. Within 1/16 in of each line (common practice, no source).",
        ("What", "Planned", "Measured"),
        rows,
        (1,),
    )


def _joints(case: BracketCase, units: str) -> Table | None:
    rows = []
    for facts in case.facts.values():
        m = facts.mount
        joint = m.joint
        beads = sum(s_length(s.begin, s.end) for s in facts.seams)
        gap = float(m.spec.gap)
        leg = fraction(float(m.spec.leg), 16)
        outside = "" if isinstance(m.base, FlatBase) else f", {length(2.0 * m.base.radius, units)} outside"
        status = "HELD" if any(p in case.held for p in facts.parts) else "released"
        rows.append(
            (
                m.label,
                m.spec.kind,
                "" if joint is None else f"{joint.name}, {length(joint.width, units)} wide",
                "" if joint is None else length(m.inside, units),
                "" if joint is None else f"{joint.bolt}, {joint.grade}, shank {length(joint.shank, units)}",
                f"{length(m.thickness, units)}, {len(facts.parts)} kind{'s' if len(facts.parts) > 1 else ''} of plates",
                f"{leg} fillet, {taped(beads, units)} in all; root gap {length(gap, units)}",
                m.base.words + outside,
                status,
            )
        )
    if not rows:
        return None
    return Table(
        "What each bracket is",
        "Joint, plate and tube as measured on the sheet; between the ears is the joint's width and the room asked for.",
        ("Bracket", "Kind", "Joint", "Between the ears", "Bolt", "Plate", "Beads", "Stands on", ""),
        tuple(rows),
    )


def s_length(a: tuple[float, float, float], b: tuple[float, float, float]) -> float:
    """Distance of two points [mm]."""
    return float(sum((p - q) ** 2 for p, q in zip(a, b, strict=True)) ** 0.5)


def _steps(case: BracketCase) -> Table | None:
    steps = [s for a in case.assemblies for s in a.steps]
    if not steps:
        return None
    rows = tuple((str(i), s, "[box]") for i, s in enumerate(steps, 1))
    return Table("Order of work at the table", "Tick each step.", ("", "Step", "Done"), rows)


def _welds(case: BracketCase, units: str) -> Table | None:
    if case.weld_list_held:
        note = f"HELD. {case.weld_list_held}"
        return Table("Welds of brackets and locators", note, ("",), (("no weld list until this is mended",),))
    rows = tuple(
        (a.name, w.parts[0], w.parts[1], fraction(w.leg, 16), taped(w.length, units), w.words)
        for a in case.assemblies
        for w in a.welds
        if not any(p in case.held for p in w.parts)
    )
    if not rows:
        return None
    note = "Both ends of a bead turned round the corner, no start or stop on it; held parts are left out."
    return Table(
        "Welds of brackets and locators", note, ("Assembly", "Part", "To", "Leg", "Length", "How"), rows, (3, 4)
    )


def _hardware(case: BracketCase) -> Table | None:
    rows = tuple(
        (a.name, what, size, str(count), where) for a in case.assemblies for what, size, count, where in a.hardware
    )
    if not rows:
        return None
    note = "Steering, track-bar and link bolts: new lock nuts, torque, paint mark, torque again after 50 to 100 miles."
    return Table(
        "Bought things for brackets and locators", note, ("Assembly", "What", "Size", "Quantity", "Where"), rows, (3,)
    )
