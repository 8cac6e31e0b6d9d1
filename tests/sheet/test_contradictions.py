"""Each rule has a boundary pair: one value more and it trips, one less and it does not."""

import pytest

from fixturegen.sheet.contradictions import RULES, contradictions
from fixturegen.sheet.draft import draft_of
from tests.sheet.access_cases import ACCESS_PAIRS
from tests.sheet.altered import BALLJOINT, KINGPIN, REAR, by_key, faults, line_with, only, put, raw, sheet
from tests.sheet.bracket_cases import BRACKET_PAIRS
from tests.sheet.clearance_cases import CLEARANCE_PAIRS
from tests.sheet.component_cases import COMPONENT_PAIRS
from tests.sheet.truss_cases import TRUSS_PAIRS

CIRCLE = 'circle_diameter = "10 1/2 in"'
ANGLES = KINGPIN[KINGPIN.index("# 0 is straight up") : KINGPIN.index("[housing.bearings]")]
UPPER = '[knuckles.upper]                  # bushing bore, right through\nkind = "straight"\n'
LOWER_TAPER = 'diameter = "1.000 in"\ntaper_per_foot = "1 1/2 in"'

# example, trips, does not trip, key, both values, what is allowed (arithmetic on the sheet's own numbers)
LINK_TUBE = """recovery_factor = "1.5"
[[loads.links]]
link = "lower"
diameter = "2 in"
wall = "1 in"
material = "1018-cd"
"""
TUBE_END = """
[[tube_ends]]
name = "brace to hoop"
cut = "cope"
branch = "1 1/2 in"
main = "1 3/4 in"
angle = "55 deg"
offset = "0 in"
"""
PAIRS = {
    "a branch larger than the tube it stands on": (
        KINGPIN + TUBE_END,
        [('branch = "1 1/2 in"', 'branch = "1.751 in"')],
        [('branch = "1 1/2 in"', 'branch = "1.75 in"')],
        "tube_ends[1].branch",
        ("1.751 in", "1 3/4 in"),
        "up to 1 3/4 in",
    ),
    "a branch that passes beside the tube it stands on": (
        KINGPIN + TUBE_END,
        [('deg"\noffset = "0 in"', 'deg"\noffset = "0.126 in"')],
        [('deg"\noffset = "0 in"', 'deg"\noffset = "0.125 in"')],
        "tube_ends[1].offset",
        ("0.126 in",),
        "0.125 in (3.2 mm) to either side",
    ),
    "a mitre with a main tube": (
        KINGPIN + TUBE_END,
        [('cut = "cope"', 'cut = "mitre"')],
        [('cut = "cope"', 'cut = "mitre"'), ('main = "1 3/4 in"\n', "")],
        "tube_ends[1].main",
        ("1 3/4 in", 'cut = "mitre"'),
        "nothing for a mitre",
    ),
    "a range of a point the wrong way round": (
        REAR,
        [('["-2915 mm", "-2890 mm"]', '["-2890 mm", "-2890.1 mm"]')],
        [('["-2915 mm", "-2890 mm"]', '["-2890 mm", "-2890 mm"]')],
        "links.search.points[3].x",
        ("-2890 mm", "-2890.1 mm"),
        "the lower value first",
    ),
    "a box to keep clear that holds nothing": (
        REAR,
        [('["-2450 mm", "-2000 mm"]', '["-2450 mm", "-2450 mm"]')],
        [('["-2450 mm", "-2000 mm"]', '["-2450 mm", "-2449 mm"]')],
        "links.search.boxes[1].x",
        ("-2450 mm", "-2450 mm"),
        "two values apart",
    ),
    "a point to move in two entries": (
        REAR,
        [('point = "upper-left.axle"', 'point = "upper-left.frame"')],
        [('point = "upper-left.axle"', 'point = "upper-right.frame"')],
        "links.search.points[3].point",
        ("upper-left.frame", "a second time"),
        "one entry a point",
    ),
    "a wish with least above most": (
        REAR,
        [('least = "50", most = "90"', 'least = "50", most = "49.9"')],
        [('least = "50", most = "90"', 'least = "50", most = "50"')],
        "links.search.want.anti_squat[1]",
        ("least 50", "most 49.9"),
        "least not above most",
    ),
    "a wish that wants nothing": (
        REAR,
        [(', most = "725 mm"', "")],
        [(', most = "725 mm"', ', least = "0 mm"')],
        "links.search.want.roll_centre[1]",
        ("neither least nor most", ""),
        "least, most or both",
    ),
    "tyre above half its diameter": (
        KINGPIN,
        [('"17 1/2 in"', '"18 3/8 in +/- 1/8 in"'), ('"36 3/4 in"', '"36.74 in"')],
        [('"17 1/2 in"', '"18 3/8 in"')],
        "vehicle.tyre_loaded_radius",
        ("18 3/8 in +/- 1/8 in", "36.74 in"),
        "18.370 in",
    ),
    "tyre gone flat": (
        KINGPIN,
        [('"17 1/2 in"', '"13 3/4 in"')],
        [('"17 1/2 in"', '"13.79 in"')],
        "vehicle.tyre_loaded_radius",
        ("13 3/4 in", "36 3/4 in"),
        "13.781 in",
    ),
    "tyre no larger than its wheel": (
        KINGPIN,
        [
            ('wheel_diameter = "17 in"', 'wheel_diameter = "26 in"'),
            ('"36 3/4 in"', '"27 in"'),
            ('"17 1/2 in"', '"13 in"'),
        ],
        [
            ('wheel_diameter = "17 in"', 'wheel_diameter = "26 in"'),
            ('"36 3/4 in"', '"27.1 in"'),
            ('"17 1/2 in"', '"13 in"'),
        ],
        "vehicle.tyre_diameter",
        ("27 in", "26 in"),
        "27.000 in",
    ),
    "backspacing over the wheel's width and an inch": (
        KINGPIN,
        [('"3 3/4 in"', '"9.51 in"')],
        [('"3 3/4 in"', '"9.5 in"')],
        "vehicle.wheel_backspacing",
        ("9.51 in", "8 1/2 in"),
        "9.500 in",
    ),
    "wheel studs outside the flange": (
        KINGPIN,
        [('wheel_pattern_diameter = "6 1/2 in"', 'wheel_pattern_diameter = "8 1/4 in"')],
        [('wheel_pattern_diameter = "6 1/2 in"', 'wheel_pattern_diameter = "8.24 in"')],
        "wheel_ends.wheel_pattern_diameter",
        ("8 1/4 in",),
        "8.250 in",
    ),
    "wall of half the tube": (
        REAR,
        [('wall = "9.5 mm"', 'wall = "38.0 mm"'), ('"82.6 mm"', '"76 mm"')],
        [('wall = "9.5 mm"', 'wall = "9.6 mm"')],
        "tubes.wall",
        ("38.0 mm", "76 mm"),
        "38.0 mm",
    ),
    "tube larger than its bore": (
        KINGPIN,
        [('bore = "3.503 in"', 'bore = "3.487 in"')],
        [('bore = "3.503 in"', 'bore = "3.488 in"')],  # a press fit of 3 thousandths an inch [cp]
        "tubes.outside_diameter",
        ("3.498 in", "3.487 in"),
        "3.497 in",
    ),
    "bore larger than the neck": (
        KINGPIN,
        [('neck_diameter = "4 1/4 in"', 'neck_diameter = "3.503 in"')],
        [('neck_diameter = "4 1/4 in"', 'neck_diameter = "3.6 in"')],
        "knuckles.bore",
        ("3.503 in",),
        "3.503 in",
    ),
    "sleeve past the steering axis": (
        KINGPIN,
        [('neck_length = "2 in"', 'neck_length = "2.76 in"')],
        [('neck_length = "2 in"', 'neck_length = "2 3/4 in"')],
        "knuckles.neck_length",
        ("2.76 in", "2 3/4 in"),
        "2.750 in",
    ),
    # half width 33, axis at 27.75, weld at 25; left side of the section at -6.4375 + 5.5
    "left tube short of the knuckle": (
        KINGPIN,
        [('"27 11/16 in"', '"25.93 in"')],
        [('"27 11/16 in"', '"25.94 in"')],
        "tubes.left.length",
        ("25.93 in", "66 in", "24.992 in"),
        "25.938 in",
    ),
    "left tube past the steering axis": (
        KINGPIN,
        [('"27 11/16 in"', '"28.69 in"')],
        [('"27 11/16 in"', '"28.68 in"')],
        "tubes.left.length",
        ("28.69 in", "66 in"),
        "28.688 in",
    ),
    "right tube that took the left one's length": (
        KINGPIN,
        [('"14 13/16 in"', '"27 11/16 in"')],
        [('"14 13/16 in"', '"14 3/4 in"')],
        "tubes.right.length",
        ("27 11/16 in", "66 in"),
        "15.81",
    ),
    "knuckle inside the centre section": (
        KINGPIN,
        # the weld must stand outside the section: 2 x (6.5375 + 5.5 + 2.75 + 5.25) = 40.075
        [('wheel_mount_width = "66 in"', 'wheel_mount_width = "40 in"'), ('"-6 1/2 in"', '"-6.6 in"')],
        [('wheel_mount_width = "66 in"', 'wheel_mount_width = "40.1 in"'), ('"-6 1/2 in"', '"-6.6 in"')],
        "axle.wheel_mount_width",
        ("40 in", "12.000 in", "12.037 in"),
        "40.075 in",
    ),
    # rear: half width 813, end flange 12.7, right side of the section at 14 + 140
    "rear tube past the wheel mount surface": (
        REAR,
        [('length = "587 mm"', 'length = "646.4 mm"')],
        [('length = "587 mm"', 'length = "646.2 mm"')],
        "tubes.right.length",
        ("646.4 mm", "1626 mm"),
        "646.3 mm",
    ),
    "tube through the centre section": (
        KINGPIN,
        [('insertion = "2 in"', 'insertion = "5.5 in"')],
        [('insertion = "2 in"', 'insertion = "5.4 in"')],
        "tubes.left.insertion",
        ("5.5 in", "11 in"),
        "5.500 in",
    ),
    # casting 11 1/2 wide, bearings 7 1/2 over: (11.5 - 7.5) / 2 = 2 in on each side
    "integral tube into the bearing bore": (
        BALLJOINT,
        [('insertion = "1 7/8 in"', 'insertion = "2.01 in"')],
        [('insertion = "1 7/8 in"', 'insertion = "2 in"')],
        "tubes.left.insertion",
        ("2.01 in", "11 1/2 in", "7 1/2 in"),
        "2.000 in",
    ),
    "tube as large as the centre section": (
        REAR,
        [('height = "318 mm"', 'height = "127 mm"'), ('"82.6 mm"', '"127 mm"')],
        [('height = "318 mm"', 'height = "128 mm"'), ('"82.6 mm"', '"127 mm"')],
        "tubes.outside_diameter",
        ("127 mm",),
        "127.0 mm",
    ),
    "bar too thick for the tubes": (  # inside 3.498 - 0.75 = 2.748
        KINGPIN,
        [('diameter = "1.500 in"', 'diameter = "2.63 in"')],
        [('diameter = "1.500 in"', 'diameter = "2.62 in"')],
        "bar.diameter",
        ("2.63 in", "3.498 in", "0.375 in", "2.748 in"),
        "2.623 in",
    ),
    "bar too thick for the bearing bore": (
        KINGPIN,
        [('bore_diameter = "3.062 in"', 'bore_diameter = "1.74 in"')],
        [('bore_diameter = "3.062 in"', 'bore_diameter = "1.75 in"')],
        "bar.diameter",
        ("1.500 in", "1.74 in"),
        "1.490 in",
    ),
    # axis 27.75, boss 1.625, lean 3.5 tan 8.5 deg = 0.5231, two inches more, both sides: 63.796
    "bar too short for the clock plates": (
        KINGPIN,
        [('length = "90 in"', 'length = "63.79 in"')],
        [('length = "90 in"', 'length = "63.80 in"')],
        "bar.length",
        ("63.79 in", "66 in"),
        "63.796 in",
    ),
    "bar too short for a rear axle": (  # tube ends at 741 both sides, an inch more
        REAR,
        [('length = "2.3 m"', 'length = "1532 mm"')],
        [('length = "2.3 m"', 'length = "1533 mm"')],
        "bar.length",
        ("1532 mm",),
        "1532.8 mm",
    ),
    "boss no larger than its bore": (
        KINGPIN,
        [('boss_diameter = "2 1/2 in"', 'boss_diameter = "1.250 in"')],
        [('boss_diameter = "2 1/2 in"', 'boss_diameter = "1.251 in"')],
        "knuckles.upper.boss_diameter",
        ("1.250 in",),
        "1.250 in",
    ),
    # 1 in large end over an arm of 3 in: 4 in a foot is exactly nothing left
    "taper that runs to nothing": (
        BALLJOINT,
        [
            (LOWER_TAPER, 'diameter = "1.000 in"\ntaper_per_foot = "4 in"'),
            ('arm_thickness = "1 1/8 in"', 'arm_thickness = "3 in"'),
        ],
        [
            (LOWER_TAPER, 'diameter = "1.000 in"\ntaper_per_foot = "3.9 in"'),
            ('arm_thickness = "1 1/8 in"', 'arm_thickness = "3 in"'),
        ],
        "knuckles.lower.taper_per_foot",
        ("4 in", "1.000 in", "3 in"),
        "4.000 in",
    ),
    "cup as deep as its arm": (
        KINGPIN,
        [('depth = "0.750 in"', 'depth = "1 3/4 in"')],
        [('depth = "0.750 in"', 'depth = "1.74 in"')],
        "knuckles.lower.depth",
        ("1 3/4 in",),
        "1.750 in",
    ),
    "through hole as large as the cup": (
        KINGPIN,
        [('through = "1 1/4 in"', 'through = "2.4375 in"')],
        [('through = "1 1/4 in"', 'through = "2.43 in"')],
        "knuckles.lower.through",
        ("2.4375 in",),
        "2.438 in",
    ),
    # arms 1.5 and 1.75: half of both 1.625, bar 2.38 more; 2.38 in still slides through the tubes
    "arms that the bar does not pass": (
        KINGPIN,
        [('pivot_spread = "7 in"', 'pivot_spread = "4 in"'), ('diameter = "1.500 in"', 'diameter = "2.375 in"')],
        [('pivot_spread = "7 in"', 'pivot_spread = "4.01 in"'), ('diameter = "1.500 in"', 'diameter = "2.375 in"')],
        "knuckles.pivot_spread",
        ("4 in", "1 1/2 in", "1 3/4 in", "2.375 in"),
        "4.000 in",
    ),
    # opening 9.25, studs 3/8: from 9.625 to 11.375 across
    "stud circle inside the opening": (
        KINGPIN,
        [(CIRCLE, 'circle_diameter = "9.62 in"')],
        [(CIRCLE, 'circle_diameter = "9.63 in"')],
        "housing.face.studs.circle_diameter",
        ("9.62 in", "11 3/4 in", "9 1/4 in", "3/8-24"),
        "9.625 in",
    ),
    "stud circle outside the face": (
        KINGPIN,
        [(CIRCLE, 'circle_diameter = "11.38 in"')],
        [(CIRCLE, 'circle_diameter = "11.37 in"')],
        "housing.face.studs.circle_diameter",
        ("11.38 in", "11 3/4 in"),
        "11.375 in",
    ),
    # face of 299 mm, M10: up to 144.5 mm from the middle; 0.4 mm up and 1 mm left are the offsets
    "one stud outside the face": (
        REAR,
        [('y = "131 mm", z = "18 mm"', 'y = "143.6 mm", z = "-0.4 mm"')],
        [('y = "131 mm", z = "18 mm"', 'y = "143.4 mm", z = "-0.4 mm"')],
        "housing.face.studs.points[3]",
        ("143.6 mm", "299 mm", "235 mm"),
        "289.0 mm",
    ),
    # M10 studs: 10 mm from middle to middle
    "studs that overlap": (
        REAR,
        [('y = "95 mm", z = "92 mm"', 'y = "40.9 mm", z = "129 mm"')],
        [('y = "95 mm", z = "92 mm"', 'y = "41.1 mm", z = "129 mm"')],
        "housing.face.studs.points[2]",
        ("40.9 mm", "31 mm"),
        "10.0 mm",
    ),
    "opening as large as the face": (
        KINGPIN,
        [('opening_diameter = "9 1/4 in"', 'opening_diameter = "11 3/4 in"')],
        [('opening_diameter = "9 1/4 in"', 'opening_diameter = "9.5 in"')],
        "housing.face.opening_diameter",
        ("11 3/4 in",),
        "11.750 in",
    ),
    "bearing bores that meet": (
        KINGPIN,
        [('width_over = "7 1/4 in"', 'width_over = "5 in"'), ('bore_width = "7/8 in"', 'bore_width = "2.5 in"')],
        [('width_over = "7 1/4 in"', 'width_over = "5 in"'), ('bore_width = "7/8 in"', 'bore_width = "2.4 in"')],
        "housing.bearings.bore_width",
        ("2.5 in", "5 in"),
        "2.500 in",
    ),
    "bearings that do not pass the opening": (
        KINGPIN,
        [('width_over = "7 1/4 in"', 'width_over = "9 1/4 in"')],
        [('width_over = "7 1/4 in"', 'width_over = "9.2 in"')],
        "housing.bearings.width_over",
        ("9 1/4 in",),
        "9.250 in",
    ),
    "bearings wider than the casting": (
        BALLJOINT,
        [('width_over = "7 1/2 in"', 'width_over = "11 1/2 in"')],
        [('width_over = "7 1/2 in"', 'width_over = "11.4 in"')],
        "housing.bearings.width_over",
        ("11 1/2 in",),
        "11.500 in",
    ),
    "cover that the ring gear would cut": (
        KINGPIN,
        [('projection = "5 5/8 in"', 'projection = "4 1/2 in"')],
        [('projection = "5 5/8 in"', 'projection = "4.51 in"')],
        "housing.cover.projection",
        ("4 1/2 in", "9 in"),
        "4.500 in",
    ),
    "cover that ends before its face": (
        BALLJOINT,
        [('bore_distance = "1.125 in +/- 0.002 in"', 'bore_distance = "5 1/4 in"')],
        [('bore_distance = "1.125 in +/- 0.002 in"', 'bore_distance = "5.2 in"')],
        "housing.cover.projection",
        ("5 1/4 in",),
        "5.250 in",
    ),
    "yoke inside the face": (
        KINGPIN,
        [
            ('bore_distance = "2.372 in +/- 0.002 in"', 'bore_distance = "4.5 in"'),
            ('pinion_length = "11 in"', 'pinion_length = "5.5 in"'),
        ],
        [
            ('bore_distance = "2.372 in +/- 0.002 in"', 'bore_distance = "4.5 in"'),
            ('pinion_length = "11 in"', 'pinion_length = "5.6 in"'),
        ],
        "third_member.pinion_length",
        ("5.5 in", "4.5 in"),
        "5.500 in",
    ),
    "nose as large as the face": (
        REAR,
        [
            ('outside_diameter = "299 mm"', 'outside_diameter = "254 mm"'),
            ('nose_diameter = "133 mm"', 'nose_diameter = "254 mm"'),
        ],
        None,
        "third_member.nose_diameter",
        ("254 mm",),
        "254.0 mm",
    ),
    "yoke inside the ring gear": (
        BALLJOINT,
        [('"8.6 in"', '"10.2 in"'), ('pinion_length = "11 3/4 in"', 'pinion_length = "5.1 in"')],
        [('"8.6 in"', '"10.2 in"'), ('pinion_length = "11 3/4 in"', 'pinion_length = "5.2 in"')],
        "third_member.pinion_length",
        ("5.1 in", "10.2 in"),
        "5.100 in",
    ),
    "pin larger than the hole": (
        KINGPIN,
        [('pin = "0.623 in"', 'pin = "0.629 in"')],
        [('pin = "0.623 in"', 'pin = "0.628 in"')],
        "table.pin",
        ("0.629 in", "0.628 in"),
        "0.628 in",
    ),
    "bolt larger than the hole": (
        REAR,
        [('bolt = "M12x1.75"', 'bolt = "M18"')],
        [('bolt = "M12x1.75"', 'bolt = "M16"')],
        "table.bolt",
        ("M18", "16.10 mm"),
        "16.1 mm",
    ),
    "holes that run into each other": (
        KINGPIN,
        [('grid = "2 in"', 'grid = "0.628 in"')],
        [('grid = "2 in"', 'grid = "0.629 in"')],
        "table.grid",
        ("0.628 in",),
        "0.628 in",
    ),
    "one thickness twice": (
        KINGPIN,
        [('nominal = "1/4 in"\nmeasured = "0.251 in"', 'nominal = "9.5 mm"\nmeasured = "0.374 in"')],
        [('nominal = "1/4 in"\nmeasured = "0.251 in"', 'nominal = "10 mm"\nmeasured = "0.394 in"')],
        "plates[3].nominal",
        ("9.5 mm", "3/8 in"),
        "each thickness once",
    ),
    "measured far from nominal": (  # a tenth and ten thousandths: 0.44 to 0.56
        KINGPIN,
        [('measured = "0.503 in"', 'measured = "0.561 in"')],
        [('measured = "0.503 in"', 'measured = "0.559 in"')],
        "plates[1].measured",
        ("0.561 in", "1/2 in"),
        "0.560 in",
    ),
    "no such plate in the rack": (
        KINGPIN,
        [("[tools]", '[jig]\nclock_plate = "5/8 in"\n\n[tools]')],
        [("[tools]", '[jig]\nclock_plate = "3/8 in"\n\n[tools]')],
        "jig.clock_plate",
        ("5/8 in", "1/2 in, 3/8 in, 1/4 in"),
        "one of 1/2 in",
    ),
    "welded on beyond the wheels": (
        KINGPIN,
        [('station_to = "18 1/2 in"', 'station_to = "33.1 in"')],
        [('station_to = "18 1/2 in"', 'station_to = "33 in"')],
        "welded[1].station_to",
        ("33.1 in", "66 in"),
        "33.000 in",
    ),
    "welded on without length": (
        KINGPIN,
        [('station_to = "18 1/2 in"', 'station_to = "15.5 in"')],
        [('station_to = "18 1/2 in"', 'station_to = "15.6 in"')],
        "welded[1].station_to",
        ("15.5 in", "15 1/2 in"),
        "another station",
    ),
    "material of a link of no table": (
        KINGPIN,
        [('recovery_factor = "1.5"', LINK_TUBE.replace("1018-cd", "1018-dc"))],
        [('recovery_factor = "1.5"', LINK_TUBE)],
        "loads.links[1].material",
        ("1018-dc",),
        "1018-cd",
    ),
    "material of no table": (
        KINGPIN,
        [('material = "dom-1020"', 'material = "dom-1026"')],
        [('material = "dom-1020"', 'material = "a500-b"')],
        "tubes.material",
        ("dom-1026",),
        "dom-1020",
    ),
    "process of no table": (
        KINGPIN,
        [('name = "plasma-air-45a"', 'name = "plasma-air-95a"')],
        [('name = "plasma-air-45a"', 'name = "plasma-air-65a"')],
        "process.name",
        ("plasma-air-95a",),
        "plasma-air-45a",
    ),
    "slot no wider than one cut": (
        KINGPIN,
        [('pads = "mill"', 'pads = "mill"\nsmallest_slot = "0.062 in"')],
        [('pads = "mill"', 'pads = "mill"\nsmallest_slot = "0.063 in"')],
        "process.smallest_slot",
        ("0.062 in", "process.kerf"),
        "0.062 in",
    ),
    "two sheets of one name": (
        KINGPIN,
        [('name = "half sheet, 1/2"', 'name = "full sheet, 3/8"')],
        [],
        "sheets[2].name",
        ("full sheet, 3/8", "sheets[1].name"),
        "each name once",
    ),
    "sheet of a plate that is not in the rack": (
        KINGPIN,
        [('plate = "3/8 in"', 'plate = "5/16 in"')],
        [],
        "sheets[1].plate",
        ("5/16 in", "3/8 in"),
        "one of 1/2 in, 3/8 in, 1/4 in",
    ),
    "edges that leave nothing of a remnant": (
        KINGPIN,
        [('width = "30 in"', 'width = "4 in"'), ('edge = "1/2 in"', 'edge = "2 in"')],
        [('width = "30 in"', 'width = "4.01 in"'), ('edge = "1/2 in"', 'edge = "2 in"')],
        "sheets[3].width",
        ("4 in", "nesting.edge"),
        "4.000 in",
    ),
    # square bend, t = r = 1/4: corner 2 (r + t) = 1.000; arc at the outside face .785, at the inside .393 (geometry)
    "a deduction that no neutral line gives": (
        KINGPIN,
        [('deduction = "0.431 in"', 'deduction = "0.608 in"')],
        [('deduction = "0.431 in"', 'deduction = "0.607 in"')],
        "brake.tests[1].deduction",
        ("0.608 in", "brake.tests[1].inside_radius"),
        "0.215 in",
    ),
    "axle that weighs as much as the truck": (
        KINGPIN,
        [('truck_load = "5050 lb"', 'truck_load = "2640 lb"')],
        [('truck_load = "5050 lb"', 'truck_load = "2641 lb"')],
        "loads.axle_load",
        ("2640 lb", "loads.truck_load"),
        "less than 2640 lb",
    ),
    "axle and wheels that weigh all that stands on the ground": (
        KINGPIN,
        [('unsprung = "690 lb"', 'unsprung = "2640 lb"')],
        [('unsprung = "690 lb"', 'unsprung = "2639 lb"')],
        "loads.unsprung",
        ("2640 lb", "loads.axle_load"),
        "less than 2640 lb",
    ),
    "steering force on a rear axle": (
        REAR,
        [('ratio = "4.875"', 'ratio = "4.875"\nsteering_force = "900 lbf"')],
        [],
        "loads.steering_force",
        ("900 lbf", 'axle.position = "rear"'),
        "nothing on a rear axle",
    ),
}


@pytest.mark.parametrize("name", PAIRS)
def test_a_contradiction_trips_with_both_values_range_line_and_remedy(name):
    text, trips, _, key, values, allowed = PAIRS[name]
    altered = put(text, *trips)
    fault = by_key(altered, key)
    for value in values:
        assert value in fault.given
    assert allowed in fault.allowed
    assert fault.remedy
    assert fault.line is not None
    last = key.rsplit(".", 1)[-1].split("[")[0]
    if last in ("points", "angles"):
        assert "{" in altered.split("\n")[fault.line - 1]
    elif "." in key and last == "length" and key.startswith("tubes."):
        assert altered.split("\n")[fault.line - 1].startswith(key.split(".")[1])
    elif last == "insertion":
        assert altered.split("\n")[fault.line - 1].startswith("left = {")
    else:
        assert altered.split("\n")[fault.line - 1].startswith(f"{last} =")


@pytest.mark.parametrize("name", [n for n in PAIRS if PAIRS[n][2] is not None])
def test_just_inside_the_limit_there_is_no_contradiction_of_that_key(name):
    text, _, passes, key, *_ = PAIRS[name]
    assert key not in [f.key for f in faults(put(text, *passes))]


def test_a_front_axle_needs_knuckles_and_caster():
    start, end = KINGPIN.index("[knuckles]"), KINGPIN.index("[wheel_ends]")
    text = put(KINGPIN[:start] + KINGPIN[end:], ('caster = "7 deg"\n', ""))
    caster, knuckles = by_key(text, "axle.caster"), by_key(text, "knuckles")
    assert 'axle.position = "front"' in caster.given
    assert caster.line == line_with(text, "[axle]")
    assert "add the caster" in caster.remedy
    assert 'axle.position = "front"' in knuckles.given
    assert knuckles.line is None


def test_a_rear_axle_has_neither_knuckles_nor_caster():
    section = KINGPIN[KINGPIN.index("[knuckles]") : KINGPIN.index("[wheel_ends]")]
    text = put(
        REAR, ("[wheel_ends]", f"{section}[wheel_ends]"), ('position = "rear"', 'position = "rear"\ncaster = "5 deg"')
    )
    caster, knuckles = by_key(text, "axle.caster"), by_key(text, "knuckles")
    assert "5 deg" in caster.given
    assert 'axle.position = "rear"' in caster.given
    assert caster.line == line_with(text, "caster =")
    assert "take [knuckles]" in knuckles.remedy
    assert knuckles.line == line_with(text, "[knuckles]")


def test_a_pattern_of_points_and_circle_is_one_too_many():
    points = 'points = [{ y = "5 in", z = "0 in" }, { y = "0 in", z = "5 in" }, { y = "-5 in", z = "0 in" }]\n'
    text = put(KINGPIN, (CIRCLE, points + CIRCLE))
    fault = by_key(text, "housing.face.studs.points")
    assert fault.line == line_with(text, "points =")
    assert "keep the one that was measured" in fault.remedy


def test_a_pattern_of_neither_is_never_invented():
    text = put(KINGPIN, (CIRCLE, ""), (ANGLES, ""))
    fault = only(text)
    assert (fault.key, fault.line) == ("housing.face.studs", line_with(text, "[housing.face.studs]"))
    assert "never invented" in fault.remedy


def test_a_circle_without_angles_and_angles_without_a_circle():
    fault = only(put(KINGPIN, (ANGLES, "")))
    assert fault.key == "housing.face.studs.angles"
    fault = only(put(KINGPIN, (CIRCLE, "")))
    assert fault.key == "housing.face.studs.circle_diameter"
    assert "10 angles" in fault.given


def test_two_studs_do_not_hold_a_face():
    text = put(KINGPIN, (ANGLES, 'angles = ["0 deg", "180 deg"]\n'))
    assert by_key(text, "housing.face.studs.angles").allowed == "3 or more"


def test_one_angle_written_twice_is_two_studs_in_one_place():
    fault = only(put(KINGPIN, ('"82 deg"', '"46.5 deg"')))
    assert fault.key == "housing.face.studs.angles[3]"
    assert "studs 2 and 3 overlap" in fault.remedy


def test_studs_that_no_ring_carries():
    fault = by_key(put(KINGPIN, ('size = "3/8-24"', 'size = "1 3/8-12"')), "housing.face.studs.size")
    assert "1 3/8-12" in fault.given
    assert "9 1/4 in" in fault.given


def test_tapped_cover_bolts_of_no_length_are_fine_and_so_are_studs_in_a_casting():
    assert faults(BALLJOINT) == ()
    assert faults(put(BALLJOINT, ('length = "0 in"', 'length = "1 in"'))) == ()


def test_a_bent_housing_is_no_fault_of_the_sheet():
    assert faults(put(KINGPIN, ('right = ["0.000 in", "-0.002 in"', 'right = ["0.000 in", "-0.062 in"'))) == ()


@pytest.mark.parametrize(
    "kind, name, value",
    [
        ("taper", "taper_per_foot", '"1 1/2 in"'),
        ("cup", "depth", '"3/4 in"'),
        ("pin", "length", '"2 in"'),
        ("thread", "thread", '"1 1/4-12"'),
    ],
)
def test_a_pivot_needs_the_key_of_its_kind_and_no_other_takes_it(kind, name, value):
    without = put(KINGPIN, (UPPER, f'[knuckles.upper]\nkind = "{kind}"\n'))
    fault = only(without)
    assert (fault.key, fault.line) == (f"knuckles.upper.{name}", line_with(without, "[knuckles.upper]"))
    assert f'kind = "{kind}"' in fault.given
    assert f"a {kind} needs {name}" in fault.remedy
    assert faults(put(KINGPIN, (UPPER, f'[knuckles.upper]\nkind = "{kind}"\n{name} = {value}\n'))) == ()
    other = put(KINGPIN, (UPPER, f'[knuckles.upper]\nkind = "straight"\n{name} = {value}\n'))
    fault = only(other)
    assert (fault.key, fault.line) == (f"knuckles.upper.{name}", other.split("\n").index(f"{name} = {value}") + 1)
    assert f"{name} belongs to a {kind}" in fault.remedy


def test_the_examples_contradict_nowhere():
    for text in (KINGPIN, BALLJOINT, REAR):
        assert contradictions(sheet(text)) == []
        assert contradictions(draft_of(raw(text))) == []


def test_a_draft_without_any_value_contradicts_nowhere():
    assert contradictions(draft_of({})) == []
    assert contradictions(draft_of({"axle": 5, "tubes": {"wall": []}, "plates": [3], "housing": {"face": 1}})) == []


def test_every_rule_has_a_text_and_is_kept_once():
    assert len(RULES) == len({rule.__name__ for rule in RULES})
    assert all(rule.__doc__ for rule in RULES)


def test_every_rule_has_a_case_that_trips_it():
    others = (ACCESS_PAIRS, COMPONENT_PAIRS, BRACKET_PAIRS, CLEARANCE_PAIRS, TRUSS_PAIRS)
    cases = (*PAIRS.values(), *(case for pairs in others for case in pairs.values()))
    texts = [put(text, *trips) for text, trips, *_ in cases]
    texts += [
        put(KINGPIN, ('caster = "7 deg"\n', "")),
        put(KINGPIN, (ANGLES, "")),
        put(KINGPIN, (ANGLES, 'angles = ["0 deg", "180 deg"]\n')),
        put(KINGPIN, (UPPER, '[knuckles.upper]\nkind = "pin"\n')),
    ]
    drafts = [draft_of(raw(text)) for text in texts]
    silent = [rule.__name__ for rule in RULES if not any(_trips(rule, draft) for draft in drafts)]
    assert silent == []


def _trips(rule, draft):
    try:
        return bool(list(rule(draft)))
    except AttributeError:
        return False
