"""What the links, brackets and springs of this axle are asked to carry."""

from typing import Annotated

from pydantic import Field

from fixturegen.sheet.specs.base import NAME, THREAD, Spec, usual
from fixturegen.sheet.specs.links import Spot
from fixturegen.units import Force, Length, Mass, Measure, Plain, Stress


class LinkTube(Spec):
    """What a link is made of, measured; without it nobody can say whether it buckles."""

    link: str = Field(max_length=40, pattern=NAME, description="lower, upper, track-bar; lower-left for that one alone")
    diameter: Annotated[Measure, Length("0.5 in", "6 in")] = Field(description="outside, of tube or round bar")
    wall: Annotated[Measure, Length("0.05 in", "3 in")] = Field(description="half the diameter for a solid bar")
    material: str = Field(max_length=40, description="id in `fixturegen tables materials`")
    offset: Annotated[Measure, Length("0 in", "12 in")] = usual(
        "0 in", "of the middle of a bent link from the straight line between its joints"
    )
    thread: str | None = usual(None, "of the shank of its rod ends", max_length=20, pattern=THREAD)
    thread_strength: Annotated[Measure, Stress("30 ksi", "250 ksi")] | None = usual(
        None, "tensile strength of that shank; its maker tells"
    )


class Loads(Spec):
    """Weights as the scales read them, and the factors on the load cases.

    A factor is a choice of the person who answers for the truck. None covers fatigue, the
    heat-affected zone beside a weld, or a blow beyond the factor.
    """

    axle_load: Annotated[Measure, Mass("100 lb", "40000 lb")] = Field(
        description="both tyres of this axle on the scales, truck ready to drive"
    )
    truck_load: Annotated[Measure, Mass("200 lb", "80000 lb")] | None = usual(
        None, "whole truck on the scales; twice axle_load when left out"
    )
    unsprung: Annotated[Measure, Mass("20 lb", "10000 lb")] | None = usual(
        None, "axle with wheels, tyres and brakes; a quarter of axle_load when left out"
    )
    friction: Annotated[Measure, Plain("0.1", "2")] = usual("1", "of tyre on ground, the limit of grip")
    ratio: Annotated[Measure, Plain("1", "15")] | None = usual(
        None, "teeth of the ring gear over those of the pinion; wanted where the axle is driven"
    )
    steering_force: Annotated[Measure, Force("50 lbf", "20000 lbf")] | None = usual(
        None, "in the drag link at full effort: torque of the steering box over the length of its arm; front axle"
    )
    vertical_factor: Annotated[Measure, Plain("1", "8")] = usual("4", "on the weight, at full bump")
    brake_factor: Annotated[Measure, Plain("1", "6")] = usual("2", "on the brake force at the limit of grip")
    drive_factor: Annotated[Measure, Plain("1", "6")] = usual("2", "on the drive force at the limit of grip")
    side_factor: Annotated[Measure, Plain("1", "6")] = usual("2", "on the side force at the limit of grip")
    rock_vertical: Annotated[Measure, Plain("1", "8")] = usual("2", "on the weight of one wheel, on a rock")
    rock_rearward: Annotated[Measure, Plain("0", "4")] = usual("1", "rearward push of the rock over its upward push")
    jack_factor: Annotated[Measure, Plain("1", "4")] = usual("1.5", "on axle_load, lifted by a jack under the axle")
    jack: Spot = usual(
        (), "where the jack stands, in the axle's frame; under the middle of the housing when left out", max_length=3
    )
    recovery_factor: Annotated[Measure, Plain("0.1", "4")] = usual("1.5", "on truck_load, pulled at the axle")
    recovery: Spot = usual(
        (), "where strap or winch pulls, in the axle's frame; the middle of the axle when left out", max_length=3
    )
    links: tuple[LinkTube, ...] = usual((), "tubes the links are made of", max_length=12)
