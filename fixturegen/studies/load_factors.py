"""Factors of the load cases: each with its value, where it comes from, and what it does not cover."""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.findings import Trust
from fixturegen.sheet.specs import Loads
from fixturegen.units import Measure

NOT_COVERED = (
    "forces at rest: not covered are fatigue, the heat-affected zone beside a weld, and impact beyond the factor. "
    "For a part people drive on or stand under, ask someone licensed to judge it"
)
"""Stands beside every load and every strength that hangs on one."""

GRIP = "friction"


@dataclass(frozen=True)
class LoadFactor:
    """One factor of a load case.

    Attributes:
        name: Key in [loads].
        value: The factor [1]; of a force the force itself [N].
        unit: 1, or N.
        source: Source id, or practice.
        words: What it is on and where its usual value comes from.
        not_covered: What it does not cover.
        trust: Assumed where it was left out, practice where the person chose it.
    """

    name: str
    value: float
    unit: str
    source: str
    words: str
    not_covered: str
    trust: Trust


_NO_SOURCE = "common practice, no source"

_KNOWN: dict[str, tuple[str, str, str]] = {
    # key: (source, words, what it does not cover)
    "vertical_factor": (
        "happian-smith",
        "on the weight at full bump: 2.5 to 3 on the road, 4 off it, after Pawlowski and Erz",
        "a landing after a jump, a bump stop that goes solid, fatigue by many smaller bumps",
    ),
    GRIP: (
        "practice",
        f"limit of grip, 0.8 on a road to 1 and more on rock: {_NO_SOURCE}",
        "a tyre that is held by the ground's shape and not by grip",
    ),
    "brake_factor": (
        "practice",
        f"on the brake force at the limit of grip, 2 to 3 for shock: {_NO_SOURCE}",
        "brake hop, one brake that grabs alone, fatigue",
    ),
    "drive_factor": (
        "practice",
        f"on the drive force at the limit of grip, 2 to 3 for shock: {_NO_SOURCE}",
        "wheel hop, a dropped clutch, a bent shaft's side load on the pinion, fatigue",
    ),
    "side_factor": (
        "practice",
        f"on the side force at the limit of grip, 1 for cornering, 2 against a kerb: {_NO_SOURCE}",
        "a kerb or stump struck at speed, a roll-over",
    ),
    "rock_vertical": (
        "practice",
        f"on the weight of one wheel, 2 puts the whole axle on it: {_NO_SOURCE}",
        "falling onto the rock, a wheel driven against it with torque, fatigue",
    ),
    "rock_rearward": (
        "practice",
        f"rearward push over upward push, 1 where a tyre meets an edge 45 deg ahead of the hub: {_NO_SOURCE}",
        "an edge higher than that, or met at speed",
    ),
    "jack_factor": (
        "practice",
        f"on the weight of the axle, 1.5 for a lift that jerks: {_NO_SOURCE}",
        "a truck that slips off the jack; a jack is never a stand",
    ),
    "recovery_factor": (
        "practice",
        f"on the weight of the truck, 1.5 for a steady pull: {_NO_SOURCE}",
        "a strap that jerks, a truck stuck to its frame, a pull to the side",
    ),
    "steering_force": (
        "practice",
        "in the drag link at full effort, as given",
        "a wheel that strikes a rock and drives the steering backward, a ram that is assisted past its rating",
    ),
}


def factor_of(loads: Loads, name: str) -> LoadFactor:
    """A factor of the sheet, with its source and what it does not cover.

    Args:
        loads: The sheet's loads.
        name: Key in [loads].
    """
    value: Measure = getattr(loads, name)
    source, words, not_covered = _KNOWN[name]
    trust = Trust.ASSUMED if value.assumed else Trust.PRACTICE
    unit = "N" if name == "steering_force" else "1"
    return LoadFactor(name, float(value), unit, source, words, not_covered, trust)
