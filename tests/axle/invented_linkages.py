"""Invented linkages of each kind, in inches, for the tests."""

from dataclasses import replace

from fixturegen.axle.linkage import Joint, Link, Linkage, Stance
from fixturegen.axle.linkage_kinds import Leaf, leaf_springs, linkage_of

INCH = 25.4
WHEELBASE = 110.0


def inches(point, ahead=0.0):
    """A point in mm; `ahead` is added to x [in]."""
    return (INCH * (point[0] + ahead), INCH * point[1], INCH * point[2])


def rear_stance(radius=16.0, pinion=2.0, wheelbase=WHEELBASE):
    return Stance(False, wheelbase * INCH, radius * INCH, pinion, 30 * INCH)


def front_stance(radius=18.0, pinion=6.0):
    return Stance(True, WHEELBASE * INCH, radius * INCH, pinion, 32 * INCH)


def rod(name, axle, frame, ahead=0.0, **joints):
    """A link from its points ahead of the axle line [in]."""
    return Link(name, Joint(inches(frame, ahead), **joints), Joint(inches(axle, ahead), **joints))


def rear(name, axle, frame, **joints):
    return rod(name, axle, frame, -WHEELBASE, **joints)


def both(name, axle, frame, make=rear, **joints):
    """The left link and its mirror image."""
    mirrored = [(p[0], -p[1], p[2]) for p in (axle, frame)]
    return make(f"{name}-left", axle, frame, **joints), make(f"{name}-right", *mirrored, **joints)


def splayed() -> Linkage:
    """Four links, both pairs splayed: apexes (-10, 27.667) and (200, 46) in."""
    lowers, uppers = both("lower", (0, 20, 16), (40, 16, 22)), both("upper", (0, 4, 28), (30, 16, 29))
    return linkage_of("four-link", rear_stance(), (*lowers, *uppers))


def single_splay() -> Linkage:
    lowers, uppers = both("lower", (0, 18, 14), (38, 18, 17)), both("upper", (2, 5, 26), (27, 15, 25))
    return linkage_of("four-link", rear_stance(), (*lowers, *uppers))


def three_link(front=True) -> Linkage:
    lowers = both("lower", (0, 15, 16), (-36, 14, 18), make=rod)
    links = (*lowers, rod("upper", (-1, -8, 26), (-31, -7, 27)), rod("track-bar", (3, -16, 20), (3, 16, 21)))
    return linkage_of("three-link", front_stance(), links)


def wishbone() -> Linkage:
    lowers = both("lower", (0, 18, 14), (38, 16, 17))
    uppers = (rear("upper-left", (0, 0, 27), (26, 12, 26)), rear("upper-right", (0, 0, 27), (26, -12, 26)))
    return linkage_of("wishbone", rear_stance(), (*lowers, *uppers))


def arms(pivot=14.0, rate=None) -> tuple[Link, ...]:
    """Two arms ahead of a rear axle, `pivot` [in] off the middle, and a track bar; soft at the axle."""
    found = []
    for way, where in (("rear", (-3, 15, 17)), ("front", (3, 15, 15))):
        found += both(f"arm-{way}", where, (40, pivot, 18))
    named = {"arm-front-left": "arm-left-front", "arm-rear-left": "arm-left-rear"}
    named |= {"arm-front-right": "arm-right-front", "arm-rear-right": "arm-right-rear"}
    soft = [replace(k, name=named[k.name], axle=replace(k.axle, rate=rate)) for k in found]
    return (*soft, rear("track-bar", (-4, -17, 19), (-4, 17, 20)))


def radius_arms(rate=2000.0) -> Linkage:
    return linkage_of("radius-arms", rear_stance(), arms(rate=rate))


def truck_arms() -> Linkage:
    """Both arms end in one pivot in the middle of the frame, so that nothing binds."""
    return linkage_of("truck-arms", rear_stance(), arms(pivot=0.0))


def five_link(rate=None) -> Linkage:
    """Four splayed links and a track bar."""
    lowers, uppers = both("lower", (0, 18, 14), (38, 17, 17)), both("upper", (2, 14, 26), (27, 13, 25))
    links = (*lowers, *uppers, rear("track-bar", (-4, -17, 19), (-4, 17, 20)))
    return linkage_of("five-link", rear_stance(), tuple(replace(k, axle=replace(k.axle, rate=rate)) for k in links))


def leaves(a=26.0, b=26.0, rise=0.0) -> Linkage:
    """Two leaf springs with the fixed eye ahead, halves a and b [in]."""
    x = -WHEELBASE
    sides = [
        Leaf(inches((x + a, y, 14 + rise)), inches((x - b, y, 14)), inches((x, y, 14 + rise * b / (a + b))))
        for y in (18, -18)
    ]
    return leaf_springs(rear_stance(), *sides)


EXACT = {
    "splayed": splayed,
    "single-splay": single_splay,
    "three-link": three_link,
    "wishbone": wishbone,
    "truck-arms": truck_arms,
    "leaves": leaves,
}
