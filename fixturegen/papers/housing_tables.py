"""Tables of the housing with and without its truss: sections, cases, welds, the step at its ends."""

from __future__ import annotations

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.checks.housing import PRACTICE, STEP, steps_in
from fixturegen.checks.housing_judged import Housing, place_words
from fixturegen.checks.registry import Job
from fixturegen.checks.strength_words import FACTOR_SOURCES, KSI, allowed, quantity
from fixturegen.papers.report import Table
from fixturegen.papers.words import INCH, TRUST_WORDS
from fixturegen.studies.housing_section import CENTRE, Section, section_of
from fixturegen.studies.housing_stations import Length
from fixturegen.studies.strength_records import STANDARD

FULL = 100.0  # percent


def sections_table(housing: Housing, units: str) -> Table:
    """Sections at the places that matter."""
    beam = housing.study.beam
    rows = [_section_row("tube alone", beam.bare, beam.torsion, False, units)]
    for words, one in _places(beam.lengths, beam.roots):
        whole = one.sections[1]
        if not whole.bare:
            where = f"{words}, {place_words(one.stations[1], units)}"
            rows.append(_section_row(where, whole, one.flows.torsion, one.flows.closed, units))
    bare = not housing.study.beam.trussed
    closed = "counts closed cells by Bredt, openings taken as closed by what stands beside them"
    return Table(
        "Section of the tubes" if bare else "Section of tube and truss",
        "" if bare else f"Openings cut out. Moduli are those of the tube's own fibres. The torsion constant {closed}.",
        (
            "Where",
            "Area",
            "Middle above the axle line",
            "Second moment, upright",
            "in plan",
            "Over the tube's",
            "Modulus top, bottom",
            "front, rear",
            "Torsion constant",
            "Cells",
        ),
        tuple(rows),
        (1, 2, 3, 4, 5, 8),
    )


def _places(lengths: tuple[Length, ...], roots: tuple[float, float]) -> list[tuple[str, Length]]:
    right = [k for k in lengths if k.end <= roots[0] + 1e-6 and not k.sections[1].bare]
    left = [k for k in lengths if k.begin >= roots[1] - 1e-6 and not k.sections[1].bare]
    found = []
    for side, mine, order in (("left", left, 1), ("right", right, -1)):
        mine = mine[::order]
        if mine:
            found.append((f"{side} tube, beside the centre section", mine[0]))
            found.append((f"{side} tube, halfway", mine[len(mine) // 2]))
            found.append((f"{side} tube, at the end of the truss", mine[-1]))
    return found


def _section_row(where: str, cut: Section, torsion: float, closed: bool, units: str) -> tuple[str, ...]:
    metric = units == "mm"
    four, three, two = (1e4, 1e3, 1e2) if metric else (INCH**4, INCH**3, INCH**2)
    names = ("cm^4", "cm^3", "cm^2") if metric else ("in^4", "in^3", "in^2")
    top, bottom, front, rear = (m / three for m in cut.extreme())
    bare = section_of(cut.diameter, cut.wall)
    return (
        where,
        f"{cut.area / two:.2f} {names[2]}",
        quantity(cut.middle[1], "mm", units),
        f"{cut.upright / four:.2f} {names[0]}",
        f"{cut.level / four:.2f} {names[0]}",
        f"{cut.upright / bare.upright:.1f}, {cut.level / bare.level:.1f}",
        f"{_number(top)}, {_number(bottom)} {names[1]}",
        f"{_number(front)}, {_number(rear)} {names[1]}",
        f"{torsion / four:.2f} {names[0]}",
        "tube and truss closed" if closed else "tube",
    )


def _number(value: float) -> str:
    return f"{value:.2f}" if value < 1e4 else "without end"


def cases_table(housing: Housing, units: str) -> Table:
    """Case by case: stress with and without, and what bending does to the wheels."""
    with_truss, factor = housing.study.beam.trussed, STANDARD.tab_yield
    unit = "ksi" if units == "in" else "MPa"
    head = ["Case", "Worst place", "Used", "Stress", f"at top, bottom, front, rear there [{unit}]"]
    head += ["without the truss"] if with_truss else []
    head += ["if the truss carries on across"] if housing.across is not None else []
    head += [
        "Camber [deg]",
        *(["Camber without truss"] if with_truss else []),
        "Toe [deg]",
        "Twist of the tube ends [deg]",
    ]
    head += ["Rise of the wheels"]
    return Table(
        "Housing: stress and what bending does to the wheels, case by case",
        f"Stress of the tube, allowed {quantity(housing.limit, 'MPa', units)}: yield over {factor.value:.3g} "
        f"({FACTOR_SOURCES.get(factor.source, factor.source)}, {TRUST_WORDS[factor.trust]}). Camber (top out positive) "
        "and toe (toe-in positive) are left and right, against the line through both wheels; a front axle's toe is set "
        "by its tie rod. Twist of a tube's end is positive top to the front: a steered wheel's caster is less by that. "
        "The rise is that of each wheel against the centre section, left and right.",
        tuple(head),
        tuple(_case(housing, k, units) for k in range(len(housing.study.cases))),
        (2, 3),
    )


def _case(housing: Housing, k: int, units: str) -> tuple[str, ...]:
    one = housing.study.cases[k]
    best, at = one.best, int(np.argmax(np.round(one.best.equivalent, 9)))
    value = float(best.equivalent[at])
    cells = [
        one.name,
        place_words(float(housing.study.beam.stations[at]), units),
        f"{FULL * value / housing.limit:.0f} %",
        quantity(value, "MPa", units),
        " ".join(f"{v / (KSI if units == 'in' else 1.0):+.1f}" for v in best.fibres[:, at]),
    ]
    if one.truss is not None:
        cells.append(quantity(float(one.bare.equivalent.max()), "MPa", units))
    if housing.across is not None:
        cells.append(quantity(float(housing.across.cases[k].best.equivalent.max()), "MPa", units))
    cells.append(_both(best.ends.camber))
    if one.truss is not None:
        cells.append(_both(one.bare.ends.camber))
    right, left = best.ends.rise
    cells += [_both(best.ends.toe), _both(best.ends.twist)]
    return (*cells, f"{quantity(left, 'mm', units)}, {quantity(right, 'mm', units)}")


def _both(values: Array) -> str:
    return f"{values[1]:+.2f}, {values[0]:+.2f}"


def welds_table(housing: Housing, units: str) -> Table:
    """Each seam where it is used most, with what went in."""
    rows = []
    for flow, one in housing.welds:
        rows.append(
            (
                one.what,
                f"{'' if flow.seam.second == CENTRE else place_words(flow.station, units) + ', '}{flow.case}",
                quantity(abs(flow.along), "N/mm", units),
                quantity(abs(flow.taken_up), "N/mm", units),
                f"{FULL * flow.seam.welded:.0f} %",
                quantity(one.demand, "N/mm", units),
                quantity(allowed(one), "N/mm", units),
                f"{FULL * one.used * one.factor.value:.0f} %",
                one.formula,
                f"{one.cited()} ({TRUST_WORDS[one.trust]}); factor {one.factor.value:.3g}, {one.factor.why}",
            )
        )
    return Table(
        "Welds of the truss: each seam where it is used most",
        "Flow per length along the seam: V Q / I with torque, and what the plates take up besides where they grow or "
        "come to carry beside the end of their weld, which is an estimate. Onto the centre section: what the plates of "
        "both tubes differ by, which it takes at least. In stitches all goes through the runs. Not covered: fatigue "
        "at the toes above all, the end of a weld is where an axle cracks.",
        (
            "Seam",
            "Where, case",
            "V Q / I",
            "Taken up",
            "Welded",
            "At the weld",
            "Allowed",
            "Used",
            "Formula",
            "Source, factor",
        ),
        tuple(rows),
        (2, 3, 4, 5, 6, 7),
    )


def steps_table(job: Job, units: str) -> Table:
    """How much stiffer than the tube it is where the weld of the truss ends."""
    rows = [
        (place_words(y, units), f"{ratio:.2f}", f"{STEP:.2g}", quantity(height, "mm", units))
        for y, ratio, height in steps_in(job)
    ]
    return Table(
        "Step in stiffness at the ends of the truss",
        f"Second moment just inside the end of its weld over that of the tube beyond, the larger of both planes; limit "
        f"{PRACTICE}. To make it smaller: less truss.end_height, a longer taper, weld nearer to the end.",
        ("Weld ends", "Times as stiff", "Limit", "Truss over the tube there"),
        tuple(rows),
        (1, 2, 3),
    )
