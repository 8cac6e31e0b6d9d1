"""The job, the truck on its stands, and what the finished axle must come to."""

from typing import Annotated, Literal

from pydantic import Field

from fixturegen.sheet.specs.base import NAME, Spec, usual
from fixturegen.units import Angle, Length, Measure

REVISION_ID = r"^[A-Za-z0-9][A-Za-z0-9.-]{0,7}$"
"""Letters, digits, point and hyphen: it becomes a file name in the history."""


class Job(Spec):
    """What the job is called."""

    name: str = Field(max_length=60, pattern=NAME, description="what the shop calls this job")
    notes: str = usual("", "anything worth remembering", max_length=2000)
    units: Literal["in", "mm"] = usual("in", "unit of cut files and papers")


class Revision(Spec):
    """Which revision of the sheet this is, and since which one changes are listed."""

    id: str = usual(
        "A", "letter or number of this revision, up to 8 letters, digits, points and hyphens", pattern=REVISION_ID
    )
    since: str = usual(
        "", "revision since which changes are listed, an id of the history", pattern=f"{REVISION_ID[:-1]}$|^$"
    )


class Vehicle(Spec):
    """The truck on its stands."""

    wheelbase: Annotated[Measure, Length("60 in", "220 in")] = Field(description="axle centre to axle centre")
    rake: Annotated[Measure, Angle("-5 deg", "5 deg")] = usual("0 deg", "frame, nose up positive")
    tyre_diameter: Annotated[Measure, Length("20 in", "60 in")] = Field(description="true, inflated, measured")
    tyre_loaded_radius: Annotated[Measure, Length("9 in", "30 in")] = Field(description="ground to hub centre, loaded")
    tyre_section_width: Annotated[Measure, Length("5 in", "25 in")] = Field(description="widest point of the tyre")
    wheel_width: Annotated[Measure, Length("4 in", "20 in")] = Field(description="bead to bead")
    wheel_diameter: Annotated[Measure, Length("12 in", "26 in")] = Field(description="bead seat, nominal")
    wheel_backspacing: Annotated[Measure, Length("0 in", "12 in")] = Field(
        description="wheel mount face to inner flange edge"
    )


class Axle(Spec):
    """What the finished axle must come to."""

    position: Literal["front", "rear"] = Field(description="which axle of the truck; the front one is steered")
    wheel_mount_width: Annotated[Measure, Length("40 in", "100 in")] = Field(
        description="wheel mount surface to wheel mount surface"
    )
    pinion_angle: Annotated[Measure, Angle("-10 deg", "25 deg")] = Field(
        description="pinion nose above level at ride height"
    )
    caster: Annotated[Measure, Angle("-5 deg", "15 deg")] | None = usual(
        None, "wanted in the vehicle, top of the knuckle rearward positive; front only"
    )
