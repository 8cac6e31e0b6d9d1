"""Turned parts of a locator: dummy spool, spacers and dummy bolt."""

from __future__ import annotations

import numpy as np

from fixturegen.brackets.registry import LOCATORS, BracketContext
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import decimal
from fixturegen.plate import Part, Placement, Turned, TurnedStep
from fixturegen.studies.bracket_plan import slug
from fixturegen.studies.bracket_records import JointSize
from fixturegen.studies.drilling import joint_limits, reamed_size
from fixturegen.studies.jig_records import INCH
from fixturegen.studies.locator_plan import BEYOND
from fixturegen.studies.locator_records import Locator

FLOAT = INCH / 64.0  # play of spool and spacers between the plates [mm] (common practice, no source)
WALL = 5.0  # least wall of spool and spacers [mm] (common practice, no source)
FLAT = 2.0  # the flat for the tape's hook lies this far under the round [mm]
BODY_LESS = 3.0  # a spool is at least this much thinner than the joint's body [mm]
CLIP = 4.0  # hole for a hitch clip [mm]
CLIP_OFF = 7.0  # from the plate to the clip's hole [mm]
TOMMY = 6.5  # hole for a bar to draw it by [mm]
DRAW = 8.0  # from the end to that hole [mm]
CHAMFER = 1.5  # at the ends of the dummy bolt [mm]
BAR = "1018-cd"


def joint_of(locator: Locator) -> JointSize:
    """The joint a locator stands for.

    Raises:
        GeometryFault: When there is none.
    """
    if locator.mount.joint is None:
        raise GeometryFault(locator.mount.label, "it holds no joint", "name its joint")
    return locator.mount.joint


def _at(locator: Locator, part: str, along: float) -> Placement:
    """Where a turned part stands that begins `along` [mm] from the joint's middle, along the bolt."""
    p = np.array(locator.point) + along * np.array(locator.bolt)
    return Placement(part, (float(p[0]), float(p[1]), float(p[2])), locator.rotation, f"locator-{locator.name}")


def spool_of(context: BracketContext, locator: Locator) -> tuple[Part, list[Placement]]:
    """The dummy spool: as wide as the joint, thinner than its body.

    Raises:
        GeometryFault: When the body leaves it no wall.
    """
    joint = joint_of(locator)
    bore = reamed_size(joint.shank, context.sheet.job.units == "mm")
    outside = min((joint.shank + joint.body) / 2.0, joint.body - BODY_LESS)
    outside = max(outside, bore + 2.0 * WALL)
    if outside > joint.body - BODY_LESS + 1e-9:
        words = f"its body of {decimal(joint.body)} leaves no spool round a shank of {decimal(joint.shank)}"
        raise GeometryFault(locator.mount.label, words, "measure body and shank of the joint again")
    name = f"spool-{slug(joint.name)}"[:40]
    least, most = joint_limits(joint.shank)
    part = Part(
        name=name,
        label=f"Dummy spool for the {joint.name}",
        kind=LOCATORS,
        form="turned",
        material=BAR,
        turned=Turned(
            steps=(TurnedStep(joint.width, outside, note="both ends faced square"),),
            bores=((0.0, joint.width, bore, None, f"reamed, {decimal(least)} to {decimal(most)}"),),
            flats=((0.25 * joint.width, 0.75 * joint.width, outside / 2.0 - FLAT, 90.0),),
        ),
        datum="middle of one end, z along the bore",
        notes=(
            f"as wide as the joint measured: {decimal(joint.width)}, faced to 0.002 in; the flat takes a tape's hook",
            "takes the joint's place while the bracket is tacked and welded; never weld with the joint itself in",
        ),
    )
    return part, [_at(locator, name, -joint.width / 2.0)]


def spacer_of(locator: Locator, context: BracketContext) -> tuple[Part, list[Placement]]:
    """The spacers between ears and plates, so that the bracket has its place along the bolt."""
    joint = joint_of(locator)
    bore = reamed_size(joint.shank, context.sheet.job.units == "mm") + INCH / 64.0
    name = f"{locator.name}-locator-spacer"
    spans = spacer_spans(locator)
    long = spans[0][1] - spans[0][0]
    part = Part(
        name=name,
        label=f"Spacer of the {locator.mount.label} locator",
        kind=LOCATORS,
        form="turned",
        material=BAR,
        turned=Turned(
            steps=(TurnedStep(long, bore + 2.0 * WALL, note="both ends faced square"),),
            bores=((0.0, long, bore, None, "drilled, slides on the dummy bolt"),),
        ),
        quantity=len(spans),
        hand=locator.mount.hand,
        datum="middle of one end, z along the bore",
        notes=("holds the ears against the spool and the bracket at its place along the bolt",),
    )
    return part, [_at(locator, name, a) for a, _ in spans]


def spacer_spans(locator: Locator) -> tuple[tuple[float, float], ...]:
    """From and to of each spacer along the bolt, alike long [mm]: between an ear and the plate next to it."""
    (low, high), room = locator.ears, FLOAT / 2.0
    found = []
    if right := [b for _, b in locator.plates if b <= low]:
        found.append((max(right) + room, low - room))
    if left := [a for a, _ in locator.plates if a >= high]:
        found.append((high + room, min(left) - room))
    return tuple(found)


def bolt_ends(locator: Locator) -> tuple[float, float]:
    """Where the dummy bolt begins and ends along itself, from the joint's middle [mm]."""
    ends = [f for faces in locator.plates for f in faces]
    return min(*ends, locator.ears[0]) - BEYOND, max(*ends, locator.ears[1]) + BEYOND


def bolt_of(locator: Locator, context: BracketContext) -> tuple[Part, list[Placement]]:
    """The dummy bolt: bright bar as thick as the joint's shank."""
    joint = joint_of(locator)
    low, high = bolt_ends(locator)
    long = high - low
    outer = (min(f for faces in locator.plates for f in faces), max(f for faces in locator.plates for f in faces))
    holes = [(z - low, CLIP, "for a hitch clip") for z in (min(outer[0], locator.ears[0]) - CLIP_OFF,)]
    holes.append((max(outer[1], locator.ears[1]) + CLIP_OFF - low, CLIP, "for a hitch clip"))
    holes.append((long - DRAW if locator.pull > 0 else DRAW, TOMMY, "for a bar to draw it by"))
    name = f"{locator.name}-locator-bolt"
    part = Part(
        name=name,
        label=f"Dummy bolt of the {locator.mount.label} locator",
        kind=LOCATORS,
        form="turned",
        material=BAR,
        turned=Turned(
            steps=(
                TurnedStep(CHAMFER, joint.shank - 2.0 * CHAMFER, joint.shank),
                TurnedStep(long - 2.0 * CHAMFER, joint.shank, tolerance=(-0.03, 0.0), note="bright bar, straight"),
                TurnedStep(CHAMFER, joint.shank, joint.shank - 2.0 * CHAMFER),
            ),
            cross_holes=tuple((z, d, turn, note) for z, d, note in holes for turn in (0.0, 180.0)),
        ),
        hand=locator.mount.hand,
        datum="middle of its right end, z to the vehicle's left",
        notes=(
            f"as thick as the joint's shank measured: {decimal(joint.shank)}; grease it, no spatter on it",
            f"drawn out to the {'left' if locator.pull > 0 else 'right'}; a straight bolt of that shank serves as well",
        ),
    )
    return part, [_at(locator, name, low)]
