"""Axles of the examples with a truss of the test's own, and nothing on it."""

from fixturegen.axle.model import axle_of
from fixturegen.checks.registry import Job
from fixturegen.studies.bracket_records import BracketPlan
from fixturegen.studies.jig_plan import plan_of
from fixturegen.studies.truss_plan import truss_plan
from fixturegen.truss.registry import make_truss
from tests.studies.study_jobs import REAR, sheet_of

KEYS = {"plate": "6 mm", "height": "200 mm", "left_end": "520 mm", "right_end": "-520 mm", "taper": "30 deg"}


def truss_sheet(name=REAR, truss=None, **changes):
    """The sheet with a truss; of the rear one a plain one unless told otherwise."""
    keys = {**KEYS, **(truss or {})} if name == REAR else truss
    return sheet_of(name, truss=keys, brackets=[], clearance={}, access=None, **changes)


def truss_of(name=REAR, truss=None, **changes):
    """(sheet, axle, plan) by numbers alone."""
    sheet = truss_sheet(name, truss, **changes)
    axle = axle_of(sheet)
    return sheet, axle, truss_plan(sheet, axle)


def number_job(name=REAR, truss=None, **changes):
    """A job by numbers alone, no part drawn up."""
    sheet = truss_sheet(name, truss, **changes)
    axle = axle_of(sheet)
    return Job(sheet, axle, plan_of(sheet, axle))


def truss_job(name=REAR, truss=None, **changes):
    """A job with the truss's parts and assembly, and nothing else."""
    sheet = truss_sheet(name, truss, **changes)
    axle = axle_of(sheet)
    made = make_truss(sheet, axle, BracketPlan())
    parts, assemblies = {p.name: p for p in made.parts}, {a.name: a for a in made.assemblies}
    return Job(sheet, axle, plan_of(sheet, axle), parts, assemblies)
