"""Quantities at the ends of what an axle does: from lock to lock, the rolling tie rod, hoses, the tyres' places."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.papers.link_words import GEOMETRY, ISO, Quantity, Read, Steered
from fixturegen.studies.link_lock import Turned
from fixturegen.studies.link_metrics import wheel_centres
from fixturegen.studies.link_records import LinkStudy, Travel
from fixturegen.studies.link_stops import HOLDERS

ROLLING = "geometry, wheels that roll about one point"


def _nowhere(_: LinkStudy, __: Travel) -> Array | None:
    """Of what is told from lock to lock alone."""
    return None


def steered(studies: Sequence[LinkStudy]) -> list[Quantity]:
    """What is drawn from full right to full left lock, at ride height; a limit is drawn where all share it."""
    stop, limit = _shared([s.box_stop for s in studies]), _shared([s.shaft_limit for s in studies])
    found = studies[0].turned
    if stop is not None and found is not None and found.pitman is not None:
        swing = found.pitman[np.isfinite(found.pitman)]
        stop *= -1.0 if swing.size and abs(swing.min()) > swing.max() else 1.0  # on the side that needs more

    def outer(found: Turned) -> Array | None:
        return np.abs(found.outer) - np.abs(found.wanted)

    return [
        Quantity(
            "outer_wheel",
            "Outer wheel, less what rolling wants",
            "deg",
            _nowhere,
            "the outer wheel turned farther than the angle at which both wheels roll about one point",
            "",
            "",
            ROLLING,
            shown=(0.0,),
            lock_climb="the farther the wheels are steered to the left, the more the outer wheel turns beyond rolling, "
            "so that both scrub; below zero it turns too little. Left and right are alike",
            steered=_of(outer),
        ),
        Quantity(
            "shaft_at_lock",
            "Axle-shaft joint of the left wheel",
            "deg",
            _nowhere,
            "joint bent more, with caster and inclination",
            "",
            "",
            "geometry, axle line against the turned spindle",
            None if limit is None else (limit, "limit of the joint"),
            shown=(0.0,) if limit is None else (0.0, limit),
            lock_climb="steering to the left bends the left joint more; right of the middle its wheel is on the inside "
            "of the bend and turns farther. The right joint is its mirror image",
            steered=_of(lambda found: found.shafts[:, 0]),
        ),
        Quantity(
            "pitman",
            "Swing of the pitman arm",
            "deg",
            _nowhere,
            "pitman arm swung to the side of a left turn",
            "",
            "",
            "geometry, the drag link keeps its length",
            None if stop is None else (stop, "the box's own stop, either way"),
            shown=() if stop is None else (stop,),
            lock_climb="the arm swings on as the wheels are steered to the left; where the line is steep the box needs "
            "more of its travel for each degree of the wheel, and unlike ends come from the arms' angles",
            steered=_of(lambda found: found.pitman),
        ),
    ]


def _shared(limits: Sequence[float | None]) -> float | None:
    """The one limit of all geometries; None where they differ or one has none."""
    return limits[0] if len(set(limits)) == 1 else None


def _of(take: Callable[[Turned], Array | None]) -> Steered:
    def read(study: LinkStudy) -> Array | None:
        return None if study.turned is None else take(study.turned)

    return read


def rolling_over() -> list[Quantity]:
    """Steer lost while the tie rod rolls; of a drag link that sits on it alone."""

    def read(study: LinkStudy, travel: Travel) -> Array | None:
        return travel.lost if study.steering is not None and study.steering.drag_on == "tie-rod" else None

    return [
        Quantity(
            "roll_over",
            "Steer lost as the tie rod rolls",
            "deg",
            read,
            "more steer lost while the rod rolls from stop to stop before it pulls",
            "the rod loses more in bump than in droop",
            "the rod loses more with the left wheel up than with the right one up",
            GEOMETRY,
        )
    ]


def holding(name: str, kind: str) -> list[Quantity]:
    """A bump stop or strap of the left side: how far it is from ending the travel."""
    up = HOLDERS[kind] == "bump"

    def read(_: LinkStudy, travel: Travel) -> Array | None:
        found = [m.room_in if up else m.room_out for k, m in travel.struts if m.name == name and k == kind]
        return found[0] if found else None

    if up:
        title, high = (
            f"Room of {name}",
            "more room before it is solid (below zero the bump asked for is not had)",
        )
        climb = "it opens in bump: look at its points, a stop closes in bump (a line that falls)"
    else:
        title, high = f"Slack of {name}", "more slack before it is taut (below zero the droop asked for is not had)"
        climb = "droop uses the slack up, to the left, until the strap is taut"
    return [Quantity(f"room of {name}", title, "length", read, high, climb, "", GEOMETRY, shown=(0.0,))]


def hanging(name: str) -> list[Quantity]:
    """A brake hose: what is left of it, wheels turned the worst way."""

    def read(_: LinkStudy, travel: Travel) -> Array | None:
        found = [hose.least_spare for hose in travel.hoses if hose.name == name]
        return found[0] if found else None

    return [
        Quantity(
            f"spare of {name}",
            f"Spare length of {name}",
            "length",
            read,
            "more hose left over, wheels turned the worst way between the stops (at zero it is taut, below it tears)",
            "droop uses the hose up, bump leaves it slack: see that it cannot reach tyre, spring or exhaust",
            "there is more left with the left wheel up than with the right one up",
            GEOMETRY,
            shown=(0.0,),
        )
    ]


def tyres() -> list[Quantity]:
    """Where the tyres stand, from their places at ride height: rows, and no pictures of their own."""

    def place(side: int, axis: int) -> Read:
        def read(study: LinkStudy, travel: Travel) -> Array | None:
            stance = study.linkage.stance
            ride = stance.rotation @ stance.wheels[side] + stance.origin
            return np.asarray(wheel_centres(travel.poses)[:, side, axis] - ride[axis], dtype=np.float64)

        return read

    ways = ("forward", "to the left", "up")
    return [
        Quantity(
            f"tyre {side} {way}",
            f"{side.capitalize()} wheel centre, {way}",
            "length",
            place(k, axis),
            f"{side} wheel centre {way} of its place at ride",
            "",
            "",
            ISO,
        )
        for k, side in enumerate(("left", "right"))
        for axis, way in enumerate(ways)
    ]
