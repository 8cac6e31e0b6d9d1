"""The steps of the jig as the bench is told them: the makers' own words, made plain where a hand could go wrong."""

from __future__ import annotations

from fixturegen.checks.registry import Job

# What a maker says and what stands on paper instead; a piece that no maker says any more trips a test.
COUPON = (
    "measure, and enter it (command fixturegen coupon)",
    "measure them, and put what was measured into the build sheet (at the computer: fixturegen coupon)",
)
# Plates that carry the bores are lined up by the bar after everything else is welded and has pulled; common practice,
# no source.
LOOSE = (
    (
        "tack every joint, measure again",
        "tack every joint but those of index and puck plate: these two stay loose in their slots; measure again",
    ),
    (
        "Weld 2 in at a time, left and right in turn, let it cool to the hand",
        "Weld 2 in at a time, left and right in turn, index and puck plate not; let it cool to the hand",
    ),
    (
        "Index plate and puck plate through the face plate, tabs in base and back; bar",
        "Index plate and puck plate, loose until now, tabs home in face plate, base and back: line them up, bar",
    ),
    ("tack, check, weld 2 in", "only then tack both, check with the bar, weld 2 in"),
)
PLAIN = (
    COUPON,
    (
        "pins in, two nuts finger tight at once, then all;",
        "pins in; two opposite face nuts on at once, finger tight, then all the others finger tight;",
    ),
    ("Two face nuts tight,", "All face nuts tight, opposite ones in turn; only then"),
    ("but still hooked until the first two nuts hold", "but still hooked until all face nuts are tight"),
    ("reads as on the sheet,", "reads as on the bench sheet Set the housing up,"),
    ("Out: clock plate off first; ", "Out: "),
)
TUBES_AT, KNUCKLES_AT, BAR_OUT_AT, AXLE_OUT_AT = 21, 43, 96, 98  # orders among the steps of the jig
TUBES = (
    "Tubes are in the housing before this sheet begins, the long and the short one on the side that the cut list says. "
    "New ones: put in to the depth of the cut list, tacked, finish-welded only when the bar is in and the dials "
    "above are within their limits."
)
KNUCKLES = (
    "Knuckles onto the tube ends, left and right not changed over: loose, no tack, so that each turns by hand; two "
    "people. They slide off as easily: a helper or a strap holds each until the bar and its collar are in."
)
BAR_OUT = (
    "Bar drawn out the way it went in; what sits on it is loosened and taken off as it comes free{held}. Two people or "
    "the hoist."
)
AXLE_OUT = (
    "Face nuts off, table bolts and pins of the stand out, stand drawn back clear of the studs; straps and prop off, "
    "axle straight up in the hoist and onto its stands. Nobody under it."
)

TACKED = (
    "Knuckles on tacks carry nothing: no weight on the wheels, no force on the steering. Mock-up under the truck with "
    "links only, springs out, axle held by hoist or jacks, truck on stands, knuckles turned by hand, drag link off. "
    "No spring, no wheel on the floor, before they are finish-welded."
)


def told(job: Job) -> tuple[tuple[str, float], ...]:
    """Every step of the jig with its place in the order; none where there is no jig."""
    jig = job.assemblies.get("jig")
    if jig is None:
        return ()
    drop_out = job.sheet.housing.kind == "drop-out"
    pieces = (*PLAIN, *LOOSE) if drop_out else PLAIN
    found = [(_plain(words, pieces), float(order)) for words, order in zip(jig.steps, jig.orders, strict=False)]
    held = "" if drop_out else ", the index plate unclamped and held as the bar leaves it"
    # a half behind the maker's step of that number
    found += [(TUBES, TUBES_AT - 0.5), (BAR_OUT.format(held=held), BAR_OUT_AT + 0.5), (AXLE_OUT, float(AXLE_OUT_AT))]
    if job.sheet.knuckles is not None:
        found.append((KNUCKLES, float(KNUCKLES_AT)))
    return tuple(sorted(found, key=lambda one: one[1]))


def steps_between(job: Job, first: float, last: float) -> tuple[str, ...]:
    """The steps whose place lies between two, both included."""
    return tuple(words for words, order in told(job) if first <= order <= last)


def _plain(words: str, pieces: tuple[tuple[str, str], ...]) -> str:
    for old, new in pieces:
        words = words.replace(old, new)
    return words
