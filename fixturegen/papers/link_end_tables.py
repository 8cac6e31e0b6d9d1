"""Tables of the ends of what an axle does: both wheels at lock, and where stops and straps hold."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from fixturegen.papers.link_tables import unit_text, value_text
from fixturegen.papers.link_words import GEOMETRY, LinkCase
from fixturegen.papers.report import Table
from fixturegen.papers.words import TRUST_WORDS
from fixturegen.studies.link_lock import Turned
from fixturegen.studies.link_stops import Hold

ROLLING = "geometry, wheels that roll about one point"
WHEELS = {"alike": "both alike", "crossed": "other wheel at the other end"}
NEVER = "not reached"


def lock_table(cases: Sequence[LinkCase]) -> Table | None:
    """Wheels, axle-shaft joints and pitman arm at full left and full right lock; None without a knuckle stop."""
    rows: list[tuple[str, ...]] = []
    for case in cases:
        if case.study.turned is not None:
            rows += _lock_rows(case, case.study.turned)
    if not rows:
        return None
    note = (
        "At ride height, on the knuckle stops. Angles of wheels are headings in plan, as turn plates read them, "
        "to the left positive. Wanted: both wheels roll about one point, from the pivots at the ground and the "
        "wheelbase. The steering box must not be the stop, and the shaft's joint must not be either."
    )
    head = ("What", "Geometry", "Full left", "Full right", "Limit", "Unit", "Source", "Trust")
    return Table("From stop to stop", note, head, tuple(rows), (2, 3, 4))


def _lock_rows(case: LinkCase, found: Turned) -> list[tuple[str, ...]]:
    left, right = -1, 0
    inside, outside = (0, 1), (1, 0)  # left wheel inside a left bend
    shafts = found.shafts
    study = case.study
    named = [
        ("Inner wheel", found.inner[[left, right]], None, "deg", "knuckle stop, as measured"),
        ("Outer wheel, as the tie rod turns it", found.outer[[left, right]], None, "deg", GEOMETRY),
        ("Outer wheel, wanted", found.wanted[[left, right]], None, "deg", ROLLING),
        ("Of the wanted difference", found.share[[left, right]], 100.0, "%", ROLLING),
        (
            "Axle-shaft joint, inner wheel",
            np.array([shafts[left, inside[0]], shafts[right, inside[1]]]),
            study.shaft_limit,
            "deg",
            GEOMETRY,
        ),
        (
            "Axle-shaft joint, outer wheel",
            np.array([shafts[left, outside[0]], shafts[right, outside[1]]]),
            study.shaft_limit,
            "deg",
            GEOMETRY,
        ),
    ]
    if found.pitman is not None:
        named.append(("Pitman arm from straight ahead", found.pitman[[left, right]], study.box_stop, "deg", GEOMETRY))
    return [
        (
            what,
            case.name,
            *(value_text(float(v), kind) for v in values),
            "-" if limit is None else value_text(float(limit), kind),
            unit_text(kind),
            source,
            TRUST_WORDS[case.trust],
        )
        for what, values, limit, kind, source in named
    ]


def ends_table(cases: Sequence[LinkCase], units: str = "in") -> Table | None:
    """Travel of the wheel where each stop and strap holds, and what is left there; None without any."""
    rows = [_end_row(case, hold, units) for case in cases for hold in case.study.holds]
    if not rows:
        return None
    note = (
        f"Travel of the wheel on that side [{unit_text('length', units)}], up positive; both sides are followed, since "
        "a track bar carries the axle sideways. A shock keeps half an inch of stroke, a coil a quarter inch before "
        f"coil lies on coil; common practice, no source. {NEVER.capitalize()}: not within one and a half times the "
        "travel asked for. Crossed up, a stop that stands inboard of its tyre lets the wheel go farther: "
        "the crossed poses of these pages go to the travel on the sheet, not to the stop. Cycle it and look."
    )
    head = ("Holds the axle", "Geometry", "Side", "Wheels", "Touches at", "Solid or taut at", "Left there")
    return Table("What ends the travel", note, head, tuple(rows), (4, 5))


def _end_row(case: LinkCase, hold: Hold, units: str) -> tuple[str, ...]:
    def travel(value: float | None, none: str) -> str:
        return none if value is None else value_text(value, "length", units)

    short = {"bump": ("from closed", "from coil on coil"), "droop": ("from open", "from loose")}[hold.end]
    left = [
        f"{x.name} {value_text(x.room, 'length', units)} {short[x.kind == 'spring']}"
        + (" - PAST IT" if x.room < 0.0 else "")
        for x in hold.left
    ]
    return (
        hold.name,
        case.name,
        hold.side,
        WHEELS[hold.way],
        travel(hold.touches, "-" if hold.end == "droop" else "not given"),
        travel(hold.holds, NEVER),
        "; ".join(left) or "-",
    )
