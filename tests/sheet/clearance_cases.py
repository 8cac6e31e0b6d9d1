"""Boundary pairs about what must clear what, in the form of tests/sheet/test_contradictions.py."""

from tests.sheet.altered import REAR

TANK = '["760 mm", "900 mm"]'
RAIL = 'end = ["-2300 mm", "430 mm", "805 mm"]\nwidth = "60 mm"\nheight = "100 mm"\n\n[[clearance.rails]]'
SHAFT = 'name = "drive-shaft"\ndiameter = "89 mm"'
FLOOR = '[[clearance.planes]]\nname = "floor"\nthrough = ["0 mm", "0 mm", "1300 mm"]\nbeyond = '

CLEARANCE_PAIRS = {
    "a box in the way that holds nothing": (
        REAR,
        [(TANK, '["760 mm", "760 mm"]')],
        [(TANK, '["760 mm", "761 mm"]')],
        "clearance.boxes[1].z",
        ("760 mm", "760 mm"),
        "the lower value first",
    ),
    "a rail that begins where it ends": (
        REAR,
        [(RAIL, RAIL.replace("-2300", "-1500"))],
        [(RAIL, RAIL.replace("-2300", "-1501"))],
        "clearance.rails[1].end",
        ("begin and end in one place", ""),
        "two points apart",
    ),
    "a plane without a direction": (
        REAR,
        [("[[clearance.rounds]]", f'{FLOOR}["0", "0", "0"]\n\n[[clearance.rounds]]')],
        [("[[clearance.rounds]]", f'{FLOOR}["0", "0", "1"]\n\n[[clearance.rounds]]')],
        "clearance.planes[1].beyond",
        ("[0, 0, 0]", ""),
        "a direction",
    ),
    "one strut with two diameters": (
        REAR,
        [(SHAFT, SHAFT.replace("drive-shaft", "Shock"))],
        [(SHAFT, SHAFT)],
        "clearance.rounds[2].name",
        ("Shock", "a second time"),
        "one entry each",
    ),
    "a box on a knuckle of an axle that has none": (
        REAR,
        [(TANK, f'{TANK}\nrides = "left"')],
        [(TANK, f'{TANK}\nrides = "axle"')],
        "clearance.boxes[1].rides",
        ("left", "rear"),
        "frame or axle",
    ),
}
