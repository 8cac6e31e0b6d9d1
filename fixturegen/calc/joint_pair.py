"""Two cross joints in a row."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Literal

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Plain, TurningSpeed

LIMIT = 400.0
"""rad/s^2; angular acceleration of the output the manual allows."""

STEEPEST = 45.0
"""deg; no larger angle is answered: the joint itself ends before it."""

RAD_PER_S = math.pi / 30
"""Of one rpm."""


@dataclass(frozen=True, kw_only=True)
class JointPair(Answer):
    """Unevenness that is left, and the largest second angle."""

    equivalent_angle: Annotated[float, Angle("0 deg", "75 deg")]
    fluctuation: Annotated[float, Plain("0", "10")]
    allowed_angle_2: Annotated[float, Angle("0 deg", "45 deg")]


def joint_pair(
    angle_1: Annotated[float, Angle("0 deg", "45 deg")],
    angle_2: Annotated[float, Angle("0 deg", "45 deg")],
    speed: Annotated[float, TurningSpeed("10 rpm", "10000 rpm")],
    yokes: Literal["in-line", "crossed"] = "in-line",
) -> JointPair:
    """Unevenness left by two cross joints, and the second angle the speed allows.

    With the two yokes of the shaft between in line, the second joint takes out what the first puts
    in; with crossed yokes it adds to it. A single joint is a pair whose second angle is nought.

    Args:
        angle_1: True angle of the first joint [deg].
        angle_2: True angle of the second joint, in the same plane [deg].
        speed: Of the shaft [rpm].
        yokes: In-line or crossed: the yokes at the two ends of the shaft between.

    Returns:
        Equivalent angle, that of the one joint with the same unevenness [deg]; fluctuation,
        fastest less slowest over the mean; allowed angle of joint 2 for joint 1 as given, at which
        the output's acceleration reaches 400 rad/s^2 [deg].

    Formula: equivalent_angle^2 = |angle_1^2 - angle_2^2|, + for crossed yokes; fluctuation =
        tan(equivalent_angle) x sin(equivalent_angle); allowed_angle_2^2 = b0^2 + angle_1^2, for
        crossed yokes b0^2 - angle_1^2, b0 = sqrt(400 rad/s^2) / speed, never over 45 deg.
    Holds: for both joints in one plane; the squares are close for the angles of drive shafts.
    Source: sae-ae-7, section 3.1.1; geometry, speed ratio of a cross joint.
    Example: --angle-1 "3 deg" --angle-2 "4 deg" --speed "1500 rpm" --yokes in-line
    """
    sign = 1 if yokes == "crossed" else -1
    equivalent = math.sqrt(abs(angle_1**2 + sign * angle_2**2))
    turn = math.radians(equivalent)
    omega = speed * RAD_PER_S
    alone = math.degrees(math.sqrt(LIMIT) / omega)
    allowed = math.sqrt(max(0.0, alone**2 - sign * angle_1**2))
    middle = (omega * math.radians(max(angle_1, angle_2))) ** 2
    warnings = [
        f"the shaft between speeds up and slows down by {middle:.0f} rad/s^2 with the larger angle: its inertia "
        "sets a second limit, not judged here",
        "common practice, no source: two working angles within 1 deg of each other, each 1 to 3 deg on the road",
    ]
    if yokes == "in-line" and alone < angle_1:
        warnings.append(f"angle 2 also needs {math.sqrt(angle_1**2 - alone**2):.1f} deg at least: too little cancels")
    if equivalent > alone:
        warnings.append(f"the equivalent angle is over the {alone:.1f} deg allowed at this speed")
    if allowed > STEEPEST:
        warnings.append("the speed would allow more than 45 deg: the joint's own limit rules")
    return JointPair(
        equivalent_angle=equivalent,
        fluctuation=math.tan(turn) * math.sin(turn),
        allowed_angle_2=min(allowed, STEEPEST),
        formula=(
            f"equivalent_angle^2 = |angle_1^2 {'+' if sign > 0 else '-'} angle_2^2|; fluctuation = tan x sin of it; "
            f"allowed_angle_2^2 = b0^2 {'-' if sign > 0 else '+'} angle_1^2, b0 = sqrt(400 rad/s^2) / speed"
        ),
        source=f"{cite('sae-ae-7')}; {cite('geometry', 'speed ratio of a cross joint')}",
        trust=Trust.DERIVED,
        warnings=tuple(warnings),
    )
