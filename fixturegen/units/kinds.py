"""What a key or an option takes: a dimension and a range, as a marker of an annotation."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar

from fixturegen.units.measure import BadQuantity, Measure

if TYPE_CHECKING:
    from pydantic_core import core_schema


@dataclass(frozen=True)
class Dimension:
    """What a key takes: a dimension and a range in shop text; empty text is no bound."""

    low: str = ""
    high: str = ""

    kind: ClassVar[str] = ""
    unit: ClassVar[str] = ""
    example: ClassVar[str] = "5 1/2"

    def allowed(self) -> str:
        """The range in words."""
        if self.low and self.high:
            return f"{self.low} to {self.high}"
        if self.low or self.high:
            return f"{self.low} or more" if self.low else f"{self.high} or less"
        return f'{self.kind}, like "{self.example}"'

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        """A validator that turns text into a `Measure`, and a dump that gives the text back."""
        from pydantic_core import PydanticCustomError, core_schema

        from fixturegen.units.grammar import take

        def read(value: object) -> Measure:
            try:
                return take(value, self)
            except BadQuantity as bad:
                facts = {"given": bad.given, "allowed": bad.allowed, "remedy": bad.remedy}
                raise PydanticCustomError("bad_quantity", "{remedy}", facts) from None

        return core_schema.no_info_plain_validator_function(
            read,
            serialization=core_schema.plain_serializer_function_ser_schema(
                lambda m: m.text if isinstance(m, Measure) else str(m)
            ),
        )

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        """The JSON schema: a text."""
        return {"type": "string", "description": f"{self.kind}: {self.allowed()}"}


class Length(Dimension):
    """A length, mm inside."""

    kind, unit, example = "length", "mm", "5 1/2 in"


class Angle(Dimension):
    """An angle, deg inside."""

    kind, unit, example = "angle", "deg", "17 deg"


class Mass(Dimension):
    """A mass, kg inside."""

    kind, unit, example = "mass", "kg", "12 lb"


class Force(Dimension):
    """A force, N inside; `lb` is read as pound-force."""

    kind, unit, example = "force", "N", "2000 lbf"


class Stiffness(Dimension):
    """A force per length, N/mm inside; `lb/in` is read as pound-force per inch."""

    kind, unit, example = "stiffness", "N/mm", "800 lbf/in"


class Torque(Dimension):
    """A torque, N*mm inside."""

    kind, unit, example = "torque", "N*mm", "65 ft-lb"


class Stress(Dimension):
    """A stress or pressure, MPa inside."""

    kind, unit, example = "stress", "MPa", "36 ksi"


class Area(Dimension):
    """An area, mm^2 inside."""

    kind, unit, example = "area", "mm^2", "2.5 in^2"


class SectionModulus(Dimension):
    """A section modulus, mm^3 inside."""

    kind, unit, example = "section modulus", "mm^3", "1.8 in^3"


class SecondMoment(Dimension):
    """A second moment of area or a torsion constant, mm^4 inside."""

    kind, unit, example = "second moment", "mm^4", "3.2 in^4"


class MassPerLength(Dimension):
    """A mass per length, kg/m."""

    kind, unit, example = "mass per length", "kg/m", "8.7 lb/ft"


class Density(Dimension):
    """A density, kg/m^3."""

    kind, unit, example = "density", "kg/m^3", "7850 kg/m^3"


class Speed(Dimension):
    """A speed, mm/s inside."""

    kind, unit, example = "speed", "mm/s", "60 mph"


class Time(Dimension):
    """A time, s inside."""

    kind, unit, example = "time", "s", "0.6 s"


class TurningSpeed(Dimension):
    """A speed of turning, rpm."""

    kind, unit, example = "turning speed", "rpm", "1500 rpm"


class Plain(Dimension):
    """A number without a unit."""

    kind, unit, example = "number", "1", "3.73"


class Count(Plain):
    """A whole number without a unit."""

    kind, example = "whole number", "10"
