"""The section about getting things out: what comes off, what must be off first, and what is nearest."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fixturegen.checks.access import SCENE, SLACK, STUDY, level_of, names_of
from fixturegen.checks.registry import Job
from fixturegen.findings import Level
from fixturegen.papers.access_pictures import access_pictures
from fixturegen.papers.report import Section, Table
from fixturegen.papers.words import length
from fixturegen.studies.access_records import GROUPS, AccessStudy, Group, Result
from fixturegen.studies.access_struts import Slack

TITLE = "Getting things out"
NOTE = (
    "What comes off the finished axle with everything on it that the sheet lists, and what must be off first. "
    "At ride height unless it says otherwise; springs and shocks at full droop, wheels off. A socket and its "
    "ratchet are those of `fixturegen tables sockets` and `ratchets`, common practice, no source: measure yours."
)
BOUND = (
    "Gaps are at least what is told: sag of the meshes is taken off, and of things that move what half a step may "
    "hide. Housing and cover themselves are envelopes: what a thing sits in or on is not looked at against it. "
    "Straps and bump stops are looked at where they have a diameter."
)
CAUTION = (
    "CAUTION: truck on stands under its frame, wheels chocked, nobody under what hangs on a jack or on its last "
    "bolt. A third member is carried by a jack or hoist. A coil spring under load can kill: compressor made for it, "
    "by its maker's rules. Local rules and licensed practice come first."
)
HEAD = ("Thing", "Comes out", "With what off first", "How", "Nearest on its way")
ANSWERS = {
    "free": "yes",
    "tight": "TIGHT",
    "after": "only then",
    "shut": "NO",
}
MANY: dict[Group, str] = {
    "bolts": "bolts or nuts of the face",
    "cover": "covers",
    "plugs": "plugs and breather",
    "third-member": "third member",
    "shafts": "axle shafts",
    "springs": "springs and shocks",
    "joints": "bolts of brackets",
}


def access_sections(job: Job) -> tuple[Section, ...]:
    """The section; none where the sheet has no [access], or where nothing could be looked at (ACC-01 says why)."""
    study, scene = job.store.get(STUDY), job.store.get(SCENE)
    if not isinstance(study, AccessStudy) or scene is None:
        return ()
    units = job.sheet.job.units
    notes = (verdict(study), NOTE, BOUND, *_missing(study), CAUTION)
    tables = [access_table(study, units)]
    slack: Sequence[Slack] = job.store.get(SLACK, ())
    if slack:
        tables.append(slack_table(slack, units))
    return (Section(TITLE, notes, (), tuple(tables), (), access_pictures(scene, study)),)


def verdict(study: AccessStudy) -> str:
    """How many things come out, and which do not, in words."""
    odd = [r for r in study.results if level_of(r) is not Level.PASS]
    if not odd:
        return f"{len(study.results)} things were looked at; each comes out with every link and bracket fitted."
    shut = [r.removal.label for r in odd if r.verdict == "shut"]
    fine = len(study.results) - len(odd)
    words = f"{len(study.results)} things were looked at: {fine} come out with every link and bracket fitted"
    if len(odd) > len(shut):
        words += f", {len(odd) - len(shut)} only with something off first or with too little air"
    return f"{words}, SHUT IN: {'; '.join(shut)}." if shut else f"{words}."


def _missing(study: AccessStudy) -> tuple[str, ...]:
    if not study.missing:
        return ()
    told = "; ".join(f"{words} ({remedy})" for _, words, remedy in study.missing)
    return (f"NOT LOOKED AT: {told}.",)


def access_table(study: AccessStudy, units: str) -> Table:
    """One row for each thing that is not free, one for all of a group that are."""
    rows: list[tuple[str, ...]] = []
    for group in GROUPS:
        results = study.of(group)
        rows += [_row(r, r.removal.label, units) for r in results if level_of(r) is not Level.PASS]
        rows += _free(group, [r for r in results if level_of(r) is Level.PASS], units)
    return Table("What comes out, and with what off", "The tightest of each kind is told.", HEAD, tuple(rows))


def _free(group: Group, fine: list[Result], units: str) -> Iterable[tuple[str, ...]]:
    if not fine:
        return
    tight = min(fine, key=lambda r: (r.nearest is None, r.nearest.gap if r.nearest else 0.0))
    if len(fine) == 1:
        yield _row(tight, tight.removal.label, units)
        return
    yield _row(tight, f"{len(fine)} {MANY[group]}; tightest: {tight.removal.label}", units)


def _row(result: Result, label: str, units: str) -> tuple[str, ...]:
    removal = result.removal
    first = names_of(result.first_off) if result.first_off else "nothing"
    if result.shutting:
        first = f"{names_of(result.shutting)} stands in the way"
    answer = ANSWERS[result.verdict]
    if result.verdict == "free" and level_of(result) is not Level.PASS:
        answer = "not with a socket"
        first = f"nothing; {names_of(result.barred)} for a socket"
    how = "; ".join(w for w in (result.taken.words, removal.notes) if w)
    return label, answer, first, how, _nearest(result, units)


def _nearest(result: Result, units: str) -> str:
    near = result.met[0] if result.met else result.nearest
    if near is None:
        return "nothing within 2 in (50 mm)"
    if near.handle:
        return f"{near.label} stops the handle"
    return f"{near.label}, {'in the way' if near.meets else length(near.gap, units)}"


def slack_table(slack: Iterable[Slack], units: str) -> Table:
    """How far each spring must be squeezed to come off its seat."""
    said = {Level.PASS: "loose", Level.WARN: "with a compressor", Level.FAIL: "NO: goes solid"}
    rows = tuple(
        (
            s.words.partition(":")[0],
            said.get(s.level, ""),
            length(s.squeeze, units) if s.squeeze > 0.0 else "none",
            "" if s.limit is None else length(s.limit, units),
        )
        for s in slack
    )
    note = "Squeeze = free length + lip of the seat, 1 in (common practice, no source), less what is between the seats."
    head = ("Spring", "Comes off its seat at full droop", "Squeezed by", "Goes solid at")
    return Table("Springs at full droop", note, head, rows, (2, 3))
