"""Boundary pairs about getting things off, in the form of tests/sheet/test_contradictions.py."""

from tests.sheet.altered import REAR

FILL = 'at = ["-140 mm", "-15 mm", "-35 mm"]\nout = '
DRAIN = 'at = ["10 mm", "-15 mm", "-160 mm"]'
BREATHER = 'at = ["-38.8 mm", "-205 mm", "14.1 mm"]'
HEAD = 'extensions = ["75 mm", "150 mm"]'
ROUND = 'rounds = [{ name = "'

ACCESS_PAIRS = {
    "a plug that is screwed out in no direction": (
        REAR,
        [(f'{FILL}["-1", "0", "0"]', f'{FILL}["0", "0", "0"]')],
        [(f'{FILL}["-1", "0", "0"]', f'{FILL}["0", "0", "0.01"]')],
        "access.fittings[1].out",
        ("[0, 0, 0]", ""),
        "a direction",
    ),
    "a drain as high as the fill plug": (
        REAR,
        [(DRAIN, DRAIN.replace("-160", "-35"))],
        [(DRAIN, DRAIN.replace("-160", "-35.1"))],
        "access.fittings[2].at",
        ("-35 mm up", "fill plug -35 mm up"),
        "below the fill plug",
    ),
    "a breather no higher than the fill plug": (
        REAR,
        [(BREATHER, BREATHER.replace('"14.1 mm"', '"-35 mm"'))],
        [(BREATHER, BREATHER.replace('"14.1 mm"', '"-34.9 mm"'))],
        "access.fittings[3].at",
        ("-35 mm up", "fill plug -35 mm up"),
        "above the fill plug",
    ),
    "one shock with a diameter in both sections": (
        REAR,
        [(HEAD, f'{HEAD}\n{ROUND}Shock", diameter = "51 mm" }}]')],
        [(HEAD, f'{HEAD}\n{ROUND}stop", diameter = "51 mm" }}]')],
        "access.rounds[1].name",
        ("Shock", "a second time"),
        "one entry each",
    ),
}
