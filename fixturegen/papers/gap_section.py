"""Clearance as a section of the report: the smallest gaps in words, pictures, and every pair in colours."""

from __future__ import annotations

from fixturegen.checks.clearance import SCENE, STUDY, where
from fixturegen.checks.registry import Job
from fixturegen.papers.gap_list import heat, hexed, ink_on, verdict
from fixturegen.papers.gap_pictures import MOST, page_pictures
from fixturegen.papers.report import Section, Table
from fixturegen.papers.words import INCH, length
from fixturegen.studies.clearance_records import SMALL, ClearanceStudy, Moment, PairGap
from fixturegen.studies.link_inputs import stance_of

TITLE = "What clears what"
TYRES = (
    "Tyres are drawn round, as measured off the truck and without load: bulge at the ground, squirm in a turn and "
    "growth at speed are not in these gaps, and must lie within the gap wanted of a tyre. What hangs in rubber is "
    "drawn where it rests: its movement must lie within the gap wanted of what gives. Frame, axle and links are "
    "stiff here: nothing bends."
)
BLIND = (
    "Hoses, wires, bolts and what the sheet does not list were not looked at. With the springs out, turn and cycle "
    "everything by hand through this travel, crossed and lock to lock, before it is driven."
)


def gap_sections(job: Job) -> tuple[Section, ...]:
    """The section; none where the sheet has no [clearance], or the gaps could not be told (CLR-01 says why)."""
    study, scene = job.store.get(STUDY), job.store.get(SCENE)
    if not isinstance(study, ClearanceStudy) or scene is None:
        return ()
    units = job.sheet.job.units
    notes = (
        _verdict(study),
        *moment_words(job, study),
        TYRES,
        *_bound(study, units),
        _poses(study, units),
        BLIND,
        *_blind(study),
    )
    shots = page_pictures(scene, study, units) if study.pairs else ()
    return (Section(TITLE, notes, (), (gap_table(study, units),), (), shots),)


def _verdict(study: ClearanceStudy) -> str:
    short = len(study.short)
    if not short:
        return f"{len(study.pairs)} pairs come near one another; every one keeps the gap that the sheet wants."
    drawn = f" The {MOST} worst are drawn." if short > MOST else ""
    return f"{short} of {len(study.pairs)} pairs that come near one another MISS the gap that the sheet wants.{drawn}"


def moment_words(job: Job, study: ClearanceStudy) -> tuple[str, ...]:
    """The smallest gap of what moves against each other at each end of the travel, in words."""
    return tuple(_moment(job, m) for m in study.moments)


def _moment(job: Job, moment: Moment) -> str:
    pair = moment.pair
    if pair is None:
        return f"Smallest gap {moment.words}: nothing that moves comes near anything else."
    both = f"{pair.labels[0]} and {pair.labels[1]}"
    at = "" if pair.place.name == moment.name else f", {where(pair, job.sheet.job.units)}"
    place = placed(job, pair)
    wanted = length(pair.wanted, job.sheet.job.units)
    if pair.state != "apart":
        return f"Smallest gap {moment.words}: NONE. {both} run into each other{at}, {place}; {wanted} wanted."
    gap = length(pair.gap, job.sheet.job.units) + (" (by mesh)" if pair.why else "")
    return f"Smallest gap {moment.words}: {gap} between {both}{at}, {place}; {wanted} wanted."


def placed(job: Job, pair: PairGap) -> str:
    """Where the gap of a pair is, in words: from the axle line, the middle of the truck and the ground."""
    line = float(stance_of(job.sheet, job.axle).origin[0])
    x, y, z = ((a + b) / 2.0 for a, b in zip(pair.point, pair.other, strict=True))
    scale, unit = (INCH, "in") if job.sheet.job.units == "in" else (1.0, "mm")

    def told(value: float) -> str:
        return f"{abs(value) / scale:.1f} {unit}" if unit == "in" else f"{abs(value):.0f} {unit}"

    ahead = "ahead of" if x >= line else "behind"
    side = "left" if y >= 0.0 else "right"
    return f"{told(x - line)} {ahead} the axle line, {told(y)} {side} of the middle, {told(z)} above the ground"


def _bound(study: ClearanceStudy, units: str) -> tuple[str, ...]:
    """How far the gaps can be relied on: what is exact, what is not and why."""

    def told(value: float) -> str:
        return f"{value / INCH:.4f} in" if units == "in" else f"{value:.2f} mm"

    exact, count = study.exact, len(study.pairs)
    bound = max((p.mesh_bound for p in exact), default=0.0)
    words = (
        f"Worst poses are found on triangles, whose distance may be off the true one by {told(bound)} at the most: the "
        "sum of what both meshes may lie off the true surfaces. "
    )
    how_many = "of each pair" if len(exact) == count else f"of {len(exact)} of the {count} pairs"
    off = max((p.off for p in exact), default=0.0)
    words += (
        f"At its worst pose the gap {how_many} is then measured between the true solids by the kernel and is exact. "
        f"The farthest of them lies {told(off)} off what the triangles said (CLR-06). Of the other poses looked at "
        "none is nearer than the triangles' distance at the worst one less their bound; where that leaves it in doubt "
        "whether the gap wanted is there, each pose that could be nearer was measured in the same way."
    )
    notes = [words] if exact else []
    if len(exact) < count:
        notes.append(
            f"{count - len(exact)} of the {count} pairs are told by their triangles less the bound, since a body of "
            "theirs has no exact solid: the table says which, and how much is taken off."
        )
    return tuple(notes)


def _poses(study: ClearanceStudy, units: str) -> str:
    return (
        f"{study.poses} poses were looked at: each wheel by itself from full droop to full bump, so heave, roll and "
        "crossed wheels are among them, and each of these straight ahead, at half and at full lock where the sheet has "
        "steering. Between two poses a gap may be a little less: raise steps in [clearance] to look closer. In the "
        "table cross-L is the left wheel at full bump and the right one at full droop; h+078r-03 is the axle 78 mm "
        f"{'(3.1 in) ' if units == 'in' else ''}up and rolled 3 deg, right wheel up."
    )


def _blind(study: ClearanceStudy) -> tuple[str, ...]:
    return tuple(f"{note[:1].upper()}{note[1:]}." for note in study.notes)


def gap_table(study: ClearanceStudy, units: str) -> Table:
    """Every pair that comes near, least left over first, its first cell in the colour of what is there."""
    rows, tints = [], []
    for pair in study.pairs:
        colour = heat(pair)
        tints.append((hexed(colour), ink_on(colour)))
        gap = _number(pair.gap, units) if pair.state == "apart" or pair.gap < 0.0 else "0"
        rows.append(
            (
                verdict(pair),
                gap,
                _number(pair.wanted, units),
                _number(pair.gap - pair.wanted, units),
                f"{pair.labels[0]} - {pair.labels[1]}",
                pair.kind,
                pair.place.name,
                pair.resting(lambda value: _finer(value, units)),
            )
        )
    note = (
        f"Lengths in {units}. Dark red: in contact; orange: too little; yellow: tight; pale: ample. "
        f"{study.far} more pairs stay over {_number(study.reach, units)} {units} farther apart than they should."
    )
    if any(p.slack > SMALL for p in study.pairs):
        note += " As stated: what the sheet says a part may be off, and what bushes give, is taken off."
    head = ("How it is", "Gap", "Wanted", "Left over", "Pair", "Kind", "Worst at", "Measured")
    return Table("All pairs that come near, the tightest first", note, head, tuple(rows), (1, 2, 3), tuple(tints))


def _number(value: float, units: str) -> str:
    return f"{value / INCH:.2f}" if units == "in" else f"{value:.1f}"


def _finer(value: float, units: str) -> str:
    return f"{value / INCH:.3f}" if units == "in" else f"{value:.2f}"
