"""Caster to set on the bench."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle


@dataclass(frozen=True, kw_only=True)
class BenchCaster(Answer):
    """Caster of the knuckle while the pinion is level."""

    bench_caster: Annotated[float, Angle("-40 deg", "50 deg")]


def bench_caster(
    caster: Annotated[float, Angle("-10 deg", "20 deg")],
    pinion: Annotated[float, Angle("-15 deg", "30 deg")],
    axle: Literal["front", "rear"],
) -> BenchCaster:
    """Caster to set on the bench, pinion level, for a caster wanted in the vehicle.

    Raising the nose turns the whole housing about the axle line. A front pinion points to the rear
    of the vehicle, so raising it tips the top of the knuckle forward and takes caster away. A
    rear pinion points to the front, so raising it tips the top rearward and adds caster. Angles in
    the side view add exactly.

    Args:
        caster: Caster wanted in the vehicle, top to the rear positive [deg].
        pinion: Pinion angle at ride height, nose above level positive [deg].
        axle: Front or rear axle of the vehicle.

    Returns:
        Caster on the bench [deg].

    Formula: front: bench_caster = caster + pinion; rear: bench_caster = caster - pinion.
    Holds: for a rigid axle, both angles taken in the side view of the vehicle.
    Source: iso-8855, castor angle; geometry, rotation about the axle line.
    Example: --caster "7 deg" --pinion "10 deg" --axle front
    """
    warnings: tuple[str, ...] = (
        "with the face set vertical, take the measured face angle off for the angle from the face (front axle)",
    )
    if axle == "front":
        angle, formula = caster + pinion, "bench_caster = caster + pinion"
    else:
        angle, formula = caster - pinion, "bench_caster = caster - pinion"
        warnings = ("a rear axle has caster only where it steers: check that this is meant",)
    return BenchCaster(
        bench_caster=float(angle),
        formula=f"{formula} ({axle} axle)",
        source=f"{cite('iso-8855', 'castor angle')}; {cite('geometry')}",
        trust=Trust.DERIVED,
        warnings=warnings,
    )
