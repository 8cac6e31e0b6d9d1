"""Numbers of the stub pins: where the arm begins and ends, how much room the bar leaves, threads.

All lengths run along the steering axis from its point at axle height, away from the axle line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.model import AxleModel, KnuckleModel, PivotPlace
from fixturegen.errors import GeometryFault
from fixturegen.sheet.specs import Pivot, Sheet
from fixturegen.studies.jig_records import FINGER_FIT, INCH, Finger, JigPlan

FOOT = 12.0 * INCH
BAR_CLEAR = 3.0  # tail of a stub stays off the bar [mm]
WASHER = 3.0 / 16.0 * INCH  # thick washer under a drawing nut [mm]
THREAD_OVER = 3.0  # thread beyond the nut [mm]
HEAD_OVER = 6.0  # gauge head beyond the finger bars, both ways [mm]
PAST = 14.0  # grip of a stub beyond its gauge head, with a hole for a tommy bar [mm]
SHOULDER = 3.0 / 16.0 * INCH  # thickest shoulder under the finger bars [mm]
SEAT_SHORT = 3.0  # male taper ends this much inside the small end, so that it can draw home [mm]
SEAT_PROUD = 2.0  # male taper stands this much beyond the large end [mm]
SHANK_FIT = 0.025  # shank under a measured straight or cup bore [mm] [cp]
SLIP_FIT = 0.02  # bushing over a measured male pin [mm] [cp]
# With the bars at nominal -0.013/0 and the head at 0/+0.013 the gap stays the plan's middle fit.
HEAD_TOLERANCE = (0.0, 0.013)
BAR_TOLERANCE = (-0.013, 0.0)
RIM = 48  # points tried round a tail


@dataclass(frozen=True)
class Thread:
    """A thread of the lathe hand's drawer: diameter, jam nut, tap drill, all [mm].

    Attributes:
        name: "5/8-18".
        diameter: Major diameter.
        nut: Height of the jam nut.
        flats: Across the nut's flats.
        drill: Usual tap drill.
    """

    name: str
    diameter: float
    nut: float
    flats: float
    drill: float


# Source: ASME B1.1 (diameters), ASME B18.2.2 (hex jam nuts, greatest height), usual tap drills;
# all from memory.
THREADS: tuple[Thread, ...] = (
    Thread("5/16-24", 0.3125 * INCH, 0.195 * INCH, 0.5 * INCH, 0.272 * INCH),
    Thread("3/8-24", 0.375 * INCH, 0.227 * INCH, 0.5625 * INCH, 0.332 * INCH),
    Thread("7/16-20", 0.4375 * INCH, 0.260 * INCH, 0.6875 * INCH, 0.3906 * INCH),
    Thread("1/2-20", 0.5 * INCH, 0.323 * INCH, 0.75 * INCH, 0.4531 * INCH),
    Thread("5/8-18", 0.625 * INCH, 0.387 * INCH, 0.9375 * INCH, 0.5781 * INCH),
    Thread("3/4-16", 0.75 * INCH, 0.446 * INCH, 1.125 * INCH, 0.6875 * INCH),
    Thread("1-12", 1.0 * INCH, 0.575 * INCH, 1.5 * INCH, 0.9219 * INCH),
)
JACKS: tuple[Thread, ...] = (
    Thread("1/4-20", 0.25 * INCH, 0.163 * INCH, 0.4375 * INCH, 0.201 * INCH),
    Thread("5/16-18", 0.3125 * INCH, 0.195 * INCH, 0.5 * INCH, 0.257 * INCH),
    Thread("3/8-16", 0.375 * INCH, 0.227 * INCH, 0.5625 * INCH, 0.3125 * INCH),
)


@dataclass(frozen=True)
class PivotPlan:
    """One pivot as the stub's maker sees it; stations along the axis [mm].

    Attributes:
        name: upper or lower.
        pivot: The sheet's data.
        inside: Inner face of the arm.
        outside: Outer face of the arm.
        along: Where the finger bars cross.
        head: Diameter of the gauge head.
        head_from: Gauge head begins (at the latest).
        head_to: Gauge head ends (at the earliest).
        shoulder: Thickness that a shoulder on the outer face may have.
        knuckle: The left knuckle, frame A.
        bar: Diameter of the alignment bar.
        finger: Diameter of the finger bars.
    """

    name: str
    pivot: Pivot
    inside: float
    outside: float
    along: float
    head: float
    head_from: float
    head_to: float
    shoulder: float
    knuckle: KnuckleModel
    bar: float
    finger: float

    @property
    def place(self) -> PivotPlace:
        """The pivot on the left knuckle."""
        return self.knuckle.upper if self.name == "upper" else self.knuckle.lower

    def room(self, radius: float) -> float:
        """Length from the arm's inner face inward that a tail may have [mm].

        Args:
            radius: Of what stands there [mm].
        """
        point, way = np.array(self.knuckle.axis_point), np.array(self.place.outward)
        first = np.cross(way, np.array([0.0, 1.0, 0.0]))
        first /= np.linalg.norm(first)
        second = np.cross(way, first)
        turn = np.linspace(0.0, 2.0 * math.pi, RIM, endpoint=False)
        rim = radius * (np.outer(np.cos(turn), first) + np.outer(np.sin(turn), second))
        need = self.bar / 2.0 + BAR_CLEAR
        s = self.inside
        while s > 0.0:
            p = point + s * way + rim
            if float(np.min(np.hypot(p[:, 0], p[:, 2]))) < need:
                break
            s -= 0.25
        return max(0.0, self.inside - s - 0.25)

    def shoulder_diameter(self, bore: float) -> float:
        """A shoulder that bears on the outer face round a bore [mm], within the boss."""
        return max(min(bore + 0.5 * INCH, self.pivot.boss_diameter - 2.0), bore + 2.0)


def taper_diameter(large: float, per_foot: float, distance: float) -> float:
    """Diameter of a taper at a distance from its large end [mm].

    Args:
        large: At the large end [mm].
        per_foot: Change of the diameter in one foot of length [mm].
        distance: From the large end toward the small one [mm].

    Source: derived from the definition of taper per foot (Machinery's Handbook, tapers).
    """
    return large - per_foot * distance / FOOT


def pivot_plans(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> tuple[PivotPlan, ...]:
    """Upper and lower pivot of the knuckles; none on a rear axle."""
    if plan.clock is None or sheet.knuckles is None:
        return ()
    knuckle = axle.knuckles[0]
    found = []
    for finger in plan.clock.fingers:
        pivot = sheet.knuckles.upper if finger.pivot == "upper" else sheet.knuckles.lower
        found.append(_pivot_plan(sheet, plan, knuckle, finger, pivot))
    return tuple(found)


def _pivot_plan(sheet: Sheet, plan: JigPlan, knuckle: KnuckleModel, finger: Finger, pivot: Pivot) -> PivotPlan:
    middle = (sheet.knuckles.pivot_spread if sheet.knuckles else 0.0) / 2.0
    bar = float(sheet.jig.finger_diameter)
    outside = middle + pivot.arm_thickness / 2.0
    head_from = finger.along - bar / 2.0 - HEAD_OVER
    return PivotPlan(
        name=finger.pivot,
        pivot=pivot,
        inside=middle - pivot.arm_thickness / 2.0,
        outside=outside,
        along=finger.along,
        head=finger.head,
        head_from=head_from,
        head_to=finger.along + bar / 2.0 + HEAD_OVER,
        shoulder=min(SHOULDER, max(2.0, head_from - outside)),
        knuckle=knuckle,
        bar=plan.bar,
        finger=bar,
    )


def tail_length(thread: Thread) -> float:
    """Tail of a stub inside the arm: thick washer, jam nut, and thread beyond it [mm]."""
    return WASHER + thread.nut + THREAD_OVER


def tail_thread(pivot: PivotPlan, limit: float) -> Thread:
    """Largest thread up to 5/8 that passes `limit` [mm] and whose nut has room before the bar.

    Raises:
        GeometryFault: When none has.
    """
    for thread in reversed(THREADS[:5]):
        if thread.diameter > limit:
            continue
        if tail_length(thread) <= pivot.room(thread.flats / math.sqrt(3.0)):
            return thread
    raise GeometryFault(
        f"stub-{pivot.name}",
        f"a drawing nut needs {tail_length(THREADS[0]) / INCH:.2f} in between arm and bar and a hole of "
        f"{THREADS[0].diameter / INCH:.2f} in; there is {pivot.room(8.0) / INCH:.2f} in and {limit / INCH:.2f} in",
        "use a thinner bar, or measure the pivot and its arm again",
    )


def finger_thread(diameter: float) -> Thread:
    """Thread of a finger bar: the largest at least 1/8 in under the bar's diameter [mm]."""
    fitting = [t for t in THREADS if t.diameter <= diameter - INCH / 8.0 + 1e-6]
    return fitting[-1]


def jack_thread(inside: Thread) -> Thread:
    """Largest jacking thread that is tapped beyond a thread without touching it."""
    return [j for j in JACKS if j.diameter <= inside.drill - 0.5][-1]


def finger_gap(finger: Finger, diameter: float) -> float:
    """Clear gap between the two bars of a pair [mm].

    Args:
        finger: The pair.
        diameter: Of its bars [mm].
    """
    return math.dist(*finger.bars) - diameter


__all__ = [
    "BAR_CLEAR",
    "BAR_TOLERANCE",
    "FINGER_FIT",
    "FOOT",
    "HEAD_OVER",
    "HEAD_TOLERANCE",
    "JACKS",
    "PAST",
    "SEAT_PROUD",
    "SEAT_SHORT",
    "SHANK_FIT",
    "SHOULDER",
    "SLIP_FIT",
    "THREADS",
    "THREAD_OVER",
    "WASHER",
    "PivotPlan",
    "Thread",
    "finger_gap",
    "finger_thread",
    "jack_thread",
    "pivot_plans",
    "tail_length",
    "tail_thread",
    "taper_diameter",
]
