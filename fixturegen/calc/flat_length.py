"""Flat length of a bent strip."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from fixturegen.calc._answer import Answer
from fixturegen.calc._bends import Material, Rule, Rules, setback
from fixturegen.errors import Fault, InputFault
from fixturegen.units import Angle, BadQuantity, Dimension, Length, Plain, parse

_LENGTH = Length("0 in", "400 in")
_RADIUS = Length("0 in", "24 in")
_ANGLE = Angle("1 deg", "180 deg")
_BEND = 'bends as inside radius x angle, parted by commas, like "3/8 in x 90 deg, 3/8 in x 90 deg"'


@dataclass(frozen=True, kw_only=True)
class FlatLength(Answer):
    """Length to cut, and the part of it that lies in the bends."""

    flat_length: Annotated[float, Length("0 in", "800 in")]
    in_bends: Annotated[float, Length("0 in", "400 in")]


def flat_length(
    rule: Rule,
    thickness: Annotated[float, Length("0.01 in", "2 in")],
    lengths: str,
    bends: str,
    measured: Literal["straight", "outside"],
    material: Material = "soft-steel-aluminium",
    k_factor: Annotated[float, Plain("0.1", "0.6")] = 0.41,
) -> FlatLength:
    """Length to cut a strip so that it comes out right after it is bent.

    Args:
        rule: Handbook, din or k-factor.
        thickness: Of the plate, measured [mm].
        lengths: The lengths between and beside the bends, parted by commas.
        bends: Inside radius x angle turned through, parted by commas.
        measured: Straight when the lengths end where the bends begin; outside when they run to the
            corners of the outside faces (bends of 90 deg and less) or the outermost points.
        material: For the handbook's rule only.
        k_factor: For the k-factor rule only: depth of the neutral line over thickness.

    Returns:
        Flat length and the part of it that lies in the bends [mm].

    Formula: straight: flat_length = sum of lengths + sum of allowances; outside: flat_length = sum
        of lengths - sum of deductions; allowance and deduction as in the topic bend.
    Holds: for bends that do not touch each other, of a strip of one thickness.
    Source: machinerys-31, length of bends, p. 1421; din-6935, developed length; geometry, arc at
        the depth of the neutral line.
    Example: --rule handbook --thickness "1/8 in" --lengths "3 1/2 in"
        --bends "3/8 in x 180 deg, 5/8 in x 60 deg" --measured straight
        --material soft-steel-aluminium --k-factor 0.41

    Raises:
        InputFault: When the lists cannot be read or do not belong together.
    """
    sizes, turns = _lists(lengths, bends, measured)
    rules = Rules(rule, material, k_factor)
    in_bends = sum(rules.allowance(thickness, radius, angle) for radius, angle in turns)
    if measured == "outside":
        sides = [setback(thickness, radius, angle) / 2 for radius, angle in turns]
        sizes = [size - before - after for size, before, after in zip(sizes, [0.0, *sides], [*sides, 0.0], strict=True)]
        if min(sizes) < 0:
            remedy = "check whether the lengths are outside sizes, or make the radius smaller"
            raise InputFault(Fault("--lengths", lengths[:60], "sizes that reach past the bends", remedy))
        formula = "flat_length = sum of outside lengths + allowances - 2 (radius + thickness) x tan(angle / 2) each"
    else:
        formula = "flat_length = sum of straight lengths + sum of allowances"
    return FlatLength(
        flat_length=sum(sizes) + in_bends,
        in_bends=in_bends,
        formula=f"{formula}; {rules.formula}",
        source=rules.source,
        trust=rules.trust,
        warnings=rules.warnings(min(radius for radius, _ in turns) / thickness),
        unused=rules.unused,
    )


def _lists(lengths: str, bends: str, measured: str) -> tuple[list[float], list[tuple[float, float]]]:
    """Lengths [mm], and radius [mm] and angle [deg] of each bend.

    Raises:
        InputFault: When the lists cannot be read or do not belong together.
    """
    faults: list[Fault] = []
    sizes = [_one("--lengths", text, _LENGTH, faults) for text in lengths.split(",")]
    turns = []
    for text in bends.split(","):
        radius, sign, angle = text.lower().replace("×", "x").partition("x")
        if sign:
            turns.append((_one("--bends", radius, _RADIUS, faults), _one("--bends", angle, _ANGLE, faults)))
        else:
            faults.append(Fault("--bends", text.strip() or "nothing", _BEND, "write each bend in this form"))
    if not faults and measured == "outside" and len(sizes) != len(turns) + 1:
        given = f"{len(sizes)} lengths and {len(turns)} bends"
        remedy = "give one length more than bends, or the straight lengths with --measured straight"
        faults.append(Fault("--lengths", given, f"{len(turns) + 1} outside lengths", remedy))
    if faults:
        raise InputFault(*faults)
    return sizes, turns


def _one(key: str, text: str, dimension: Dimension, faults: list[Fault]) -> float:
    """One value of a list; nought with a fault when it cannot be read."""
    try:
        return float(parse(text.strip(), dimension))
    except BadQuantity as bad:
        faults.append(Fault(key, bad.given, bad.allowed, bad.remedy))
        return 0.0
