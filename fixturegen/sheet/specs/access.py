"""Getting things off the finished axle: tools, what is unbolted first, what has no place elsewhere on the sheet.

Tools are those of a hand box. What has no published source is common practice: a finger's breadth is not asked
for, only that nothing jams.
"""

from typing import Annotated

from pydantic import Field

from fixturegen.sheet.specs.base import NAME, Spec, usual
from fixturegen.sheet.specs.clearance import Round
from fixturegen.sheet.specs.truss import Fitting
from fixturegen.units import Length, Measure

Label = Annotated[str, Field(max_length=60, pattern=NAME)]


class Access(Spec):
    """What must come off the finished axle, and with what."""

    gap: Annotated[Measure, Length("0 in", "1 in")] = usual("1/16 in", "air round what is pulled out by hand or jack")
    socket: Annotated[Measure, Length("1/4 in", "3 in")] | None = usual(
        None, "outside of the socket for the bolts of the face; by `fixturegen tables sockets` when left out"
    )
    socket_length: Annotated[Measure, Length("1/2 in", "8 in")] | None = usual(None, "of that socket; likewise")
    extensions: tuple[Annotated[Measure, Length("1 in", "24 in")], ...] = usual(
        ("3 in", "6 in"), "extension bars at hand", max_length=6
    )
    cover_pull: Annotated[Measure, Length("1/4 in", "12 in")] = usual(
        "1 1/2 in", "straight off the face before a cover may go aside"
    )
    carrier_flange: Annotated[Measure, Length("1/8 in", "2 in")] = usual(
        "1/2 in", "flange of a third member, under its nuts"
    )
    shaft_joint: Annotated[Measure, Length("1 in", "8 in")] = usual("3 1/2 in", "front: across the axle shaft's joint")
    comes_off: tuple[Label, ...] = usual(
        (), "what unbolts though it is listed as a box or part, named as `fixturegen clear` does", max_length=32
    )
    rounds: tuple[Round, ...] = usual((), "diameters of springs and shocks not in [[clearance.rounds]]", max_length=24)
    fittings: tuple[Fitting, ...] = usual((), "plugs and breather not in [[truss.fittings]]", max_length=16)
