"""The links of an axle as a section of the report: views, tables, and a plot of each curve with its signs told."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from fixturegen.errors import Fault, InputFault
from fixturegen.papers.link_end_tables import ends_table, lock_table
from fixturegen.papers.link_plots import LEAST, STYLES, lines_of, plot_svg
from fixturegen.papers.link_quantities import LinkCase, Over, Quantity, quantities
from fixturegen.papers.link_scene import views_scale
from fixturegen.papers.link_tables import angle_table, joint_table, metric_table, points_table
from fixturegen.papers.link_views import views_svg
from fixturegen.papers.report import Figure, Section, Table
from fixturegen.papers.words import INCH

CAUTION = (
    "Steering, suspension and lifting are work for trained hands: what these pages show is geometry, not strength "
    "and not approval. Cycle the real axle through its whole travel with the springs out, on stands, and look at every "
    "joint, hose, shaft and tyre before it goes on a road; local codes and an inspector have the last word."
)
FLAT = 0.02
"""A curve that moves by less than this part of the least height of a picture is called level."""
OVERS: tuple[Over, ...] = ("heave", "roll", "lock")


def link_section(cases: Sequence[LinkCase], units: str = "in") -> Section:
    """The section of one or more geometries: views, tables and plots, side by side where there are several.

    Args:
        cases: Geometries of the same end of a truck, the one in hand first; as many as there are line styles.
        units: in or mm, of tables, scales and words.

    Raises:
        InputFault: When there is none, too many, two of one name, or front and rear axles are mixed.
    """
    _refuse(cases)
    size = views_scale(cases)
    views = tuple(Figure(views_svg(case, size, units), _view_words(case)) for case in cases)
    plots = tuple(
        Figure(plot_svg(q, cases, over, units), q.sign_words(over) + _stop_words(q, cases, over))
        for q in quantities(tuple(cases))
        for over in OVERS
        if q.climbs(over) and lines_of(q, cases, over)
    )
    tables = (
        metric_table(cases, units),
        lock_table(cases),
        ends_table(cases, units),
        joint_table(cases),
        angle_table(cases, units),
        points_table(cases, units),
    )
    return Section(
        "Links: what the axle does over its travel",
        _notes(cases),
        views,
        tuple(t for t in tables if isinstance(t, Table)),
        plots,
    )


def _refuse(cases: Sequence[LinkCase]) -> None:
    names = [case.name for case in cases]
    key, most = "links --points", len(STYLES)
    if not 1 <= len(cases) <= most:
        raise InputFault(Fault(key, f"{len(cases)} geometries", f"1 to {most}", "compare fewer at once"))
    twice = next((n for n in names if names.count(n) > 1), None)
    if twice is not None:
        raise InputFault(Fault(key, f"{twice} twice", "names that differ", "rename one of the two sheets"))
    if len({case.study.linkage.stance.front for case in cases}) > 1:
        raise InputFault(
            Fault(
                key, "a front and a rear axle", "axles of the same end", "compare fronts with fronts, rears with rears"
            )
        )


def _notes(cases: Sequence[LinkCase]) -> tuple[str, ...]:
    notes = [CAUTION]
    for case in cases:
        study = case.study
        share = "drive" if study.vehicle.drive_share > 0.0 else ""
        notes.append(
            f"{case.name}: {study.linkage.kind}; centre of gravity of the sprung mass "
            f"{study.vehicle.gravity_height / INCH:.1f} in ({study.vehicle.gravity_height:.0f} mm) above ground; "
            f"{100.0 * study.vehicle.drive_share:.0f} % of {share or 'drive'} and "
            f"{100.0 * study.vehicle.brake_share:.0f} % of brake force at this axle."
        )
        if study.linkage.approximate:
            notes.append(f"{case.name}: APPROXIMATE, three links stand for the leaf springs; wind-up is not in it.")
        for bound in dict.fromkeys(
            (round(b.heave, 1), round(b.roll, 1), b.links)
            for t in (study.heave, study.roll)
            for b in t.poses.bindings[:1]
        ):
            notes.append(
                f"{case.name}: BINDS at {bound[0] / INCH:+.2f} in ({bound[0]:+.1f} mm) of travel, "
                f"roll {bound[1]:+.1f} deg, where {' and '.join(bound[2])} lock one another. "
                "Keep the axle from there with stop or strap."
            )
    return tuple(notes)


def _stop_words(quantity: Quantity, cases: Sequence[LinkCase], over: Over) -> str:
    """A word about crosses, where a line has one; and where it is flat."""
    lines = lines_of(quantity, cases, over)
    have = [line.name for line in lines]
    short = [line.name for line in lines if not np.isfinite(line.y).all()]
    words = ""
    if short:
        words += f" A cross: {', '.join(short)} cannot go farther."
    seen = [(v.name, v.y[np.isfinite(v.y)]) for v in lines]
    level = [name for name, y in seen if y.size and float(np.ptp(y)) < FLAT * LEAST[quantity.kind]]
    if level:
        words += f" As good as level: {', '.join(level)}."
    missing = [c.name for c in cases if c.name not in have]
    if missing:
        words += f" Not given for {', '.join(missing)}."
    return words


def _view_words(case: LinkCase) -> str:
    stance = case.study.linkage.stance
    seen = "from the front" if stance.front else "from behind"
    return (
        f"{case.name} at ride height: from the left side, from above, and {seen}; one scale in all three, lay a rule "
        "on the bar. Solid: ride height. Grey dashes: crossed, left wheel at bump and right wheel at droop. Dots are "
        "joint centres, square at the frame, round at the axle. IC: side-view instant centre, where lines of the "
        "links seem to meet. Tyres: circle of the loaded radius, and the line of their middle plane; their width "
        "is not known to the program."
    )
