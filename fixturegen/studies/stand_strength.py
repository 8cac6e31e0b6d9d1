"""Whether stand, cradles and table bolts carry what hangs on them, and a pull on the tie.

Load: three times the weight on each support. Pull: 100 lbf on the tie at its height, along the axle
or across it, whichever is worse. Plate is taken as A36, bolts and screws as the weakest listed
grade. Static strength of a setting-out aid; nothing here is a lifting or a structural certificate.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.axle.model import AxleModel
from fixturegen.findings import Trust
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.threads import thread_diameter
from fixturegen.stock import Bolt, Grade, Material, NotInTable, entry
from fixturegen.studies.bar_sag import GRAVITY
from fixturegen.studies.jig_records import INCH, JigPlan
from fixturegen.studies.masses import Body, bodies_of, together

POUND_FORCE = 4.4482216152605
LOAD_FACTOR = 3.0  # the job's own rule
PULL = 100.0 * POUND_FORCE  # on the tie; the job's own rule [N]
FILLET = 0.928 * 1000.0 * POUND_FORCE / INCH  # E70, per 1/16 in of leg and length [N/mm]
LEG = 3  # sixteenths of the stand's fillets
SCREW = "1-8"  # cradle screw, threaded rod
SCREW_PROOF = 33.0 * 6.894757  # low-carbon, over 3/4 in; SAE J429 grade 2, from memory [MPa]
BEND_ALLOWED = 0.66  # of yield, compact section in bending; AISC allowable stress
WELDED_SHARE = 0.3  # of the foot's length that the tabs' fillets cover; practice


@dataclass(frozen=True)
class Strength:
    """One thing that carries a load.

    Attributes:
        name: What carries.
        demand: Load or stress it sees, in `unit`.
        capacity: What it may see, in `unit`.
        unit: N, MPa, N/mm.
        words: How the load gets there.
        source: Where the capacity comes from.
        trust: How far to trust it.
    """

    name: str
    demand: float
    capacity: float
    unit: str
    words: str
    source: str
    trust: Trust

    @property
    def holds(self) -> bool:
        """Whether it carries the load."""
        return self.demand <= self.capacity


def stress_area(thread: str) -> float:
    """Tensile stress area of a thread [mm^2], from the shipped table or the formula of its standard.

    Source: ASME B1.1, 0.7854 (D - 0.9743/n)^2; ISO 898-1, pi/4 (d - 0.9382 P)^2.

    Raises:
        ValueError: When the text is no thread.
    """
    name = thread.replace(" x ", "x")
    try:
        return float(entry("bolts", name, Bolt).stress_area)
    except NotInTable:
        diameter = thread_diameter(thread)
    if thread.startswith("M"):
        pitch = float(name.split("x")[1]) if "x" in name else 0.125 * diameter
        return math.pi / 4.0 * (diameter - 0.9382 * pitch) ** 2
    pitch = INCH / float(thread.rsplit("-", 1)[1]) if "-" in thread else 0.15 * diameter
    return math.pi / 4.0 * (diameter - 0.9743 * pitch) ** 2


def _proof(thread: str) -> tuple[float, str]:
    """Proof stress [MPa] of the weakest grade a thread is likely to be, and its name."""
    grade = "8.8" if thread.startswith("M") else "grade-2"
    return float(entry("bolt-grades", grade, Grade).proof), grade


def strengths_of(
    sheet: Sheet, axle: AxleModel, plan: JigPlan, bodies: dict[str, Body] | None = None
) -> tuple[Strength, ...]:
    """Everything that carries, with its load."""
    masses = bodies or bodies_of(sheet, axle, plan)
    weight = _weight(masses)
    found = [_screw(masses, weight, plan), *_table_bolts(sheet, masses, weight, plan)]
    found += [_foot_weld(plan), _studs(sheet, weight, plan)]
    if plan.tie is not None:
        found.append(_riser(plan))
    return tuple(found)


def _weight(masses: dict[str, Body]) -> float:
    """Weight that stands on cradles and stand [N]: axle, bar, tie, knuckles, clock plates."""
    outside = ("stand", "cradle-l", "cradle-r")
    return sum(b.mass for n, b in masses.items() if n not in outside) * GRAVITY


def _screw(masses: dict[str, Body], weight: float, plan: JigPlan) -> Strength:
    """The cradle screw, all of the weight on the worse one by the lever."""
    outside = ("stand", "cradle-l", "cradle-r")
    _, (_, y, _) = together(b for n, b in masses.items() if n not in outside)
    left, right = (c.station for c in plan.cradles)
    share = max((y - right) / (left - right), (left - y) / (left - right))
    return Strength(
        "cradle screw",
        LOAD_FACTOR * weight * min(1.0, max(share, 0.5)),
        SCREW_PROOF * stress_area(SCREW),
        "N",
        f"3 times its share of the axle on one {SCREW} screw of low-carbon rod",
        "ASME B1.1 stress area; SAE J429 grade 2 over 3/4 in, 33 ksi proof (from memory)",
        Trust.MEMORY,
    )


def _table_bolts(sheet: Sheet, masses: dict[str, Body], weight: float, plan: JigPlan) -> list[Strength]:
    """Tension and shear of the stand's two table bolts."""
    stand, toe = plan.stand, plan.stand.base[0]
    bolt_u = min(abs(x) for x, _ in stand.bolts)
    reach = plan.height + (plan.tie.radius if plan.tie is not None else stand.top)
    thread = sheet.table.bolt
    area, (proof, grade) = stress_area(thread), _proof(thread)
    own = masses["stand"].mass * GRAVITY
    own_at = abs(masses["stand"].at[0]) - toe
    # Worst case: the cradles carry nothing and the axle hangs on the face; the pull is away from
    # the stand. Its own weight helps.
    over = LOAD_FACTOR * weight * max(toe, 0.0) + PULL * reach - own * own_at
    lengthwise = over / max(bolt_u - toe, 1.0) / len(stand.bolts)
    half = (stand.base[3] - stand.base[2]) / 2.0
    span = max(y for _, y in stand.bolts) - min(y for _, y in stand.bolts)
    sideways = (PULL * reach - own * half) / (half + span / 2.0)
    tension = max(lengthwise, sideways, 0.0)
    words = f"axle hanging on the face 3 times over, 100 lbf away from the stand; {thread}, {grade}"
    return [
        Strength(
            "table bolts, tension",
            tension,
            proof * area,
            "N",
            words,
            "ASME B1.1 or ISO 898-1 stress area, proof of the grade",
            Trust.SECONDARY_COPY,
        ),
        Strength(
            "table bolts, sliding",
            PULL / len(stand.bolts),
            0.6 * proof * area,
            "N",
            "100 lbf sideways, friction and table pins not counted",
            "shear 0.6 of tension: common practice, no source",
            Trust.PRACTICE,
        ),
    ]


def _riser(plan: JigPlan) -> Strength:
    """The index plate bent out of its plane by the pull along the axle, above the face plate."""
    tie = plan.tie
    arm = (tie.radius if tie is not None else 0.0) - plan.stand.top
    wide = plan.index.riser[1] - plan.index.riser[0]
    modulus = wide * plan.clock_thickness**2 / 6.0
    plate = entry("materials", "a36", Material)
    return Strength(
        "index plate, bending",
        PULL * arm / modulus,
        BEND_ALLOWED * float(plate.yield_strength),
        "MPa",
        "100 lbf along the axle on the tie, the plate held at the face plate's upper edge",
        "AISC allowable bending 0.66 of yield; ASTM A36",
        Trust.SECONDARY_COPY,
    )


def _foot_weld(plan: JigPlan) -> Strength:
    """The fillets at the stand's foot: all of the pull's moment on the plates across it."""
    stand, t = plan.stand, plan.stand_thickness
    reach = plan.height + (plan.tie.radius if plan.tie is not None else stand.top)
    length = WELDED_SHARE * (stand.foot - stand.face_plate[1])
    plates = len(stand.sides) + len(stand.ribs)
    # Each plate's two fillets as lines t apart: moment about its length, plus shear, plus weight.
    bending = PULL * reach / (plates * t * length)
    shear = PULL / (2.0 * plates * length)
    return Strength(
        "fillets at the stand's foot",
        math.hypot(bending, shear),
        FILLET * LEG,
        "N/mm",
        "100 lbf along the axle at the tie, fillets on three tenths of each foot",
        "AISC, E70 fillet 0.928 kip/in a sixteenth",
        Trust.SECONDARY_COPY,
    )


def _studs(sheet: Sheet, weight: float, plan: JigPlan) -> Strength:
    """Two studs at the face: the axle hanging on them 3 times over, cradles backed off."""
    thread = sheet.housing.face.studs.size
    proof, grade = _proof(thread)
    span = abs(plan.index.pads[1][1] - plan.index.pads[0][0])
    pull = LOAD_FACTOR * weight * abs(plan.index.face) / span
    load = max(pull, LOAD_FACTOR * weight / 2.0 / 0.6)  # tension on one, or shear on both
    return Strength(
        "two studs at the face",
        load,
        proof * stress_area(thread),
        "N",
        f"axle 3 times over on two {thread} studs, cradles backed off; {grade}",
        "ASME B1.1 or ISO 898-1 stress area, proof of the grade",
        Trust.SECONDARY_COPY,
    )
