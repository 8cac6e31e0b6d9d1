"""The axle on its links as tables: at ride, bump, droop and crossed up; joints against their limits; the links."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.papers.link_quantities import GEOMETRY, ISO, LinkCase, quantities
from fixturegen.papers.link_scene import FARTHEST
from fixturegen.papers.report import Table
from fixturegen.papers.words import INCH, TRUST_WORDS, fraction
from fixturegen.studies.link_joints import Misalignment
from fixturegen.studies.link_metrics import link_angles
from fixturegen.studies.link_study import Travel

POSES = ("ride", "bump", "droop", "crossed, left up", "crossed, right up")
PLACES = {"length": 3, "deg": 2, "%": 1, "deg/deg": 3, "1": 3}
OUT = "out of reach"
NUMBERS = tuple(range(2, 2 + len(POSES)))


def value_text(value: float, kind: str, units: str = "in") -> str:
    """A value in shop units without its unit; of a length the other unit stands beside it in brackets.

    Args:
        value: In mm for a length, else in the unit of its kind.
        kind: length, deg, %, deg/deg or 1.
        units: in or mm.
    """
    if not np.isfinite(value):
        return "none"
    if kind == "length":
        inch, mm = _plain(value / INCH, 3), _plain(value, 1)
        return f"{inch} ({mm})" if units == "in" else f"{mm} ({inch})"
    return _plain(value, PLACES[kind])


def _plain(value: float, places: int) -> str:
    """A number without a minus before zero."""
    text = f"{value:.{places}f}"
    return text[1:] if text.startswith("-") and not text.strip("-0.") else text


def unit_text(kind: str, units: str = "in") -> str:
    """The unit of a kind as it heads a column."""
    return {"length": "in (mm)" if units == "in" else "mm (in)", "1": "in per in"}.get(kind, kind)


def _cells(values: Array, travel: Travel, kind: str, units: str) -> tuple[str, ...]:
    there = travel.poses.reached
    return tuple(value_text(float(v), kind, units) if ok else OUT for v, ok in zip(values, there, strict=True))


def metric_table(cases: Sequence[LinkCase], units: str = "in") -> Table:
    """What the axle does at the named poses; geometries under one another, so that a column compares them."""
    rows = []
    for q in quantities(tuple(cases)):
        if not q.climb and (q.roll_climb or q.lock_climb):
            continue  # a picture alone: its values stand in another row
        for case in cases:
            values = q.read(case.study, case.study.named)
            if values is not None:
                rows.append(
                    _row(q.title, case, _cells(values, case.study.named, q.kind, units), q.kind, q.source, units)
                )
        if q.key == "anti_dive":
            for case in cases:
                rows += _centre_rows(case, units)
    note = (
        "Exact on rigid links: bushes that give, frames that twist and tyres that squash are not in it. "
        "Left and right are the truck's. Crossed: one wheel at bump, the other at droop. "
        "What is up in each picture below is positive here."
    )
    return Table("What the axle does at ride, bump, droop and crossed up", note, _head(), tuple(rows), NUMBERS)


def _head() -> tuple[str, ...]:
    return ("What", "Geometry", *POSES, "Unit", "Source", "Trust")


def _row(what: str, case: LinkCase, cells: tuple[str, ...], kind: str, source: str, units: str) -> tuple[str, ...]:
    return (what, case.name, *cells, unit_text(kind, units), source, TRUST_WORDS[case.trust])


def _centre_rows(case: LinkCase, units: str) -> list[tuple[str, ...]]:
    """Side-view instant centre: how far ahead of the axle at ride, how high."""
    travel, stance = case.study.named, case.study.linkage.stance
    place = travel.metrics.instant_centre
    way = float(stance.pinion_sign)
    words = "to the rear" if stance.front else "ahead"
    along = way * (place[:, 0] - stance.origin[0])
    gone = np.hypot(along, place[:, 1] - stance.origin[2]) > FARTHEST
    rows = []
    named = (
        (f"Instant centre, side view: {words} of the axle at ride", along),
        ("Height of the instant centre", place[:, 1]),
    )
    for what, values in named:
        texts = _cells(values, travel, "length", units)
        cells = tuple("over 100 ft off" if far else text for text, far in zip(texts, gone, strict=True))
        rows.append(_row(what, case, cells, "length", GEOMETRY, units))
    return rows


def angle_table(cases: Sequence[LinkCase], units: str = "in") -> Table:
    """Slope of every link at the named poses: what an angle finder laid on the link reads."""
    rows = []
    for name in dict.fromkeys(n for c in cases for n in c.study.linkage.names):
        for case in cases:
            linkage = case.study.linkage
            if name in linkage.names and linkage.links[linkage.names.index(name)].part != "guide":
                slopes = link_angles(case.study.named.poses).slope[:, linkage.names.index(name)]
                rows.append(_row(name, case, _cells(slopes, case.study.named, "deg", units), "deg", ISO, units))
    note = "Above level, frame end higher positive: as an angle finder reads it on the link."
    return Table("Slope of the links", note, ("Link", *_head()[1:]), tuple(rows), NUMBERS)


def joint_table(cases: Sequence[LinkCase]) -> Table | None:
    """How far each joint is bent at the named poses, the worst of the whole travel, and its limit."""
    rows = []
    for case in cases:
        for k, joint in enumerate(case.study.named.joints):
            rows += _joint_rows(case, joint, k)
    if not rows:
        return None
    note = (
        "Bent: angle of the joint off its bolt's square, half of the twist between the two ends of a link in it. "
        "Worst: anywhere on the way, both wheels alike or leaning. A joint that has used its limit up pries on "
        "its tab; leave room for bolt, weld and measuring."
    )
    head = ("Joint", "Geometry", *POSES, "Worst", "Limit", "Left", "Source", "Trust")
    return Table("Joints bent, against what each takes [deg]", note, head, tuple(rows), (*NUMBERS, 7, 8, 9))


def _joint_rows(case: LinkCase, joint: Misalignment, k: int) -> list[tuple[str, ...]]:
    study = case.study
    rows = []
    for end in ("frame", "axle"):
        found, limit = getattr(joint, end), getattr(joint, f"{end}_limit")
        if found is None:
            continue
        over = [getattr(t.joints[k], end) for t in (study.named, study.heave, study.roll)]
        seen = np.concatenate([v[np.isfinite(v)] for v in over])
        worst = float(seen.max()) if seen.size else float("nan")
        left = "no limit given" if limit is None else _plain(limit - worst, 1)
        if limit is not None and worst > limit:
            left = f"PAST IT by {worst - limit:.1f}"
        cells = tuple(f"{float(v):.1f}" if ok else OUT for v, ok in zip(found, study.named.poses.reached, strict=True))
        name = f"{joint.link}, {end} end"
        limits = "-" if limit is None else f"{limit:g}"
        rows.append((name, case.name, *cells, f"{worst:.1f}", limits, left, GEOMETRY, TRUST_WORDS[case.trust]))
    return rows


def points_table(cases: Sequence[LinkCase], units: str = "in") -> Table:
    """Both joint centres of every link at ride height, and its length centre to centre, as a tape reads it."""
    rows = []
    for case in cases:
        linkage = case.study.linkage
        ends = [linkage.stance.to_vehicle((float(p[0]), float(p[1]), float(p[2]))) for p in linkage.axle_points()]
        for link, frame, axle, long in zip(linkage.links, linkage.frame_points(), ends, linkage.lengths(), strict=True):
            if link.part == "guide":
                continue
            inch, mm = fraction(float(long), 16), f"{float(long):.1f} mm"
            length = f"{inch}, {mm}" if units == "in" else f"{mm}, {inch}"
            rows.append((link.name, case.name, _place(frame, units), _place(axle, units), length))
    unit = "in" if units == "in" else "mm"
    note = (
        f"At ride height [{unit}]: ahead of the front axle line (behind it is minus), left of the middle "
        "(right is minus), above the ground. The length is between joint centres: set the link to it before it "
        "goes in; in brackets what it is longer than the fraction."
    )
    return Table(
        "Links, centre to centre", note, ("Link", "Geometry", "Frame end", "Axle end", "Length"), tuple(rows), (2, 3, 4)
    )


def _place(point: Array, units: str) -> str:
    unit, places = (INCH, 2) if units == "in" else (1.0, 1)
    return ", ".join(_plain(float(v) / unit, places) for v in point)
