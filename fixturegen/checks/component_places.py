"""CMP-02: named points of a part against the places they are said to stand at; no file is opened."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from fixturegen.checks.registry import FOLDER, Claim, Job, claim
from fixturegen.checks.wording import inch, shared
from fixturegen.findings import Finding, Level

if TYPE_CHECKING:
    from fixturegen.studies.component_records import Component

SOURCE = "Kabsch (1976), least squares; a fit leaves no more, root mean square, than the points err by"
SCALE = 0.05
"""[1] the distances of points and places differ by more: a number misread, not a tape's error."""


def components_in(job: Job) -> tuple[Component, ...]:
    """The components of the job, placed once."""
    if not job.sheet.components:
        return ()
    # only a sheet with parts the person has pays for placing them
    from fixturegen.studies.component_plan import components_of

    folder = job.store.get(FOLDER)
    return shared(
        job,
        "components",
        lambda: components_of(job.sheet, job.axle, folder if isinstance(folder, Path) else Path()),
    )


@claim("CMP-02", "named points of each part you have meet their places", holds="nothing", stage="numbers")
def check_placed(claim: Claim, job: Job) -> list[Finding]:
    """The rigid best fit of points to places leaves no more than their tolerances."""
    return [_placed(claim, c) for c in components_in(job) if c.residual is not None]


def _placed(claim: Claim, part: Component) -> Finding:
    residual = part.residual or 0.0
    worst, off = max(part.residuals, key=lambda r: r[1])
    told = f"{part.label}: {len(part.residuals)} points meet their places within {inch(residual)} (root mean square)"
    told += f", {worst} worst with {inch(off)}"
    numbers = {"value": residual, "limit": part.placing, "unit": "mm", "source": SOURCE, "frame": part.frame}
    if residual <= part.placing:
        return claim.finding(Level.PASS, told, **numbers)
    remedy = f"measure {worst} again on both, and see that each point is on the line it belongs to"
    if abs(part.spread - 1.0) > SCALE:
        told += f"; the places lie {part.spread:.3g} times as far apart as the points"
        remedy = "measure the points in their true unit: a part is moved and turned, never made larger or smaller"
    return claim.finding(Level.FAIL, told, remedy=remedy, **numbers)
