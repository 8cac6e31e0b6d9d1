"""Locators: what holds a dummy bolt at each hardpoint while the bracket is tacked on it, the axle in its jig.

Between the ears lies a dummy spool as wide as the joint, outside them two spacers; the dummy bolt goes
through all of it and through two plates that stand on the table (a post) or on the axle tube (an arm).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from fixturegen.axle.model import to_table
from fixturegen.brackets.locator_arms import make_arm
from fixturegen.brackets.locator_posts import make_post
from fixturegen.brackets.locator_turned import bolt_of, spacer_of, spool_of
from fixturegen.brackets.registry import ASSEMBLY as BRACKETS
from fixturegen.brackets.registry import BracketContext, LocatorSet, MadeLocator
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import fraction
from fixturegen.parts.marking import completed
from fixturegen.plate import Assembly, Part, Placement
from fixturegen.plate.bracket_set import Unmade
from fixturegen.studies.bracket_records import BracketFacts
from fixturegen.studies.locator_plan import SHIM, posts_of
from fixturegen.studies.locator_records import Locator

ASSEMBLY = "locators"


@dataclass(frozen=True)
class _Made:
    """One locator as drawn."""

    locator: Locator
    parts: tuple[Part, ...]
    made: MadeLocator


def make_locators(
    context: BracketContext, facts: dict[str, BracketFacts], placements: tuple[Placement, ...]
) -> LocatorSet:
    """A locator for every bracket on the axle that holds a joint, and the brackets where they stand on the table.

    Args:
        context: The job.
        facts: Of the brackets that were drawn.
        placements: Of their parts, in frame A.
    """
    made: list[_Made] = []
    unmade: list[Unmade] = []
    for one, post in posts_of(context.sheet, context.axle, context.plan, facts.values()):
        try:
            made.append(_made(context, one, post))
        except GeometryFault as fault:
            unmade.append(Unmade(one.mount.name, fault.words, fault.remedy))
        except ValueError as fault:
            unmade.append(
                Unmade(one.mount.name, f"its locator cannot be drawn ({fault})", "hold it by square and rule")
            )
    if not made:
        return LocatorSet(unmade=tuple(unmade))
    places = [p for m in made for p in m.made.placements]
    parts = _counted([p for m in made for p in m.parts])
    on_table = _on_table(context, placements)
    assembly = Assembly(
        name=ASSEMBLY,
        frame="T",
        placements=(*places, *on_table),
        welds=tuple(w for m in made for w in m.made.welds),
        hardware=tuple(h for m in made for h in m.made.hardware),
        steps=_steps([m.locator for m in made]),
    )
    return LocatorSet(
        tuple(completed(p, context.sheet, [q for q in places if q.part == p.name]) for p in parts),
        assembly,
        tuple(m.locator for m in made),
        tuple(unmade),
    )


def _made(context: BracketContext, facts: BracketFacts, post: Locator | GeometryFault) -> _Made:
    made = make_arm(context, facts, post) if isinstance(post, GeometryFault) else make_post(context, post)
    locator = made.locator
    turned = [spool_of(context, locator), spacer_of(locator, context), bolt_of(locator, context)]
    parts = (*made.parts, *(p for p, _ in turned))
    places = (*made.placements, *(q for _, found in turned for q in found))
    named = replace(locator, parts=tuple(dict.fromkeys(p.name for p in parts)))
    return _Made(named, parts, replace(made, locator=named, placements=places))


def _counted(parts: list[Part]) -> list[Part]:
    """Each part once; a spool that fits several joints is made as often as it is used."""
    found: dict[str, Part] = {}
    for part in parts:
        old = found.get(part.name)
        found[part.name] = part if old is None else replace(old, quantity=old.quantity + part.quantity)
    return list(found.values())


def _on_table(context: BracketContext, placements: tuple[Placement, ...]) -> tuple[Placement, ...]:
    """Brackets of the axle as they stand in T with the face vertical."""
    import numpy as np

    turn, up = to_table(context.axle, context.plan.height)
    axle_side = {m.name for m in context.brackets.mounts if m.spec.end == "axle"}
    found = []
    for place in placements:
        if place.group not in axle_side:
            continue
        rotation, origin = turn @ np.array(place.rotation), turn @ np.array(place.origin) + up
        a, b, c = ((float(r[0]) + 0.0, float(r[1]) + 0.0, float(r[2]) + 0.0) for r in rotation)
        x, y, z = (float(v) + 0.0 for v in origin)
        found.append(Placement(place.part, (x, y, z), (a, b, c), f"{BRACKETS}-{place.group}"))
    return tuple(found)


def _steps(locators: list[Locator]) -> tuple[str, ...]:
    posts = [m for m in locators if m.form == "post"]
    arms = [m for m in locators if m.form == "arm"]
    steps = [
        "Axle in its jig, face nuts tight, bar in, jacks set to the bar; brackets ground clean, root edges bright."
    ]
    if posts:
        names = ", ".join(m.mount.label for m in posts)
        steps += [
            f"Posts ({names}): cheeks and cross plate put together on the dummy bolt, set into the base, tacked and "
            "welded; both bolt holes reamed in one go afterwards so that the dummy bolt slides by hand.",
            "Pins in; push each base and the stand's base the same way against the pins, then tighten the bolts: "
            "the play of the pins then falls out.",
            f"Shims of {fraction(SHIM)} under the base at its bolts; add or take until a tape from the table to the "
            "underside of the dummy bolt reads the number on each cheek, and a square on the table with its blade at "
            "the head stands on the foot's tick.",
        ]
    if arms:
        names = ", ".join(m.mount.label for m in arms)
        steps.append(
            f"Arms ({names}): saddles on the tube at their stations, the U-bolt snug; turn until the dummy bolt "
            "reads its numbers from the table and the bar, then tighten and read again."
        )
    steps += [
        "Bracket on: spool between the ears, spacers outside, dummy bolt through, clips in; the bracket hangs by its "
        "holes and is slid to even root gaps.",
        "Read hole to hole across the axle against the sheet, then tack: six tacks a bracket, turn about, left and "
        "right alike. Earth clamp on the tube, never on post, arm or dummy bolt.",
        *(_off(m) for m in locators),
        "Weld with the locators off and only spool and bolt in; turn the dummy bolt between beads, it must stay free.",
    ]
    return tuple(steps)


def _off(one: Locator) -> str:
    end = "left" if one.pull > 0 else "right"
    x, y, z = one.leave
    ways = ((abs(x), "forward" if x > 0 else "rearward"), (abs(y), "to the left" if y > 0 else "to the right"))
    side = max((*ways, (abs(z), "up" if z > 0 else "down")))[1]
    what = (
        f"bolts and pins out, shims out, slide the post {side} and lift it off the table"
        if one.form == "post"
        else f"U-bolt off, take the arm off {side}"
    )
    return f"{one.mount.label}: clips out, draw the dummy bolt to the {end} of the vehicle, spacers out; {what}."
