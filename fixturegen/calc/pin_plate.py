"""Strength of a plate around a pin."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Literal

from fixturegen.calc._answer import Answer, Columns
from fixturegen.calc._numbers import NOT_COVERED
from fixturegen.calc._pins import AISC_SAFETY, aisc_plate, bth_plate
from fixturegen.errors import Fault, InputFault
from fixturegen.sources import cite, source
from fixturegen.units import Area, Force, Length, Plain, Stress, as_text

_ROOM = 25.4 / 32
"""mm; the hole may be this much over the pin (AISC 360 D5.2)."""

_ROUND = 1e-6
"""mm; sizes in inches and limits worked out agree to rounding."""


@dataclass(frozen=True, kw_only=True)
class PinPlate(Answer):
    """Load at each way of failing, and the smallest allowable one."""

    allowable: Annotated[float, Force("0 lbf", "100000000 lbf")]
    tension: Annotated[float, Force("0 lbf", "100000000 lbf")]
    shear: Annotated[float, Force("0 lbf", "100000000 lbf")]
    bearing: Annotated[float, Force("0 lbf", "100000000 lbf")]
    yielding: Annotated[float, Force("0 lbf", "100000000 lbf")]
    effective_width: Annotated[float, Length("0 in", "100 in")]
    shear_area: Annotated[float, Area("0 in^2", "1000 in^2")]
    ways: Annotated[
        tuple[tuple[str, float, float, float], ...],
        Columns((("way", ""), ("load", "N"), ("factor", "1"), ("allowable", "N"))),
    ]


def pin_plate(
    code: Literal["aisc", "bth"],
    thickness: Annotated[float, Length("0.05 in", "4 in")],
    width: Annotated[float, Length("1/4 in", "60 in")],
    hole: Annotated[float, Length("1/8 in", "12 in")],
    pin: Annotated[float, Length("1/8 in", "12 in")],
    edge: Annotated[float, Length("1/16 in", "40 in")],
    yield_: Annotated[float, Stress("10 ksi", "200 ksi")],
    tensile: Annotated[float, Stress("10 ksi", "250 ksi")],
    design_factor: Annotated[float, Plain("2", "20")] = 3.0,
    end_radius: Annotated[float, Length("0 in", "60 in")] = 0.0,
) -> PinPlate:
    """Loads at which a plate gives out around a pin, each way, and the smallest allowable one.

    Args:
        code: Aisc for a member of a structure, bth for a lifting device.
        thickness: Of the plate [mm].
        width: Of the plate across the load, the hole in its middle [mm].
        hole: Diameter of the hole [mm].
        pin: Diameter of the pin [mm].
        edge: From the edge of the hole to the end of the plate, along the load [mm].
        yield_: Yield strength of the plate [MPa].
        tensile: Tensile strength of the plate [MPa].
        design_factor: For bth only: 2 for predictable loads, 3 otherwise.
        end_radius: For bth only: of a round end; 0 when the end is straight [mm].

    Returns:
        The smallest allowable load [N]; tension beside the hole, shear beyond it, bearing and
        yielding of the whole width, nominal for aisc and allowable for bth [N]; effective width
        each side [mm], area of the shear planes [mm^2], and every way of failing as a table.

    Formula: aisc: be = min(2 t + 0.63 in, beside), tension = Fu 2 t be, shear = 0.6 Fu 2 t (a +
        d / 2), bearing = 1.8 Fy d t, yielding = Fy w t, allowable = the smallest of tension / 2,
        shear / 2, bearing / 2, yielding / 1.67; bth: tension = Cr Fu / (1.2 Nd) 2 t be, splitting =
        Cr Fu / (1.2 Nd) (1.13 a + 0.92 b / (1 + b / Dh)) t, shear = 0.7 Fu / (1.2 Nd) Av, bearing =
        1.25 Fy / Nd Dp t, yielding = Fy w t / Nd.
    Holds: for a load in the plane of the plate, towards its end, the hole in the middle of the width.
    Source: aisc-360, D5 and J7; asme-bth-1, section 3-3.3.
    Example: --code aisc --thickness "1/2 in" --width "4 1/4 in" --hole "1.03 in" --pin "1 in"
        --edge "2 1/4 in" --yield "36 ksi" --tensile "58 ksi" --design-factor 3 --end-radius "0 in"

    Raises:
        InputFault: When the sizes cannot be one plate with a pin in its hole.
    """
    _possible(width, hole, pin, yield_, tensile, end_radius if code == "bth" else 0.0)
    warnings = [NOT_COVERED, "pin, weld and the plate out of its plane are not in it"]
    if code == "aisc":
        plate = aisc_plate(thickness, width, hole, pin, edge, yield_, tensile)
        loads = {name: float(getattr(plate, name)) for name in AISC_SAFETY}
        factors = dict(AISC_SAFETY)
        effective, area = float(plate.effective_width), 2 * thickness * (edge + pin / 2)
        warnings += _aisc_limits(effective, width, hole, pin, edge)
        formula = (
            "be = min(2 t + 0.63 in, beside); tension = Fu 2 t be; shear = 0.6 Fu 2 t (a + d / 2); "
            "bearing = 1.8 Fy d t; yielding = Fy w t; allowable = the smallest of tension / 2, shear / 2, "
            "bearing / 2, yielding / 1.67"
        )
        cited = ("aisc-360", "D5 and J7")
    else:
        radius = end_radius or math.inf
        lug = bth_plate(thickness, width, hole, pin, edge, yield_, tensile, design_factor, radius)
        ways = ("tension", "shear", "bearing", "splitting")
        loads = {name: float(getattr(lug, name)) for name in ways}
        loads["yielding"] = yield_ * width * thickness / design_factor
        factors = dict.fromkeys(loads, 1.0)
        effective, area = float(lug.effective_width), float(lug.shear_area)
        formula = (
            "tension = Cr Fu / (1.2 Nd) 2 t be; splitting = Cr Fu / (1.2 Nd) (1.13 a + 0.92 b / (1 + b / Dh)) t; "
            "shear = 0.7 Fu / (1.2 Nd) Av; bearing = 1.25 Fy / Nd Dp t; yielding = Fy w t / Nd; "
            "Cr = 1 - 0.275 sqrt(1 - (Dp / Dh)^2); be = min(4 t, b, 0.6 b Fu / Fy sqrt(Dh / b)); "
            "Av = 2 t (a + Dp / 2 (1 - cos(55 deg Dp / Dh)) - loss at a round end)"
        )
        cited = ("asme-bth-1", "section 3-3.3")
        warnings.append(
            f"the design factor of {design_factor:g} is in every load; a lifting device needs a licensed designer"
        )
    rows = tuple((name, load, factors[name], load / factors[name]) for name, load in loads.items())
    least = min(rows, key=lambda row: row[3])
    return PinPlate(
        allowable=least[3],
        tension=loads["tension"],
        shear=loads["shear"],
        bearing=loads["bearing"],
        yielding=loads["yielding"],
        effective_width=effective,
        shear_area=area,
        ways=rows,
        formula=formula,
        source=cite(*cited),
        trust=source(cited[0]).trust,
        warnings=(f"{least[0]} governs", *warnings),
        unused=("design-factor", "end-radius") if code == "aisc" else (),
    )


def _possible(width: float, hole: float, pin: float, yield_: float, tensile: float, end_radius: float) -> None:
    """Refuse sizes that cannot be one plate with a pin in its hole.

    Raises:
        InputFault: With every size that is wrong.
    """
    faults = []
    if hole >= width - _ROUND:
        allowed = f"less than the width, {as_text(width, 'length', 'in')}"
        faults.append(Fault("--hole", as_text(hole, "length", "in"), allowed, "no plate is left beside the hole"))
    if pin > hole + _ROUND:
        allowed = f"up to the hole, {as_text(hole, 'length', 'in')}"
        faults.append(Fault("--pin", as_text(pin, "length", "in"), allowed, "check which of the two is the hole"))
    if yield_ > tensile:
        allowed = f"up to the tensile strength, {as_text(tensile, 'stress', 'ksi')}"
        faults.append(Fault("--yield", as_text(yield_, "stress", "ksi"), allowed, "check which of the two is which"))
    if 0 < end_radius < pin / 2:
        allowed = f"0 for a straight end, or half the pin and more, {as_text(pin / 2, 'length', 'in')}"
        remedy = "measure from the middle of the round to its edge"
        faults.append(Fault("--end-radius", as_text(end_radius, "length", "in"), allowed, remedy))
    if faults:
        raise InputFault(*faults)


def _aisc_limits(effective: float, width: float, hole: float, pin: float, edge: float) -> list[str]:
    """What AISC 360 D5.2 asks of the sizes and these do not keep, in words."""
    said = []
    if edge < 1.33 * effective - _ROUND:
        least = as_text(1.33 * effective, "length", "in")
        said.append(f"AISC 360 D5.2 asks for an edge of 1.33 be, {least}, or more: the answer is outside the code")
    if width < 2 * effective + pin - _ROUND:
        least = as_text(2 * effective + pin, "length", "in")
        said.append(f"AISC 360 D5.2 asks for a width of 2 be + pin, {least}, or more: the answer is outside the code")
    if hole > pin + _ROOM + _ROUND:
        said.append("AISC 360 D5.2 asks for a hole at most 1/32 in over the pin: the answer is outside the code")
    return said
