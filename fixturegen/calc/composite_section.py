"""Section of a tube and the truss on it, acting as one."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.calc._columns import tube_area, tube_second_moment
from fixturegen.calc._numbers import NOT_COVERED
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Area, Length, Plain, SecondMoment, SectionModulus, as_text


@dataclass(frozen=True, kw_only=True)
class CompositeSection(Answer):
    """Area, middle and stiffness of tube and truss together, and how much stiffer than the tube alone."""

    area: Annotated[float, Area("0 in^2", "500 in^2")]
    centroid: Annotated[float, Length("0 in", "24 in")]
    second_moment: Annotated[float, SecondMoment("0 in^4", "20000 in^4")]
    modulus_top: Annotated[float, SectionModulus("0 in^3", "2000 in^3")]
    modulus_bottom: Annotated[float, SectionModulus("0 in^3", "2000 in^3")]
    gain: Annotated[float, Plain("1", "1000")]


def composite_section(
    diameter: Annotated[float, Length("1 in", "12 in")],
    wall: Annotated[float, Length("0.05 in", "6 in")],
    plate: Annotated[float, Length("1/16 in", "1 in")],
    spread: Annotated[float, Length("1/4 in", "12 in")],
    height: Annotated[float, Length("1 in", "24 in")],
    top: Annotated[float, Length("0 in", "1 in")],
) -> CompositeSection:
    """Bending section of an axle tube with two side plates and a top plate welded on it.

    Args:
        diameter: Outside diameter of the tube [mm].
        wall: Thickness of its wall [mm].
        plate: Thickness of each side plate [mm].
        spread: Over both side plates, outside to outside; the top plate is as wide [mm].
        height: From the tube's middle to the upper face of the truss [mm].
        top: Thickness of the top plate; 0 without one [mm].

    Returns:
        Area [mm^2], centroid above the tube's middle [mm], second moment [mm^4], section modulus at the
        upper face and at the bottom of the tube [mm^3], second moment over the tube's own.

    Formula: centroid = sum(A z) / sum(A), second_moment = sum(I + A (z - centroid)^2), modulus =
        second_moment / distance to the fibre; a side plate is b h^3 / 12 from the tube up to the top plate.
    Holds: where the plates are welded to the tube so that both bend as one, between openings.
    Source: geometry, parallel axis theorem.
    Example: --diameter "3 1/2 in" --wall "1/4 in" --plate "1/4 in" --spread "3 in" --height "5 in" --top "1/4 in"

    Raises:
        InputFault: When the wall, the spread or the height makes no such section.
    """
    middle = (spread - plate) / 2
    if wall > diameter / 2:
        raise _refusal("--wall", wall, f"up to {_inch(diameter / 2)}", "check which of the two is the wall")
    if spread < 2 * plate or middle >= diameter / 2:
        allowed = f"{_inch(2 * plate)} to {_inch(diameter + plate)}"
        raise _refusal("--spread", spread, allowed, "stand both plates on the tube")
    foot = math.sqrt((diameter / 2) ** 2 - middle**2)
    deep = height - top - foot
    if deep <= 0:
        raise _refusal("--height", height, f"above {_inch(foot + top)}", "measure from the tube's middle")
    alone = float(tube_second_moment(diameter, wall))
    pieces = [
        (float(tube_area(diameter, wall)), 0.0, alone),
        (2 * plate * deep, foot + deep / 2, 2 * plate * deep**3 / 12),
        (spread * top, height - top / 2, spread * top**3 / 12),
    ]
    area = sum(a for a, _, _ in pieces)
    centroid = sum(a * z for a, z, _ in pieces) / area
    second = sum(own + a * (z - centroid) ** 2 for a, z, own in pieces)
    return CompositeSection(
        area=area,
        centroid=centroid,
        second_moment=second,
        modulus_top=second / max(height - centroid, diameter / 2 - centroid),
        modulus_bottom=second / (centroid + diameter / 2),
        gain=second / alone,
        formula=(
            "centroid = sum(A z) / sum(A); second_moment = sum(I + A (z - centroid)^2); modulus = second_moment "
            "/ distance to the fibre; gain = second_moment / that of the tube"
        ),
        source=cite("geometry", "parallel axis theorem"),
        trust=Trust.DERIVED,
        warnings=(
            "stitched welds and lightening openings make the truss softer than this; where it ends the tube is "
            "alone again, and the step is where an axle cracks: taper the ends",
            NOT_COVERED,
        ),
    )


def _refusal(key: str, given: float, allowed: str, remedy: str) -> InputFault:
    return InputFault(Fault(key, _inch(given), allowed, remedy))


def _inch(value: float) -> str:
    return as_text(value, "length", "in")
