"""MRK-01: what every plate carries, where it stands, and whether its tape check is true."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import combinations

import numpy as np

from fixturegen import keeping
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import PRACTICE, inch
from fixturegen.findings import Finding, Level
from fixturegen.parts.marking import LEFT_OUT, TAPE, letter_height, part_words
from fixturegen.plate import Loop, Mark, Part
from fixturegen.plate.free_steel import Box, mark_box
from fixturegen.plate.nearness import encloses
from fixturegen.plate.profile import hole_loop, polyline
from fixturegen.plate.tape import overall, tape_text

CLEAR = 1.0  # from a mark to anything cut, drilled or bent [mm]: kerf and slope move the edge (common practice)
APART = 0.5  # between two pieces of lettering [mm] (common practice, no source)
SAME = 1e-6  # [mm]
IN_LINE = 1e-3  # [mm] how far ticks of one tape check may stand off one line
DEVIATION = 0.02  # of the chords that stand for arcs [mm]


@claim(
    "MRK-01",
    "every plate carries name, revision, hand and a tape check, legible and clear of what is cut",
    holds="part",
    needed=False,
)
def check_marks(claim: Claim, job: Job) -> list[Finding]:
    """Marks of every plate part; what finds no room on a small one is left to its paper and told."""
    plates = [p for p in job.parts.values() if p.profile is not None]
    if not plates:
        return []
    found, good, small = [], [], []
    for part in plates:
        places = keeping.kept_json("marks", keeping.key_of(("marks", part.profile, part.marks)), partial(_places, part))
        faults = [*_lettering(job, part), *places, *_flipped(job, part)]
        lacking = wanted(job, part)
        unread = _small_letters(job, part)
        told = " ".join(n for n in part.notes if n.startswith(LEFT_OUT))
        faults += [f"{what} is not marked" for what in lacking if what not in told]
        if faults:
            found.append(_fail(claim, part, faults))
        elif told or unread:
            small.append((part.name, ", ".join([*unread, *_left_out(told)])))
        else:
            good.append(part.name)
    if good:
        words = f"{len(good)} of {len(plates)} plates carry name, revision, hand, ways and a tape check that is true"
        found.append(claim.finding(Level.PASS, words, parts=tuple(good), frame="P", source=PRACTICE))
    return found + _small(claim, job, small)


def _fail(claim: Claim, part: Part, faults: list[str]) -> Finding:
    return claim.finding(
        Level.FAIL,
        f"{part.name}: {'; '.join(faults)}",
        remedy="lower [process] mark_height, or shorten the revision's name",
        parts=(part.name,),
        frame="P",
        source=PRACTICE,
    )


def _small(claim: Claim, job: Job, small: list[tuple[str, str]]) -> list[Finding]:
    if not small:
        return []
    least = letter_height(job.sheet.process)
    words = "; ".join(f"{name}: {what}" for name, what in small)
    return [
        claim.finding(
            Level.WARN,
            f"not all marks can stand there in letters of {inch(least, 2)}: {words}",
            remedy="write them on with a paint pen as it comes off the table; the part's paper has them",
            parts=tuple(name for name, _ in small),
            frame="P",
            value=least,
            unit="mm",
            source=PRACTICE,
        )
    ]


def wanted(job: Job, part: Part) -> list[str]:
    """What of name, revision, hand and tape check the part does not carry."""
    words = [w for m in part.marks for w in m.text.split()]
    name = list(part_words(part))
    revision = f"REV {job.sheet.revision.id}"
    lacking = []
    if not set(name) <= set(words) or (part.hand is not None and part.hand not in words):
        lacking.append(" ".join(name))
    if not set(revision.split()) <= set(words):
        lacking.append(revision)
    if TAPE not in words:
        lacking.append(TAPE)
    return lacking


def _lettering(job: Job, part: Part) -> list[str]:
    found = []
    other = {"L": "R", "R": "L"}.get(part.hand or "")
    if other in [w for m in part.marks for w in m.text.split()]:
        found.append(f"it is the {part.hand} one and carries {other}")
    if any(TAPE in m.text.split() for m in part.marks):
        found += _tape(job, part)
    return found


def _small_letters(job: Job, part: Part) -> list[str]:
    """Lettering lower than can be read."""
    least = letter_height(job.sheet.process)
    return [f'"{m.text}" {inch(m.height, 2)} high' for m in part.marks if m.text and m.height < least - SAME]


def _left_out(note: str) -> list[str]:
    return [f"no room for {note.removeprefix(f'{LEFT_OUT} ').split('; write')[0]}"] if note else []


def _tape(job: Job, part: Part) -> list[str]:
    """Whether some pair of ticks in one line measures, from edge to edge, what stands beside."""
    read = [tape_text(length, job.sheet.job.units) for length in between_ticks(part)]
    texts = [m.text.removeprefix(f"{TAPE} ") for m in part.marks if m.text]
    if any(r in texts for r in read):
        return []
    told = next(m.text for m in part.marks if TAPE in m.text.split())
    return [f'"{told}" is not what its ticks measure ({", ".join(read) or "there are none in line"})']


def between_ticks(part: Part) -> list[float]:
    """Lengths [mm] from edge to edge along every two ticks of the part that stand in one line."""
    if part.profile is None:
        return []
    ticks = [(m.x, m.y, *m.to) for m in part.marks if m.to is not None and not m.text]
    found = []
    for a, b in combinations(ticks, 2):
        start, end = (a[0], a[1]), (b[0], b[1])
        long = math.dist(start, end)
        if long < SAME:
            continue
        off = [abs((end[0] - start[0]) * (t[3] - start[1]) - (end[1] - start[1]) * (t[2] - start[0])) for t in (a, b)]
        span = overall(part.profile.outer, start, end) if max(off) / long < IN_LINE else None
        found += [] if span is None else [span.length]
    return found


def _places(part: Part) -> list[str]:
    """Marks that stand over what is cut or drilled, beyond the edge, or over one another."""
    if part.profile is None:
        return []
    cut = (*part.profile.inner, *(hole_loop(h) for h in part.profile.holes))
    chords = np.concatenate([_chords(loop) for loop in (part.profile.outer, *cut)])
    found = []
    for mark in part.marks:
        x, y = mark.x, mark.y
        inside = encloses(part.profile.outer, x, y) and not any(encloses(loop, x, y) for loop in cut)
        if not inside or any(_met(chords, box) for box in _boxes(mark)):
            found.append(f"{_called(mark)} is not {inch(CLEAR, 2)} clear of what is cut")
    texts = [(m, mark_box(m)) for m in part.marks if m.text]
    for (a, one), (b, two) in combinations(texts, 2):
        if max(two[0] - one[2], one[0] - two[2], two[1] - one[3], one[1] - two[3]) < APART - SAME:
            found.append(f"{_called(a)} runs into {_called(b)}")
    return found


def _called(mark: Mark) -> str:
    return f'"{mark.text}"' if mark.text else "a line"


def _boxes(mark: Mark) -> Iterator[Box]:
    """The room of a mark: a box for lettering, small ones along a line."""
    if mark.to is None:
        yield mark_box(mark)
        return
    n = max(1, math.ceil(math.hypot(mark.to[0] - mark.x, mark.to[1] - mark.y)))
    for k in range(n + 1):
        x, y = mark.x + (mark.to[0] - mark.x) * k / n, mark.y + (mark.to[1] - mark.y) * k / n
        yield x, y, x, y


def _chords(loop: Loop) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    points = np.array(polyline(loop, DEVIATION))
    return np.hstack([points, np.roll(points, -1, axis=0)])


def _met(chords: np.ndarray[tuple[int, ...], np.dtype[np.float64]], box: Box) -> bool:
    """Whether a chord (n, 4) runs through a box grown by what must be clear; each is clipped to it."""
    start, way = chords[:, :2], chords[:, 2:] - chords[:, :2]
    low, high = np.array(box[:2]) - CLEAR + SAME, np.array(box[2:]) + CLEAR - SAME
    # a chord along an axis has no share on the other: beside the box it gets none at all
    still = np.abs(way) < 1e-12
    safe = np.where(still, 1.0, way)
    a, b = (low - start) / safe, (high - start) / safe
    within = (start >= low) & (start <= high)
    enter = np.where(still, np.where(within, -np.inf, np.inf), np.minimum(a, b)).max(axis=1)
    leave = np.where(still, np.where(within, np.inf, -np.inf), np.maximum(a, b)).min(axis=1)
    return bool(np.any(np.maximum(enter, 0.0) <= np.minimum(leave, 1.0)))


def _flipped(job: Job, part: Part) -> list[str]:
    """Places that would need the plate mirrored: no turn of it does that, so its marks would be hidden."""
    for jig in job.assemblies.values():
        for p in jig.placements:
            if p.part == part.name and float(np.linalg.det(np.array(p.rotation))) < 0.0:
                return [f"its place in {jig.name} is mirrored: the marked face would be the hidden one"]
    return []
