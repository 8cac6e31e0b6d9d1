"""What of a job's brackets goes on paper: gathered from the job, none where it has no brackets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from fixturegen.checks.brackets_welded import CODE
from fixturegen.checks.registry import Job
from fixturegen.findings import Finding, Level
from fixturegen.papers.bracket_drawing import Drawn, placement_svg
from fixturegen.papers.bracket_section import BracketCase, bracket_section
from fixturegen.papers.report import Figure, Section
from fixturegen.studies.bracket_places import across_of, places_of
from fixturegen.studies.link_inputs import stance_of

CAPTION = (
    "Where the brackets stand on the axle, pinion level; those on the frame are in the tables alone. Words hang under "
    "each hole's station. In the end view a clock angle is told where a bracket stands on the tube itself. Plates as "
    "they are cut, without beads; the axle is an outline. Every length stands in the tables with its decimals."
)
ASSEMBLIES = ("brackets", "locators")


def bracket_sections(job: Job, held: Mapping[str, str], findings: Iterable[Finding]) -> tuple[Section, ...]:
    """The section of the brackets; none where the sheet lists none.

    Args:
        job: Sheet, axle, parts and brackets.
        held: Part name to reason.
        findings: Of every claim; one of them may hold the weld list.
    """
    if not job.sheet.brackets:
        return ()
    facts = job.brackets.facts
    places = places_of(job.axle, stance_of(job.sheet, job.axle), facts.values())
    forbidden = [f.words for f in findings if f.code == CODE and f.level is Level.FAIL]
    units = job.sheet.job.units
    views: tuple[Figure, ...] = ()
    if any(p.on_axle for p in places) and "brackets" in job.assemblies:
        drawn = Drawn(job.sheet, job.axle, places, job.parts, job.assemblies["brackets"].placements)
        views = (Figure(placement_svg(drawn, units), CAPTION),)
    case = BracketCase(
        places=places,
        across=across_of(places),
        facts=facts,
        assemblies=tuple(job.assemblies[name] for name in ASSEMBLIES if name in job.assemblies),
        held=held,
        views=views,
        weld_list_held="; ".join(forbidden),
    )
    return (bracket_section(case, units),)
