"""Holes by purpose: finished size, and what is done for it at the cutter and at the drill.

A hole that sets an angle, a place or a joint is never left to the torch (DEVELOPERS.md).
"""

from __future__ import annotations

import math
from typing import Literal

from fixturegen.calc.hole import hole as clearance_hole
from fixturegen.errors import GeometryFault, InputFault
from fixturegen.parts.registry import Context
from fixturegen.plate import Hole, Purpose
from fixturegen.plate.profile import Fit, Operation
from fixturegen.sheet.threads import thread_diameter
from fixturegen.studies.cutting_rules import CuttingRules, rules_for
from fixturegen.studies.drilling import drill_before_reamer, drill_words, reamed_size
from fixturegen.units import as_inch

INCH = 25.4
SET = (Purpose.ANGLE, Purpose.DOWEL, Purpose.BORE, Purpose.TAP)  # never left to the torch
HALF_TENTH = 5e-5  # [in]
PIN_CLEARANCE = 0.43  # hole of a table pin over the pin [mm]: table of fits, table-pin
THROUGH = (Purpose.BOLT, Purpose.TABLE)  # something goes through with a clearance


def decimal(value: float, places: int = 3) -> str:
    """A length as decimal inch text, as a mill or lathe hand reads it ("1.250 in"); value [mm]."""
    return f"{value / INCH:.{places}f} in"


def to_size(value: float, *, metric: bool) -> str:
    """A bored or reamed size in the unit of the job, with a ten-thousandth where it has one; value [mm]."""
    if metric:
        return f"{value:.3f} mm"
    return decimal(value, 3 if abs(round(value / INCH, 3) - value / INCH) < HALF_TENTH else 4)


def pin_words(pin: float) -> str:
    """What is to know of the hole of a table pin [mm]: it is a clearance hole, not reamed to the pin."""
    return f"the {decimal(pin)} table pin drops in with {decimal(PIN_CLEARANCE)} to spare: no larger, no bush"


def fraction(value: float) -> str:
    """A length as inch and fraction for labels and hardware lists; value [mm]."""
    return as_inch(value, 64).split(" (")[0]


def hole(
    x: float,
    y: float,
    finished: float,
    purpose: Purpose,
    label: str,
    context: Context,
    *,
    thickness: float,
    clearance: float = INCH / 16.0,
    stack: str = "",
    note: str = "",
    fit: Fit = "",
) -> Hole:
    """A hole with what is done at the cutter and at the drill, decided from what it is for.

    Holes that set an angle or a place are only marked. Any other stays as cut when the torch cuts
    that size round in this plate and its clearance takes up the class of the cutter; else it is cut
    under and drilled out, or only marked when even that would be too small to cut. What is cut to
    size is drawn smaller by what the coupon's hole came out too large.

    Args:
        x: Centre in the part frame [mm].
        y: Centre in the part frame [mm].
        finished: Finished diameter [mm].
        purpose: What it is for.
        label: What the drawing calls it.
        context: The job; its process decides.
        thickness: Measured thickness of the plate [mm].
        clearance: Room over what goes through a clearance hole, on the diameter [mm].
        stack: Parts it is drilled together with, in words.
        note: Words of its own, put after ours.
        fit: Clearance class it was taken from the table by, if any.
    """
    rules = rules_for(context.sheet, thickness)
    operation = Operation.PILOT
    if purpose not in SET:
        operation = cutter_does(finished, rules, clearance if purpose in THROUGH else math.inf)
    words = [_drill_words(purpose, operation, finished, context, stack, rules), note]
    return Hole(
        x=x,
        y=y,
        finished=finished,
        purpose=purpose,
        label=label,
        operation=operation,
        cut=drawn(finished, operation, rules),
        note="; ".join(w for w in words if w),
        through=finished - clearance if purpose in THROUGH else None,
        fit=fit,
    )


def cutter_does(finished: float, rules: CuttingRules, clearance: float) -> Operation:
    """What the cutter does for a hole that needs no drill for its own sake.

    Args:
        finished: Finished diameter [mm].
        rules: Of the plate.
        clearance: Room over what goes through, on the diameter [mm]; infinite when nothing fits it.
    """
    allowed = rules.tolerance(finished)
    exact = clearance < math.inf and (allowed is None or clearance < allowed.value)
    if finished >= rules.hole.value and not exact:
        return Operation.CUT
    return under_or_mark(finished, rules)


def under_or_mark(finished: float, rules: CuttingRules) -> Operation:
    """What the cutter does for a hole that is drilled: cut under, or mark where that is too small to cut."""
    small = finished - rules.under.value < rules.hole_possible.value
    return Operation.PILOT if small else Operation.UNDERCUT


def drawn(finished: float, operation: Operation, rules: CuttingRules) -> float | None:
    """Diameter in the cut file [mm], what the coupon's hole came out too large taken off; None for a mark.

    Args:
        finished: Finished diameter [mm].
        operation: What the cutter does.
        rules: Of the plate.
    """
    if operation is Operation.PILOT:
        return None
    under = rules.under.value if operation is Operation.UNDERCUT else 0.0
    return finished - under - rules.hole_error.value


def bolt_hole(
    x: float,
    y: float,
    bolt: str,
    label: str,
    context: Context,
    *,
    thickness: float,
    fit: Literal["close", "normal", "loose"] = "normal",
    note: str = "",
) -> Hole:
    """A clearance hole for a bolt, its finished size from the table of the bolt's standard.

    Args:
        x: Centre in the part frame [mm].
        y: Centre in the part frame [mm].
        bolt: Size or thread, 1/2-13 or M12.
        label: What the drawing calls it.
        context: The job.
        thickness: Measured thickness of the plate [mm].
        fit: Clearance class.
        note: Words of its own.

    Raises:
        GeometryFault: When the standard has no hole for that bolt.
    """
    try:
        finished = clearance_hole(bolt, fit).diameter
    except InputFault as missing:
        fault = missing.faults[0]
        raise GeometryFault(label, f"no {fit} hole on file for a bolt {bolt}", f"use one of {fault.allowed}") from None
    room = finished - thread_diameter(bolt)
    return hole(x, y, finished, Purpose.BOLT, label, context, thickness=thickness, clearance=room, note=note, fit=fit)


def joint_hole(
    x: float,
    y: float,
    shank: float,
    label: str,
    rules: CuttingRules,
    *,
    finished: float | None = None,
    fit: Fit = "reamed",
    metric: bool = False,
    note: str = "",
) -> Hole:
    """The hole of a link, track bar, drag link or shock bolt: drilled and reamed to the measured shank.

    A clearance hole would let the bolt hammer in it; a finished size or a class that is asked for
    is drawn as asked and refused by HOL-04, so that the part is held and its sentence is read.

    Args:
        x: Centre in the part frame [mm].
        y: Centre in the part frame [mm].
        shank: Diameter of the bolt's shank, measured [mm].
        label: What the drawing calls it.
        rules: Of the plate.
        finished: Finished diameter [mm]; chosen between the limits of the fit when not given.
        fit: Reamed, or the clearance class somebody asked for.
        metric: Whether the person works in millimetres.
        note: Words of its own.
    """
    size = reamed_size(shank, metric) if finished is None else finished
    operation = under_or_mark(size, rules)
    drill = drill_before_reamer(size, metric)
    first = "" if drill is None else f"drill {drill.name}, "
    cut = f"cut {fraction(rules.under.value)} under, " if operation is Operation.UNDERCUT else "only marked: "
    measured = to_size(shank, metric=metric)
    words = f"{cut}{first}ream {to_size(size, metric=metric)}; the shank measured {measured}"
    return Hole(
        x=x,
        y=y,
        finished=size,
        purpose=Purpose.JOINT,
        label=label,
        operation=operation,
        cut=drawn(size, operation, rules),
        note="; ".join(w for w in (words, note) if w),
        through=shank,
        fit=fit,
    )


def _drill_words(
    purpose: Purpose, operation: Operation, finished: float, context: Context, stack: str, rules: CuttingRules
) -> str:
    metric = context.sheet.job.units == "mm"
    size = to_size(finished, metric=metric)
    together = f" in one stack with {stack}" if stack else ""
    if purpose is Purpose.ANGLE:
        if context.sheet.process.angle_holes == "mill":
            return f"bore and ream {size} on the mill from coordinates{together}"
        return f"drill from the punched mark and ream {size}{together}"
    if purpose is Purpose.DOWEL:
        return f"drill{together or ' with its mate'} and ream {size}"
    if purpose is Purpose.BORE:
        return f"bore {size} on the mill{together}"
    if purpose is Purpose.TAP:
        return f"drill and tap{together}"
    if operation is Operation.UNDERCUT:
        return f"cut {fraction(rules.under.value)} under, drill out to {drill_words(finished, metric)}"
    if operation is Operation.PILOT:
        return f"only marked: drill {drill_words(finished, metric)}"
    return ""
