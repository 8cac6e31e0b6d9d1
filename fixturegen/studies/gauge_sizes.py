"""Gauges that prove a size: plugs, width gauges, pucks, pivot spread, fillet leaves, pinion depth."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fixturegen.calc.depth_gauge import LEAST_BLOCK, THIN_DISC
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bracket_records import BracketPlan, JointSize
from fixturegen.studies.budget_inputs import PRACTICE, THOU
from fixturegen.studies.drilling import joint_limits
from fixturegen.studies.gauge_records import Gauge, NotMade, Setting, Term, Ways, sized
from fixturegen.studies.jig_records import INCH, JigPlan

TURNED = 0.3 * THOU  # diameter turned, polished and measured with a micrometer [mm] [cp]
WIDTH = (10.0 * THOU, 30.0 * THOU)  # inside width of a bracket over its joint, least and most [mm] [cp]
SPREAD = INCH / 32.0  # pivot spread from the sheet's [mm]: half of what moves the caster by the target [cp]
ROUGH = 0.1  # machined faces of two arms, not parallel [mm] [cp]
UNDER = INCH / 16.0  # a fillet may lie under its leg over a tenth of its length: AWS D1.1, undersize, from memory [mm]
FILED = 0.2  # a leaf filed to a scribed line [mm] [cp]
SEEN = 0.25  # light seen between leaf and bead [mm] [cp]
BORE_OFF = 10.0 * THOU  # bar off the middle of a bore: build target of the trade, radial [mm] [cp]
TRUE = 0.5 * THOU  # bore and outside of a puck, turned in one setting [mm] [cp]
PUCK_FIT = 0.02  # puck under the measured bore [mm] [cp]
BAR_PLAY = 0.65 * THOU  # bore turned 0.0008 to 0.0013 in over the bar: half the most [mm] [cp]
DEPTH = 2.0 * THOU  # pinion from its wanted distance [mm] [cp]
DISC_FIT = 0.5 * THOU  # disc under the measured bearing bore [mm] [cp]
LEAF = 20.0 * THOU  # left between block and arbor, for the feeler [mm]
ARBOR = 1.0 * INCH  # thickest arbor [mm]


def plugs(plan: BracketPlan, units: str) -> Iterator[Gauge]:
    """Go and no-go plugs of every joint bolt's hole."""
    shanks = sorted({round(m.joint.shank, 4) for m in plan.mounts if m.joint is not None})
    for n, shank in enumerate(shanks, 1):
        low, high = joint_limits(shank)
        half = (high - low) / 2.0
        yield Gauge(
            kind="plugs",
            name=f"plug-{n}",
            label=f"go and no-go plug for holes of the {sized(shank, units)} shank",
            proves=f"joint holes finished {sized(low, units, 4)} to {sized(high, units, 4)}",
            unit="mm",
            tolerance=half,
            limit_source=f"shank + 0.005 to 0.010 in, reamed, {PRACTICE}",
            terms=(
                Term("end as turned and measured", TURNED, "mm", 1.0, PRACTICE),
                Term("micrometer", 0.1 * THOU, "mm", 1.0, PRACTICE),
            ),
            sizes={"go": low, "no-go": high, "shank": shank},
            settings=(Setting("go end enters, no-go end does not", low, low, high),),
            use="both ends by hand, never with a hammer, part at the plug's own temperature",
            caution="a reamed hole with a burr refuses the go end: break the edge first",
            words={},
        )


def widths(plan: BracketPlan, ways: Ways, units: str) -> Iterator[Gauge]:
    """Go and no-go plates of the inside width of brackets."""
    joints: dict[float, JointSize] = {}
    for m in plan.mounts:
        if m.joint is not None:
            joints.setdefault(round(m.joint.width, 3), m.joint)
    for n, (width, joint) in enumerate(sorted(joints.items()), 1):
        low, high = (width + w for w in WIDTH)
        yield Gauge(
            kind="widths",
            name=f"width-{n}",
            label=f"width gauge of the {joint.name}",
            proves=f"between the ears {sized(low, units)} to {sized(high, units)}",
            unit="mm",
            tolerance=(high - low) / 2.0,
            limit_source=f"joint's width + 0.010 to 0.030 in, {PRACTICE}",
            terms=(
                Term("edge that measures", ways.edge, "mm", 1.0, ways.edge_words),
                Term("caliper it is measured with", 1.0 * THOU, "mm", 1.0, PRACTICE),
            ),
            sizes={"go": low, "no-go": high, "joint": width},
            settings=(Setting("go end enters, no-go end does not", low, low, high),),
            use="after tacking and again cold; at the top and at the bottom of the ears, bolt out",
            caution="stamp both measured widths; ears that lean pass the go end at one place only",
            words={"joint": joint.name},
        )


def spread(sheet: Sheet, ways: Ways) -> Iterator[Gauge]:
    """Go and no-go plate between the arms of a knuckle; none without knuckles."""
    spec = sheet.knuckles
    if spec is None:
        return
    between = float(spec.pivot_spread) - (float(spec.upper.arm_thickness) + float(spec.lower.arm_thickness)) / 2.0
    yield Gauge(
        kind="spread",
        name="pivot-spread",
        label="pivot spread gauge",
        proves="both knuckles as far between the arms as the sheet says, left and right alike",
        unit="mm",
        tolerance=SPREAD,
        limit_source=f"within 1/32 in of the sheet, {PRACTICE}",
        terms=(
            Term("edge that measures", ways.edge, "mm", 1.0, ways.edge_words),
            Term("faces of the arms not parallel", ROUGH, "mm", 1.0, PRACTICE),
        ),
        sizes={"go": between - SPREAD, "no-go": between + SPREAD, "between": between},
        settings=(Setting("between the arms, along the steering axis", between, between - SPREAD, between + SPREAD),),
        use="between the machined inner faces, along the steering axis: go end enters on both sides, no-go on neither",
        caution="a knuckle that differs from the sheet by more is measured again and the sheet mended first",
        words={},
    )


def fillets(plan: BracketPlan, units: str) -> Gauge | NotMade:
    """Leaves for the legs of fillets, for convex and for hollow beads."""
    legs = sorted({round(float(m.spec.leg), 3) for m in plan.mounts})[:MOST_LEAVES]
    if not legs:
        return NotMade("fillets", "fillet leaves", "no bracket on the sheet has a fillet", "add [[brackets]]")
    return Gauge(
        kind="fillets",
        name="fillet",
        label="fillet leaves",
        proves="leg of a convex fillet, throat of a hollow one: " + ", ".join(sized(leg, units) for leg in legs),
        unit="mm",
        tolerance=UNDER,
        limit_source="fillet under its leg by 1/16 in at most, AWS D1.1, from memory",
        terms=(
            Term("filed to the scribed line", FILED, "mm", 1.0, PRACTICE),
            Term("light between leaf and bead", SEEN, "mm", 1.0, PRACTICE),
        ),
        sizes={f"leg {n}": leg for n, leg in enumerate(legs, 1)},
        settings=tuple(
            Setting(f"throat of a hollow bead, leg {sized(leg, units)}", t, t, leg) for leg, t in _throats(legs)
        ),
        use=(
            "convex: LEG corner along one plate, its nose must reach the bead's toe and not stand over it; hollow: the "
            "THROAT nose points into the root, the bead must reach the nose"
        ),
        caution="a bead that passes may still lack fusion: a leaf measures steel, not what holds it",
        words={},
    )


MOST_LEAVES = 4


def _throats(legs: list[float]) -> Iterator[tuple[float, float]]:
    """Leg and throat [mm]: throat = leg x sin(45 deg). Source: geometry of an equal fillet."""
    return ((leg, leg * math.sqrt(0.5)) for leg in legs)


def pucks(sheet: Sheet, plan: JigPlan) -> Iterator[Gauge | NotMade]:
    """Pucks of bores the jig has none for: the third member's, and what the sheet lists."""
    bores = [] if sheet.gauges is None else [float(b) for b in sheet.gauges.bores]
    if sheet.housing.kind == "drop-out":
        # an integral housing's pucks are the jig's own
        bores.insert(0, float(sheet.housing.bearings.bore_diameter))
    done: set[float] = set()
    for bore in bores:
        if round(bore, 2) in done:
            continue
        done.add(round(bore, 2))
        label = f"puck of the {sized(bore, sheet.job.units, 4)} bore"
        if bore - PUCK_FIT - plan.bar < 2.0 * THIN_DISC:
            why = f"the bar of {sized(plan.bar, sheet.job.units)} leaves no wall in it"
            yield NotMade("pucks", label, why, "use a thinner bar for this bore")
            continue
        yield Gauge(
            kind="pucks",
            name=f"puck-{len(done)}",
            label=label,
            proves="bar in the middle of the bore",
            unit="mm",
            tolerance=BORE_OFF,
            limit_source=f"within 0.010 in, {PRACTICE}",
            terms=(
                Term("puck in its bore", PUCK_FIT / 2.0, "mm", 1.0, PRACTICE),
                Term("bar in the puck", BAR_PLAY, "mm", 1.0, PRACTICE),
                Term("bore and outside true", TRUE, "mm", 1.0, PRACTICE),
            ),
            sizes={"bore": bore, "outside": bore - PUCK_FIT, "bar": plan.bar},
            settings=(),
            use="two of them in two bores of one line, caps on and torqued; the bar must go through both by hand",
            caution="measure both bores first; a cap put on the wrong way round closes its bore",
            words={},
        )


def depth(sheet: Sheet) -> Gauge | NotMade:
    """Arbor, discs and block that measure how far the pinion head stands from the ring gear's axis."""
    gauges, bore = sheet.gauges, float(sheet.housing.bearings.bore_diameter)
    what = "pinion depth gauge"
    if gauges is None or gauges.pinion_head is None:
        why = "the distance from pinion head to axis is not on the sheet, and is never guessed"
        return NotMade("depth", what, why, "measure or work it out and give [gauges] pinion_head")
    head, units = float(gauges.pinion_head), sheet.job.units
    arbor = min(ARBOR, math.floor((bore - 4.0 * THIN_DISC) / (INCH / 4.0)) * INCH / 4.0)
    gap = head - arbor / 2.0
    if gap - LEAF < LEAST_BLOCK * 10.0:
        why = f"the arbor of {sized(arbor, units)} leaves {sized(gap, units)} over the head"
        return NotMade("depth", what, why, "check [gauges] pinion_head")
    offset = abs(float(sheet.third_member.pinion_below))
    return Gauge(
        kind="depth",
        name="depth",
        label=what,
        proves="pinion head from the ring gear's axis",
        unit="mm",
        tolerance=DEPTH,
        limit_source=f"within 0.002 in, {PRACTICE}; the maker's sheet comes first",
        terms=(
            Term("disc in its bore", DISC_FIT / 2.0, "mm", 1.0, PRACTICE),
            Term("arbor in its disc", 0.25 * THOU, "mm", 1.0, PRACTICE),
            Term("block as measured and stamped", 0.2 * THOU, "mm", 1.0, PRACTICE),
            Term("feeler", 0.25 * THOU, "mm", 1.0, PRACTICE),
        ),
        sizes={
            "bore": bore,
            "disc": bore - DISC_FIT,
            "arbor": arbor,
            "gap": gap,
            "block": gap - LEAF,
            "over": float(sheet.housing.bearings.width_over),
            "bore width": float(sheet.housing.bearings.bore_width),
            "tall": offset + arbor,
        },
        settings=(Setting("leaf between block and arbor", LEAF, LEAF - DEPTH, LEAF + DEPTH),),
        use=(
            "discs in the bearing bores, caps on and torqued, arbor through both; block on the head's ground face; the "
            "leaf that just drags is read. Thicker than planned: the pinion stands too far from the axis, bring it "
            "closer; thinner: too close, bring it farther"
        ),
        caution="makers mean a pinion's mark in opposite ways; lap the block, measure it, stamp what it measures",
        words={},
    )
