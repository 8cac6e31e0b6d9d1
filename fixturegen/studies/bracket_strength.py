"""Everything about one bracket that may give out under one force: bolt, tabs, welds, wall of the tube.

Static strength of a setting-out aid; nothing here is a certificate. For a part people drive on or stand
under, ask someone licensed to judge it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from fixturegen.studies.bolt_strength import bolt_strengths
from fixturegen.studies.bracket_case import BracketCase, TabLoad, check_case, tab_loads
from fixturegen.studies.rail_wall import rail_strengths
from fixturegen.studies.strength_records import Strength
from fixturegen.studies.tab_strength import gap_strengths, hole_strengths, root_strengths
from fixturegen.studies.tube_wall import wall_strengths
from fixturegen.studies.weld_groups import weld_strengths
from fixturegen.studies.weld_lines import WeldLine, counted_lines

Kind = Literal["shear", "bending", "hole", "root", "gap", "welds", "wall"]
KINDS: tuple[Kind, ...] = ("shear", "bending", "hole", "root", "gap", "welds", "wall")


def strength_of(case: BracketCase) -> tuple[Strength, ...]:
    """Every way in which a bracket may give out under its force, bolt first, wall of the tube last.

    With a cross plate all welds are one group. Without one each tab hangs on its own welds.

    Args:
        case: The bracket.

    Raises:
        InputFault: When the sizes cannot be a bracket.
    """
    check_case(case)
    return tuple(s for kind in KINDS for s in strengths_of_kind(case, kind))


def strengths_of_kind(case: BracketCase, kind: Kind) -> tuple[Strength, ...]:
    """The ways of one kind in which a bracket may give out.

    Args:
        case: The bracket; `check_case` has found nothing wrong with it.
        kind: shear or bending of the bolt, hole or root of a tab, the gap, the welds, the wall they stand on.

    Raises:
        InputFault: When its welds cannot be a group that carries the load.
    """
    if kind in ("shear", "bending"):
        shear, *bending = bolt_strengths(case)
        return (shear,) if kind == "shear" else tuple(bending)
    makers: dict[str, Callable[[BracketCase], tuple[Strength, ...]]] = {
        "hole": hole_strengths,
        "root": root_strengths,
        "gap": gap_strengths,
        "welds": _welds,
        "wall": lambda c: (*wall_strengths(c), *rail_strengths(c)),
    }
    return makers[kind](case)


def left_out(case: BracketCase) -> tuple[str, ...]:
    """What of a bracket no strength speaks of, in sentences.

    Args:
        case: The bracket.
    """
    said = ["a tab bent over its bolt hole by a joint that binds is not worked out"]
    if case.tube_radius == 0 and case.rail_width == 0:
        said.append("a flat wall of unknown width is not worked out: give the rail's width")
    elif case.brace is None:
        said.append("the wall bent by a tab that leans over is told, not judged")
    return tuple(said)


def governing(strengths: tuple[Strength, ...]) -> Strength:
    """The judged strength that is nearest to, or farthest beyond, its factor.

    Args:
        strengths: Of one bracket.

    Raises:
        ValueError: When none is judged.
    """
    return max((s for s in strengths if s.judged), key=lambda s: s.used * s.factor.value)


def _welds(case: BracketCase) -> tuple[Strength, ...]:
    """The welds, as one group or tab by tab."""
    if case.brace is not None or case.single_shear:
        return _group(case, case.welds, case.force, case.off_middle, "welds")
    groups = []
    for load in tab_loads(case):
        lines = tuple(w for w in case.welds if (w.start[2] + w.end[2]) * load.z > 0)
        groups.append(_group(case, lines, _on_tab(load), load.z, f"welds of the {load.name}"))
    # each tab has the same ways of giving out: the one that is nearer to its factor is told
    return tuple(max(pair, key=lambda s: s.used * s.factor.value) for pair in zip(*groups, strict=True))


def _on_tab(load: TabLoad) -> tuple[float, float, float]:
    """Force of the bolt on one tab, side force included."""
    return (*load.at_hole, load.side)


def _group(
    case: BracketCase, lines: tuple[WeldLine, ...], force: tuple[float, float, float], z: float, name: str
) -> tuple[Strength, ...]:
    """The strengths of one group of welds."""
    return weld_strengths(
        counted_lines(lines),
        force,
        (0.0, 0.0, z),
        plate=case.tab,
        wall=case.tube,
        filler=case.filler,
        by_direction=case.by_direction,
        factors=case.factors,
        name=name,
    )
