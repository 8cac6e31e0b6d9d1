"""FIT-12: a clock plate put on back to front is refused by the steel. No kernel needed.

A plate turned round shows its mirror image to the tie. Its round tie holes still take the tie, so
the keeper must refuse: in no turn about the tie may both of its pins find a hole.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import inches
from fixturegen.findings import Finding, Level
from fixturegen.plate import Hole, Part, Turned
from fixturegen.plate.profile import polyline

Array = NDArray[np.float64]
TURN = 0.25  # step of the keeper's turn about the tie [deg]
LEAST_FOUL = 1.0
"""Steel a pin must meet before a hand feels a stop and not a burr [mm] (common practice, no source)."""
CHORD = 0.01


def turns() -> Array:
    """Turns of the tie about itself that are tried (n,) [rad], 0 first."""
    return np.asarray(np.radians(np.arange(0.0, 360.0, TURN)), dtype=np.float64)


def fouls(plate: Part, keeper: Part, *, mirrored: bool) -> Array:
    """Steel in the way of a keeper's worse pin, at the kindest tie hole, for every turn (n,) [mm].

    Negative where both pins enter.

    Args:
        plate: A clock plate.
        keeper: A keeper in the plate's frame; its origin is the tie's axis.
        mirrored: Whether the plate is turned round.
    """
    best = np.full(len(turns()), np.inf)
    if plate.profile is None or keeper.profile is None:
        return best
    for tie in (h for h in plate.profile.holes if h.label.startswith("clock ")):
        best = np.minimum(best, _at_hole(tie, plate.profile.holes, keeper.profile.holes, mirrored))
    return best


def _at_hole(tie: Hole, holes: tuple[Hole, ...], pins: tuple[Hole, ...], mirrored: bool) -> Array:
    flip = -1.0 if mirrored else 1.0
    # the keeper stands radially: what counts is its turn against the tie hole's own radius
    lean = math.atan2(-flip * tie.x, tie.y)
    angles = turns() + lean
    worst = np.full(len(angles), -np.inf)
    for pin in pins:
        x = flip * tie.x + pin.x * np.cos(angles) - pin.y * np.sin(angles)
        y = tie.y + pin.x * np.sin(angles) + pin.y * np.cos(angles)
        foul = np.full(len(angles), np.inf)
        for hole in holes:
            if hole is tie:
                continue
            # a hole made longer afterwards counts as its full length all round: never too strict
            radius = hole.finished / 2.0 + hole.slot / 2.0
            off = np.hypot(x - flip * hole.x, y - hole.y)
            foul = np.minimum(foul, off + pin.finished / 2.0 - radius)
        worst = np.maximum(worst, foul)
    return worst


def section(tie: Turned) -> Array:
    """Outline (n, 2) of the tie's end [mm], x along direction 0 of its flats, as points."""
    radius = max(s.diameter for s in tie.steps) / 2.0
    angles = np.radians(np.arange(0.0, 360.0, 0.5))
    reach = np.full(len(angles), radius)
    for low, _, distance, direction in tie.flats:
        if low > 0.0:
            continue
        lean = np.cos(angles - math.radians(direction))
        reach = np.where(lean > 1e-9, np.minimum(reach, distance / np.maximum(lean, 1e-9)), reach)
    return np.stack([reach * np.cos(angles), reach * np.sin(angles)], axis=1)


def opening_foul(keeper: Part, tie: Turned, *, mirrored: bool) -> float:
    """Least steel between a keeper's opening and the tie's end over all turns [mm]; <= 0 when it goes on."""
    if keeper.profile is None or not keeper.profile.inner:
        return math.inf
    loop = np.array(polyline(keeper.profile.inner[0], CHORD))
    edges = np.roll(loop, -1, axis=0) - loop
    normals = np.stack([edges[:, 1], -edges[:, 0]], axis=1)
    size = np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-12)
    # the opening is convex: a point is outside by its largest distance beyond an edge
    area = float((loop[:, 0] * np.roll(loop[:, 1], -1) - np.roll(loop[:, 0], -1) * loop[:, 1]).sum())
    normals = normals / size * (1.0 if area > 0.0 else -1.0)
    keep = size[:, 0] > 1e-6
    normals, starts = normals[keep], loop[keep]
    levels = (normals * starts).sum(axis=1)
    outline = section(tie)
    if mirrored:
        outline = outline * np.array([-1.0, 1.0])
    best = math.inf
    for turn in np.radians(np.arange(0.0, 360.0, 1.0)):
        c, s = math.cos(turn), math.sin(turn)
        points = outline @ np.array([[c, s], [-s, c]])
        best = min(best, float((points @ normals.T - levels).max()))
    return best


@claim("FIT-12", "A clock plate put on back to front is refused by the steel.", holds="assembly")
def check_turned_round(claim: Claim, job: Job) -> list[Finding]:
    """Each keeper on each plate as meant and turned round, and turned over on the tie's end."""
    if job.plan.tie is None:
        return [claim.finding(Level.PASS, "a rear axle has no clock plates")]
    plates = [job.parts[n] for n in ("clock-plate-l", "clock-plate-r") if n in job.parts]
    keepers = [job.parts[n] for n in ("keeper-l", "keeper-r") if n in job.parts]
    if len(plates) != 2 or len(keepers) != 2 or "tie" not in job.parts:
        return [claim.finding(Level.NOT_CHECKED, "no clock plates, keepers or tie", assembly="jig")]
    found: list[Finding] = []
    found += _together(claim, plates, keepers)
    tie = job.parts["tie"].turned
    if tie is not None:
        found += _over(claim, keepers, tie)
    return found


def _seen(keeper: Part, plate: Part) -> Part:
    """The keeper as it lies in the plate's frame: the right one's marked face looks the other way."""
    if plate.hand != "R" or keeper.profile is None:
        return keeper
    holes = tuple(replace(h, x=-h.x) for h in keeper.profile.holes)
    return replace(keeper, profile=replace(keeper.profile, holes=holes))


def _together(claim: Claim, plates: list[Part], keepers: list[Part]) -> list[Finding]:
    """Both keepers ride on one tie: they stand at one turn, whatever plate is wrong."""
    seen = [_seen(k, p) for k, p in zip(keepers, plates, strict=True)]
    right = [fouls(p, k, mirrored=False) for p, k in zip(plates, seen, strict=True)]
    wrong = [fouls(p, k, mirrored=True) for p, k in zip(plates, seen, strict=True)]
    parts = tuple(p.name for p in (*plates, *keepers))
    meant = np.maximum(right[0], right[1])
    if float(meant.min()) > 0.0:
        return [
            claim.finding(
                Level.FAIL,
                f"the keepers do not go on both plates at one turn of the tie: {inches(float(meant.min()))} of "
                "steel before a pin",
                remedy="the keeper holes of the plates do not follow the keepers",
                parts=parts,
                assembly="jig",
                value=float(meant.min()),
                limit=0.0,
                unit="mm",
            )
        ]
    cases = (
        ("the left plate turned round", wrong[0], right[1]),
        ("the right plate turned round", right[0], wrong[1]),
        ("both plates turned round", wrong[0], wrong[1]),
    )
    return [_case(claim, words, np.maximum(a, b), parts) for words, a, b in cases]


def _case(claim: Claim, words: str, foul: Array, parts: tuple[str, ...]) -> Finding:
    k = int(np.argmin(foul))
    least, turn = float(foul[k]), math.degrees(turns()[k])
    fail = least < LEAST_FOUL
    told = f"meets {inches(least)} of steel" if least > 0.0 else "finds holes for both pins"
    return claim.finding(
        Level.FAIL if fail else Level.PASS,
        f"{words}: at the best of all turns of the tie ({turn:.1f} deg) the worse keeper {told}",
        remedy="place the keeper pins so that no tie hole or keeper hole of a plate turned round takes them"
        if fail
        else "",
        parts=parts if fail else (),
        assembly="jig",
        value=least,
        limit=LEAST_FOUL,
        unit="mm",
        source="common practice, no source",
    )


def _over(claim: Claim, keepers: list[Part], tie: Turned) -> list[Finding]:
    found = []
    for keeper in keepers:
        fits = {m: opening_foul(keeper, tie, mirrored=m) for m in (False, True)}
        on, over = min(fits.values()), max(fits.values())
        fail = on > 0.0 or over < LEAST_FOUL / 2.0
        found.append(
            claim.finding(
                Level.FAIL if fail else Level.PASS,
                f"{keeper.name} goes on the tie's end with {inches(-on)} to spare; turned over it meets "
                f"{inches(max(0.0, over))} of steel",
                remedy="mill the third flat deeper, or cut the opening closer" if fail else "",
                parts=(keeper.name, "tie"),
                assembly="jig",
                value=over,
                limit=LEAST_FOUL / 2.0,
                unit="mm",
                source="common practice, no source",
            )
        )
    return found
