"""Boundary pairs about brackets, in the form of tests/sheet/test_contradictions.py."""

from tests.sheet.altered import BALLJOINT

ROWS = """
[[joints]]
name = "lower joint"
width = "2 5/8 in"
body = "2 1/4 in"
bolt = "3/4-10"
shank = "0.748 in"

[[joints]]
name = "eye"
width = "1 1/2 in"
body = "1 3/4 in"
bolt = "1/2-13"
shank = "0.499 in"

[[brackets]]
holds = "stay-left"
kind = "two-tab"
point = ["4 in", "20 in", "15 in"]
toward = ["40 in", "16 in", "18 in"]
joint = "lower joint"
plate = "1/4 in"
extra_holes = 2
hole_pitch = "1 1/2 in"

[[brackets]]
holds = "frame stay-left"
kind = "two-tab"
end = "frame"
point = ["40 in", "16 in", "18 in"]
toward = ["4 in", "20 in", "15 in"]
joint = "eye"
plate = "1/4 in"
on = "rail"
facing = "down"
surface = "21 in"

[[brackets]]
holds = "coil-left"
kind = "coil-seat"
point = ["0 in", "21 in", "22 in"]
toward = ["0 in", "20 in", "34 in"]
plate = "1/4 in"
coil_inside = "3 in"
"""
LEFT, RIGHT = 'left = { length = "33 23/32 in"', 'right = { length = "8 9/32 in"'
# a sheet without links: what brackets hold is given by hand
TEXT = BALLJOINT[: BALLJOINT.index("# What holds the axle")].rstrip("\n") + "\n" + ROWS

# example, trips, does not trip, key, both values, what is allowed (arithmetic on the sheet's own numbers)
BRACKET_PAIRS = {
    "two joints of one name": (
        TEXT,
        [('name = "eye"', 'name = "lower joint"'), ('joint = "eye"', 'joint = "lower joint"')],
        [],
        "joints[2].name",
        ("lower joint", "joints[1]"),
        "a name of its own",
    ),
    "a shank that is not its bolt's": (
        TEXT,
        [('shank = "0.748 in"', 'shank = "0.725 in"')],
        [('shank = "0.748 in"', 'shank = "0.727 in"')],  # 3/4 in less 0.6 mm is 0.7264 in
        "joints[1].shank",
        ("0.725 in", "3/4-10"),
        "0.726 in",
    ),
    "a bolt as thick as its joint": (
        TEXT,
        [('body = "1 3/4 in"', 'body = "0.499 in"')],
        [('body = "1 3/4 in"', 'body = "0.51 in"')],
        "joints[2].shank",
        ("0.499 in", "joints[2].body"),
        "less than",
    ),
    "a joint nobody measured": (
        TEXT,
        [('joint = "eye"', 'joint = "upper joint"')],
        [('joint = "eye"', 'joint = "lower joint"')],
        "brackets[2].joint",
        ("upper joint",),
        "lower joint, eye",
    ),
    "tabs for no joint": (
        TEXT,
        [('joint = "lower joint"\nplate', 'joint = ""\nplate')],
        [],
        "brackets[1].joint",
        ("nothing", "two-tab"),
        "lower joint, eye",
    ),
    "a pad with a joint": (
        TEXT,
        [('coil_inside = "3 in"', 'joint = "eye"\ncoil_inside = "3 in"')],
        [],
        "brackets[3].joint",
        ("eye", "coil-seat"),
        "nothing",
    ),
    "a plate that is not in the rack": (
        TEXT,
        [('plate = "1/4 in"\nextra', 'plate = "0.3 in"\nextra')],
        [('plate = "1/4 in"\nextra', 'plate = "0.252 in"\nextra')],
        "brackets[1].plate",
        ("0.3 in",),
        "1/4 in",
    ),
    "a bracket for a link that is not there": (
        TEXT,
        [('point = ["0 in", "21 in", "22 in"]\ntoward = ["0 in", "20 in", "34 in"]\n', "")],
        [],
        "brackets[3].holds",
        ("coil-left",),
        "no link and no strut is listed",
    ),
    "a point without its other end": (
        TEXT,
        [('toward = ["40 in", "16 in", "18 in"]', 'toward = ["40 in"]')],
        [],
        "brackets[1].point",
        ("3", "1 numbers"),
        "three numbers each",
    ),
    "one end twice": (
        TEXT,
        [('holds = "frame stay-left"', 'holds = "stay-left"'), ('end = "frame"', 'end = "axle"')],
        [('holds = "frame stay-left"', 'holds = "stay-left"')],
        "brackets[2].holds",
        ("stay-left", "brackets[1]"),
        "each end once",
    ),
    "a rail nobody says where": (
        TEXT,
        [('surface = "21 in"\n', "")],
        [('surface = "21 in"', 'surface = "22 in"')],
        "brackets[2].surface",
        ("facing alone", "frame"),
        "facing and surface",
    ),
    "a hoop nobody measured": (
        TEXT,
        [('on = "rail"\nfacing = "down"\nsurface = "21 in"', 'on = "hoop"')],
        [],
        "brackets[2].hoop",
        ("hoop",),
        "the tube it stands on",
    ),
    "a joint wider than its tube": (
        TEXT,
        # 2 5/8 + 1/64 + 1/2 in over both plates of 1/4 in are 3.141 in
        [(LEFT, LEFT.replace("33 23/32", "3.1")), (RIGHT, RIGHT.replace("8 9/32", "3.1"))],
        [(LEFT, LEFT.replace("33 23/32", "3.15")), (RIGHT, RIGHT.replace("8 9/32", "3.1"))],
        "brackets[1].joint",
        ("3.141 in", "3.1 in"),
        "3.100 in",
    ),
    "holes nearer than two bolts": (
        TEXT,
        [('hole_pitch = "1 1/2 in"', 'hole_pitch = "1.49 in"')],
        [('hole_pitch = "1 1/2 in"', 'hole_pitch = "1.496 in"')],
        "brackets[1].hole_pitch",
        ("1.49 in", "0.748 in"),
        "1.496 in",
    ),
    "a seat for a coil nobody measured": (
        TEXT,
        [('coil_inside = "3 in"\n', "")],
        [],
        "brackets[3].coil_inside",
        ("nothing", "coil-seat"),
        "1 in to 10 in",
    ),
}
