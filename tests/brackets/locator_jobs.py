"""Jobs with brackets and their locators, made once."""

import tomllib
from functools import cache
from pathlib import Path

from fixturegen.axle.model import axle_of
from fixturegen.brackets.registry import make_brackets
from fixturegen.checks.registry import Job
from fixturegen.parts.registry import make_jig
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bracket_plan import bracket_plan
from fixturegen.studies.jig_plan import plan_of

EXAMPLES = Path(__file__).parents[2] / "examples"
INCH = 25.4


def raw():
    """The rear axle with the brackets of its links alone, the uppers on a low truss that is there, measured, not drawn.

    Tabs of shocks and straps have no locator; nor has a tower on a truss of the sheet, which an arm does not pass.
    """
    data = tomllib.loads((EXAMPLES / "rear-dropout.toml").read_text(encoding="utf-8"))
    del data["truss"]
    data["links"]["upper"]["left"] |= {
        "frame": ["-2030 mm", "470 mm", "690 mm"], "axle": ["-2820 mm", "130 mm", "660 mm"],
    }  # fmt: skip
    lower = next(b for b in data["brackets"] if b["holds"] == "lower-left")
    upper = {
        "holds": "upper-left", "kind": "two-tab", "joint": "upper joint", "plate": "6 mm", "leg": "8 mm",
        "on": "truss", "facing": "up", "surface": "152 mm", "wall": "8 mm", "rail_width": "120 mm",
    }  # fmt: skip
    data["brackets"] = [lower, upper]
    return data


def job_of(data):
    sheet = Sheet.model_validate(data)
    axle = axle_of(sheet)
    plan = plan_of(sheet, axle)
    parts, assemblies = make_jig(sheet, axle, plan)
    made = make_brackets(sheet, axle, plan, bracket_plan(sheet, axle))
    return Job(
        sheet,
        axle,
        plan,
        {p.name: p for p in (*parts, *made.parts)},
        {a.name: a for a in (*assemblies, *made.assemblies)},
        brackets=made,
    )


@cache
def rear():
    return job_of(raw())


def level_axle():
    """The rear job with its face square, so that A and T differ by the height alone."""
    data = raw()
    data["housing"]["face"]["angle"] = "0 deg"
    return data


def locator(job, name):
    return next(m for m in job.brackets.locators if m.name == name)
