"""A truss on top of the housing, or a single brace: what it is made of, how high it is, where it ends.

Stations are left of the middle of the axle, heights above the axle line, with the pinion held level. Gaps and
sizes that have no published source are common practice: a root is open by 1/16 in at most, a truss stops half
an inch to an inch short of a knuckle's weld, tapers off at 45 deg or flatter, and air stays round what comes off.
"""

from typing import Annotated, Literal

from pydantic import Field

from fixturegen.sheet.specs.base import NAME, Spec, usual
from fixturegen.sheet.specs.link_search import Toward
from fixturegen.sheet.specs.links import Spot, spot
from fixturegen.units import Angle, Length, Measure


class Fitting(Spec):
    """A plug, breather or drain of the housing that a wrench or a hose must reach."""

    name: str = Field(max_length=40, pattern=NAME, description="what it is called")
    kind: Literal["fill plug", "drain plug", "breather"] = Field(description="what it is")
    at: Spot = spot("middle of its seat: forward, left, up from the middle of the axle line, pinion level")
    out: Toward = Field(min_length=3, max_length=3, description="direction it is screwed out along")
    across: Annotated[Measure, Length("1/4 in", "4 in")] = Field(
        description="outside of the socket or hose that goes on"
    )
    pull: Annotated[Measure, Length("1/4 in", "12 in")] = usual("2 in", "room beyond its seat, wrench or hose")


class Knee(Spec):
    """A place where the top changes its slope."""

    station: Annotated[Measure, Length("-60 in", "60 in")] = Field(description="left of the middle of the axle")
    height: Annotated[Measure, Length("1 in", "24 in")] = Field(description="of the top above the axle line there")


class Truss(Spec):
    """Side plates cut to the housing, a top plate, ribs; or one plate as a back brace."""

    form: Literal["box", "back-brace"] = usual("box", "two side plates and a top, or one plate and no top")
    plate: Annotated[Measure, Length("0.08 in", "1 in")] = Field(
        description="nominal thickness of side plates and ribs, one of [[plates]]"
    )
    top_plate: Annotated[Measure, Length("0.08 in", "1 in")] | None = usual(
        None, "nominal thickness of the top where brackets stand on it, and all of a folded one; as plate when left out"
    )
    top_short: Annotated[Measure, Length("0 in", "12 in")] = usual(
        "2 in", "of the ends of the side plates: stiffness comes in by and by"
    )
    top: Literal["folded", "runs"] = usual("runs", "top plate bent at the tapers, or in three flat runs")
    height: Annotated[Measure, Length("1 in", "24 in")] | None = usual(
        None, "top of the truss above the axle line; by height_by when left out"
    )
    height_by: Literal["space", "strength"] = usual(
        "space", "as tall as the space above allows, or no taller than [loads] ask"
    )
    knees: tuple[Knee, ...] = usual(
        (), "where the top changes its slope, right to left; instead of height and taper", max_length=12
    )
    most: Annotated[Measure, Length("1/2 in", "12 in")] = usual("3 in", "height over tube and housing at most")
    front: Annotated[Measure, Length("-12 in", "12 in")] | None = usual(
        None, "outer face of the front plate ahead of the axle line; where the tube leans 45 deg when left out"
    )
    rear: Annotated[Measure, Length("-12 in", "12 in")] | None = usual(
        None, "outer face of the rear plate behind the axle line; likewise"
    )
    centre: Literal["weld", "bridge"] | None = usual(
        None, "welded to the centre section, or over it with air; fabricated steel is welded when left out"
    )
    gap: Annotated[Measure, Length("0 in", "1/16 in")] = usual("1/32 in", "root opening where it is welded")
    air: Annotated[Measure, Length("1/16 in", "1 in")] = usual("3/16 in", "to what it is not welded to")
    beside: Annotated[Measure, Length("1/16 in", "1 in")] = usual("1/4 in", "to bolts and what is pulled off")
    socket: Annotated[Measure, Length("1/4 in", "4 in")] = usual("0.82 in", "outside of the socket for the cover bolts")
    pull: Annotated[Measure, Length("1 in", "12 in")] = usual(
        "4 in", "straight pull of cover or third member, socket and ratchet"
    )
    left_end: Annotated[Measure, Length("-60 in", "60 in")] | None = usual(
        None, "station where it ends on the left; short of the knuckle's weld or end flange when left out"
    )
    right_end: Annotated[Measure, Length("-60 in", "60 in")] | None = usual(None, "likewise on the right")
    short: Annotated[Measure, Length("1/2 in", "6 in")] = usual("3/4 in", "short of the knuckle's weld or end flange")
    taper: Annotated[Measure, Angle("10 deg", "45 deg")] = usual(
        "30 deg", "of its ends; up to 45 deg where the tube is short"
    )
    end_height: Annotated[Measure, Length("1/4 in", "3 in")] = usual("1 in", "of the side plates where they end")
    unwelded: Annotated[Measure, Length("0 in", "2 in")] = usual("3/4 in", "of its ends left without weld")
    overhang: Annotated[Measure, Length("1/4 in", "3 in")] | None = usual(
        None, "of the top beyond the side plates where brackets stand on it; room for a bead when left out"
    )
    leg: Annotated[Measure, Length("1/8 in", "5/8 in")] = usual("1/4 in", "of its fillets")
    ribs: Annotated[Measure, Length("3 in", "24 in")] = usual("8 in", "from rib to rib at most")
    lightening: bool = usual(True, "whether round openings are cut where the side plates are tall", strict=True)
    lift: bool = usual(True, "whether both ends have a hole for a lifting bar", strict=True)
    jack_pads: tuple[Annotated[Measure, Length("-60 in", "60 in")], ...] = usual(
        (), "stations of pads under the tubes for a jack", max_length=4
    )
    fittings: tuple[Fitting, ...] = usual((), "plugs and breather of the housing", max_length=16)
