"""Papers that go to the bench: size of paper, how large a tiling may be, tube ends to wrap."""

from typing import Annotated, Literal

from pydantic import Field

from fixturegen.sheet.specs.base import NAME, Spec, usual
from fixturegen.units import Angle, Length, Measure


class TubeEnd(Spec):
    """The end of a round tube that is wrapped with paper and cut to meet another one."""

    name: str = Field(max_length=40, pattern=NAME, description="hoop to frame, brace to truss ...")
    cut: Literal["cope", "mitre"] = usual("cope", "onto the side of another tube, or a corner of two of one size")
    branch: Annotated[Measure, Length("1/4 in", "12 in")] = Field(
        description="outside diameter, of the tube that is cut"
    )
    main: Annotated[Measure, Length("1/4 in", "24 in")] | None = usual(
        None, "cope: outside diameter of the tube it stands on, measured"
    )
    angle: Annotated[Measure, Angle("15 deg", "165 deg")] = usual("90 deg", "between the two tubes")
    offset: Annotated[Measure, Length("-12 in", "12 in")] = usual("0 in", "cope: of the two axes beside each other")


class Papers(Spec):
    """Paper for the bench; each build makes it, unless told not to."""

    paper: Literal["letter", "a4"] = usual("letter", "size of paper in the printer")
    with_build: bool = usual(True, "whether each build makes them, or `fixturegen papers` alone", strict=True)
    most_sheets: Annotated[int, Field(strict=True, ge=1, le=200)] = usual(30, "sheets of paper for one part at most")
