"""Crude force in the links of an axle."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.calc._numbers import NOT_COVERED
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Force, Length, Plain


@dataclass(frozen=True, kw_only=True)
class LinkForce(Answer):
    """Forces in the upper links together and in the lower links together."""

    upper_force: Annotated[float, Force("0 lbf", "10000000 lbf")]
    lower_force: Annotated[float, Force("0 lbf", "10000000 lbf")]


def link_force(
    axle_load: Annotated[float, Force("100 lbf", "40000 lbf")],
    friction: Annotated[float, Plain("0.1", "2")],
    tyre_radius: Annotated[float, Length("8 in", "40 in")],
    separation: Annotated[float, Length("1 in", "30 in")],
    factor: Annotated[float, Plain("1", "10")] = 1.0,
) -> LinkForce:
    """Crude force in the upper and in the lower links when both tyres pull at the limit of grip.

    Args:
        axle_load: Weight on the axle's two tyres together, as force [N].
        friction: Of tyre on ground.
        tyre_radius: Loaded radius, ground to axle line [mm].
        separation: Height between upper and lower joints at the axle [mm].
        factor: On both forces, for shock; 2 to 3 is common practice, no source.

    Returns:
        Force in all upper links together and in all lower links together [N].

    Formula: upper_force = factor x friction x axle_load x tyre_radius / separation,
        lower_force = upper_force + factor x friction x axle_load.
    Holds: for level links in side view, lower joints at axle height, a pull at the ground and no
        other load; lower joints below the axle line get less.
    Source: geometry, moments about the lower joints.
    Example: --axle-load "4000 lbf" --friction 1 --tyre-radius "20 in" --separation "8 in" --factor 1
    """
    pull = factor * friction * axle_load
    upper = pull * tyre_radius / separation
    return LinkForce(
        upper_force=upper,
        lower_force=upper + pull,
        formula=(
            "upper_force = factor x friction x axle_load x tyre_radius / separation; "
            "lower_force = upper_force + factor x friction x axle_load"
        ),
        source=cite("geometry", "moments about the lower joints"),
        trust=Trust.DERIVED,
        warnings=(
            "crude: for all links of a pair together, level in side view; a splayed link carries its share over "
            "the cosine of its splay, and one link may carry all of it on a rock",
            "without a factor for shock these are forces at a steady pull: two to three times is common practice, "
            "no source",
            NOT_COVERED,
        ),
    )
