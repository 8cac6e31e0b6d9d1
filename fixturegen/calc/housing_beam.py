"""Bending of a housing that is stiffer in the middle, under a truss."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.calc._columns import STEEL_MODULUS, tube_second_moment
from fixturegen.calc._numbers import NOT_COVERED
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Force, Length, SecondMoment, Stress, Torque, as_text


@dataclass(frozen=True, kw_only=True)
class HousingBeam(Answer):
    """Moment and stress, slope and deflection at the wheels, without and with the truss."""

    moment: Annotated[float, Torque("0 ft-lb", "10000000 ft-lb")]
    stress_bare: Annotated[float, Stress("0 ksi", "10000 ksi")]
    stress_at_end: Annotated[float, Stress("0 ksi", "10000 ksi")]
    slope_bare: Annotated[float, Angle("0 deg", "10 deg")]
    slope_truss: Annotated[float, Angle("0 deg", "10 deg")]
    deflection_bare: Annotated[float, Length("0 in", "20 in")]
    deflection_truss: Annotated[float, Length("0 in", "20 in")]


def housing_beam(
    diameter: Annotated[float, Length("1 in", "12 in")],
    wall: Annotated[float, Length("0.05 in", "6 in")],
    load: Annotated[float, Force("1 lbf", "100000 lbf")],
    overhang: Annotated[float, Length("1/4 in", "60 in")],
    spacing: Annotated[float, Length("1 in", "120 in")],
    truss_length: Annotated[float, Length("1 in", "120 in")],
    truss_second_moment: Annotated[float, SecondMoment("0.01 in^4", "20000 in^4")],
    modulus: Annotated[float, Stress("1000 ksi", "40000 ksi")] = STEEL_MODULUS,
) -> HousingBeam:
    """Bending of an axle tube without and with a truss over its middle, an equal load beyond each spring.

    Args:
        diameter: Outside diameter of the tube [mm].
        wall: Thickness of the wall [mm].
        load: On each wheel [N].
        overhang: From spring pad to the line of the wheel load [mm].
        spacing: Between the spring pads [mm].
        truss_length: Of the truss from end to end, as far to the left as to the right [mm].
        truss_second_moment: Of tube and truss together, as `composite-section` gives it [mm^4].
        modulus: Of elasticity; 29 000 ksi for steel [MPa].

    Returns:
        Moment between the pads [N*mm]; stress of the tube there without a truss, and of the bare tube
        just beyond the truss's end [MPa]; slope at each end, which is camber a side [deg], and movement
        of each end against the pads [mm], without and with the truss.

    Formula: curvature = M / (E I), M = W a between the pads and W (distance to the load) beyond; slope =
        sum of curvature from the middle out, deflection = sum of slope from pad to load; stress = M (D / 2) / I.
    Holds: for small slopes, a truss that is one with the tube over its whole length, the centre section no
        stiffer than the truss.
    Source: machinerys-27, p. 264, beam with two overhangs and equal end loads; geometry, moment-area theorem.
    Example: --diameter "3 1/2 in" --wall "1/4 in" --load "3000 lbf" --overhang "12 in" --spacing "36 in"
        --truss-length "44 in" --truss-second-moment "14 in^4" --modulus "30000 ksi"

    Raises:
        InputFault: When the wall, the truss's length or its second moment fits no such axle.
    """
    if wall > diameter / 2:
        given, allowed = as_text(wall, "length", "in"), f"up to {as_text(diameter / 2, 'length', 'in')}"
        raise InputFault(Fault("--wall", given, allowed, "check which of the two is the wall"))
    end = spacing / 2 + overhang
    reach = truss_length / 2
    if reach > end:
        given, allowed = as_text(truss_length, "length", "in"), f"up to {as_text(2 * end, 'length', 'in')}"
        raise InputFault(Fault("--truss-length", given, allowed, "it ends before the wheel load's line"))
    bare = float(tube_second_moment(diameter, wall))
    if truss_second_moment < bare:
        given, allowed = f"{truss_second_moment:.6g} mm^4", f"at least the tube's own, {bare:.6g} mm^4"
        raise InputFault(Fault("--truss-second-moment", given, allowed, "give that of tube and truss together"))
    whole, covered = (modulus * i for i in (bare, truss_second_moment))
    slope_bare, deflection_bare = _bent(load, overhang, spacing, reach, (whole, whole))
    slope_truss, deflection_truss = _bent(load, overhang, spacing, reach, (covered, whole))
    moment = load * overhang
    return HousingBeam(
        moment=moment,
        stress_bare=moment * diameter / 2 / bare,
        stress_at_end=load * min(overhang, end - reach) * diameter / 2 / bare,
        slope_bare=math.degrees(slope_bare),
        slope_truss=math.degrees(slope_truss),
        deflection_bare=deflection_bare,
        deflection_truss=deflection_truss,
        formula=(
            "M = W a between the pads, W (distance to the load) beyond; slope = sum of M / (E I) from the middle "
            "out; deflection = sum of slope from pad to load; stress = M (D / 2) / I"
        ),
        source=(
            f"{cite('machinerys-27', 'p. 264, beam with two overhangs and equal end loads')}; "
            f"{cite('geometry', 'moment-area theorem')}"
        ),
        trust=Trust.SECONDARY_COPY,
        warnings=(
            "W is the static load: on the road 2.5 to 3 times, off it 4 times is what a text book asks of a live "
            "axle (Pawlowski and Erz, quoted in Happian-Smith)",
            "the stress beyond the truss's end is the smooth tube's: the end of a weld raises it, so taper the "
            "truss and stop short of the knuckle's weld",
            NOT_COVERED,
        ),
    )


def _bent(
    load: float, overhang: float, spacing: float, reach: float, stiffness: tuple[float, float]
) -> tuple[float, float]:
    """Slope at the end [rad] and its movement against the pad [mm]; stiffness [N*mm^2] within and beyond the truss."""
    pad, end = spacing / 2, spacing / 2 + overhang

    def moment(x: float) -> float:
        return load * min(overhang, end - x)

    slope = at_end = at_pad = 0.0
    for x0, x1 in pairwise(sorted({0.0, pad, min(reach, end), end})):
        half, rigid = (x0 + x1) / 2, stiffness[0 if x1 <= reach else 1]
        # Simpson's rule is exact for what is at most a parabola
        for x, share in ((x0, 1 / 6), (half, 4 / 6), (x1, 1 / 6)):
            part = share * (x1 - x0) * moment(x) / rigid
            slope += part
            at_end += part * (end - x)
            at_pad += part * max(0.0, pad - x) if x1 <= pad else 0.0
    return slope, at_end - at_pad
