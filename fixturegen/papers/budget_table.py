"""The error budget as a table of the report."""

from __future__ import annotations

from fixturegen.papers.report import Table
from fixturegen.papers.words import INCH, TRUST_WORDS
from fixturegen.studies.error_budget import (
    CASTER_WORST,
    SPLIT_RSS,
    SPLIT_WORST,
    TRIM,
    Budget,
    Contributor,
)


def budget_table(budget: Budget) -> Table:
    """Every contributor, the sums, their limits, and the trim that the sums count on."""
    shim = ""
    if abs(budget.shim) >= 0.01:
        pad = "upper" if budget.shim > 0 else "lower"
        shim = f" Shim the {pad} pad (or make its gap larger) by {abs(budget.shim) / INCH:.4f} in first."
    note = (
        "Setting of the knuckles before welding; weld pull is not in it. Counted after the trim. "
        f"{TRIM} Known from the tube-end readings before the trim: left {_signed(budget.untrimmed_left)}, right "
        f"{_signed(budget.untrimmed_right)} deg; left over after it: {_signed(budget.bias_left)} and "
        f"{_signed(budget.bias_right)} deg.{shim} Worst case adds every tolerance; RSS is the root of the sum of "
        "squares."
    )
    rows = [_row(c) for c in budget.contributors]
    rows.append(
        (
            "SUM, worst case",
            "",
            "",
            "",
            f"{budget.caster_left:.3f}",
            f"{budget.caster_right:.3f}",
            f"{budget.split:.3f}",
            "",
        )
    )
    rows.append(
        (
            "SUM, RSS",
            "",
            "",
            "",
            f"{budget.caster_left_rss:.3f}",
            f"{budget.caster_right_rss:.3f}",
            f"{budget.split_rss:.3f}",
            "",
        )
    )
    rows.append(
        (
            "LIMIT",
            "",
            "",
            "",
            f"{CASTER_WORST} worst",
            f"{CASTER_WORST} worst",
            f"{SPLIT_WORST} worst, {SPLIT_RSS} RSS",
            "",
        )
    )
    return Table(
        "What the jig will hold: error budget",
        note,
        (
            "Feature",
            "Acts on",
            "Tolerance",
            "deg per mm (or deg)",
            "Left caster [deg]",
            "Right caster [deg]",
            "Split L - R [deg]",
            "Source, trust",
        ),
        tuple(rows),
        (2, 3, 4, 5, 6),
    )


def _signed(angle: float) -> str:
    return f"{round(angle, 3) + 0.0:+.3f}"


def _row(c: Contributor) -> tuple[str, ...]:
    tolerance = f"{c.tolerance / INCH:.4f} in" if c.unit == "mm" else f"{c.tolerance:.3f} {c.unit}"
    return (
        c.name,
        c.acts_on,
        tolerance,
        f"{c.sensitivity:.3f}",
        f"{c.left:.3f}",
        f"{c.right:.3f}",
        f"{c.split:.3f}",
        f"{c.source} ({TRUST_WORDS[c.trust]})",
    )
