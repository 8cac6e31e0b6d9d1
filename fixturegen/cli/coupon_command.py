"""Take what was measured on a cut coupon into the sheet; without readings: what to measure, and where."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from fixturegen.cli import console
from fixturegen.errors import EXIT_OK, Fault, InputFault
from fixturegen.units import Angle, BadQuantity, Length, Measure, parse

if TYPE_CHECKING:
    from fixturegen.sheet.keys import Path as KeyPath
    from fixturegen.sheet.specs import Sheet
    from fixturegen.studies.coupon_changes import Change, Outcome
    from fixturegen.studies.coupon_plan import CouponPlan, StripPlan

_SIZE = Length("0.001 in", "20 in")
_TURN = Angle("5 deg", "175 deg")


@dataclass(frozen=True)
class _Row:
    """One value of the sheet, before and after."""

    path: KeyPath
    key: str
    before: str
    after: str
    formula: str
    same: bool
    trust: str = "measured"


@click.command(name="coupon")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option("--plate", metavar="TEXT", help="Plate the coupon was cut from, as the sheet names it.")
@click.option("--window", metavar="TEXT", help="Opening the block fell out of, inside jaws on its marked face.")
@click.option("--block", metavar="TEXT", help="Block that fell out, between the same two sides.")
@click.option("--kerf-set", metavar="TEXT", help="Number after K on it; only needed with --window or --block alone.")
@click.option("--hole-1", metavar="TEXT", multiple=True, help="Hole H1; give it twice, along and across.")
@click.option("--hole-2", metavar="TEXT", multiple=True, help="Hole H2, the same way.")
@click.option("--hole-3", metavar="TEXT", multiple=True, help="Hole H3, the same way.")
@click.option("--slot", type=int, help="Number of the tightest slot the block goes through by hand.")
@click.option("--saddle", type=int, help="Number of the tightest saddle that seats on the tube.")
@click.option("--letters", metavar="TEXT", help="Smallest lettering that can be read, by its own number.")
@click.option("--flange-a", metavar="TEXT", help="Bend strip: one outside flange, end to outside corner.")
@click.option("--flange-b", metavar="TEXT", help="Bend strip: the other one.")
@click.option("--flat", metavar="TEXT", help="Bend strip: its length before it was bent; as drawn when left out.")
@click.option("--radius", metavar="TEXT", help="Bend strip: inside radius by gauge; as drawn when left out.")
@click.option("--angle", metavar="TEXT", help="Bend strip: angle turned through; 90 deg when left out.")
@click.option("--revision", metavar="TEXT", help="New revision.id of the sheet; the old one goes to revision.since.")
@click.option("--dry-run", is_flag=True, help="Show what would change; write nothing.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object on standard output.")
def command(sheet: Path, dry_run: bool, as_json: bool, **given: Any) -> int:
    """Take readings of a coupon into SHEET: kerf, holes, slots, saddles, lettering, bend.

    Without readings: what to measure, where to put the caliper, and what is drawn. Comments and
    layout of the sheet stay; the same readings give the same values however often they are given.

    Exit code 0 when it is done, 2 when sheet or reading is wrong, 3 when the sheet cannot be written.
    """
    from fixturegen.sheet import read

    before = _content(sheet)
    job = read(sheet)
    plan, strip = _plans(job, given)
    found = _outcomes(job, plan, strip, given)
    if not found and given["revision"] is not None:
        words = "a revision is raised together with readings: give at least one"
        raise InputFault(Fault("--revision", "no reading", "with --window, --flange-a or another", words))
    if not found:
        _say_guide(job, given["plate"], as_json)
        return EXIT_OK
    notes = [note for outcome in found for note in outcome.notes]
    rows = _rows(job, [change for outcome in found for change in outcome.changes])
    rows += _revision_rows(sheet, job, given["revision"])
    changed = [row for row in rows if not row.same]
    if changed:
        notes += _write(sheet, before, changed, given["revision"], job.revision.id, dry_run)
    else:
        notes.append("the sheet says all this already: nothing was written")
    if as_json:
        listed = [
            {"key": r.key, "before": r.before, "after": r.after, "formula": r.formula, "trust": r.trust} for r in rows
        ]
        console.say_json(
            console.envelope("coupon", EXIT_OK, changes=listed, written=bool(changed) and not dry_run, notes=notes)
        )
    else:
        console.say(_table(sheet, rows, notes, dry_run))
    return EXIT_OK


def _content(sheet: Path) -> bytes:
    """The bytes of the sheet, to be compared before it is written; no more of them than a sheet may have."""
    from fixturegen.sheet.reading import MOST_BYTES

    if not sheet.is_file():
        return b""  # told when it is read
    with sheet.open("rb") as file:
        return file.read(MOST_BYTES + 1)


def _plans(job: Sheet, given: dict[str, Any]) -> tuple[CouponPlan | None, StripPlan | None]:
    """The coupon and the strip that the readings are about.

    Raises:
        InputFault: When the plate is not named and there are several, or there is no coupon of it.
    """
    from fixturegen.sheet.contradictions.shop import SAME_PLATE
    from fixturegen.studies.coupon_plan import coupon_plans, strip_plan

    plans, strip = coupon_plans(job), strip_plan(job)
    names = ", ".join(p.plate for p in plans)
    about = any(given[key] not in (None, ()) for key in _COUPON)
    bent = given["flange_a"] is not None or given["flange_b"] is not None
    if given["plate"] is None:
        if about and len(plans) > 1:
            words = f'name the plate the coupon was cut from, like --plate "{plans[0].plate}"'
            raise InputFault(Fault("--plate", "nothing", names, words))
        return plans[0] if about else None, strip
    nominal = _quantity("--plate", given["plate"], Length("0.05 in", "3 in"))
    found = next((p for p in plans if abs(p.nominal - nominal) < SAME_PLATE), None)
    of_strip = strip is not None and abs(strip.nominal - nominal) < SAME_PLATE
    if found is None and not (of_strip and not about):
        allowed = names if strip is None or about else f"{names}, and {strip.plate} for the bend strip"
        words = "coupons are cut from the plates that have tabs and slots on this job: name one of them"
        raise InputFault(Fault("--plate", given["plate"], allowed, words))
    if bent and not of_strip and not about:
        words = f"the bend strip is cut from {strip.plate if strip else 'no plate of this rack'}: name that plate"
        raise InputFault(Fault("--plate", given["plate"], strip.plate if strip else "none", words))
    return found if about else None, strip


_COUPON = ("window", "block", "kerf_set", "hole_1", "hole_2", "hole_3", "slot", "saddle", "letters")


def _quantity(key: str, text: str, dimension: Length | Angle) -> Measure:
    try:
        return parse(text, dimension)
    except BadQuantity as bad:
        raise InputFault(Fault(key, bad.given, bad.allowed, bad.remedy)) from None


def _size(given: dict[str, Any], name: str, dimension: Length | Angle = _SIZE) -> Measure | None:
    text = given[name]
    return None if text is None else _quantity(f"--{name.replace('_', '-')}", text, dimension)


def _outcomes(job: Sheet, plan: CouponPlan | None, strip: StripPlan | None, given: dict[str, Any]) -> list[Outcome]:
    """What coupon and strip come to; nothing without readings."""
    from fixturegen.studies.coupon_changes import Readings, from_coupon

    found = []
    if plan is not None:
        holes = {
            n: tuple(_quantity(f"--hole-{n}", text, _SIZE) for text in given[f"hole_{n}"])
            for n in range(1, len(plan.holes) + 1)
            if given[f"hole_{n}"]
        }
        readings = Readings(
            window=_size(given, "window"),
            block=_size(given, "block"),
            kerf_set=_size(given, "kerf_set", Length("0 in", "0.25 in")),
            holes=holes,
            slot=given["slot"],
            saddle=given["saddle"],
            letters=_size(given, "letters"),
        )
        found.append(from_coupon(job, plan, readings))
    if any(given[name] is not None for name in ("flange_a", "flange_b", "flat", "radius", "angle")):
        found.append(_bent(job, strip, given))
    return found


def _bent(job: Sheet, strip: StripPlan | None, given: dict[str, Any]) -> Outcome:
    """What the bend strip comes to.

    Raises:
        InputFault: When there is no strip, or a flange is missing.
    """
    from dataclasses import replace

    from fixturegen.studies.coupon_changes import StripReadings, from_strip, said

    if strip is None:
        words = "this job has no bend strip: no plate of 1/4 in (6 mm) or less is in the rack"
        raise InputFault(Fault("--flange-a", given["flange_a"] or "nothing", "nothing", words))
    a, b = _size(given, "flange_a"), _size(given, "flange_b")
    if a is None or b is None:
        missing = "--flange-a" if a is None else "--flange-b"
        words = "measure both flanges of the strip, from the end to the corner of the outside faces"
        raise InputFault(Fault(missing, "nothing", "a length", words))
    flat, radius = _size(given, "flat"), _size(given, "radius")
    angle = _size(given, "angle", _TURN)
    left_out = tuple(name for name, one in (("flat", flat), ("radius", radius), ("angle", angle)) if one is None)
    readings = StripReadings(a, b, flat or strip.flat, radius or strip.radius, angle or strip.angle, left_out)
    assumed = [
        f"--{name} was not given: taken as {said(value, strip.metric)}, as drawn"
        for name, value, one in (("flat", strip.flat, flat), ("radius", strip.radius, radius))
        if one is None
    ]
    return replace(from_strip(job, strip, readings), notes=tuple(assumed))


def _rows(job: Sheet, changes: list[Change]) -> list[_Row]:
    """Old and new of each change, in the sheet's own unit."""
    from fixturegen.sheet.keys import dotted
    from fixturegen.sheet.values import flat
    from fixturegen.studies.coupon_changes import in_words

    texts, metric = flat(job), job.job.units == "mm"
    rows = []
    for change in changes:
        key = dotted(change.path)
        old = _value_at(job, change.path)
        after = in_words(change, metric)
        if change.path[-1] == "plate":
            after = next(p.nominal.text for p in job.plates if abs(p.nominal - change.value) < 1e-6)
        # the grain of what is written: half a thousandth of an inch, half a hundredth of a millimetre
        grain = 0.005 if metric or change.kind == "angle" else 0.0127
        given = old is not None and not old.assumed
        same = given and abs(float(old or 0.0) - change.value) <= grain + 1e-9
        before = texts.get(key, "not given") if given else f"{texts.get(key, 'none')} (not given)"
        rows.append(_Row(change.path, key, before, before if same else after, change.formula, same, str(change.trust)))
    return rows


def _value_at(job: Sheet, path: KeyPath) -> Measure | None:
    value: Any = job
    for step in path:
        if isinstance(step, int):
            if step >= len(value):
                return None
            value = value[step]
        else:
            value = getattr(value, step)
    return value if isinstance(value, Measure) else None


def _revision_rows(path: Path, job: Sheet, revision: str | None) -> list[_Row]:
    """The new revision and the old one; nothing when none is asked for.

    Raises:
        InputFault: When that revision is kept already.
    """
    from fixturegen.sheet import history

    if revision is None or revision == job.revision.id:
        return []
    kept = history.revisions(path)
    if revision in kept:
        words = "that revision is in the history already: name a new one"
        raise InputFault(Fault("--revision", revision, f"none of {', '.join(kept)}", words))
    since = job.revision.since or "none"
    return [
        _Row(("revision", "id"), "revision.id", job.revision.id, revision, "as asked for", False, ""),
        _Row(("revision", "since"), "revision.since", since, job.revision.id, "the revision before", False, ""),
    ]


def _write(path: Path, before: bytes, rows: list[_Row], revision: str | None, old: str, dry_run: bool) -> list[str]:
    """What to tell about the writing; the sheet is written unless it is a dry run."""
    from fixturegen.sheet import history
    from fixturegen.sheet.rewriting import changed_text, rewrite

    text = changed_text(before.decode("utf-8"), {row.path: row.after for row in rows})
    if dry_run:
        return ["dry run: nothing was written"]
    kept = history.remember(path)
    rewrite(path, before, text)
    notes = [kept] if kept else [f"revision {old} is kept as it was in {history.folder_of(path).name}"]
    if revision is None:
        notes.append(
            f"the sheet still calls itself revision {old}: before the next build give it a new revision.id and write "
            f'since = "{old}"; parts cut before are of the old values'
        )
    return notes


def _table(path: Path, rows: list[_Row], notes: list[str], dry_run: bool) -> str:
    """Old and new of every value, in columns, and the notes."""
    heads = ("key", "before", "after", "trust", "from")
    cells = [heads, *((r.key, r.before, "same" if r.same else r.after, r.trust, r.formula) for r in rows)]
    wide = [max(len(c[i]) for c in cells) for i in range(len(heads))]
    lines = ["  ".join(f"{c:{w}}" for c, w in zip(row, wide, strict=True)).rstrip() for row in cells]
    head = f"{path}{': nothing is written' if dry_run else ''}"
    return "\n".join([head, *(f"  {line}" for line in lines), *(f"Note: {note}" for note in notes)])


def _say_guide(job: Sheet, plate: str | None, as_json: bool) -> None:
    """What to measure on each coupon and where, with the drawn sizes."""
    from fixturegen.cli._coupon_words import guide_json, guide_text
    from fixturegen.sheet.contradictions.shop import SAME_PLATE
    from fixturegen.studies.coupon_plan import coupon_plans, strip_plan

    plans, strip = coupon_plans(job), strip_plan(job)
    if plate is not None:
        nominal = _quantity("--plate", plate, Length("0.05 in", "3 in"))
        plans = tuple(p for p in plans if abs(p.nominal - nominal) < SAME_PLATE)
        strip = strip if strip is not None and abs(strip.nominal - nominal) < SAME_PLATE else None
    if as_json:
        console.say_json(console.envelope("coupon", EXIT_OK, changes=[], written=False, **guide_json(plans, strip)))
    else:
        console.say(guide_text(plans, strip))
