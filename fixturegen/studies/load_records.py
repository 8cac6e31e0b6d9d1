"""What a load case is: forces and torques on the axle from outside, the factors in them, the weights behind them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fixturegen.axle.linkage import Stance
from fixturegen.axle.model import Point
from fixturegen.findings import Trust, weakest
from fixturegen.studies.load_factors import NOT_COVERED, LoadFactor

GRAVITY = 9.80665
"""N/kg; standard acceleration of free fall, exact by definition (ISO 80000-3)."""
MIDDLE: Point = (0.0, 0.0, 0.0)
"""Of the axle, in A."""


@dataclass(frozen=True)
class Push:
    """One force from outside on the axle.

    Attributes:
        what: tyre-left, jack ...
        at: A point fixed on the axle, in A [mm].
        force: In V [N].
        below: From that point to where the force acts, in V whatever the axle's turn [mm].
    """

    what: str
    at: Point
    force: Point
    below: Point = MIDDLE


@dataclass(frozen=True)
class Couple:
    """One torque from outside on the axle.

    Attributes:
        what: pinion, scrub-left ...
        moment: In `frame` [N*mm].
        frame: V, or A where it turns with the axle.
    """

    what: str
    moment: Point
    frame: Literal["A", "V"] = "V"


@dataclass(frozen=True)
class LoadCase:
    """Everything that pushes on the axle at once.

    Attributes:
        name: static, bump, brake, drive, side-left ...
        words: What happens, for the person at the bench.
        pushes: Forces.
        couples: Torques.
        factors: Factors in them, with what each does not cover.
        heave: Pose: the axle above ride height [mm].
        pose: Its id.
    """

    name: str
    words: str
    pushes: tuple[Push, ...]
    couples: tuple[Couple, ...] = ()
    factors: tuple[LoadFactor, ...] = ()
    heave: float = 0.0
    pose: str = "ride"

    @property
    def trust(self) -> Trust:
        """The weakest among its factors."""
        return weakest(Trust.DERIVED, *(f.trust for f in self.factors))

    @property
    def not_covered(self) -> str:
        """What the case says nothing about, that of its factors with it."""
        own = [f.not_covered for f in self.factors if f.not_covered]
        return "; ".join([*own, NOT_COVERED])


@dataclass(frozen=True)
class Weights:
    """What stands on the ground, and how.

    Attributes:
        axle: On both tyres of this axle [N].
        truck: The whole truck [N].
        unsprung: Of axle, wheels and brakes [N].
        friction: Limit of grip [1].
        height: Centre of gravity above the ground [mm].
        stance: How the axle stands.
    """

    axle: float
    truck: float
    unsprung: float
    friction: float
    height: float
    stance: Stance

    @property
    def pressed(self) -> float:
        """Weight on this axle while the truck brakes or pulls at the limit of grip toward it [N].

        Source: statics, moments about the other axle's contact points: friction x truck x height /
        wheelbase goes from one axle to the other.
        """
        moved = self.friction * self.truck * self.height / self.stance.wheelbase
        return min(self.axle + moved, max(self.truck, self.axle))

    @property
    def outer(self) -> float:
        """Weight on the outer wheel while the axle slides sideways at the limit of grip [N].

        Source: statics, moments about the middle of the track: friction x weight x height / track goes
        from one wheel to the other until all is on one.
        """
        track = 2.0 * self.stance.half_track
        return min(self.axle * (0.5 + self.friction * self.height / track), self.axle)
