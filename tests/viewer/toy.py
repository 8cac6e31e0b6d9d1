"""A toy job for the 3-D view: plates with two holes, a post, a held bar, an axle to see through, a travel."""

import numpy as np

from fixturegen.bodies.colours import BRACKET, GHOST, HOLDER
from fixturegen.findings import Finding, Level
from fixturegen.papers.report import FindingRow, Report
from fixturegen.plate import Part
from fixturegen.shapes import solids
from fixturegen.viewer.scenes import Body, Motions, Scene, line_of
from fixturegen.write.summary import Contents, Measured

HOLES = ((40.0, 30.0), (160.0, 30.0))  # mm; of the plate, 120 mm apart
BORE = 20.0  # mm
RISE = 100.0  # mm the toy axle climbs to full bump
STILL = np.hstack([np.eye(3), np.zeros((3, 1))]).ravel()


def plate() -> solids.Shape:
    """A plate 200 x 120 x 10 mm lying on Z = 0, with two holes through it."""
    flat = solids.box(0.0, 0.0, 0.0, 200.0, 120.0, 10.0)
    for x, y in HOLES:
        flat = solids.cut(flat, solids.cylinder((x, y, -1.0), (x, y, 11.0), BORE))
    return flat


def toy_scenes() -> tuple[Scene, ...]:
    """A jig on the table, and an axle that climbs straight up."""
    flat, post = plate(), solids.box(-15.0, -15.0, 0.0, 15.0, 15.0, 140.0)
    tube = solids.cylinder((0.0, -300.0, 200.0), (0.0, 300.0, 200.0), 60.0)
    side = line_of(np.eye(3), np.array([0.0, 160.0, 0.0]))
    jig = Scene(
        "jig", "Jig on the table", "T",
        (
            Body(flat, "plate-l", "Plate, left", "stand", HOLDER),
            Body(flat, "plate-r", "Plate, right", "stand", HOLDER, place=side),
            Body(post, "post", "Post", "tie", BRACKET),
            Body(solids.box(220.0, 0.0, 0.0, 260.0, 40.0, 40.0), "bar-held", "Bar", "tie", BRACKET),
            Body(tube, "tube", "tube", "axle", GHOST, part=False, ghost=True),
        ),
        {"A": line_of(np.eye(3), np.array([0.0, 0.0, 200.0]))},
    )  # fmt: skip
    climb = np.stack([STILL, STILL, STILL])
    climb[:, 11] = (0.0, RISE, -RISE)
    poses = ((0.0, 0.0, 0.0, "ride"), (RISE, 0.0, 0.0, "bump"), (-RISE, 0.0, 0.0, "droop"))
    travel = Scene(
        "travel", "Axle on its links", "V",
        (
            Body(tube, "tube", "tube", "axle", GHOST, part=False, mover="axle"),
            Body(solids.box(-20.0, 80.0, 225.0, 20.0, 90.0, 300.0), "ear", "Ear", "upper", BRACKET, mover="axle"),
            Body(solids.box(-20.0, 200.0, 400.0, 20.0, 260.0, 460.0), "rail", "rail", "frame", HOLDER, part=False),
        ),
        motions=Motions(poses, {"axle": climb}, (("Both wheels", (2, 0, 1)),)),
        notes=("a toy",),
    )  # fmt: skip
    return jig, travel


def toy_parts() -> tuple[Part, ...]:
    """The parts of the toy; the words of one would end a script if they were not escaped."""
    return (
        Part("plate-l", "Plate, left", "stands", "plate", 10.0, hand="L", notes=("</script><b>ream</b> & <!-- tap",)),
        Part("plate-r", "Plate, right", "stands", "plate", 10.0, hand="R"),
        Part("post", "Post", "ties", "tube", tube=(30.0, 5.0, 140.0, True)),
        Part("bar-held", "Bar", "ties", "tube", tube=(40.0, 5.0, 40.0, True)),
        Part("ear", "Ear مثال ⚙", "brackets", "plate", 10.0, quantity=2),
    )


def toy_findings() -> tuple[Finding, ...]:
    """One finding of each level and of each way to say where."""
    return (
        Finding("FIT-01", Level.PASS, "a claim", "all is well", parts=("post",), assembly="jig"),
        Finding(
            "FIT-02", Level.FAIL, "holes are apart", "a hole is off", "drill again", ("plate-r",), "jig",
            point=(160.0, 190.0, 10.0), frame="T", value=0.5, limit=0.1, unit="mm", source="a book",
        ),
        Finding(
            "CLR-02", Level.WARN, "it clears", "the ear is near the rail", "move it", ("ear",), pose="bump",
            point=(0.0, 85.0, 400.0), frame="V",
        ),
        Finding("BRK-01", Level.WARN, "in A", "on the tube", "look", (), point=(0.0, 0.0, 30.0), frame="A"),
        Finding("GEO-01", Level.NOT_CHECKED, "no place", "nothing to see", "ask", holds="job"),
    )  # fmt: skip


def toy_contents() -> Contents:
    """What a summary of the toy is made from."""
    box = ((0.0, 0.0, 0.0), (1.0, 1.0, 1.0))
    files = {p.name: {"step": f"step/{p.name}.step"} for p in toy_parts()}
    return Contents(
        "Toy", "A", "in", (), toy_parts(), {"bar-held": "FIT-02: a hole is off"},
        {p.name: Measured(1.5, box) for p in toy_parts()}, files, toy_findings(),
    )  # fmt: skip


def toy_report() -> Report:
    """A page with a picture, a table and a finding, which are to be seen whatever the browser can."""
    row = FindingRow("FIT-02", "fail", "holes are apart", "a hole is off", "drill again", ("plate-r",), "", "", "")
    return Report(
        title="Toy", revision="A", since="", sheet_name="toy.toml", digest="0" * 64, version="0",
        cautions_top=("Care.",), verdict="4 of 5 parts released", held=(),
        assumptions=(("key", "1 in", "what it is"),), changes=(), pictures=(), tables=(), steps=(), attention=(row,),
        passes=(), counts=(("fail", 1),), parts=(), hardware=(), welds=(), cautions=(),
        numbers=(("a", "1 in", "measured", "measured"),),
    )  # fmt: skip
