"""What a check or a build came to, in plain words and as JSON fields."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fixturegen.cli import console
from fixturegen.findings import Level

if TYPE_CHECKING:
    from fixturegen.pipeline import Outcome

BENCH = "bench"  # folder of the papers that everybody at the job needs


def fields_of(outcome: Outcome) -> dict[str, Any]:
    """The fields of `--json` that go beyond findings."""
    return {
        "assumptions": [{"key": k, "used": used, "meaning": m} for k, used, m in outcome.assumptions],
        "changes": [{"key": k, "before": before, "after": after} for k, before, after in outcome.changes],
        "numbers": {name: n.as_json() for name, n in sorted(outcome.numbers.items())},
        "parts": [{"name": name, "status": "held" if name in outcome.held else "released"} for name in outcome.made],
        "held": [{"name": n, "reason": r} for n, r in outcome.held.items() if n in outcome.made],
        "out": None if outcome.out is None else outcome.out.as_posix(),
        "warnings": list(outcome.warnings),
    }


def assumed_text(outcome: Outcome) -> str:
    """Every value the sheet did not give; first of all, since everything rests on it."""
    if not outcome.assumptions:
        return ""
    lines = [f"  {key} = {used}  ({meaning})" for key, used, meaning in outcome.assumptions]
    return "\n".join([f"ASSUMED, not on the sheet: {len(lines)}. Measure what matters to you.", *lines])


def changed_text(outcome: Outcome) -> str:
    """What changed since the revision the sheet names."""
    since = outcome.job.sheet.revision.since
    if not since:
        return ""
    lines = [f"  {key}: {before} -> {after}" for key, before, after in outcome.changes]
    return "\n".join([f"CHANGED since revision {since}: {len(lines)}", *lines])


def verdict_text(outcome: Outcome) -> str:
    """Counts, and what would be held."""
    lines = [console.counts_text(outcome.findings) + "."]
    if outcome.made:
        held = [n for n in outcome.made if n in outcome.held]
        lines.append(f"{len(outcome.made) - len(held)} of {len(outcome.made)} parts released.")
        reasons: dict[str, list[str]] = {}
        for name in held:
            reasons.setdefault(outcome.held[name], []).append(name)
        for reason, names in reasons.items():
            lines.append(f"  HELD {', '.join(names)}")
            lines.append(f"       {reason}")
    return "\n".join(lines)


def summary_text(outcome: Outcome) -> str:
    """A build in a few lines: what fails, what is held, what is assumed, where the files are."""
    sheet = outcome.job.sheet
    lines = [f"{sheet.job.name}, revision {sheet.revision.id}"]
    bad = [f for f in outcome.findings if f.level is Level.FAIL]
    lines += [line for f in bad for line in console.finding_lines(f)]
    lines.append(verdict_text(outcome))
    if outcome.assumptions:
        lines.append(f"{len(outcome.assumptions)} values are assumed; they stand on top of the report.")
    lines += [f"Note: {words}" for words in outcome.warnings]
    if outcome.out is not None:
        lines.append(f"Folder: {outcome.out}")
        lines.append(f"Open:   {outcome.out / 'report.html'}")
        if outcome.papers:
            first = sum(p.pages or 0 for p in outcome.papers if p.path.startswith(f"papers/{BENCH}/"))
            rest = sum(p.pages or 0 for p in outcome.papers) - first
            lines.append(f"Print:  at 100 %, from {outcome.out / 'papers'}; measure a scale bar first")
            lines.append(f"        all of {BENCH} ({first} pages); of drawings and templates ({rest}) what you need")
    lines.append("Setting-out aid, not certified: measure before you weld; local rules come first.")
    return "\n".join(lines)
