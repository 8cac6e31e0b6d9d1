"""Bought things: what to lay out before the work begins."""

from __future__ import annotations

from fixturegen.bench.records import Listing, Station
from fixturegen.pages import cautions
from fixturegen.pages.documents import Contents

ORDER = 20
ZERO = "Lay everything out and tick it before the housing is on the table. Grades are read off the bolt's head."


def station(contents: Contents) -> Station | None:
    """The sheet of bought things; None where nothing is bought."""
    lists = []
    for name, assembly in sorted(contents.job.assemblies.items()):
        rows: dict[tuple[str, str], list[tuple[int, str]]] = {}
        for what, size, count, where in assembly.hardware:
            rows.setdefault((what, size), []).append((count, where))
        found = tuple(
            (str(sum(n for n, _ in uses)), what, size, "; ".join(dict.fromkeys(where for _, where in uses)))
            for (what, size), uses in rows.items()
        )
        head = ("Off", "What", "Size", "Where")
        lists.append(Listing(f"For the {name}", "", head, (0.06, 0.28, 0.3, 0.36), found, "here"))
    if not any(one.rows for one in lists):
        return None
    return Station(
        slug="hardware",
        title="Hardware",
        zero=ZERO,
        lists=tuple(lists),
        cautions=(
            "Link, track-bar and steering bolts: the grade asked for or better, new lock nuts, torque, paint mark, "
            "torque again after 50 to 100 miles. Single use is single use.",
            cautions.LOCAL_FIRST,
        ),
    )
