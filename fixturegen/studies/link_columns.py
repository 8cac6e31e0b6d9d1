"""Strength of a link between two joints: buckling, pull, its threads, its joints, and a rock under its middle."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.calc._columns import (
    END_FACTORS,
    slenderness_where_they_meet,
    tube_area,
    tube_critical_load,
    tube_second_moment,
    tube_slenderness,
)
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust, weakest
from fixturegen.studies.strength_records import (
    FATIGUE,
    HEAT,
    IMPACT,
    STANDARD,
    Factor,
    Factors,
    Given,
    Steel,
    Strength,
)

VERY_SLENDER = 200.0
"""Slenderness above which a link bows under its own weight and by a knock; AISC 360 E2, from memory."""


@dataclass(frozen=True, kw_only=True)
class LinkCase:
    """A straight link and what it carries.

    Attributes:
        name: In words.
        push: Largest pressing load along it [N].
        pull: Largest pulling load [N].
        diameter: Outside, of tube or round bar [mm].
        wall: Thickness; half the diameter for a bar [mm].
        length: Between the joint centres [mm].
        steel: Of the link.
        offset: How far the middle of a bent link stands off the straight line [mm].
        thread_area: Stress area of the rod end's shank; None where there is no thread [mm^2].
        thread_tensile: Tensile strength of the rod end's shank [MPa].
        rating: Radial static load the maker of the joint gives; None when it is not known [N].
        rock: Load square to the link at its middle, to be told [N].
        factors: Asked for.
    """

    name: str
    push: float
    pull: float
    diameter: float
    wall: float
    length: float
    steel: Steel
    offset: float = 0.0
    thread_area: float | None = None
    thread_tensile: float = 0.0
    rating: float | None = None
    rock: float = 0.0
    factors: Factors = STANDARD


def link_strengths(case: LinkCase) -> tuple[Strength, ...]:
    """Every way in which a link may give out.

    Args:
        case: The link and its loads.

    Raises:
        InputFault: When the sizes cannot be a link.
    """
    _possible(case)
    found = [_column(case), _pulled(case)]
    if case.offset:
        found.append(_bent_link(case))
    if case.thread_area is not None:
        found.append(_thread(case, case.thread_area))
    if case.rating is not None:
        found.append(_joint(case, case.rating))
    if case.rock:
        found.append(_rock(case))
    return tuple(found)


def _tube(case: LinkCase) -> tuple[Given, ...]:
    """The sizes every strength of the link is worked out from."""
    return (
        Given("outside diameter", case.diameter, "mm"),
        Given("wall", case.wall, "mm"),
        Given("length between the joints", case.length, "mm"),
        Given(f"yield strength of {case.steel.name}", case.steel.yield_strength, "MPa"),
    )


def _column(case: LinkCase) -> Strength:
    """Buckling of the straight link, pinned at both ends."""
    steel, factor = case.steel, case.factors.column
    ends = END_FACTORS["pinned"]
    slender = float(tube_slenderness(case.diameter, case.wall, case.length, ends))
    meet = float(slenderness_where_they_meet(steel.yield_strength, steel.modulus))
    which = "Johnson" if slender < meet else "Euler"
    load = tube_critical_load(case.diameter, case.wall, case.length, steel.yield_strength, ends, steel.modulus)
    note = f"slenderness {slender:.0f}, over {VERY_SLENDER:.0f}: very slender" if slender > VERY_SLENDER else ""
    return Strength(
        what=f"{case.name} buckles ({which})",
        demand=abs(case.push),
        capacity=float(load),
        unit="N",
        factor=factor,
        given=(*_tube(case), Given("slenderness", slender, "1"), Given("where Euler and Johnson meet", meet, "1")),
        formula="A (Fy - (Fy s / (2 pi))^2 / E)" if which == "Johnson" else "A pi^2 E / s^2",
        source="column-formulas",
        section=f"{which}, pinned at both ends, straight",
        trust=weakest(Trust.MEMORY, steel.trust, factor.trust),
        not_covered=(IMPACT, FATIGUE, "a link that is bent or dented", "bending by a joint that binds"),
        note=note,
    )


def _pulled(case: LinkCase) -> Strength:
    """Yield of the section under the larger of push and pull."""
    factor = case.factors.tab_yield
    area = float(tube_area(case.diameter, case.wall))
    return Strength(
        what=f"{case.name} yields",
        demand=max(abs(case.pull), abs(case.push)),
        capacity=area * case.steel.yield_strength,
        unit="N",
        factor=factor,
        given=(*_tube(case), Given("area", area, "mm^2")),
        formula="A Fy",
        source="aisc-360",
        section="D2",
        trust=weakest(Trust.SECONDARY_COPY, case.steel.trust, factor.trust),
        not_covered=(IMPACT, FATIGUE, HEAT, "the weld of a threaded bung"),
    )


def _bent_link(case: LinkCase) -> Strength:
    """A link made with a bend: push and its lever at the middle, grown by the push itself."""
    steel = case.steel
    area, inertia = tube_area(case.diameter, case.wall), tube_second_moment(case.diameter, case.wall)
    euler = math.pi**2 * steel.modulus * inertia / case.length**2
    load = max(abs(case.push), abs(case.pull))
    grown = 1 / (1 - abs(case.push) / euler) if abs(case.push) < euler else math.inf
    stress = load / area + load * case.offset * grown * case.diameter / 2 / inertia
    factor = case.factors.tab_yield
    return Strength(
        what=f"{case.name}, bent by its own offset",
        demand=float(stress),
        capacity=steel.yield_strength,
        unit="MPa",
        factor=factor,
        given=(*_tube(case), Given("offset of the middle", case.offset, "mm"), Given("load", load, "N")),
        formula="P / A + P e / (1 - P / P_euler) (D / 2) / I",
        source="column-formulas",
        section="push beside the middle, deflection grown by 1 / (1 - P / P_euler)",
        trust=weakest(Trust.MEMORY, steel.trust, factor.trust),
        not_covered=(IMPACT, FATIGUE, HEAT, "thinning at the bend"),
    )


def _thread(case: LinkCase, area: float) -> Strength:
    """The rod end's shank, pulled or pressed."""
    factor = case.factors.thread
    return Strength(
        what=f"{case.name}, thread of the rod end",
        demand=max(abs(case.pull), abs(case.push)),
        capacity=case.thread_tensile * area,
        unit="N",
        factor=factor,
        given=(
            Given("stress area", area, "mm^2"),
            Given("tensile strength of the rod end", case.thread_tensile, "MPa"),
        ),
        formula="tensile strength x stress area",
        source="asme-b1.1",
        section="stress area",
        trust=weakest(Trust.SECONDARY_COPY, factor.trust),
        not_covered=(FATIGUE, IMPACT, "bending of the shank by a joint that binds or a thread turned out too far"),
        note="a thread should be in by one and a half times its diameter; common practice, no source",
    )


def _joint(case: LinkCase, rating: float) -> Strength:
    """The joint's body against what its maker gives."""
    factor = case.factors.rod_end
    return Strength(
        what=f"{case.name}, joint across its bolt",
        demand=max(abs(case.pull), abs(case.push)),
        capacity=rating,
        unit="N",
        factor=factor,
        given=(Given("radial static load the maker gives", rating, "N"),),
        formula="maker's radial static load",
        source="practice",
        section="the number is the maker's",
        trust=weakest(Trust.PRACTICE, factor.trust),
        not_covered=(FATIGUE, IMPACT, "wear", "load along the bolt"),
    )


def _rock(case: LinkCase) -> Strength:
    """A link that rests on a rock at its middle, told to be known."""
    moment = abs(case.rock) * case.length / 4
    inertia = float(tube_second_moment(case.diameter, case.wall))
    bent = abs(case.rock) * case.length**3 / (48 * case.steel.modulus * inertia)
    return Strength(
        what=f"{case.name} on a rock at its middle",
        demand=moment * case.diameter / 2 / inertia,
        capacity=case.steel.yield_strength,
        unit="MPa",
        factor=Factor(1.0, "told to be known", "practice", Trust.PRACTICE),
        given=(*_tube(case), Given("load at its middle", abs(case.rock), "N"), Given("bends by", bent, "mm")),
        formula="stress = (P L / 4) (D / 2) / I",
        source="geometry",
        section="beam on two joints, load at the middle",
        trust=weakest(Trust.DERIVED, case.steel.trust),
        not_covered=(IMPACT, "a dent", "the push along the link at the same time"),
        judged=False,
    )


def _possible(case: LinkCase) -> None:
    """Refuse sizes that cannot be a link.

    Raises:
        InputFault: With what is wrong.
    """
    numbers = (case.push, case.pull, case.diameter, case.wall, case.length, case.offset, case.rock)
    faults = []
    if not all(math.isfinite(n) for n in numbers):
        faults.append(Fault(case.name, "a number that is not finite", "finite numbers", "mend the load case"))
    elif not 0 < case.wall <= case.diameter / 2:
        allowed = f"over zero, up to half the diameter, {case.diameter / 2:g} mm"
        faults.append(Fault(f"{case.name}, wall", f"{case.wall:g} mm", allowed, "measure the tube"))
    elif case.length <= 0:
        faults.append(Fault(f"{case.name}, length", f"{case.length:g} mm", "over zero", "give the joint centres"))
    for what, value in (("thread area", case.thread_area), ("joint rating", case.rating)):
        if value is not None and not (math.isfinite(value) and value > 0):
            faults.append(Fault(f"{case.name}, {what}", f"{value:g}", "over zero", "give it or leave it out"))
    if case.thread_area is not None and not case.thread_tensile > 0:
        allowed = "the tensile strength its maker gives"
        faults.append(Fault(f"{case.name}, rod end", "no strength", allowed, "give it with the thread"))
    if faults:
        raise InputFault(*faults)
