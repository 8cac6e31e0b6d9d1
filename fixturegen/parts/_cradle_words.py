"""Bought things and steps of the cradles: straps, prop and jack stand among them."""

from __future__ import annotations

from fixturegen.parts.joinery import fraction
from fixturegen.parts.registry import Context
from fixturegen.studies.masses import bodies_of, together
from fixturegen.studies.stability import JACK_FOOT, ROLL_SPARE, roll_stop

TUBES = (
    "Tubes are in the housing before the jig is set up, the long and the short one on the side that the cut list says. "
    "New ones: put in to the depth of the cut list, tacked, finish-welded only when the bar is in and its dials at the "
    "tube ends are within their limits."
)
KNUCKLES = (
    "Knuckles onto the tube ends, left and right not changed over: loose, no tack, so that each turns by hand; two "
    "people. They slide off as easily: a helper or a strap holds each until the bar and its collar are in."
)
AXLE_OUT = (
    "Face nuts off, table bolts and pins of the stand out, stand drawn back clear of the studs; {} off, "
    "axle straight up in the hoist and onto its stands. Nobody under it."
)


def hardware_of(context: Context, screws: tuple[float, ...]) -> tuple[tuple[str, str, int, str], ...]:
    """What is bought for the cradles, and what holds the housing until it is on the face.

    Args:
        context: The job.
        screws: Length of each jack screw under its head [mm].
    """
    bolt, cradles = context.sheet.table.bolt, context.plan.cradles
    under = fraction(context.plan.height - context.sheet.housing.height / 2.0)
    lengths = [(fraction(v), screws.count(v)) for v in sorted(set(screws))]
    rows = [
        ("table bolt and washer", bolt, 4, "cradle bases"),
        *(("hex tap bolt, threaded to the head", f"1-8 x {size}", n, "jack screws, head down") for size, n in lengths),
        ("hex nut", "1-8", 2, "welded under the cradle shelves"),
        ("jam nut", "1-8", 2, "on the jack screws, above the shelf"),
        ("ratchet strap", "1 in, rated 500 lbf", sum(c.carries == "tube" for c in cradles), "over the tube, cradles"),
    ]
    if _prop_side(context):
        rows.append(("screw prop", f"to stand {under} high", 1, "under the heavy side of the housing"))
    if any(c.carries == "bar" for c in cradles):
        foot = fraction(2.0 * JACK_FOOT)
        rows.append(("jack stand", f"foot {foot} wide, to stand {under} high", 1, "under the casting"))
    return tuple(rows)


def _prop_side(context: Context) -> str:
    """Where the bare housing would roll to although strapped; empty where the straps hold."""
    sheet, axle, plan = context.sheet, context.axle, context.plan
    masses = bodies_of(sheet, axle, plan)
    moment, held = roll_stop(sheet, axle, plan, masses)
    if held >= ROLL_SPARE * moment:
        return ""
    _, (x, _, _) = together([masses[n] for n in ("centre", "tube-l", "tube-r")])
    return "front" if x > 0.0 else "rear"


def steps_of(context: Context) -> tuple[tuple[int, str], ...]:
    """What is done with cradles, straps, prop and jack stand, each with its place in the order."""
    cradles = context.plan.cradles
    tubes = " and ".join(c.side for c in cradles if c.carries == "tube")
    bars = " and ".join(c.side for c in cradles if c.carries == "bar")
    high = fraction(context.plan.height)
    heavy = _prop_side(context)
    prop = f"; screw prop under the {heavy} of the housing, at least 4 in from the axle line" if heavy else ""
    both = "straps and prop" if heavy else "straps"
    steps = [
        (19, "Cradles: sides, shelf and cross plate put together, then set into the base; weld outside."),
        (20, TUBES),
        (31, f"Jacks until the axle line stands {high} above the table at both ends, by tape; hoist still tight."),
        (
            32,
            "Before the hoist is slack: a ratchet strap over the tube, hooked in the windows of the cradle's sides, "
            f"drawn by hand ({tubes}){prop}.",
        ),
        (42, f"All face nuts tight, opposite ones in turn; only then {both} away."),
        (54, "Jacks once more, until the bar turns freely and its gap to both tube ends is even; jam nuts."),
        (98, f"Before the face nuts come off: hoist hooked and tight, {both} on again."),
        (99, AXLE_OUT.format(both)),
    ]
    if context.sheet.knuckles is not None:
        steps.append((43, KNUCKLES))
    if not bars:
        steps += [
            (
                21,
                "Bolt the cradles to the table at the stations marked on their bases, as the drawing of the "
                "jig on the table shows; they carry the tubes.",
            ),
            (30, "Axle straight down onto the jack pads; the hoist stays tight."),
            (33, "Hoist slack but still hooked until all face nuts are tight."),
        ]
        return tuple(steps)
    # The tube is too short for a cradle: its cradle stands under the bar, outboard of the clock plate.
    under = f"a jack stand with a foot of {fraction(2.0 * JACK_FOOT)} under the casting on the {bars}"
    steps += [
        (
            21,
            f"Bolt the {tubes} cradle to the table; the {bars} cradle waits until its clock plate is on.",
        ),
        (30, f"Axle straight down onto the {tubes} jack pad and {under}; the hoist stays tight."),
        (33, "Hoist slack but hooked until all face nuts are tight."),
        (
            62,
            f"The {bars} clock plate being on the bar, set the {bars} cradle under the bar outboard of it, bolt it "
            "down, jack up until the bar turns freely, jam nut; then the jack stand comes away.",
        ),
        (
            92,
            f"Before the {bars} clock plate comes off: all face nuts tight, {under}; then unbolt the {bars} cradle "
            "and take it away.",
        ),
    ]
    return tuple(steps)
