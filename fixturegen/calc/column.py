"""Load at which a tube buckles."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from fixturegen.calc._answer import Answer
from fixturegen.calc._columns import (
    END_FACTORS,
    STEEL_MODULUS,
    slenderness_where_they_meet,
    tube_area,
    tube_critical_load,
    tube_slenderness,
)
from fixturegen.calc._numbers import NOT_COVERED
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Force, Length, Plain, Stress, as_text

LIMIT = 200.0
"""Slenderness beyond which AISC 360 E2 advises against a column."""


@dataclass(frozen=True, kw_only=True)
class Column(Answer):
    """Load at which the tube buckles, and how slender it is."""

    critical_load: Annotated[float, Force("0 lbf", "100000000 lbf")]
    slenderness: Annotated[float, Plain("0", "10000")]
    yield_load: Annotated[float, Force("0 lbf", "100000000 lbf")]


def column(
    diameter: Annotated[float, Length("1/4 in", "12 in")],
    wall: Annotated[float, Length("0.02 in", "6 in")],
    length: Annotated[float, Length("1 in", "400 in")],
    yield_: Annotated[float, Stress("10 ksi", "200 ksi")],
    end_condition: Literal["pinned", "fixed", "fixed-pinned", "free"] = "pinned",
    modulus: Annotated[float, Stress("1000 ksi", "40000 ksi")] = STEEL_MODULUS,
) -> Column:
    """Load at which a straight tube buckles, its slenderness, and the load at which it yields.

    Args:
        diameter: Outside diameter of the tube [mm].
        wall: Thickness of the wall [mm].
        length: Between the ends, joint centre to joint centre for a link [mm].
        yield_: Yield strength of the tube as it is, welded ends softer [MPa].
        end_condition: Pinned at both ends like a link with joints, fixed at both, fixed-pinned, or
            free for one end fixed and the other free.
        modulus: Of elasticity; 29 000 ksi for steel [MPa].

    Returns:
        Load at which it buckles [N], effective length over radius of gyration, and area times
        yield strength [N]. No factor is in them.

    Formula: slenderness = K length / radius of gyration; meeting = sqrt(2 pi^2 E / yield); below it
        critical_load = area (yield - (yield slenderness / (2 pi))^2 / E), beyond it
        area pi^2 E / slenderness^2.
    Holds: for a straight tube, loaded along its axis; K = 1, 0.65, 0.8, 2.1 as recommended.
    Source: column-formulas, Euler and Johnson; aisc-360, commentary to appendix 7, effective length.
    Example: --diameter "2 in" --wall "1/4 in" --length "36 in" --yield "60 ksi"
        --end-condition pinned --modulus "29000 ksi"

    Raises:
        InputFault: When the wall is more than half the diameter.
    """
    if wall > diameter / 2:
        allowed = f"up to half the diameter, {as_text(diameter / 2, 'length', 'in')}"
        remedy = "check which of the two is the wall"
        raise InputFault(Fault("--wall", as_text(wall, "length", "in"), allowed, remedy))
    factor = END_FACTORS[end_condition]
    slender = float(tube_slenderness(diameter, wall, length, factor))
    meet = float(slenderness_where_they_meet(yield_, modulus))
    rule = (
        "Johnson: critical_load = area (yield - (yield slenderness / (2 pi))^2 / E)"
        if slender < meet
        else "Euler: critical_load = area pi^2 E / slenderness^2"
    )
    warnings = [NOT_COVERED, "no factor is in it, nor bend of the tube, load beside the axis, threads of rod ends"]
    if slender > LIMIT:
        warnings.insert(0, f"slenderness over {LIMIT:.0f}: AISC 360 E2 advises against such a column")
    return Column(
        critical_load=float(tube_critical_load(diameter, wall, length, yield_, factor, modulus)),
        slenderness=slender,
        yield_load=float(tube_area(diameter, wall) * yield_),
        formula=(
            f"slenderness = K length / radius of gyration, K = {factor}; {rule}; "
            f"the formulas meet at slenderness {meet:.4g}; yield_load = area x yield"
        ),
        source=(
            f"{cite('column-formulas', 'Euler and Johnson')}; "
            f"{cite('aisc-360', 'commentary to appendix 7, effective length')}"
        ),
        trust=Trust.MEMORY,
        warnings=tuple(warnings),
    )
