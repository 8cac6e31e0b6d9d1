"""The gauges as a section of the report: what proves what, how true it is, what it is set to, how it is used."""

from __future__ import annotations

from collections.abc import Iterator

from fixturegen.checks.gauges import planned
from fixturegen.checks.registry import Job
from fixturegen.papers.gauge_pictures import gauge_shots
from fixturegen.papers.report import Section, Table
from fixturegen.papers.words import INCH, length
from fixturegen.studies.gauge_records import AIM, Gauge, GaugePlan, Setting

CAUTIONS = (
    "Gauges prove what was set, not that it may be driven: setting-out aids, not certified. Local rules, your "
    "inspector and licensed practice come first.",
    "A gauge that was dropped, welded beside or bent proves nothing: measure it again against its stamped figures.",
)
NOTE = (
    "Own accuracy: as it usually comes out (root of the sum of squares) and at worst, from how each feature is made. "
    f"Wanted is {AIM:.0f} times as fine as what must be told (common practice, no source); where it is less, judge by "
    "the tolerance less the gauge's own error."
)


def gauge_sections(job: Job) -> tuple[Section, ...]:
    """The section of the gauges; none where the sheet asks for none."""
    if job.sheet.gauges is None:
        return ()
    plan, units = planned(job), job.sheet.job.units
    tables = (_proves(plan, units), _settings(plan, units), _budget(plan, units), _bought(job), _not_made(plan))
    notes = (*CAUTIONS, *_without_program(plan, units))
    return (Section("Gauges", notes, (), tuple(t for t in tables if t is not None), (), gauge_shots(job)),)


def _without_program(plan: GaugePlan, units: str) -> Iterator[str]:
    """The dimension that proves the caster with nothing of this program at hand."""
    for gauge in plan.of_kind("sine"):
        caster = gauge.name == "sine-gauge"
        one, bar = gauge.settings[0 if caster else -1], gauge.sizes["length"]
        what = "the caster" if caster else "the pinion angle"
        leaf = (one.high - one.low) / 2.0
        yield (
            f"What proves {what} without this program ({one.what}): a stack of {length(one.value, units)} under a bar "
            f"of {length(bar, units)}, that is {one.angle or 0.0:.2f} deg by any table of sines; from "
            f"{length(one.low, units)} to {length(one.high, units)} is within {gauge.tolerance:.2f} deg, so a leaf of "
            f"{length(leaf, units)} either way is the whole of it. Stack, rollers and level are read by hand."
        )


def _figure(value: float, gauge: Gauge, units: str) -> str:
    if gauge.unit != "mm":
        return f"{value:.3f} {gauge.unit}"
    if units == "mm":
        return f"{value:.3f} mm ({value / INCH:.4f} in)"
    return f"{value / INCH:.4f} in ({value:.3f} mm)"


def _proves(plan: GaugePlan, units: str) -> Table | None:
    rows = tuple(
        (
            g.label,
            g.proves,
            f"+/- {_figure(g.tolerance, g, units)}; {g.limit_source}",
            f"{_figure(g.usual, g, units)} usually, {_figure(g.worst, g, units)} at worst",
            f"1 to {g.ratio:.1f}" + ("" if g.ratio >= AIM else ": coarser than wanted"),
            g.use,
            g.caution,
        )
        for g in plan.gauges
    )
    if not rows:
        return None
    head = ("Gauge", "Proves", "What must be told", "Its own accuracy", "How fine", "How to use it", "Caution")
    return Table("What proves what", NOTE, head, rows)


def _settings(plan: GaugePlan, units: str) -> Table | None:
    rows = tuple(
        (
            g.label,
            s.what,
            "" if s.angle is None else f"{s.angle:.2f}",
            length(s.value, units),
            f"{length(s.low, units)} to {length(s.high, units)}",
            _blocks(s, units),
            "[box]",
        )
        for g in plan.gauges
        for s in g.settings
    )
    if not rows:
        return None
    note = (
        "Planned value beside an empty box. Gauge blocks: the fewest of the set named on the sheet; a stack below the "
        "smallest block is made by raising both rollers alike, or by a leaf."
    )
    head = ("Gauge", "Set it to, or it must read", "Angle [deg]", "Planned", "Good from and to", "Blocks", "Measured")
    return Table("Stacks, gaps and readings", note, head, rows, (2,))


def _blocks(setting: Setting, units: str) -> str:
    if setting.told:
        return setting.told
    sizes = (f"{b:.4f}".rstrip("0").rstrip(".") if units == "mm" else f"{b / INCH:.4f}" for b in setting.blocks)
    return " + ".join(sizes) + (f" {units}" if setting.blocks else "")


def _budget(plan: GaugePlan, units: str) -> Table | None:
    rows = tuple(
        (
            g.label if n == 0 else "",
            t.name,
            f"{t.tolerance:.4g}" + ("" if t.unit == "1" else f" {t.unit}"),
            _figure(t.off, g, units),
            t.source,
        )
        for g in plan.gauges
        for n, t in enumerate(sorted(g.terms, key=lambda t: -t.off))
    )
    if not rows:
        return None
    note = (
        "Largest first in each gauge. Places follow from how holes and edges are made: [process] angle_holes and pads."
    )
    return Table(
        "What a gauge's own error is made of", note, ("Gauge", "Feature", "Off by", "Does", "Source"), rows, (2,)
    )


def _bought(job: Job) -> Table | None:
    found = job.assemblies.get("gauges")
    if found is None or not found.hardware:
        return None
    rows = tuple((what, size, str(count), where) for what, size, count, where in found.hardware)
    return Table("Bought things for gauges", "", ("What", "Size", "Quantity", "Where"), rows, (2,))


def _not_made(plan: GaugePlan) -> Table | None:
    if not plan.not_made:
        return None
    rows = tuple((n.what, n.why, n.remedy) for n in plan.not_made)
    return Table("Gauges that are not made", "", ("Gauge", "Why", "What to do"), rows)
