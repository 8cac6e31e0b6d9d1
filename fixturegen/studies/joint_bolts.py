"""The bolt of a joint as its strength is worked out: thread of its size, grade of its head, shank as measured."""

from __future__ import annotations

import re
from dataclasses import replace

from fixturegen.calc._bolts import stress_area_inch, stress_area_metric
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust, weakest
from fixturegen.sheet.threads import thread_diameter
from fixturegen.stock import Bolt, Grade, entry, table
from fixturegen.studies.bracket_records import JointSize
from fixturegen.studies.strength_records import BoltSteel, bolt_of

COARSE_METRIC = {18.0: 2.5, 22.0: 2.5, 27.0: 3.0, 30.0: 3.5, 33.0: 3.5, 36.0: 4.0}
"""Coarse pitch [mm] of sizes the table of bolts does not have (ISO 261, from memory)."""
COARSE_INCH = {1.125: 7.0, 1.25: 7.0, 1.375: 6.0, 1.5: 6.0}
"""Coarse threads per inch of sizes [in] the table of bolts does not have (ASME B1.1, from memory)."""
LARGE_8_8 = (600.0, 660.0, 830.0)
"""Proof, yield and tensile strength of 8.8 over 16 mm [MPa] (ISO 898-1, from memory); the table ends at 16 mm."""
_NEAR = 1e-6


def joint_bolt(joint: JointSize) -> BoltSteel:
    """The bolt of a joint; a size alone is the coarse thread.

    Raises:
        InputFault: When its grade is in no table, or it is of a size that the grade does not cover.
    """
    grade = grade_id(joint.grade)
    name = joint.bolt.replace(" ", "")
    if grade == "8.8" and name.startswith("M") and thread_diameter(joint.bolt) > 16.0 + _NEAR:
        return _large_8_8(joint)
    known = [e for e in table("bolts").entries.values() if e.id == name or re.split(r"[-x]", e.id)[0] == name]
    steel = bolt_of(known[0].id, grade) if known else _unlisted(joint, grade)
    # a worn or undersized shank is what carries
    return replace(steel, diameter=min(steel.diameter, joint.shank))


def _large_8_8(joint: JointSize) -> BoltSteel:
    """A bolt of 8.8 over 16 mm."""
    area, diameter = _area(joint), thread_diameter(joint.bolt)
    return BoltSteel(f"{joint.bolt}, 8.8", min(diameter, joint.shank), area, *LARGE_8_8, Trust.MEMORY)


def _area(joint: JointSize) -> float:
    """Stress area of the thread of a joint's bolt [mm^2].

    Raises:
        InputFault: When its pitch is not known.
    """
    area = thread_area(joint.bolt)
    if area is None:
        remedy = "write it with its pitch or threads per inch, M18x2.5 or 1 1/8-7"
        raise InputFault(Fault("joints.bolt", joint.bolt, "a thread whose pitch is known", remedy))
    return area


def grade_id(text: str) -> str:
    """Id of a grade in the table: SAE 8 is grade-8, 10.9 is 10.9.

    Raises:
        InputFault: When there is none.
    """
    name = re.sub(r"^(?:sae|iso|class|grade|gr\.?|[\s-])+", "", text.strip().lower())
    known = list(table("bolt-grades").entries)
    for id_ in known:
        if id_.removeprefix("grade-") == name:
            return id_
    allowed = ", ".join(f"SAE {k[6:]}" if k.startswith("grade-") else k for k in known)
    raise InputFault(Fault("joints.grade", text, allowed, "read the marks on the head"))


def thread_area(text: str) -> float | None:
    """Stress area of a thread [mm^2]; None for a size alone of no known pitch.

    Source: asme-b1.1, 0.7854 (D - 0.9743 / n)^2; iso-898-1, (pi / 4)(d - 0.9382 P)^2.
    """
    name = text.replace(" x ", "x")
    if name in table("bolts").entries:
        return float(entry("bolts", name, Bolt).stress_area)
    diameter = thread_diameter(name)
    if name.startswith("M"):
        coarse = next((e for e in table("bolts").entries if e.startswith(f"{name}x")), None)
        if coarse is not None:
            return float(entry("bolts", coarse, Bolt).stress_area)
        pitch = float(name.split("x")[1]) if "x" in name else COARSE_METRIC.get(diameter)
        return None if pitch is None else float(stress_area_metric(diameter, pitch))
    count = float(name.rsplit("-", 1)[1]) if "-" in name else COARSE_INCH.get(diameter / 25.4)
    return None if count is None else float(stress_area_inch(diameter, count))


def _unlisted(joint: JointSize, grade: str) -> BoltSteel:
    """A bolt the table does not list, its stress area by the formula of its standard."""
    area = _area(joint)
    strength, diameter = entry("bolt-grades", grade, Grade), thread_diameter(joint.bolt)
    metric = joint.bolt.startswith("M")
    if metric != (strength.source == "iso-898-1"):
        allowed = "8.8, 10.9 or 12.9 for a metric bolt" if metric else "SAE 2, 5 or 8 for an inch bolt"
        raise InputFault(Fault("joints.grade", f"{joint.grade} on {joint.bolt}", allowed, "read the marks on the head"))
    if not strength.smallest - _NEAR <= diameter <= strength.largest + _NEAR:
        allowed = f"bolts of {strength.smallest.text} to {strength.largest.text} in that grade"
        raise InputFault(Fault("joints.bolt", joint.bolt, allowed, "choose another size or grade"))
    return BoltSteel(
        f"{joint.bolt}, {grade}",
        diameter,
        area,
        float(strength.proof),
        float(strength.yield_strength),
        float(strength.tensile),
        weakest(Trust.MEMORY, strength.trust),
    )
