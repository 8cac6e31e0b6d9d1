"""Boundary pairs about the truss, in the form of tests/sheet/test_contradictions.py."""

import re

from tests.sheet.altered import BALLJOINT, REAR

PLAIN = """
[truss]
plate = "6 mm"
height = "200 mm"
"""


def without(text, *names):
    """A sheet without some of its sections."""
    tables = re.split(r"(?m)^(?=\[)", text)
    return "".join(t for t in tables if t.partition("]")[0].strip("[").partition(".")[0] not in names) + "\n"


BARE = without(REAR, "truss", "brackets")
UPPER = """
[[brackets]]
holds = "upper-left"
kind = "two-tab"
joint = "upper joint"
plate = "6 mm"
leg = "8 mm"
on = "truss"
"""
COVER = without(BALLJOINT, "truss")
KNEES = 'knees = [{ station = "-100 mm", height = "200 mm" }, { station = "100 mm", height = "200 mm" }]'

TRUSS_PAIRS = {
    "a truss with height and knees": (
        BARE + PLAIN,
        [('height = "200 mm"', f'height = "200 mm"\n{KNEES}')],
        [('height = "200 mm"', KNEES)],
        "truss.height",
        ("200 mm", "2 knees"),
        "knees or height",
    ),
    "a truss with one knee": (
        BARE + PLAIN,
        [('height = "200 mm"', 'knees = [{ station = "0 mm", height = "200 mm" }]')],
        [('height = "200 mm"', KNEES)],
        "truss.knees",
        ("1 knee",),
        "two or more",
    ),
    "two knees at one station": (
        BARE + PLAIN,
        [('height = "200 mm"', KNEES.replace('"100 mm"', '"-99.5 mm"'))],
        [('height = "200 mm"', KNEES.replace('"100 mm"', '"-98.5 mm"'))],
        "truss.knees[2].station",
        ("-99.5 mm",),
        "0.04 in from the next or more",
    ),
    "a back brace over a cover": (
        COVER + PLAIN.replace("6 mm", "1/4 in"),
        [('height = "200 mm"', 'height = "200 mm"\nform = "back-brace"')],
        [('height = "200 mm"', 'height = "200 mm"\nform = "box"')],
        "truss.form",
        ("back-brace", "integral"),
        "a brace behind a closed, fabricated housing",
    ),
    "a truss of a plate that is not in the rack": (
        BARE + PLAIN,
        [('[truss]\nplate = "6 mm"', '[truss]\nplate = "5 mm"')],
        [('[truss]\nplate = "6 mm"', '[truss]\nplate = "10 mm"')],
        "truss.plate",
        ("5 mm",),
        "12 mm, 10 mm, 6 mm",
    ),
    "a side plate beside the tube": (
        BARE + PLAIN,
        [('height = "200 mm"', 'height = "200 mm"\nfront = "41.4 mm"')],
        [('height = "200 mm"', 'height = "200 mm"\nfront = "41.2 mm"')],
        "truss.front",
        ("41.4 mm", "82.6 mm"),
        "less than 1.626 in (41.3 mm)",
    ),
    "a bracket on a truss that is not there": (
        BARE + UPPER,
        [],
        [('on = "truss"\n', 'on = "truss"\nfacing = "up"\nsurface = "180 mm"\n')],
        "brackets[1].surface",
        ("nothing",),
        "a surface, or a [truss]",
    ),
    "a bracket at a height of its own on a truss": (
        BARE + PLAIN + UPPER,
        [('on = "truss"\n', 'on = "truss"\nfacing = "up"\nsurface = "180 mm"\n')],
        [],
        "brackets[1].surface",
        ("180 mm",),
        "nothing",
    ),
    "a bracket on a brace": (
        BARE + PLAIN + UPPER,
        [('height = "200 mm"', 'height = "200 mm"\nform = "back-brace"')],
        [('height = "200 mm"', 'height = "200 mm"\nform = "box"')],
        "brackets[1].on",
        ("back-brace",),
        "tube",
    ),
}
