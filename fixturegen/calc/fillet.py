"""Strength and size of a fillet weld."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.calc._numbers import NOT_COVERED
from fixturegen.calc._welds import (
    E70,
    LENGTH_IN_LEGS,
    RESISTANCE,
    SAFETY,
    fillet_strength,
    largest_fillet,
    long_weld,
    smallest_fillet,
)
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import weakest
from fixturegen.sources import cite, source
from fixturegen.units import Angle, Force, Length, Stress, as_text

_CYCLIC = 3 / 16 * 25.4
"""mm; smallest leg where the load comes and goes (AWS D1.1)."""

_ROUND = 1e-6
"""mm; a leg written in sixteenths and a limit worked out agree to rounding."""


@dataclass(frozen=True, kw_only=True)
class Fillet(Answer):
    """What the weld carries, and between which legs it may be."""

    allowable: Annotated[float, Force("0 lbf", "100000000 lbf")]
    design_strength: Annotated[float, Force("0 lbf", "100000000 lbf")]
    nominal: Annotated[float, Force("0 lbf", "100000000 lbf")]
    minimum_size: Annotated[float, Length("0 in", "2 in")]
    maximum_size: Annotated[float, Length("0 in", "12 in")]


def fillet(
    leg: Annotated[float, Length("1/16 in", "1 1/2 in")],
    length: Annotated[float, Length("1/4 in", "200 in")],
    thickness: Annotated[float, Length("1/16 in", "6 in")],
    angle: Annotated[float, Angle("0 deg", "90 deg")] = 0.0,
    filler: Annotated[float, Stress("60 ksi", "120 ksi")] = E70,
) -> Fillet:
    """Load that a fillet weld carries, and the smallest and largest leg on this plate.

    Args:
        leg: Of the weld, both legs alike [mm].
        length: Effective length, without starts and craters [mm].
        thickness: Of the thinner part with wire, TIG or low-hydrogen rod; of the thicker with any
            other rod [mm].
        angle: Between load and weld: 0 along it, 90 across it [deg].
        filler: Tensile strength of the weld metal; 70 ksi for the usual wire and rod [MPa].

    Returns:
        Allowable load, design strength for factored loads, nominal strength [N]; smallest leg on
        that plate and largest leg along its edge [mm].

    Formula: nominal = 0.6 filler (1 + 0.5 sin^1.5 angle) x 0.7071 leg x length; allowable =
        nominal / 2; design_strength = 0.75 nominal; a length over 100 legs counts less.
    Holds: for sound welds on steel that the filler matches, loaded without eccentricity.
    Source: aisc-360, J2.2b and J2.4; aws-d1.1, table 7.7.
    Example: --leg "1/4 in" --length "8 in" --thickness "1/4 in" --angle "0 deg" --filler "70 ksi"

    Raises:
        InputFault: When the leg is smaller than the plate asks for, or the weld shorter than four legs.
    """
    row = smallest_fillet(thickness)
    largest = largest_fillet(thickness)
    faults = []
    if leg < row.leg - _ROUND:
        allowed = f"{row.leg.text} or more on {as_text(thickness, 'length', 'in')} plate"
        faults.append(
            Fault("--leg", as_text(leg, "length", "in"), allowed, "a smaller weld cools too fast: make it larger")
        )
    if length < LENGTH_IN_LEGS * leg - _ROUND:
        allowed = f"4 legs or more, {as_text(LENGTH_IN_LEGS * leg, 'length', 'in')}"
        remedy = "make it longer, or give the leg that a quarter of the length counts for"
        faults.append(Fault("--length", as_text(length, "length", "in"), allowed, remedy))
    if faults:
        raise InputFault(*faults)
    nominal = float(fillet_strength(leg, length, angle, filler))
    warnings = [
        "base metal beside the weld is not checked here: its shear, 0.6 of its tensile strength x thickness x "
        "length, may give out first on thin plate",
        NOT_COVERED,
    ]
    if leg < _CYCLIC - _ROUND:
        warnings.insert(0, "3/16 in is the least where the load comes and goes, as on every bracket of an axle")
    if leg > largest + _ROUND:
        warnings.insert(0, f"too large along an edge of this plate: {as_text(largest, 'length', 'in')} at most there")
    if angle:
        warnings.insert(0, "welds at different angles of one group share a load: do not add their strengths")
    if float(long_weld(leg, length)) < 1:
        warnings.insert(0, "longer than 100 legs: its length is counted less, as for a weld loaded at its end")
    return Fillet(
        allowable=nominal / SAFETY,
        design_strength=RESISTANCE * nominal,
        nominal=nominal,
        minimum_size=float(row.leg),
        maximum_size=largest,
        formula=(
            "nominal = 0.6 filler (1 + 0.5 sin^1.5 angle) x 0.7071 leg x length; allowable = nominal / 2; "
            f"design_strength = 0.75 nominal; minimum_size from the table, plate to {row.thickness_to.text}"
        ),
        source=f"{cite('aisc-360', 'J2.2b and J2.4')}; {cite(row.source)}",
        trust=weakest(row.trust, source("aisc-360").trust),
        warnings=tuple(warnings),
    )
