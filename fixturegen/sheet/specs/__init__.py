"""The build sheet as frozen values: every key, its dimension, its range, its meaning.

Inside the program lengths are mm, angles deg, masses kg, forces N. A `Measure` is a float that
remembers the person's own text and tolerance and whether it was given or assumed. Keys without a
default must be on the sheet: they are measured, never guessed.
"""

from typing import Annotated

from pydantic import Field

from fixturegen.sheet.specs.access import Access
from fixturegen.sheet.specs.base import Spec, all_usual, usual
from fixturegen.sheet.specs.brackets import BoltedJoint, Bracket, Hoop
from fixturegen.sheet.specs.clearance import Clearance
from fixturegen.sheet.specs.components import Component
from fixturegen.sheet.specs.cutting import BendTest, Brake, Nesting, Process, StockSheet
from fixturegen.sheet.specs.ends import Knuckles, Pivot, Tube, Tubes, WheelEnds
from fixturegen.sheet.specs.gauges import Gauges
from fixturegen.sheet.specs.link_search import LinkSearch
from fixturegen.sheet.specs.links import HoseEnds, LeafSpring, LinkEnds, Links, ShaftEnds, SteeringPoints, StrutEnds
from fixturegen.sheet.specs.loads import Loads
from fixturegen.sheet.specs.middle import (
    CarrierBearings,
    Cover,
    Face,
    Housing,
    Stud,
    Studs,
    ThirdMember,
)
from fixturegen.sheet.specs.papers import Papers, TubeEnd
from fixturegen.sheet.specs.shop import Bar, Jig, Plate, Readings, Table, Tools, Welded
from fixturegen.sheet.specs.truck import Axle, Job, Revision, Vehicle
from fixturegen.sheet.specs.truss import Truss
from fixturegen.units import Measure

__all__ = [
    "Access",
    "Axle",
    "Bar",
    "BendTest",
    "BoltedJoint",
    "Bracket",
    "Brake",
    "CarrierBearings",
    "Clearance",
    "Component",
    "Cover",
    "Face",
    "Gauges",
    "Hoop",
    "HoseEnds",
    "Housing",
    "Jig",
    "Job",
    "Knuckles",
    "LeafSpring",
    "LinkEnds",
    "LinkSearch",
    "Links",
    "Loads",
    "Measure",
    "Nesting",
    "Papers",
    "Pivot",
    "Plate",
    "Process",
    "Readings",
    "Revision",
    "ShaftEnds",
    "Sheet",
    "Spec",
    "SteeringPoints",
    "StockSheet",
    "StrutEnds",
    "Stud",
    "Studs",
    "Table",
    "ThirdMember",
    "Tools",
    "Truss",
    "Tube",
    "TubeEnd",
    "Tubes",
    "Vehicle",
    "Welded",
    "WheelEnds",
]


class Sheet(Spec):
    """The whole build sheet."""

    schema_: Annotated[int, Field(alias="schema", strict=True)]
    job: Job
    revision: Revision = all_usual()
    vehicle: Vehicle
    axle: Axle
    housing: Housing
    tubes: Tubes
    knuckles: Knuckles | None = usual(None, "front only")
    wheel_ends: WheelEnds
    third_member: ThirdMember
    bar: Bar
    readings: Readings
    welded: tuple[Welded, ...] = usual((), "already on the axle", max_length=64)
    table: Table
    plates: tuple[Plate, ...] = Field(min_length=1, max_length=64, description="in the rack")
    process: Process
    brake: Brake = all_usual()
    sheets: tuple[StockSheet, ...] = usual((), "to cut from", max_length=64)
    nesting: Nesting = all_usual()
    tools: Tools
    jig: Jig = all_usual()
    links: Links | None = usual(None, "what holds the axle, for `fixturegen links`")
    loads: Loads | None = usual(None, "what links and brackets must carry")
    joints: tuple[BoltedJoint, ...] = usual((), "measured on the bench", max_length=32)
    brackets: tuple[Bracket, ...] = usual((), "to make, by `fixturegen build --only brackets`", max_length=64)
    clearance: Clearance | None = usual(None, "wanted gaps and what is in the way, for `fixturegen clear`")
    access: Access | None = usual(None, "getting things off the finished axle, and the tools for it")
    components: tuple[Component, ...] = usual((), "what you have, for clearance: pan, tank, frame", max_length=32)
    truss: Truss | None = usual(None, "a truss on the housing, or a brace")
    gauges: Gauges | None = usual(None, "gauges to hold in the hand; none without this section")
    papers: Papers | None = usual(None, "paper for the bench with each build")
    tube_ends: tuple[TubeEnd, ...] = usual((), "wrapped with paper and cut", max_length=64)
