"""Whole example jobs with their scene, drawn once, and blocks of steel put in the way."""

import dataclasses
import tomllib
from functools import cache
from pathlib import Path

from fixturegen.axle.model import axle_of
from fixturegen.checks.registry import Job, claims
from fixturegen.checks.scene import Thing, scene_of
from fixturegen.findings import Level
from fixturegen.parts.registry import make_jig
from fixturegen.plate import Assembly, Part, Placement, Profile
from fixturegen.plate.profile import rectangle
from fixturegen.shapes import solids
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_plan import plan_of

EXAMPLES = Path(__file__).parents[2] / "examples"
DROPOUT, INTEGRAL, REAR = "front-dropout-kingpin", "front-integral-balljoint", "rear-dropout"
INCH = 25.4
PLAIN = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


@cache
def job(name=DROPOUT):
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    sheet = Sheet.model_validate(tomllib.loads(text))
    axle = axle_of(sheet)
    plan = plan_of(sheet, axle)
    parts, assemblies = make_jig(sheet, axle, plan)
    return Job(sheet, axle, plan, {p.name: p for p in parts}, {a.name: a for a in assemblies})


def with_block(made, block, group="stand", name="block"):
    """The same job with one more piece of steel in its scene."""
    scene = scene_of(made)
    thing = Thing(name, group, "", block)
    return dataclasses.replace(made, store={**made.store, "scene": (*scene, thing)})


def bare(plates):
    """A job whose jig is a few plates and nothing else: (name, profile, thickness, placement)."""
    made = job()
    parts = {n: Part(n, n, "test", "plate", thickness=t, profile=p) for n, p, t, _ in plates}
    jig = Assembly("jig", "T", tuple(w for _, _, _, w in plates))
    return dataclasses.replace(made, parts=parts, assemblies={"jig": jig}, store={"bench_bodies": {}})


def plate(name, x0, y0, x1, y1, thickness, at, rotation=PLAIN, group="stand", inner=()):
    placement = Placement(name, at, rotation, group)
    return name, Profile(rectangle(x0, y0, x1, y1), inner), thickness, placement


def findings(code, made):
    return next(c for c in claims() if c.code == code).check(made)


def fails(code, made, word=""):
    return [f for f in findings(code, made) if f.level is Level.FAIL and word in f.words]


def thing(made, name):
    return next(t for t in scene_of(made) if t.name == name)


__all__ = [
    "DROPOUT",
    "INCH",
    "INTEGRAL",
    "PLAIN",
    "REAR",
    "bare",
    "fails",
    "findings",
    "job",
    "plate",
    "solids",
    "thing",
    "with_block",
]
