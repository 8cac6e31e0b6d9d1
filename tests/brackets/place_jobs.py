"""The rear axle with four brackets of its own, so that what an example is changed to changes nothing here."""

from functools import cache

from tests.brackets.locator_jobs import EXAMPLES, job_of
from tests.brackets.locator_jobs import raw as example

JOINTS = [
    {
        "name": f"{name} joint",
        "width": f"{width} mm",
        "body": f"{body} mm",
        "bolt": bolt,
        "shank": f"{shank} mm",
        "grade": "10.9",
    }
    for name, width, body, bolt, shank in (("lower", 67, 58, "M20", 19.96), ("upper", 57, 50, "M18", 17.97))
]


def raw():
    """The rear example: spring pads outboard of the lower brackets, truss clear of the housing, face square."""
    data = example()
    data["housing"]["face"]["angle"] = "0 deg"
    data["links"]["lower"]["left"] = ends(["-1840 mm", "360 mm", "520 mm"], ["-2750 mm", "480 mm", "420 mm"])
    data["links"]["upper"]["left"] = ends(["-2030 mm", "470 mm", "690 mm"], ["-2820 mm", "130 mm", "660 mm"])
    for pad, sign in zip(data["welded"], ("", "-"), strict=True):
        pad["station_from"], pad["station_to"] = f"{sign}580 mm", f"{sign}650 mm"
    data["joints"] = [dict(j) for j in JOINTS]
    lower = {"holds": "lower-left", "kind": "two-tab", "joint": "lower joint", "plate": "6 mm"}
    upper = {**lower, "holds": "upper-left", "joint": "upper joint", "on": "truss", "facing": "up"}
    data["brackets"] = [lower, {**upper, "surface": "165 mm"}]
    data["loads"]["links"] = [tube("lower", 51.0), tube("upper", 44.0)]
    return data


def ends(frame, axle):
    return {"frame": frame, "axle": axle}


def tube(link, diameter):
    return {"link": link, "diameter": f"{diameter} mm", "wall": "6 mm", "material": "dom-1020"}


def level():
    """The same with the pinion level and no rake: the sheet's frame is the axle's but for where it stands."""
    data = raw()
    data["axle"]["pinion_angle"] = "0 deg"
    data["vehicle"]["rake"] = "0 deg"
    return data


@cache
def rear():
    return job_of(raw())


__all__ = ["EXAMPLES", "JOINTS", "ends", "job_of", "level", "raw", "rear", "tube"]
