"""From what a build came to, to the 3-D view on top of its report."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fixturegen.checks.registry import Job
from fixturegen.stock import entry
from fixturegen.stock.records import Material
from fixturegen.viewer.bundle import MISSING, bundled

if TYPE_CHECKING:
    from fixturegen.papers.report import Report
    from fixturegen.write.summary import Contents


def with_view(report: Report, job: Job, contents: Contents) -> Report:
    """The report with the 3-D view on top; as it is where nothing can be drawn or the script is not there.

    Args:
        report: What the page says.
        job: Parts, assemblies, links.
        contents: What the summary is made from; its own finding is not in it yet.
    """
    from fixturegen.viewer.page import scenes_of, view_of
    from fixturegen.viewer.payload import Told
    from fixturegen.viewer.scenes import undrawn
    from fixturegen.write.summary import passed

    if bundled() is None:
        return report
    told = Told(
        title=contents.job,
        units=contents.units,
        parts=contents.parts,
        # a build in which the summary is found wrong hands nothing out: what stands in it stands here too
        findings=(*contents.findings, passed(contents)),
        held=contents.held,
        masses={name: m.mass for name, m in contents.measured.items()},
        files=contents.files,
        undrawn=undrawn(job),
        materials={m: entry("materials", m, Material).name for m in sorted({p.material for p in contents.parts})},
    )
    view = view_of(scenes_of(job), told)
    return report if view is None else replace(report, view=view.markup, view_code=view.code)


def view_ahead(job: Job) -> None:
    """Have meshes and travel of the view kept, so that `with_view` finds them.

    Args:
        job: Parts and assemblies.
    """
    from fixturegen.viewer.page import scenes_of

    scenes_of(job)


def told() -> tuple[str, ...]:
    """What the person should know of the view: nothing, or that its script is not there."""
    return () if bundled() is not None else (MISSING,)
