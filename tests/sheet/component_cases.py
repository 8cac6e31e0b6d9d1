"""Boundary pairs about components, in the form of tests/sheet/test_contradictions.py."""

from tests.sheet.altered import KINGPIN, REAR

PAN = """
[[components]]
name = "oil pan"
kind = "oil-pan"
moves_with = "frame"
at = "vehicle"
accuracy = "1/8 in"
box = { x = ["-12 in", "10 in"], y = ["-6 in", "6 in"], z = ["24 in", "31 in"] }

[[components]]
name = "cover"
kind = "cover"
moves_with = "axle"
at = "axle"
accuracy = "0.5 mm"
file = "cover.stl"
unit = "mm"
points = [
  { name = "bolt 1", own = ["0 mm", "100 mm", "0 mm"], stud = 1 },
  { name = "bolt 4", own = ["0 mm", "-50 mm", "80 mm"], stud = 4 },
  { name = "plug", own = ["40 mm", "-50 mm", "-80 mm"], place = ["1 in", "2 in", "3 in"] },
]

[[components]]
name = "floor"
kind = "other"
moves_with = "frame"
at = "vehicle"
accuracy = "1/4 in"
plane = { through = ["0 in", "0 in", "40 in"], beyond = ["0", "0", "1"] }

[[components]]
name = "tank"
kind = "tank"
moves_with = "frame"
at = "vehicle"
accuracy = "1/8 in"
outline = { depth = "8 in", corners = [
  { x = "0 in", y = "0 in" }, { x = "20 in", y = "0 in" }, { x = "20 in", y = "12 in" }, { x = "0 in", y = "12 in" },
] }
points = [
  { name = "a", own = ["0 in", "0 in", "0 in"], angle = "0 deg" },
  { name = "b", own = ["20 in", "0 in", "0 in"], angle = "120 deg" },
  { name = "c", own = ["0 in", "12 in", "0 in"], angle = "240 deg" },
]
circle = { centre = ["-60 in", "0 in", "30 in"], axis = ["0", "0", "1"], zero = ["1", "0", "0"], diameter = "20 in" }
"""
TEXT = KINGPIN + PAN
STANDS = "as_it_stands = true\npoints = []\n"
POINTS = PAN[PAN.index("points = [") : PAN.index('[[components]]\nname = "floor"')]
A, B = '{ x = "20 in", y = "0 in" }', '{ x = "20 in", y = "12 in" }'

COMPONENT_PAIRS = {
    "two components under one name": (
        TEXT,
        [('name = "oil pan"\nkind', 'name = "Cover"\nkind')],
        [('name = "oil pan"\nkind', 'name = "Cover 2"\nkind')],
        "components[2].name",
        ("cover", "Cover"),
        "a name of its own",
    ),
    "a component given in two ways": (
        TEXT,
        [("plane = {", 'file = "floor.stl"\nunit = "mm"\nas_it_stands = true\nplane = {')],
        [("plane = {", "plane = {")],
        "components[3]",
        ("file", "plane"),
        "one of file, box, plane, outline",
    ),
    "a file without its unit": (
        TEXT,
        [('unit = "mm"\n', "")],
        [('unit = "mm"\n', 'unit = "in"\n')],
        "components[2].unit",
        ("nothing", "cover.stl"),
        "mm or in",
    ),
    "a unit without a file": (
        TEXT,
        [("box = {", 'unit = "in"\nbox = {')],
        [("box = {", "box = {")],
        "components[1].unit",
        ("in", "without a file"),
        "nothing",
    ),
    "a file of a kind nothing reads": (
        TEXT,
        [("cover.stl", "cover.iges")],
        [("cover.stl", "cover.STEP")],
        "components[2].file",
        ("cover.iges", ""),
        "a file ending in .step, .stp, .stl, .obj, .ply",
    ),
    "a box the wrong way round": (
        TEXT,
        [('["24 in", "31 in"]', '["31 in", "24 in"]')],
        [('["24 in", "31 in"]', '["30.9 in", "31 in"]')],
        "components[1].box.z",
        ("31 in", "24 in"),
        "the lower value first",
    ),
    "a plane without a direction": (
        TEXT,
        [('beyond = ["0", "0", "1"]', 'beyond = ["0", "0", "0"]')],
        [('beyond = ["0", "0", "1"]', 'beyond = ["0", "0", "0.1"]')],
        "components[3].plane.beyond",
        ("no length", ""),
        "a direction",
    ),
    "an outline that crosses itself": (
        TEXT,
        [(f"{A}, {B}", f"{B}, {A}")],
        [(f"{A}, {B}", f"{A}, {B}")],
        "components[4].outline.corners",
        ("crosses itself", "1 and 3"),
        "corners in order round it",
    ),
    "a corner of an outline twice": (
        TEXT,
        [(f"{A}, {B}", f"{A}, {A}, {B}")],
        [(f"{A}, {B}", f'{A}, {{ x = "20 in", y = "0.1 in" }}, {B}')],
        "components[4].outline.corners",
        ("corners 2 and 3", "one place"),
        "each corner once",
    ),
    "an outline given twice": (
        TEXT,
        [("outline = { depth", 'unit = "in"\noutline = { file = "tank.dxf", depth')],
        [("outline = { depth", "outline = { depth")],
        "components[4].outline",
        ("corners", "a file"),
        "corners, or file",
    ),
    "a scan that nothing places": (
        TEXT,
        [(POINTS, "\n")],
        [(POINTS, STANDS)],
        "components[2].points",
        ("nothing", ""),
        "three or more named points",
    ),
    "points nearly in a line": (
        TEXT,
        [('own = ["40 mm", "-50 mm", "-80 mm"]', 'own = ["10 mm", "60 mm", "20 mm"]')],
        [('own = ["40 mm", "-50 mm", "-80 mm"]', 'own = ["26 mm", "60 mm", "20 mm"]')],
        "components[2].points",
        ("in a line", ""),
        "1.000 in (25.4 mm) or more off a line",
    ),
    "a part placed by points and by its file": (
        TEXT,
        [('unit = "mm"\n', 'unit = "mm"\nas_it_stands = true\n')],
        [('unit = "mm"\n', 'unit = "mm"\nas_it_stands = false\n')],
        "components[2].points",
        ("3 points", "as_it_stands"),
        "one of the two",
    ),
    "a stud that is not there": (
        TEXT,
        [("stud = 4", "stud = 11")],
        [("stud = 4", "stud = 10")],
        "components[2].points[2].stud",
        ("stud 11", "10"),
        "1 to 10",
    ),
    "a named point with two places": (
        TEXT,
        [("stud = 4", 'stud = 4, place = ["1 in", "2 in", "4 in"]')],
        [("stud = 4", 'place = ["1 in", "2 in", "4 in"]')],
        "components[2].points[2]",
        ("place", "stud"),
        "one of place, stud, angle",
    ),
    "a part of the frame on a stud of the axle": (
        TEXT,
        [('moves_with = "axle"', 'moves_with = "frame"')],
        [('moves_with = "axle"', 'moves_with = "axle"')],
        "components[2].moves_with",
        ("frame", "stud"),
        "axle",
    ),
    "a part of a knuckle on a stud of the face": (
        TEXT,
        [('moves_with = "axle"', 'moves_with = "left"')],
        [('moves_with = "axle"', 'moves_with = "axle"')],
        "components[2].moves_with",
        ("left", "stud"),
        "axle",
    ),
    "a part of a knuckle on a rear axle": (
        REAR + PAN[: PAN.index('[[components]]\nname = "cover"')],
        [('moves_with = "frame"', 'moves_with = "right"')],
        [('moves_with = "frame"', 'moves_with = "axle"')],
        "components[1].moves_with",
        ("right", "rear axle"),
        "axle or frame",
    ),
    "an angle without a circle": (
        TEXT,
        [("circle = { centre", "# circle = { centre")],
        [("circle = { centre", "circle = { centre")],
        "components[4].circle",
        ("nothing", "a at an angle"),
        "a bolt circle",
    ),
    "a circle whose zero is along its axis": (
        TEXT,
        [('zero = ["1", "0", "0"]', 'zero = ["0.5", "0", "0.87"]')],
        [('zero = ["1", "0", "0"]', 'zero = ["0.5", "0", "0.85"]')],
        "components[4].circle.zero",
        ("zero along the axis", ""),
        "a direction square to the axis",
    ),
}
