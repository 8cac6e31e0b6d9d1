"""The closed list of units: how each is spelled and what it is worth."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True)
class Unit:
    """One unit of the closed list.

    Attributes:
        name: The plain name, as it is written back (and as general unit libraries know it).
        kind: length, angle, mass, force ...
        factor: What to multiply by to get the program's unit; exact wherever one exists.
        spellings: How people write it.
        any_case: Whether capitals change nothing (they do where a prefix depends on them).
    """

    name: str
    kind: str
    factor: Fraction | float
    spellings: tuple[str, ...]
    any_case: bool = True


_IN = Fraction(254, 10)  # mm, exact by definition (1959)
_LB = Fraction(45359237, 100_000_000)  # kg, exact by definition (1959)
_G = Fraction(980665, 100_000)  # m/s^2, standard gravity, exact by definition (1901)
_LBF = _LB * _G  # N
_PSI = _LBF / _IN**2  # MPa
_FT = 12 * _IN


def _both_ways(force: str, arm: str) -> tuple[str, ...]:
    """The spellings of a torque unit: force and arm in either order, joined or spaced."""
    return tuple(f"{a}{j}{b}" for a, b in ((force, arm), (arm, force)) for j in ("-", ""))


def _power(name: str, n: int) -> tuple[str, ...]:
    """The spellings of a unit to the power n."""
    words = {2: "sq", 3: "cu"}.get(n)
    return (f"{name}^{n}", f"{name}{n}", *((f"{words}-{name}",) if words else ()))


UNITS: tuple[Unit, ...] = (
    Unit(
        "mm",
        "length",
        Fraction(1),
        ("mm", "millimetre", "millimeter", "millimetres", "millimeters"),
    ),
    Unit("cm", "length", Fraction(10), ("cm",)),
    Unit("m", "length", Fraction(1000), ("m", "metre", "meter", "metres", "meters"), any_case=False),
    Unit("in", "length", _IN, ("in", "inch", "inches", '"')),
    Unit("ft", "length", _FT, ("ft", "foot", "feet", "'")),
    Unit("thou", "length", _IN / 1000, ("thou", "thousandths")),
    Unit("deg", "angle", Fraction(1), ("deg", "degs", "degree", "degrees", "°")),
    Unit("arcmin", "angle", Fraction(1, 60), ("arcmin",)),
    Unit("rad", "angle", 180 / math.pi, ("rad", "radian", "radians")),
    Unit("kg", "mass", Fraction(1), ("kg", "kgs"), any_case=False),
    Unit("g", "mass", Fraction(1, 1000), ("g",), any_case=False),
    Unit("lb", "mass", _LB, ("lb", "lbs", "pound", "pounds")),
    Unit("oz", "mass", _LB / 16, ("oz",)),
    Unit("N", "force", Fraction(1), ("N",), any_case=False),
    Unit("kN", "force", Fraction(1000), ("kN",), any_case=False),
    Unit("lbf", "force", _LBF, ("lbf",)),
    Unit("kip", "force", 1000 * _LBF, ("kip", "kips")),
    Unit("kgf", "force", _G, ("kgf",)),
    Unit("N*m", "torque", Fraction(1000), ("N-m", "Nm"), any_case=False),
    Unit("N*mm", "torque", Fraction(1), ("N-mm", "Nmm"), any_case=False),
    Unit(
        "lbf*ft",
        "torque",
        _LBF * _FT,
        (*_both_ways("lbf", "ft"), *_both_ways("lb", "ft"), "lbs-ft", "ft-lbs", "foot-pounds"),
    ),
    Unit(
        "lbf*in",
        "torque",
        _LBF * _IN,
        (*_both_ways("lbf", "in"), *_both_ways("lb", "in"), "lbs-in", "in-lbs", "inch-pounds"),
    ),
    Unit("N/mm", "stiffness", Fraction(1), ("N/mm",), any_case=False),
    Unit("lbf/in", "stiffness", _LBF / _IN, ("lbf/in", "lb/in", "lbs/in")),
    Unit("MPa", "stress", Fraction(1), ("MPa", "N/mm^2", "N/mm2"), any_case=False),
    Unit("GPa", "stress", Fraction(1000), ("GPa",), any_case=False),
    Unit("psi", "stress", _PSI, ("psi",)),
    Unit("ksi", "stress", 1000 * _PSI, ("ksi",)),
    Unit("mm^2", "area", Fraction(1), _power("mm", 2)),
    Unit("cm^2", "area", Fraction(100), _power("cm", 2)),
    Unit("in^2", "area", _IN**2, _power("in", 2)),
    Unit("mm^3", "section modulus", Fraction(1), _power("mm", 3)),
    Unit("in^3", "section modulus", _IN**3, _power("in", 3)),
    Unit("mm^4", "second moment", Fraction(1), _power("mm", 4)),
    Unit("cm^4", "second moment", Fraction(10_000), _power("cm", 4)),
    Unit("in^4", "second moment", _IN**4, _power("in", 4)),
    Unit("kg/m", "mass per length", Fraction(1), ("kg/m",), any_case=False),
    Unit("lb/ft", "mass per length", _LB / _FT * 1000, ("lb/ft", "lbs/ft")),
    Unit("kg/m^3", "density", Fraction(1), ("kg/m^3", "kg/m3"), any_case=False),
    Unit("lb/in^3", "density", _LB / _IN**3 * 10**9, ("lb/in^3", "lb/in3")),
    Unit("mm/s", "speed", Fraction(1), ("mm/s",), any_case=False),
    Unit("m/s", "speed", Fraction(1000), ("m/s",), any_case=False),
    Unit("km/h", "speed", Fraction(10**6, 3600), ("km/h",), any_case=False),
    Unit("mph", "speed", 5280 * _FT / 3600, ("mph",)),
    Unit("ft/s", "speed", _FT, ("ft/s",)),
    Unit("in/min", "speed", _IN / 60, ("in/min", "ipm")),
    Unit("m/min", "speed", Fraction(1000, 60), ("m/min",), any_case=False),
    Unit("mm/min", "speed", Fraction(1, 60), ("mm/min",), any_case=False),
    Unit("s", "time", Fraction(1), ("s", "sec", "second", "seconds"), any_case=False),
    Unit("rpm", "turning speed", Fraction(1), ("rpm", "rev/min")),
)
"""The closed list. Program units are those of factor 1."""

EXACT = {spelling: unit for unit in UNITS for spelling in unit.spellings}
"""Unit by its exact spelling."""

ANY_CASE = {spelling.casefold(): unit for unit in UNITS for spelling in unit.spellings}
"""Unit by its spelling without regard to capitals."""

BY_NAME = {unit.name: unit for unit in UNITS}
"""Unit by its plain name."""
