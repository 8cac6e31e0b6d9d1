"""Loads of one bolt."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Literal

from fixturegen.calc._answer import Answer
from fixturegen.calc._bolts import CLAMP_SHARE, SHEAR_SHARE, bolt_shear, shank_area
from fixturegen.calc._numbers import NOT_COVERED
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust, weakest
from fixturegen.sources import cite
from fixturegen.stock import Bolt as Thread
from fixturegen.stock import Grade, table
from fixturegen.units import Area, Force, as_text

_BEYOND = 1e-6
"""mm; a size at the end of a grade's range is in it."""


@dataclass(frozen=True, kw_only=True)
class Bolt(Answer):
    """What the bolt holds, how hard to clamp, and where it shears."""

    proof_load: Annotated[float, Force("0 lbf", "10000000 lbf")]
    ultimate_load: Annotated[float, Force("0 lbf", "10000000 lbf")]
    clamp_load: Annotated[float, Force("0 lbf", "10000000 lbf")]
    shear_load: Annotated[float, Force("0 lbf", "10000000 lbf")]
    stress_area: Annotated[float, Area("0 in^2", "20 in^2")]


def bolt(
    bolt: str,
    grade: str,
    plane: Literal["thread", "shank"] = "thread",
    planes: Literal["1", "2"] = "1",
) -> Bolt:
    """Proof, breaking, clamp and shear load of one bolt.

    Args:
        bolt: As it is called: 1/2-13, M12x1.75; 1/2 and M12 are the coarse thread.
        grade: SAE 2, 5 or 8 for inch bolts; 8.8, 10.9 or 12.9 for metric ones.
        plane: What lies in the plane that shears: thread, or the full shank.
        planes: That must shear: 1, or 2 in double shear.

    Returns:
        Load at which it must not yield yet, smallest load at which it may break, clamp load and
        load at which it shears [N], and stress area [mm^2].

    Formula: proof_load = proof strength x stress area, ultimate_load = tensile strength x stress
        area, clamp_load = 0.75 proof_load, shear_load = 0.6 tensile strength x area in the plane x
        planes.
    Holds: for the diameters the grade covers; shear and clamp by common practice.
    Source: sae-j429, grades 2, 5 and 8; iso-898-1, property classes; asme-b1.1, stress area; practice,
        shear and clamp.
    Example: --bolt "1/2-13" --grade "SAE 2" --plane thread --planes 1

    Raises:
        InputFault: When bolt or grade is not in the tables, or they do not belong together.
    """
    faults: list[Fault] = []
    thread, strength = _thread(bolt, faults), _grade(grade, faults)
    if thread and strength:
        _together(thread, strength, grade, faults)
    if faults or thread is None or strength is None:
        raise InputFault(*faults)
    area = float(thread.stress_area)
    sheared = area if plane == "thread" else float(shank_area(float(thread.diameter)))
    proof = float(strength.proof) * area
    text = thread.id
    where = "stress area" if plane == "thread" else "area of the shank"
    return Bolt(
        proof_load=proof,
        ultimate_load=float(strength.tensile) * area,
        clamp_load=CLAMP_SHARE * proof,
        shear_load=float(bolt_shear(sheared, float(strength.tensile), int(planes))),
        stress_area=area,
        formula=(
            f"proof_load = {strength.proof.text} x stress area of {text}; ultimate_load = {strength.tensile.text} x "
            f"stress area; clamp_load = {CLAMP_SHARE} proof_load; shear_load = {SHEAR_SHARE} x "
            f"{strength.tensile.text} x {where} x {planes}"
        ),
        source=f"{cite(strength.source)}; {cite(thread.source)}; shear 0.6 and clamp 0.75: {cite('practice')}",
        trust=weakest(strength.trust, thread.trust, Trust.PRACTICE),
        warnings=(
            "no factor is in the loads; a tightening torque is the bolt maker's, it hangs on the thread's condition",
            "bending of a bolt in a loose or wide bracket comes before shear: tabs must be drawn tight to the joint",
            NOT_COVERED,
        ),
    )


def _thread(text: str, faults: list[Fault]) -> Thread | None:
    """The thread a person means; without a pitch the coarse one, which stands first in the table."""
    name = re.sub(r"\s*(?:in\.?|\")$", "", text.strip())
    name = re.sub(r"\s+", "", name).replace("×", "x").replace("X", "x").removesuffix("UNC").removesuffix("UNF")
    name = re.sub(r"^m(?=\d)", "M", name)
    name = re.sub(r"(?<=^M\d)-|(?<=^M\d\d)-", "x", name)
    if name.startswith("M") and "x" in name:
        # 1.0 and 1 are one pitch
        size, _, pitch = name.partition("x")
        name = f"{size}x{pitch.rstrip('0').rstrip('.')}" if "." in pitch else name
    entries = [e for e in table("bolts").entries.values() if isinstance(e, Thread)]
    for found in entries:
        if found.id == name or re.split(r"[-x]", found.id)[0] == name:
            return found
    allowed = ", ".join(e.id for e in entries)
    faults.append(Fault("--bolt", text.strip()[:40], allowed, "this thread is not in the table: choose one that is"))
    return None


def _grade(text: str, faults: list[Fault]) -> Grade | None:
    """The grade a person means."""
    name = re.sub(r"^(?:sae|iso|class|grade|gr\.?|j429|898-1|[\s-])+", "", text.strip().lower())
    entries = [e for e in table("bolt-grades").entries.values() if isinstance(e, Grade)]
    for found in entries:
        if found.id.removeprefix("grade-") == name:
            return found
    allowed = ", ".join(f"SAE {e.id[6:]}" if e.id.startswith("grade-") else e.id for e in entries)
    faults.append(Fault("--grade", text.strip()[:40], allowed, "read the marks on the head and choose one of these"))
    return None


def _together(thread: Thread, strength: Grade, given: str, faults: list[Fault]) -> None:
    """Whether the grade is one of that bolt's standard, and covers its size."""
    metric = thread.pitch is not None
    if metric != (strength.source == "iso-898-1"):
        allowed = "8.8, 10.9 or 12.9 for a metric bolt" if metric else "SAE 2, 5 or 8 for an inch bolt"
        remedy = f"{thread.id} is of the other kind: read the marks on the head"
        faults.append(Fault("--grade", given.strip(), allowed, remedy))
    elif not strength.smallest - _BEYOND <= thread.diameter <= strength.largest + _BEYOND:
        size = as_text(float(thread.diameter), "length", "mm" if metric else "in")
        allowed = f"bolts of {strength.smallest.text} to {strength.largest.text} in that grade"
        remedy = f"{thread.id} is {size}: other strengths hold there, take the bolt maker's"
        faults.append(Fault("--grade", given.strip(), allowed, remedy))
