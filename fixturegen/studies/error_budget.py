"""How far the caster may be off, and left from right, before anything is welded.

Every contributor is pushed through the simulation of `jig_pose` by a small step; nothing is assumed
about levers. What acts on both plates alike (a stacked hole) moves both sides of the simulation
together and so leaves the split alone.

The trim. Two things are set by the level on the bench: the steady, until both clock plates read
alike, and a shim under a pad (or the gaps), by what both read more than the index plate. The level
sees all that turns a plate (tie, bar, tube end, bush) and nothing behind it (fingers, stub pins,
pads, face angle). Its three readings are contributors themselves. To first order the trim is two
linear equations, solved for each contributor; `Simulation.trimmed` does the same without that
approximation and gives the known bias.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from fixturegen.axle.model import AxleModel
from fixturegen.findings import Trust
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.budget_inputs import Input, Source, sources_of
from fixturegen.studies.jig_deviations import Deviations, JigPose, actual
from fixturegen.studies.jig_plan import plan_of
from fixturegen.studies.jig_pose import Simulation
from fixturegen.studies.jig_records import JigPlan

SPLIT_WORST = 0.25  # deg; the job's own limit, the build target of the trade
SPLIT_RSS = 0.15  # deg
CASTER_WORST = 0.25  # deg, after the stated trim
STEP = 0.01  # of the finite difference [mm or deg]: far above the solver's 1e-11, far below a fit
RADII = (10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 24.0)  # tie radii tried for a remedy [in]


@dataclass(frozen=True)
class Contributor:
    """What one feature does to the setting.

    Attributes:
        name: The feature.
        acts_on: What it moves.
        tolerance: Largest single deviation taken, in `unit`.
        unit: mm or deg.
        sensitivity: Caster per unit of it, the larger of the two sides, before the trim [deg/mm or
            deg/deg].
        untrimmed: Worst case on one caster before the trim [deg].
        left: Worst case on the left caster [deg].
        right: Worst case on the right caster [deg].
        split: Worst case on left less right [deg].
        left_rss: Root of the sum of squares of its own inputs, left [deg].
        right_rss: The same, right [deg].
        split_rss: The same, split [deg].
        source: Where the tolerance comes from.
        trust: How far to trust it.
    """

    name: str
    acts_on: str
    tolerance: float
    unit: str
    sensitivity: float
    untrimmed: float
    left: float
    right: float
    split: float
    left_rss: float
    right_rss: float
    split_rss: float
    source: str
    trust: Trust


@dataclass(frozen=True)
class Budget:
    """The whole error budget of the setting, before welding.

    Attributes:
        contributors: The largest first.
        bias_left: Known and left over after the trim, left [deg].
        bias_right: The same, right [deg].
        untrimmed_left: Known before the trim, from the readings of the tube ends, left [deg].
        untrimmed_right: The same, right [deg].
        shim: Shim under the upper pad (negative: the lower), or difference of the gaps, that the
            readings of the tube ends ask for [mm].
        caster_left: Worst case of the left caster, known bias included [deg].
        caster_right: The same, right [deg].
        caster_left_rss: Known bias plus root of the sum of squares, left [deg].
        caster_right_rss: The same, right [deg].
        split: Worst case of left less right, levelled [deg].
        split_rss: Root of the sum of squares [deg].
    """

    contributors: tuple[Contributor, ...]
    bias_left: float
    bias_right: float
    untrimmed_left: float
    untrimmed_right: float
    shim: float
    caster_left: float
    caster_right: float
    caster_left_rss: float
    caster_right_rss: float
    split: float
    split_rss: float

    @property
    def caster(self) -> float:
        """The worse of both casters [deg]."""
        return max(self.caster_left, self.caster_right)

    @property
    def passes(self) -> bool:
        """Whether split and caster keep their limits."""
        return self.split <= SPLIT_WORST and self.split_rss <= SPLIT_RSS and self.caster <= CASTER_WORST

    @property
    def largest(self) -> tuple[Contributor, ...]:
        """The three contributors that matter most to what fails (to all when nothing does)."""
        too_wide = self.split > SPLIT_WORST or self.split_rss > SPLIT_RSS

        def weight(c: Contributor) -> float:
            return c.split if too_wide and self.caster <= CASTER_WORST else max(c.left, c.right)

        return tuple(sorted(self.contributors, key=lambda c: (-weight(c), c.name))[:3])


def moved(d: Deviations, path: str, by: float) -> Deviations:
    """Deviations with one of them moved.

    Args:
        d: Where to start.
        path: "left.finger_upper", "ground.pad_upper", "index_hole" ...
        by: How far [mm or deg].
    """
    head, _, tail = path.partition(".")
    if not tail:
        return replace(d, **{head: getattr(d, head) + by})
    part = getattr(d, head)
    return replace(d, **{head: replace(part, **{tail: getattr(part, tail) + by})})


def worst_case(terms: Sequence[tuple[float, float]]) -> float:
    """Worst case of a stack: sum of |a| T over (a, T).

    Source: tolerance stack, derived.
    """
    return sum(abs(a * t) for a, t in terms)


def root_sum_square(terms: Sequence[tuple[float, float]]) -> float:
    """Root of the sum of (a T)^2 over (a, T): independent, centred deviations.

    Source: tolerance stack, derived.
    """
    return math.sqrt(sum((a * t) ** 2 for a, t in terms))


TRIM = (
    "Trim: turn the steady's screws until the level reads the same on the level pins of both clock "
    "plates; then read the index plate's pins. What both clock plates read more than the index "
    "plate is taken out at the face: a strip of feeler stock under the upper or lower pads of a "
    "drop-out, or a difference of the two gaps of an integral. Read all three again."
)
_OTHER_KIND = {
    "drop-out": (" of a drop-out, or a difference of the two gaps of an integral", ""),
    "integral": ("a strip of feeler stock under the upper or lower pads of a drop-out, or a difference of the two gaps "
                 "of an integral", "by a difference of the two gaps"),
}  # fmt: skip


def trim_of(kind: str) -> str:
    """The trim in the words of a step, for a housing of this kind alone."""
    return TRIM.replace(*_OTHER_KIND[kind])


Response = tuple[float, float, float, float, float]


def _response(simulation: Simulation, base: Deviations, home: JigPose, given: Input) -> Response:
    """Change per unit of an input of both casters and of the three level readings, untrimmed."""
    d = base
    for path in given.paths:
        d = moved(d, path, STEP)
    pose = simulation.pose(d)
    changes = [
        pose.left.caster_bench - home.left.caster_bench,
        pose.right.caster_bench - home.right.caster_bench,
        *(a - b for a, b in zip(pose.level, home.level, strict=True)),
    ]
    left, right, *level = (c / STEP for c in changes)
    return left, right, level[0], level[1], level[2]


class _Trim:
    """The trim to first order: what the steady and the shim must do about a disturbance."""

    def __init__(self, simulation: Simulation, base: Deviations, home: JigPose) -> None:
        self.steady = _response(simulation, base, home, Input(("steady",), 1.0))
        self.shim = _response(simulation, base, home, Input(("ground.pad_upper",), 1.0))
        # What a shim shows on the level it is meant to show: that much is no error.
        self.meant = 1.0 / simulation.shim_per_degree

    def after(self, r: Response) -> tuple[float, float]:
        """Change of the left and right caster once trimmed [deg per unit of the input]."""
        (a, b), (c, d) = ((f(self.steady), f(self.shim) - off) for f, off in ((_apart, 0.0), (_mean, self.meant)))
        e, f = -_apart(r), -_mean(r)
        det = a * d - b * c
        steady, shim = (e * d - b * f) / det, (a * f - c * e) / det
        return (
            r[0] + self.steady[0] * steady + self.shim[0] * shim,
            r[1] + self.steady[1] * steady + self.shim[1] * shim,
        )


def _apart(r: Response) -> float:
    """Left reading less right reading."""
    return r[2] - r[3]


def _mean(r: Response) -> float:
    """Mean reading of the clock plates less that of the index plate."""
    return (r[2] + r[3]) / 2.0 - r[4]


def _contributor(source: Source, responses: Sequence[tuple[Response, float]], trim: _Trim) -> Contributor:
    lefts, rights, splits, before = [], [], [], []
    for response, tolerance in responses:
        left, right = trim.after(response)
        lefts.append((left, tolerance))
        rights.append((right, tolerance))
        splits.append((left - right, tolerance))
        before.append((max(abs(response[0]), abs(response[1])), tolerance))
    return Contributor(
        name=source.name,
        acts_on=source.acts_on,
        tolerance=max(t for _, t in before),
        unit=source.unit,
        sensitivity=max(a for a, _ in before),
        untrimmed=worst_case(before),
        left=worst_case(lefts),
        right=worst_case(rights),
        split=worst_case(splits),
        left_rss=root_sum_square(lefts),
        right_rss=root_sum_square(rights),
        split_rss=root_sum_square(splits),
        source=source.source,
        trust=source.trust,
    )


def budget_of(sheet: Sheet, axle: AxleModel, plan: JigPlan, simulation: Simulation | None = None) -> Budget:
    """Error budget of the setting of a front axle; `simulation` when there is one already.

    Raises:
        ProgramFault: On a rear axle, which has no caster to set.
        GeometryFault: When the contacts of the jig cannot be met.
    """
    simulation = simulation or Simulation(sheet, axle, plan)
    base = replace(actual(sheet), levelled=False)
    home = simulation.pose(base)
    trim = _Trim(simulation, base, home)
    found = []
    for source in sources_of(sheet, axle, plan):
        responses = [(_response(simulation, base, home, i), i.tolerance) for i in source.inputs]
        found.append(_contributor(source, responses, trim))
    found.sort(key=lambda c: (-max(c.left, c.right), c.name))
    done, shim = simulation.trimmed(base)
    wanted = simulation.bench_caster
    bias = (done.left.caster_bench - wanted, done.right.caster_bench - wanted)
    raw = (home.left.caster_bench - wanted, home.right.caster_bench - wanted)
    rss = [math.sqrt(sum(getattr(c, key) ** 2 for c in found)) for key in ("left_rss", "right_rss", "split_rss")]
    return Budget(
        contributors=tuple(found),
        bias_left=bias[0],
        bias_right=bias[1],
        untrimmed_left=raw[0],
        untrimmed_right=raw[1],
        shim=shim,
        caster_left=abs(bias[0]) + sum(c.left for c in found),
        caster_right=abs(bias[1]) + sum(c.right for c in found),
        caster_left_rss=abs(bias[0]) + rss[0],
        caster_right_rss=abs(bias[1]) + rss[1],
        split=abs(done.split) + sum(c.split for c in found),
        split_rss=abs(done.split) + rss[2],
    )


def remedy_for(sheet: Sheet, axle: AxleModel) -> str:
    """What would make the budget pass, found by working it out again; in words.

    The cheapest single change is named; where none is enough, a better process together with the
    smallest radius that passes.
    """
    changes = _changes(sheet)
    for words, changed in changes:
        if _passes(changed, axle):
            return words
    best, told = sheet, []
    for words, changed in changes:
        if words.startswith("tie"):
            continue
        best = _merged(best, changed, words)
        told.append(words)
    joined = "; ".join(told)
    if told and _passes(best, axle):
        return joined
    for radius in RADII:
        wider = _with_radius(best, radius)
        if radius * 25.4 > sheet.jig.tie_radius and _passes(wider, axle):
            return "; ".join([*told, f"tie radius {radius:g} in"])
    return (
        "no process or tie radius of this program passes: measure the largest contributors again "
        "and give their tolerances on the sheet"
    )


def _changes(sheet: Sheet) -> list[tuple[str, Sheet]]:
    """Single changes, cheapest first, each in words."""
    process, out = sheet.process, []
    if sheet.tools.level_repeatability > 0.02 + 1e-9:
        out.append(("a level that repeats to 0.02 deg", _with_level(sheet, 0.02)))
    if not process.stacked:
        out.append(("drill and ream index and clock plates as one stack", _with_process(sheet, stacked=True)))
    if process.pads != "mill":
        out.append(("mill the edges that meet the face", _with_process(sheet, pads="mill")))
    if process.angle_holes != "mill":
        out.append(
            (
                "bore and ream the holes that set the angle from coordinates on a mill",
                _with_process(sheet, angle_holes="mill"),
            )
        )
    out += [(f"tie radius {r:g} in", _with_radius(sheet, r)) for r in RADII if r * 25.4 > sheet.jig.tie_radius + 1e-6]
    return out


def _merged(best: Sheet, changed: Sheet, words: str) -> Sheet:
    if "level" in words:
        return best.model_copy(update={"tools": changed.tools})
    update = {
        key: getattr(changed.process, key)
        for key in ("stacked", "pads", "angle_holes")
        if getattr(changed.process, key) in (True, "mill")
    }
    return _with_process(best, **update)


def _with_process(sheet: Sheet, **update: object) -> Sheet:
    return sheet.model_copy(update={"process": sheet.process.model_copy(update=update)})


def _with_level(sheet: Sheet, repeatability: float) -> Sheet:
    kind = type(sheet.tools.level_repeatability)
    tools = sheet.tools.model_copy(update={"level_repeatability": kind(repeatability)})
    return sheet.model_copy(update={"tools": tools})


def _with_radius(sheet: Sheet, inches: float) -> Sheet:
    kind = type(sheet.jig.tie_radius)
    jig = sheet.jig.model_copy(update={"tie_radius": kind(inches * 25.4)})
    return sheet.model_copy(update={"jig": jig})


def _passes(sheet: Sheet, axle: AxleModel) -> bool:
    return budget_of(sheet, axle, plan_of(sheet, axle)).passes
