"""Text to number and back, as people in a shop write it.

The grammar is our own and the list of units is closed: a general reader of units takes `2 5/8 in`
for 2 x 5/8 in and `1,5 mm` for 15 mm without a word. What is not in the grammar is refused with a
sentence. Inside the program lengths are mm, angles deg, masses kg, forces N.
"""

from fixturegen.units.grammar import limits, parse, take
from fixturegen.units.kinds import (
    Angle,
    Area,
    Count,
    Density,
    Dimension,
    Force,
    Length,
    Mass,
    MassPerLength,
    Plain,
    SecondMoment,
    SectionModulus,
    Speed,
    Stiffness,
    Stress,
    Time,
    Torque,
    TurningSpeed,
)
from fixturegen.units.listed import UNITS, Unit
from fixturegen.units.measure import BadQuantity, Measure
from fixturegen.units.written import as_inch, as_shop, as_text, convert

__all__ = [
    "UNITS",
    "Angle",
    "Area",
    "BadQuantity",
    "Count",
    "Density",
    "Dimension",
    "Force",
    "Length",
    "Mass",
    "MassPerLength",
    "Measure",
    "Plain",
    "SecondMoment",
    "SectionModulus",
    "Speed",
    "Stiffness",
    "Stress",
    "Time",
    "Torque",
    "TurningSpeed",
    "Unit",
    "as_inch",
    "as_shop",
    "as_text",
    "convert",
    "limits",
    "parse",
    "take",
]
