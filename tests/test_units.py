"""Shop text to number and back. Factors are checked against the library pint."""

import copy
import math
import pickle
import subprocess
import sys
from typing import Annotated

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import BaseModel, ConfigDict, ValidationError

from fixturegen.errors import FixturegenError
from fixturegen.units import (
    UNITS,
    Angle,
    Area,
    BadQuantity,
    Count,
    Force,
    Length,
    Mass,
    Measure,
    Plain,
    Stress,
    Torque,
    as_inch,
    as_shop,
    as_text,
    convert,
    limits,
    parse,
)

REGISTRY = pint.UnitRegistry(cache_folder=None)
PROGRAM_UNIT = {u.kind: u.name for u in UNITS if u.factor == 1}


@pytest.mark.parametrize("unit", UNITS, ids=lambda u: u.name)
def test_every_factor_agrees_with_pint(unit):
    theirs = REGISTRY(unit.name).to(PROGRAM_UNIT[unit.kind]).magnitude
    assert float(unit.factor) == pytest.approx(theirs, rel=1e-12)


def test_a_wrong_factor_would_be_seen_by_pint():
    # the survey foot differs from the foot by two in a million
    assert REGISTRY("survey_foot").to("mm").magnitude != pytest.approx(304.8, rel=1e-12)


def test_every_kind_has_one_program_unit_and_no_spelling_means_two_things():
    assert [u.kind for u in UNITS if u.factor == 1] == list(PROGRAM_UNIT)
    assert set(PROGRAM_UNIT) == {u.kind for u in UNITS}
    spelled = [s for u in UNITS for s in u.spellings]
    assert len(spelled) == len(set(spelled))
    loose = [s.casefold() for u in UNITS if u.any_case for s in u.spellings]
    assert len(loose) == len(set(loose))


# The inch is 25.4 mm by definition (international yard and pound agreement, 1959).
@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("2 5/8 in", 66.675),
        ("2-5/8 in", 66.675),
        ("2 5/8in", 66.675),
        ('2 5/8"', 66.675),
        ("2⅝″", 66.675),
        ("2 5⁄8 in", 66.675),
        ("2–5/8 in", 66.675),
        ("21/8 in", 66.675),
        ("2.625 inches", 66.675),
        (".5 in", 12.7),
        ("1. in", 25.4),
        ("-1/2 in", -12.7),
        ("−1/2 in", -12.7),
        ("+1/2 in.", 12.7),
        ("2 5/8 IN", 66.675),
        ("1 MM", 1.0),
        ("1 mm", 1.0),
        ("1.5 cm", 15.0),
        ("0.1 m", 100.0),
        ("5 thou", 0.127),
        ("5 ft 6-1/2 in", 1689.1),
        ("5' 6 1/2\"", 1689.1),
        ("5'-6 1/2\"", 1689.1),
        ("5′ 6½″", 1689.1),
        ("5'6''", 1676.4),
        ("5 ft", 1524.0),
        ("5.5 ft", 1676.4),
        ("-5 ft 6 in", -1676.4),
        ("  2\t5/8  in ", 66.675),
        ("2\u00a05/8\u00a0in", 66.675),
        ("0 in", 0.0),
    ],
)
def test_a_length_is_read_as_the_shop_writes_it(text, millimetres):
    measure = parse(text, Length())
    assert measure == pytest.approx(millimetres, abs=1e-12)
    assert measure.text == text.strip()
    assert measure.tolerance is None


@pytest.mark.parametrize(
    ("text", "value", "tolerance"),
    [
        ("3.500 in +/- 0.005", 88.9, 0.127),
        ("3.500 +/- 0.005 in", 88.9, 0.127),
        ("3.500 in ± 0.005 in", 88.9, 0.127),
        ("3 1/2 in +/- 1/64", 88.9, 0.396875),
        ("3.5 in +- 0.1 mm", 88.9, 0.1),
        ("88.9 mm + / - 0", 88.9, 0.0),
        ("5 ft 6 in +/- 1/8", 1676.4, 3.175),
    ],
)
def test_a_tolerance_is_kept_beside_the_value(text, value, tolerance):
    measure = parse(text, Length())
    assert measure == pytest.approx(value)
    assert measure.tolerance == pytest.approx(tolerance)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("17 deg", 17.0),
        ("17°", 17.0),
        ("17º", 17.0),
        ("-8 1/2 degrees", -8.5),
        ("12° 30'", 12.5),
        ("28 deg 38 min 1 s", 28 + 38 / 60 + 1 / 3600),
        ("-0° 30'", -0.5),
        ("30 arcmin", 0.5),
        ("0.5 rad", math.degrees(0.5)),
    ],
)
def test_an_angle_is_read_as_the_shop_writes_it(text, degrees):
    assert parse(text, Angle()) == pytest.approx(degrees, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("200 Nm", Torque(), 200_000.0),
        ("200 N·m", Torque(), 200_000.0),
        ("65 ft-lb", Torque(), 88_128.1666),
        ("65 lb ft", Torque(), 88_128.1666),
        ("65 ft*lb", Torque(), 88_128.1666),
        ("20 in-lb", Torque(), 2_259.697),
        ("2000 lb", Force(), 8896.443),
        ("2000 lbf", Force(), 8896.443),
        ("12 lbs", Mass(), 5.44310844),
        ("36 ksi", Stress(), 248.2113),
        ("1 in²", Area(), 645.16),
        ("1 sq in", Area(), 645.16),
        ("3.73", Plain(), 3.73),
        ("3 1/2", Plain(), 3.5),
        ("10", Count(), 10.0),
    ],
)
def test_other_kinds_are_read(text, dimension, value):
    # N, lb and inch by definition: 4.4482216152605 N, 0.45359237 kg, 25.4 mm
    assert parse(text, dimension) == pytest.approx(value, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("1,5 mm", "decimal point"),
        ("1,000 mm", "comma"),
        ("10 mil", "thou"),
        ("10 mils", "thou"),
        ("200 Nm", "torque"),
        ("5 ft*lb", "torque"),
        ("5 ft lb", "torque"),
        ("12 deg", "angle"),
        ("12 lb", "mass"),
        ("1 M", "write m"),
        ("5.5", "unit behind it"),
        ("5/8", "unit behind it"),
        ("0", "unit behind it"),
        ("", "one number and one unit"),
        ("   ", "one number and one unit"),
        ("in", "one number and one unit"),
        ("ft*lb", "one number and one unit"),
        ("about 5 in", "one number and one unit"),
        ("5' 6", "one number and one unit"),
        ("5 ft 6", "one number and one unit"),
        ("2 5 in", "one number and one unit"),
        ("2-5 in", "one number and one unit"),
        ("5 - 1/2 in", "one number and one unit"),
        ("1 000 mm", "one number and one unit"),
        ("2 x 5/8 in", "one number and one unit"),
        ("2.5/8 in", "one number and one unit"),
        ("1/2/3 in", "one number and one unit"),
        ("--5 in", "one number and one unit"),
        ("nan in", "one number and one unit"),
        ("inf in", "one number and one unit"),
        ("٣ in", "one number and one unit"),
        ("３ in", "one number and one unit"),
        ("3.5 in +0.005/-0.002", "one number and one unit"),
        ("3.5 in +/-", "one number and one unit"),
        ("+/- 3 in", "one number and one unit"),
        ("3 in ± 5%", "percentage"),
        ("3.5 in +/- -1 in", "no sign"),
        ("3.5 in +/- 1 deg", "angle"),
        ("1e3 mm", "power of ten"),
        ("1/0 in", "divided by 0"),
        ("2 9/8 in", "less than 1"),
        ("5 ft 13 in", "less than 12"),
        ("5 furlong", "not a unit"),
        ("5 microns", "not a unit"),
        ("9" * 100 + " in", "one number and one unit"),
    ],
)
def test_what_is_outside_the_grammar_is_refused_in_words(text, words):
    with pytest.raises(BadQuantity, match=words) as refused:
        parse(text, Length("-100 in", "100 in"))
    assert refused.value.given
    assert refused.value.allowed == "-100 in to 100 in"
    assert isinstance(refused.value, ValueError)
    assert isinstance(refused.value, FixturegenError)
    assert refused.value.exit_code == 2
    assert refused.value.faults[0].remedy == refused.value.remedy


@pytest.mark.parametrize(
    ("text", "dimension"),
    [
        ("3 in", Plain()),
        ("3.5", Count()),
        ("500 kg", Force()),
        ("500 lbf", Mass()),
        ("12° 75'", Angle()),
        ("30'", Angle()),
        ("30 min", Angle()),
        ("5 mm", Angle()),
    ],
)
def test_a_wrong_unit_for_the_kind_is_refused(text, dimension):
    with pytest.raises(BadQuantity):
        parse(text, dimension)


def test_a_general_reader_takes_a_mixed_number_for_a_product():
    # the trap our own grammar is there for: pint reads 2 5/8 in as 2 x 5/8 in
    assert REGISTRY("2 5/8 in").to("in").magnitude == pytest.approx(1.25)
    assert parse("2 5/8 in", Length()) / 25.4 == pytest.approx(2.625)


@pytest.mark.parametrize(
    ("text", "fits"),
    [
        ("3/4 in", True),
        ("0.7499 in", False),
        ("3 in", True),
        ("3.0001 in", False),
        ("19.05 mm", True),
    ],
)
def test_the_range_holds_to_its_ends(text, fits):
    bar = Length("0.75 in", "3 in")
    if fits:
        parse(text, bar)
    else:
        with pytest.raises(BadQuantity, match=r"too (small|large)"):
            parse(text, bar)


def test_limits_are_in_the_unit_of_the_program():
    assert limits(Length("1 in", "2 in")) == (25.4, 50.8)
    assert limits(Length("", "2 in")) == (-math.inf, 50.8)


class Bar(BaseModel):
    """A section as the sheet has it."""

    model_config = ConfigDict(frozen=True, extra="forbid", validate_default=True)
    diameter: Annotated[Measure, Length("0.75 in", "3 in")] = "1 1/2 in"
    sag: Annotated[Measure, Length("0 in", "1 in")] | None = None
    ratio: Annotated[Measure, Plain("1", "10")] = "3.73"
    angles: tuple[Annotated[Measure, Angle("-360 deg", "360 deg")], ...] = ()


def test_a_model_parses_defaults_and_given_texts_and_dumps_them_back():
    bar = Bar(sag="1/8 in", angles=("10 deg", "20 deg"))
    assert (bar.diameter, bar.sag, bar.angles) == (38.1, 3.175, (10.0, 20.0))
    assert isinstance(bar.diameter, Measure)
    assert bar.model_dump()["diameter"] == "1 1/2 in"
    assert '"sag":"1/8 in"' in bar.model_dump_json()
    assert Bar(**bar.model_dump()) == bar
    assert Bar(diameter=Measure(50.0)).diameter == 50.0
    assert Bar(ratio=4).ratio == 4.0
    assert Bar.model_json_schema()["properties"]["diameter"]["type"] == "string"


@pytest.mark.parametrize(
    ("value", "given", "words"),
    [
        (1.5, "1.5", "quotes round it and a unit"),
        (2, "2", "quotes round it and a unit"),
        (True, "true", "text in quotes"),
        (["1 in"], "['1 in']", "text in quotes"),
        ("1,5 in", "1,5 in", "decimal point"),
        ("9 in", "9 in", "too large"),
    ],
)
def test_a_model_gives_the_sentence_with_its_parts(value, given, words):
    with pytest.raises(ValidationError) as refused:
        Bar(diameter=value)
    (error,) = refused.value.errors()
    assert error["type"] == "bad_quantity"
    assert error["loc"] == ("diameter",)
    assert error["ctx"]["given"] == given
    assert error["ctx"]["allowed"] == "0.75 in to 3 in"
    assert words in error["ctx"]["remedy"]


@pytest.mark.parametrize(
    ("millimetres", "denominators", "text"),
    [
        (66.675, 64, "2 5/8 in"),
        (3.175, 64, "1/8 in"),
        (304.8, 64, "12 in"),
        (0.0, 64, "0 in"),
        (-66.675, 64, "-2 5/8 in"),
        (26.0, 64, "1 1/32 in (-0.0076 in)"),
        (25.5, 64, "1 in (+0.0039 in)"),
        (66.675, 2, "2 1/2 in (+0.1250 in)"),
        (25.3, 64, "1 in (-0.0039 in)"),
    ],
)
def test_a_fraction_says_what_it_leaves_out(millimetres, denominators, text):
    # 26 mm = 1.023622 in; 1 1/32 = 1.031250 in; the rest -0.0076 in
    assert as_inch(millimetres, denominators) == text


@settings(deadline=None)
@given(st.integers(-(10**5), 10**5))
def test_a_sixty_fourth_written_and_read_is_the_same(steps):
    value = steps / 64 * 25.4
    assert parse(as_inch(value), Length()) == pytest.approx(value, abs=1e-9)


@settings(deadline=None)
@given(st.text(max_size=90))
def test_any_text_is_read_or_refused_and_nothing_else(text):
    for dimension in (Length("1 in", "2 in"), Angle(), Plain(), Count(), Torque()):
        try:
            assert math.isfinite(parse(text, dimension))
        except BadQuantity as refused:
            assert refused.given
            assert refused.remedy


@settings(deadline=None)
@given(st.from_regex(r"[-+]?[0-9 ./'\"-]{1,12}(in|ft|mm|°)?( ?(±|\+/-) ?[0-9./]{1,5})?", fullmatch=True))
def test_near_quantities_are_read_or_refused_and_nothing_else(text):
    try:
        assert math.isfinite(parse(text, Length()))
    except BadQuantity as refused:
        assert "\n" not in str(refused)


def test_numbers_are_written_in_any_unit_of_their_kind():
    assert as_text(88.9, "length", "in") == "3.5 in"
    assert as_text(88.9, "length", "mm", 3) == "88.9 mm"
    assert as_text(16.5, "angle", "deg", 2) == "16.5 deg"
    assert as_text(100.0, "length", "mm", 0) == "100 mm"
    assert as_text(-0.0001, "angle", "deg", 2) == "0 deg"
    assert as_text(3.73, "number", "1") == "3.73"
    with pytest.raises(ValueError, match="no unit of length"):
        as_text(1.0, "length", "deg")
    assert as_shop(139.7, "length") == "5.5 in = 139.7 mm, 5 1/2 in"
    assert as_shop(16.5, "angle") == "16.5 deg"
    assert as_shop(7.0, "number") == "7"


def test_conversion_is_left_to_pint():
    assert convert(1.0, "ft*lbf", "N*m") == pytest.approx(1.3558179483314)


def test_a_measure_survives_copying():
    measure = parse("3.500 in +/- 0.005", Length())
    for twin in (copy.deepcopy(measure), pickle.loads(pickle.dumps(measure))):  # noqa: S301 - our own
        assert (twin, twin.text, twin.tolerance) == (measure, measure.text, measure.tolerance)
    assumed = measure.as_assumed()
    assert assumed.assumed
    assert not measure.assumed


def test_reading_quantities_loads_no_heavy_library():
    code = (
        "import sys; from fixturegen.units import parse, Length; parse('2 5/8 in', Length());"
        "print([m for m in ('pint', 'pydantic', 'numpy', 'scipy', 'cadquery') if m in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"
