"""Strength of the tabs of a bracket: at the hole, at the root, pushed sideways, and drawn in by the bolt."""

from __future__ import annotations

from fixturegen.calc._pins import (
    BTH_FRACTURE,
    aisc_plate,
    bent_tab,
    bolt_bearing,
    bth_plate,
    net_section,
    tear_out,
)
from fixturegen.findings import Trust, weakest
from fixturegen.studies.bracket_case import (
    BracketCase,
    TabLoad,
    closable_gap,
    closing_force,
    closing_stress,
    drawn_tight,
    tab_loads,
)
from fixturegen.studies.strength_records import RANGE, Factor, Given, Strength

NO_FACTOR = Factor(1.0, "half the clamp is left as it is", "practice", Trust.PRACTICE)


def tab_strengths(case: BracketCase) -> tuple[Strength, ...]:
    """Every way in which a tab may give out, each at the tab that is used more.

    Args:
        case: The bracket.
    """
    return (*hole_strengths(case), *root_strengths(case), *gap_strengths(case))


def hole_strengths(case: BracketCase) -> tuple[Strength, ...]:
    """Bearing, tear-out and the section beside the hole, at the tab that is used more.

    Args:
        case: The bracket.
    """
    return tuple(_at_hole(case, max(tab_loads(case), key=lambda load: load.size)))


def root_strengths(case: BracketCase) -> tuple[Strength, ...]:
    """A tab pushed sideways, and all together at its root.

    Args:
        case: The bracket.
    """
    loads = tab_loads(case)
    sideways = _sideways(case, max(loads, key=lambda load: abs(load.side)))
    return sideways, max((_root(case, load) for load in loads), key=lambda s: s.demand)


def gap_strengths(case: BracketCase) -> tuple[Strength, ...]:
    """The gap against what the bolt draws in; nothing in single shear.

    Args:
        case: The bracket.
    """
    return () if case.single_shear else (_closing(case),)


def root_stress(case: BracketCase, load: TabLoad) -> float:
    """Largest stress in a tab at its root, at a corner of its section [MPa].

    Args:
        case: The bracket.
        load: Of the tab.

    Source: geometry, pull plus bending about both axes of a rectangle.
    """
    direct = abs(load.radial) / (case.root_width * case.thickness)
    flat = float(bent_tab(abs(load.moment), 1.0, case.thickness, case.root_width))
    weak = float(bent_tab(abs(load.side_moment), 1.0, case.root_width, case.thickness))
    return direct + flat + weak


def _given(case: BracketCase, load: TabLoad) -> tuple[Given, ...]:
    """What every strength at the hole is worked out from."""
    return (
        Given(f"force at {load.name}", load.size, "N"),
        Given("thickness of tab", case.thickness, "mm"),
        Given("hole", case.hole, "mm"),
        Given("bolt", case.bolt.diameter, "mm"),
        Given("middle of hole to edge", case.edge, "mm"),
        Given("width across the load", case.width, "mm"),
        Given("yield strength", case.tab.yield_strength, "MPa"),
        Given("tensile strength", case.tab.tensile, "MPa"),
    )


def _at_hole(case: BracketCase, load: TabLoad) -> list[Strength]:
    """Bearing, tear-out and the section beside the hole, by the code chosen."""
    clear = case.edge - case.hole / 2
    bolt, steel, thick = case.bolt.diameter, case.tab, case.thickness
    if case.code == "bth":
        # a factor of 1: what the code asks for is held beside the strength, not hidden in it
        lug = bth_plate(thick, case.width, case.hole, bolt, clear, steel.yield_strength, steel.tensile, 1.0)
        rows = [
            ("torn beside the hole", lug.tension, f"Cr Fu / {BTH_FRACTURE} 2 t be"),
            ("split beyond the hole", lug.splitting, f"Cr Fu / {BTH_FRACTURE} t (1.13 a + 0.92 b / (1 + b / Dh))"),
            ("sheared out beyond the hole", lug.shear, f"0.7 Fu / {BTH_FRACTURE} Av"),
            ("crushed by the bolt", lug.bearing, "1.25 Fy d t"),
        ]
        section = "section 3-3.3"
        return [_hole_row(case, load, w, float(c), f, section, case.factors.lifting) for w, c, f in rows]
    plate = aisc_plate(thick, case.width, case.hole, bolt, clear, steel.yield_strength, steel.tensile)
    rupture = case.factors.tab_rupture
    limits = _limits(case, float(plate.effective_width))
    rows = [
        ("torn beside the hole, as a pin plate", plate.tension, "Fu 2 t be, be = min(2 t + 0.63 in, beside)"),
        ("sheared out beyond the hole", plate.shear, "0.6 Fu 2 t (a + d / 2)"),
        ("crushed by the bolt", plate.bearing, "1.8 Fy d t"),
    ]
    found = [_hole_row(case, load, w, float(c), f, "D5 and J7", rupture, limits) for w, c, f in rows]
    least = float(bolt_bearing(clear, bolt, thick, steel.tensile))
    if least < float(tear_out(clear, thick, steel.tensile)):
        found.append(_hole_row(case, load, "hole drawn long by the bolt", least, "2.4 d t Fu", "J3.10", rupture))
    else:
        found.append(_hole_row(case, load, "torn out to the edge", least, "1.2 lc t Fu", "J3.10", rupture))
    net = float(net_section(case.width, case.hole, thick, steel.tensile))
    found.append(_hole_row(case, load, "parted beside the hole", net, "(w - hole) t Fu", "D2", rupture))
    whole = steel.yield_strength * case.width * thick
    found.append(_hole_row(case, load, "yields over its width", whole, "Fy w t", "D2", case.factors.tab_yield))
    return found


def _limits(case: BracketCase, effective: float) -> str:
    """What the rules for pin plates ask of the sizes and these do not keep."""
    said = []
    if case.hole > case.bolt.diameter + 25.4 / 32 + 1e-6:
        said.append("hole over 1/32 in larger than the bolt")
    if case.edge - case.hole / 2 < 1.33 * effective - 1e-6:
        said.append("edge less than 1.33 be beyond the hole")
    if case.width < 2 * effective + case.bolt.diameter - 1e-6:
        said.append("width less than 2 be + bolt")
    return f"outside the rules for pin plates ({', '.join(said)})" if said else ""


def _hole_row(
    case: BracketCase,
    load: TabLoad,
    way: str,
    capacity: float,
    formula: str,
    section: str,
    factor: Factor,
    note: str = "",
) -> Strength:
    """One way of giving out at the hole."""
    return Strength(
        what=f"{load.name}, {way}",
        demand=load.size,
        capacity=capacity,
        unit="N",
        factor=factor,
        given=_given(case, load),
        formula=formula,
        source="asme-bth-1" if case.code == "bth" else "aisc-360",
        section=section,
        trust=weakest(Trust.SECONDARY_COPY, case.tab.trust, factor.trust),
        note=note,
    )


def _sideways(case: BracketCase, load: TabLoad) -> Strength:
    """A tab pushed square to its face at the hole, held by its root or by the cross plate."""
    held = "its root" if case.brace is None else "the cross plate"
    factor = case.factors.tab_yield
    note = "half of the side force goes into each tab: the bolt holds them together"
    if case.single_shear:
        note = ""
    elif not drawn_tight(case):
        note = "all of the side force goes into one tab: the bolt cannot draw the tabs to the joint"
    return Strength(
        what=f"{load.name} pushed sideways, held by {held}",
        demand=float(bent_tab(abs(load.side), case.free_height, case.held_width, case.thickness)),
        capacity=case.tab.yield_strength,
        unit="MPa",
        factor=factor,
        given=(
            Given("force along the bolt", case.force[2], "N"),
            Given(f"of it on {load.name}", load.side, "N"),
            Given(f"hole over {held}", case.free_height, "mm"),
            Given(f"width of tab along {held}", case.held_width, "mm"),
            Given("thickness of tab", case.thickness, "mm"),
            Given("yield strength", case.tab.yield_strength, "MPa"),
        ),
        formula="stress = 6 F h / (w t^2)",
        source="geometry",
        section="cantilever; the help of the other tab's stiffness by way of the joint is left out",
        trust=weakest(Trust.DERIVED, case.tab.trust, factor.trust),
        note=note,
    )


def _root(case: BracketCase, load: TabLoad) -> Strength:
    """Pull and bending at the root of a tab, all added at its worst corner."""
    factor = case.factors.tab_yield
    return Strength(
        what=f"{load.name} at its root, all together",
        demand=root_stress(case, load),
        capacity=case.tab.yield_strength,
        unit="MPa",
        factor=factor,
        given=(
            Given("pull outward", load.radial, "N"),
            Given("moment in its plane", load.moment, "N*mm"),
            Given("moment out of its plane", load.side_moment, "N*mm"),
            Given("width of root", case.root_width, "mm"),
            Given("thickness of tab", case.thickness, "mm"),
            Given("yield strength", case.tab.yield_strength, "MPa"),
        ),
        formula="stress = N / (w t) + 6 M / (t w^2) + 6 Ms / (w t^2)",
        source="geometry",
        section="rectangle under pull and bending",
        trust=weakest(Trust.DERIVED, case.tab.trust, factor.trust),
        note="twist of a single tab by the force beside it is left out" if case.single_shear else "",
    )


def _closing_note(case: BracketCase) -> str:
    """What to know of a gap that is wider than the tabs take without yielding."""
    if case.gap <= closable_gap(case) * (1 + RANGE):
        return ""
    if drawn_tight(case):
        return "an ordinary gap: the bolt draws the tabs in all the same, and they yield a little where they are held"
    return "the bolt cannot draw the tabs to the joint: the bracket is too wide for it"


def _closing(case: BracketCase) -> Strength:
    """The gap against what the bolt draws in."""
    factor = case.factors.closing
    return Strength(
        what="gap that the bolt draws in",
        demand=case.gap,
        capacity=closable_gap(case),
        unit="mm",
        factor=NO_FACTOR,
        given=(
            Given("gap, both sides together", case.gap, "mm"),
            Given("hole over what holds the tab", case.free_height, "mm"),
            Given("thickness of tab", case.thickness, "mm"),
            Given("width that is held", case.held_width, "mm"),
            Given("force that draws the tabs in", closing_force(case), "N"),
            Given("stress in a tab drawn in", closing_stress(case), "MPa"),
            Given("yield strength", case.tab.yield_strength, "MPa"),
            Given("clamp load of the bolt", case.clamp_load, "N"),
        ),
        formula="2 h^3 / (3 E I) x the smaller of half the clamp load and yield strength x w t^2 / (6 h)",
        source="geometry",
        section="cantilever; half the clamp load by common practice",
        trust=weakest(Trust.PRACTICE, case.tab.trust, factor.trust),
        not_covered=("the spring of a tab after it has been drawn in",),
        note=_closing_note(case),
    )
