"""What clears what, as text for a terminal and as JSON fields."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Any

from fixturegen.studies.clearance_records import SMALL, PairGap

if TYPE_CHECKING:
    from fixturegen.clear_flow import ClearOutcome
    from fixturegen.studies.clearance_records import ClearanceStudy, Moment

WIDTH = 100
INCH = 25.4
ROWS = 24
"""Rows of the table at most, beside the pairs whose gap is missed; all are in the JSON."""
PAIR = 44  # columns of the two names


def clear_text(outcome: ClearOutcome) -> str:
    """The table, worst first, and what was not looked at."""
    study, units = outcome.study, outcome.units
    short = study.short
    rows = study.pairs[: max(ROWS, len(short))]
    lines = [
        f"{outcome.name}: {len(study.pairs)} pairs come near over {study.poses} poses, {len(short)} miss their gap",
        "",
        f"     {'gap':>8} {'wanted':>7}  {'pair':{PAIR}} {'kind':7} {'measured':8} worst at",
        *(_row(p, units) for p in rows),
    ]
    if len(study.pairs) > len(rows):
        last = rows[-1]
        left = _length(last.gap - last.wanted, units)
        lines.append(
            f"     {len(study.pairs) - len(rows)} more pairs keep at least {left} {units} more than they should"
        )
    lines += ["", *(_moment(m, units) for m in study.moments), "", *_notes(study, units)]
    return "\n".join(lines)


def _moment(moment: Moment, units: str) -> str:
    """The smallest gap of what moves against each other, at one end of the travel."""
    pair, head = moment.pair, f"smallest gap {moment.words}"
    if pair is None:
        return f"  {head:42} none: nothing that moves comes near"
    gap = f"{_length(pair.gap, units)} {units}" if pair.state == "apart" or pair.gap < 0.0 else pair.state
    at = "" if pair.place.name == moment.name else f", at {pair.place.name}"
    at += " (by mesh)" if pair.why else ""
    return f"  {head:42} {gap:>10}  {pair.labels[0]} - {pair.labels[1]}{at}"


def _row(pair: PairGap, units: str) -> str:
    flag = "   " if pair.met else "!! "
    gap = _length(pair.gap, units) if pair.state == "apart" or pair.gap < 0.0 else pair.state
    both = f"{pair.labels[0]} - {pair.labels[1]}"
    lines = textwrap.wrap(both, PAIR)
    first = (
        f"  {flag}{gap:>8} {_length(pair.wanted, units):>7}  {lines[0]:{PAIR}} {pair.kind:7} {pair.told_by:8} "
        f"{pair.place.name}"
    )
    resting = pair.resting(lambda v: f"{_length(v, units, finer=1)} {units}")
    lines += [] if resting == "exact" else textwrap.wrap(resting, WIDTH - 23)
    return "\n".join([first, *(f"{'':23}{line}" for line in lines[1:])])


def _length(value: float, units: str, finer: int = 0) -> str:
    return f"{value / INCH:.{2 + finer}f}" if units == "in" else f"{value:.{1 + finer}f}"


def _notes(study: ClearanceStudy, units: str) -> list[str]:
    bound = max((p.mesh_bound for p in study.exact), default=0.0)
    exact, count = len(study.exact), len(study.pairs)
    told = [
        f"Lengths in {units}. {'All' if exact == count else f'{exact} of {count}'} gaps are exact at their worst pose, "
        "between the true solids; that pose was found on meshes which may be off by "
        f"{_length(bound, units, finer=1)} {units}, and at no pose looked at is a gap less than theirs by more. "
        "Between the poses a gap may be a little less: raise steps in [clearance] to look closer.",
        *(
            ["As stated: what the sheet says a part may be off, and what bushes give, is taken off."]
            if any(p.slack > SMALL for p in study.pairs)
            else []
        ),
        *(
            f"CAUTION: {p.labels[0]} - {p.labels[1]}: exact distance and meshes differ by "
            f"{_length(p.off, units, finer=1)} {units}, more than is stated (CLR-06); the lesser is told."
            for p in study.doubtful
        ),
        f"{study.far} pairs stay more than {_length(study.reach, units)} {units} farther apart than they should.",
        "Tyres are drawn round and without load: squirm and bulge must be in the gap wanted. Hoses, wires and what "
        "the sheet does not list were not looked at; turn everything by hand before it is driven.",
        *study.notes,
    ]
    return [line for note in told for line in textwrap.wrap(note, WIDTH)]


def clear_fields(outcome: ClearOutcome) -> dict[str, Any]:
    """Every pair, worst first, and how it was looked for."""
    study = outcome.study
    return {
        "pairs": [_pair(p) for p in study.pairs],
        "poses": study.poses,
        "poses_out_of_reach": study.missed,
        "pairs_far": study.far,
        "far_mm": study.reach,
        "smallest": [
            {"at": m.name, "poses": m.poses, "pair": None if m.pair is None else _pair(m.pair)} for m in study.moments
        ],
        "notes": list(study.notes),
    }


def _pair(pair: PairGap) -> dict[str, Any]:
    place = pair.place
    return {
        "first": pair.first,
        "second": pair.second,
        "labels": list(pair.labels),
        "kind": pair.kind,
        "state": pair.state,
        "gap_mm": pair.gap,
        "wanted_mm": pair.wanted,
        "met": pair.met,
        "pose": {
            "name": place.name,
            "heave_mm": place.heave,
            "roll_deg": place.roll,
            "steer_deg": place.steer,
        },
        "points_mm": [list(pair.point), list(pair.other)],
        "frame": "V",
        "mesh_gap_mm": pair.measured,
        "bound_mm": pair.bound,
        "exact_mm": pair.exact,
        "told_by": pair.told_by,
        "why_mesh": pair.why or None,
        "poses_measured": pair.looked,
        "poses_in_contact": pair.touching,
    }
