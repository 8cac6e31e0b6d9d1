"""Springs, shocks and joint bolts to get out: where they stand at a pose, and the room they want, in frame A."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array, as_point
from fixturegen.findings import Level
from fixturegen.sheet.specs import Access, Sheet, StrutEnds
from fixturegen.studies import access_tools as tools
from fixturegen.studies.access_plan import SIDES
from fixturegen.studies.access_records import PoseName, Removal, Rod, Shift, Try, Turn
from fixturegen.studies.bracket_plan import slug
from fixturegen.studies.bracket_records import BracketFacts, Mount
from fixturegen.studies.clearance_poses import Line
from fixturegen.studies.clearance_records import AXLE, FRAME, Motion, Tour

LIP = 25.0  # mm, a coil must be lifted over the lip or ring of its seat [cp]
WHEELS = frozenset({"wheel-left", "wheel-right"})
BESIDE = 1.2  # [1] of its diameter that a spring or shock goes sideways before it is in the open [cp]
SWUNG = 30.0  # deg, one end of a spring or shock swung out before it is drawn [cp]
HAND = 50.0  # mm more, for the hand that holds it [cp]
WASHER = 3.0  # mm under a bolt's head and nut, and of thread beyond it [cp]
LEAST = 20.0  # mm; a strut shorter than this between its ends is nothing to pull out


@dataclass(frozen=True)
class Slack:
    """Whether a spring is loose at full droop.

    Attributes:
        name: Of the spring.
        level: Pass when it is loose or within its lip; warn when it must be squeezed; fail when it cannot be.
        words: In words, with the numbers.
        squeeze: How far it must be squeezed to come off its seat [mm].
        limit: How far it may be [mm]; None where its solid length is not on the sheet.
    """

    name: str
    level: Level
    words: str
    squeeze: float
    limit: float | None


def pose_index(tour: Tour, name: PoseName) -> int | None:
    """Which place of the tour a pose is; None where the tour has none."""
    return next((i for i, p in enumerate(tour.places) if p.name == name), None)


def to_axle(tour: Tour, at: int) -> tuple[Array, Array]:
    """Rotation (3, 3) and origin (3,) [mm] that take V to A at a place of the tour."""
    axle = tour.motions[AXLE]
    back = axle.rotations[at].T
    return back, -back @ axle.origins[at]


def slack_of(tour: Tour, line: Line, strut: StrutEnds) -> Slack | None:
    """Whether a spring is loose at full droop; None without its free length.

    Squeeze = free length + lip - length at full droop; Source: geometry. Its seat's lip is common practice.
    """
    droop = pose_index(tour, "droop")
    if droop is None or strut.longest is None:
        return None
    begin, end = ends_at(line, droop)
    long, free = float(np.linalg.norm(end - begin)), float(strut.longest)
    squeeze = free + LIP - long
    said = f"{line.label}: {_both(long)} between its seats at full droop, {_both(free)} free"
    if squeeze <= 0.0:
        return Slack(line.name, Level.PASS, f"{said}: it is loose and lifts over a lip of {_both(LIP)}", 0.0, None)
    limit = None if strut.shortest is None else free - float(strut.shortest)
    if limit is not None and squeeze > limit:
        return Slack(line.name, Level.FAIL, f"{said}: it goes solid before it comes off its seat", squeeze, limit)
    words = f"{said}: to lift it over a lip of {_both(LIP)} it must be squeezed {_both(squeeze)}"
    return Slack(line.name, Level.WARN, words, squeeze, limit)


def ends_at(line: Line, at: int) -> tuple[Array, Array]:
    """Both ends of a line in V at a place of its tour, each shape (3,) [mm]."""
    first, last = line.motions[0], line.motions[-1]
    return first.origins[at], last.origins[at] + line.length * last.rotations[at][:, 2]


def strut_of(sheet: Sheet, line: Line) -> StrutEnds | None:
    """The row of [links.struts] a line stands for."""
    rows = () if sheet.links is None else sheet.links.struts
    return next((s for s in rows if line.name in {f"{slug(s.name)}-{side}" for side in SIDES}), None)


def diameter_of(sheet: Sheet, line: Line) -> float | None:
    """Largest outside of a spring or shock [mm], of [access] or [clearance]; None where neither has it."""
    rounds = () if sheet.clearance is None else sheet.clearance.rounds
    own = () if sheet.access is None else sheet.access.rounds
    known = {slug(r.name): float(r.diameter) for r in (*rounds, *own)}
    return next((known[n] for n in (line.name, line.name.rpartition("-")[0]) if n in known), None)


def removals_of_struts(sheet: Sheet, tour: Tour, lines: Iterable[Line], mounts: Iterable[Mount]) -> Iterator[Removal]:
    """Springs and shocks with a diameter, at full droop, wheels off: closed up, then sideways into the open."""
    given = sheet.access or Access()
    every, own = tuple(lines), tuple(mounts)
    droop = pose_index(tour, "droop")
    for line in every:
        strut, diameter = strut_of(sheet, line), diameter_of(sheet, line)
        if droop is None or strut is None or diameter is None or strut.kind not in ("spring", "shock"):
            continue
        back, at = to_axle(tour, droop)
        top, foot = (back @ p + at for p in ends_at(line, droop))
        long = float(np.linalg.norm(foot - top))
        short = long if strut.shortest is None else min(long, float(strut.shortest))
        if strut.kind == "spring" and strut.longest is not None:
            short = max(short, min(long, float(strut.longest)) - LIP)
        if short < LEAST:
            continue
        leave = frozenset({line.name} | {f"bracket-{m.name}" for m in own if slug(m.holds) == line.name})
        within = {o.name for o in every if o is not line and _within(line, o, diameter, droop)}
        yield Removal(
            name=f"strut-{line.name}",
            label=line.label,
            group="springs",
            tries=tuple(_strut_tries(top, foot, short, diameter, strut.kind)),
            leave=leave | within | WHEELS,
            wanted=float(given.gap),
            pose="droop",
            notes="wheels off, axle at full droop on stands" + ("" if strut.kind == "spring" else ", bolts out"),
        )


def _strut_tries(top: Array, foot: Array, short: float, diameter: float, kind: str) -> Iterator[Try]:
    """Made short toward either end, then sideways; or one end swung out and the whole drawn along itself."""
    way = (foot - top) / np.linalg.norm(foot - top)
    spare = min(diameter, 0.25 * short) if kind == "shock" else 0.0
    out = 1.0 if foot[1] > 0.0 else -1.0
    word = "closed up" if kind == "shock" else "squeezed"
    sides = (
        ("outboard", (0.0, out, 0.0)), ("rearward", (-1.0, 0.0, 0.0)), ("forward", (1.0, 0.0, 0.0)),
        ("inboard", (0.0, -out, 0.0)),
    )  # fmt: skip
    far = BESIDE * diameter + HAND
    ends = (("", foot - short * way), (", held up", top))
    for swung in (False, True):
        for end, start in ends:
            rod = Rod(as_point(start + spare * way), as_point(start + (short - spare) * way), diameter, False)
            for words, side in sides:
                aside = np.array(side) - way * float(np.array(side) @ way)
                aside = aside / np.linalg.norm(aside)
                said = f"{word} to {_both(short)}{end}"
                if not swung:
                    yield Try(f"{said}, then {words}", steps=(Shift(as_point(aside), far),), moving=(rod,))
                    continue
                # the end that is not held swings; the other one is lifted out after it
                held, name = (start + short * way, "top") if not end else (start, "foot")
                arm = -way if not end else way
                axis = np.cross(arm, aside)
                t = np.radians(SWUNG)
                along = np.cos(t) * arm + np.sin(t) * aside
                steps = (Turn(as_point(axis), as_point(held), SWUNG), Shift(as_point(along), max(far, 0.5 * short)))
                yield Try(f"{said}, {name} swung {words} {SWUNG:.0f} deg and drawn out", steps=steps, moving=(rod,))


def _within(line: Line, other: Line, diameter: float, at: int) -> bool:
    """Whether another line stands inside a coil: both its ends are nearer its axis than its radius."""
    begin, end = ends_at(line, at)
    way = (end - begin) / np.linalg.norm(end - begin)
    arms = [p - begin for p in ends_at(other, at)]
    return all(float(np.linalg.norm(a - way * float(a @ way))) < diameter / 2.0 for a in arms)


def removals_of_joints(sheet: Sheet, tour: Tour, facts: Iterable[BracketFacts]) -> Iterator[Removal]:
    """The bolt of every bracket with a joint, drawn to one side or the other by its own length and head."""
    given = sheet.access or Access()
    kinds = {} if sheet.links is None else {slug(s.name): s.kind for s in sheet.links.struts}
    for one in facts:
        mount = one.mount
        if mount.joint is None or not one.ears:
            continue
        link = slug(mount.holds)
        strut = kinds.get(link.removesuffix("-left").removesuffix("-right"))
        pose: PoseName = "droop" if strut is not None and pose_index(tour, "droop") is not None else "ride"
        at = pose_index(tour, pose)
        if at is None:
            continue
        point, way = _moved(mount, tour, at)
        outer = [e.offset + e.thickness * (1.0 if e.offset >= 0.0 else -1.0) for e in one.ears]
        low, high = min(outer), max(outer)
        shank = mount.joint.shank
        flats = tools.across_flats(mount.joint.bolt)
        head = tools.HEAD * shank
        long = (high - low) + tools.NUT * shank + 2.0 * WASHER
        wide = tools.CORNERS * flats
        tries = []
        for words, start, sign in (("to the left", high, 1.0), ("to the right", low, -1.0)):
            begin = point + way * (start + sign * tools.OFF)
            end = point + way * (start + sign * (head + long))
            said = f"bolt of {_both(long)} drawn {words}"
            tries.append(Try(said, (Rod(as_point(begin), as_point(end), wide, False),)))
        end_word = "frame" if mount.spec.end == "frame" else "axle"
        yield Removal(
            name=f"joint-{mount.name}",
            label=f"bolt of the {mount.label.removesuffix(', on the frame')}, {end_word} end",
            group="joints",
            tries=tuple(tries),
            leave=frozenset({f"bracket-{mount.name}", link}) | WHEELS,
            wanted=float(given.gap),
            pose=pose,
            notes="wheels off" + (", at full droop" if pose == "droop" else ""),
        )


def _moved(mount: Mount, tour: Tour, at: int) -> tuple[Array, Array]:
    """Joint centre (3,) [mm] and direction of the bolt (3,) in A at a place; the plan has frame ends at ride."""
    point, way = np.array(mount.point), np.array(mount.bolt)
    if mount.spec.end != "frame":
        return point, way
    axle: Motion = tour.motions[AXLE]
    back, shift = to_axle(tour, at)
    there = axle.rotations[0] @ point + axle.origins[0]
    frame = tour.motions[FRAME]
    there = frame.rotations[at] @ there + frame.origins[at]
    return back @ there + shift, back @ (axle.rotations[0] @ way)


def _both(length: float) -> str:
    return f"{length / tools.INCH:.2f} in ({length:.0f} mm)"
