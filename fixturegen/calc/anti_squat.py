"""Anti-squat in the side view."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Length, Plain, as_text

PARALLEL = 1e-12
"""Difference of slopes below which two links have no point in common."""


@dataclass(frozen=True, kw_only=True)
class AntiSquat(Answer):
    """Anti-squat, and the slope of the line the drive force works along."""

    anti_squat_percent: Annotated[float, Plain("-1000", "1000")]
    force_line: Annotated[float, Angle("-85 deg", "85 deg")]


def anti_squat(
    lower_axle_height: Annotated[float, Length("0 in", "100 in")],
    lower_frame_height: Annotated[float, Length("0 in", "100 in")],
    lower_length: Annotated[float, Length("4 in", "120 in")],
    upper_axle_height: Annotated[float, Length("0 in", "100 in")],
    upper_frame_height: Annotated[float, Length("0 in", "100 in")],
    upper_length: Annotated[float, Length("4 in", "120 in")],
    wheelbase: Annotated[float, Length("20 in", "400 in")],
    gravity_height: Annotated[float, Length("1 in", "100 in")],
    lower_ahead: Annotated[float, Length("-40 in", "40 in")] = 0.0,
    upper_ahead: Annotated[float, Length("-40 in", "40 in")] = 0.0,
) -> AntiSquat:
    """Anti-squat of a driven rear axle on links, in the plane of the side view.

    The lower and the upper link, drawn on, meet in the instant centre. The line from the contact
    patch to it is the one the drive force works along. Parallel links have no instant centre: the
    line runs parallel to them.

    Args:
        lower_axle_height: Of the lower link's joint at the axle, above ground [mm].
        lower_frame_height: Of the lower link's joint at the frame, above ground [mm].
        lower_length: Of the lower link, level, from joint to joint in the side view [mm].
        upper_axle_height: Of the upper link's joint at the axle, above ground [mm].
        upper_frame_height: Of the upper link's joint at the frame, above ground [mm].
        upper_length: Of the upper link, level, from joint to joint in the side view [mm].
        wheelbase: Between the axle lines [mm].
        gravity_height: Of the centre of gravity of the sprung mass, above ground [mm].
        lower_ahead: Of the lower joint at the axle ahead of the axle line [mm].
        upper_ahead: Of the upper joint at the axle ahead of the axle line [mm].

    Returns:
        Anti-squat in percent, and the slope of the force line, climbing forward positive [deg].

    Formula: anti_squat_percent = 100 (e / d) / (h / L), e height and d distance ahead of the contact
        patch of the instant centre, h gravity_height, L wheelbase; force_line = atan(e / d).
    Holds: for links that lie in planes fore and aft; splayed links need the solution in space.
    Source: gillespie, chapter 7; geometry, crossing of two lines.
    Example: --lower-axle-height "16 in" --lower-frame-height "22 in" --lower-length "40 in"
        --upper-axle-height "28 in" --upper-frame-height "29 in" --upper-length "28 in"
        --wheelbase "110 in" --gravity-height "32 in" --lower-ahead "0 in" --upper-ahead "2 in"

    Raises:
        InputFault: When the instant centre stands straight above the contact patch, or the links
            lie on one line.
    """
    lower = (lower_frame_height - lower_axle_height) / lower_length
    upper = (upper_frame_height - upper_axle_height) / upper_length
    # heights of the two lines above the contact patch
    low, up = lower_axle_height - lower * lower_ahead, upper_axle_height - upper * upper_ahead
    if abs(up - low) <= PARALLEL * (abs(up) + abs(low)):
        remedy = "measure both links again: the instant centre is at the axle line"
        raise InputFault(Fault("anti-squat", "links that cross above the contact patch", "links apart there", remedy))
    if abs(lower - upper) <= PARALLEL:
        slope, where = lower, "the links are parallel: no instant centre, the force line runs parallel to them"
    else:
        ahead = (up - low) / (lower - upper)
        height = low + lower * ahead
        slope = height / ahead
        where = (
            f"the instant centre stands {as_text(ahead, 'length', 'in', 3)} ahead of the contact patch and "
            f"{as_text(height, 'length', 'in', 3)} high"
        )
    return AntiSquat(
        anti_squat_percent=100 * slope * wheelbase / gravity_height,
        force_line=math.degrees(math.atan(slope)),
        formula="anti_squat_percent = 100 (e / d) / (gravity_height / wheelbase); force_line = atan(e / d)",
        source=f"{cite('gillespie')}; {cite('geometry', 'crossing of two lines')}",
        trust=Trust.MEMORY,
        warnings=(where, "side view only: splayed links and a track bar need the solution in space"),
    )
