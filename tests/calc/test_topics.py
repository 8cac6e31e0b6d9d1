"""The topics as a contract, their docstrings, their registry, and what they answer."""

import inspect
import math
import re
import shlex
import subprocess
import sys
from importlib import import_module
from typing import Annotated, get_args, get_origin, get_type_hints

import numpy as np
import pytest

from fixturegen.calc import Answer, Columns, ask, topic, topic_names, topics
from fixturegen.calc.bench_caster import bench_caster
from fixturegen.calc.turned_knuckle import turned_knuckle
from fixturegen.errors import InputFault, ProgramFault
from fixturegen.findings import Trust
from fixturegen.sources import sources
from fixturegen.units import Dimension

# The names are a contract with those who call `fixturegen calc --json`: never change one.
CONTRACT = {
    "bench-caster": (["caster", "pinion", "axle"], ["bench_caster"]),
    "turned-knuckle": (
        ["caster-before", "caster-after", "inclination", "camber"],
        ["inclination", "camber", "toe_gain"],
    ),
    "sine-height": (["length", "angle"], ["height"]),
    "chord": (["diameter", "count"], ["chord"]),
    "hole": (["bolt", "fit"], ["diameter"]),
    "tube": (
        ["diameter", "wall"],
        ["area", "second_moment", "section_modulus", "torsion_constant", "mass_per_length"],
    ),
    "vee-roller": (["angle", "diameter"], ["height"]),
    "bend": (
        ["rule", "thickness", "radius", "angle", "material", "k-factor"],
        ["allowance", "deduction"],
    ),
    "flat-length": (
        ["rule", "thickness", "lengths", "bends", "measured", "material", "k-factor"],
        ["flat_length", "in_bends"],
    ),
    "cut-tolerance": (["thickness", "size", "class"], ["tolerance"]),
    "kerf": (["process", "thickness"], ["kerf", "offset"]),
    "min-hole": (["process", "thickness"], ["hole", "slot", "web"]),
    "joint-pair": (
        ["angle-1", "angle-2", "speed", "yokes"],
        ["equivalent_angle", "fluctuation", "allowed_angle_2"],
    ),
    "joint-angle": (["plan", "side", "plan-2", "side-2"], ["angle"]),
    "ackermann": (["pivot-distance", "wheelbase", "inner"], ["outer"]),
    "trail": (["radius", "caster", "offset"], ["trail"]),
    "scrub": (["radius", "inclination", "offset"], ["scrub"]),
    "anti-squat": (
        [
            *("lower-axle-height", "lower-frame-height", "lower-length"),
            *("upper-axle-height", "upper-frame-height", "upper-length"),
            *("wheelbase", "gravity-height", "lower-ahead", "upper-ahead"),
        ],
        ["anti_squat_percent", "force_line"],
    ),
    "engine-speed": (["road-speed", "ratio", "tyre-diameter"], ["engine_speed"]),
    "rake": (["front", "rear", "distance"], ["rake"]),
    "saddle": (["branch", "main", "angle", "offset"], ["depth", "table"]),
    "wrap": (["branch", "main", "angle", "offset"], ["circumference", "depth", "table"]),
    "mitre": (["diameter", "angle"], ["height", "saw_angle"]),
    "pin-plate": (
        [
            *("code", "thickness", "width", "hole", "pin", "edge", "yield", "tensile"),
            *("design-factor", "end-radius"),
        ],
        [
            *("allowable", "tension", "shear", "bearing", "yielding"),
            *("effective_width", "shear_area", "ways"),
        ],
    ),
    "bolt": (
        ["bolt", "grade", "plane", "planes"],
        ["proof_load", "ultimate_load", "clamp_load", "shear_load", "stress_area"],
    ),
    "fillet": (
        ["leg", "length", "thickness", "angle", "filler"],
        ["allowable", "design_strength", "nominal", "minimum_size", "maximum_size"],
    ),
    "column": (
        ["diameter", "wall", "length", "yield", "end-condition", "modulus"],
        ["critical_load", "slenderness", "yield_load"],
    ),
    "tube-bending": (
        ["diameter", "wall", "load", "overhang", "spacing", "modulus"],
        ["moment", "stress", "slope", "deflection"],
    ),
    "composite-section": (
        ["diameter", "wall", "plate", "spread", "height", "top"],
        ["area", "centroid", "second_moment", "modulus_top", "modulus_bottom", "gain"],
    ),
    "housing-beam": (
        [
            *("diameter", "wall", "load", "overhang", "spacing", "truss-length", "truss-second-moment"),
            "modulus",
        ],
        [
            *("moment", "stress_bare", "stress_at_end", "slope_bare", "slope_truss"),
            *("deflection_bare", "deflection_truss"),
        ],
    ),
    "socket-room": (["socket", "length", "head", "ratchet", "play"], ["radius", "height"]),
    "link-force": (
        ["axle-load", "friction", "tyre-radius", "separation", "factor"],
        ["upper_force", "lower_force"],
    ),
    "sine-stack": (["length", "angle", "set"], ["height", "stack", "blocks", "made"]),
    "toe": (
        ["toe", "diameter", "of"],
        ["wheel_angle", "total_angle", "wheel_reading", "total_reading"],
    ),
    "depth-gauge": (
        ["bore", "distance", "arbor", "feeler", "clearance"],
        ["disc", "gap", "block", "play"],
    ),
}
ALL = list(topics())


def turned(axis, degrees):
    """Rotation matrix about y [deg], as in DEVELOPERS.md: z goes to (sin t, 0, cos t)."""
    t = math.radians(degrees)
    return np.array([[math.cos(t), 0, math.sin(t)], [0, 1, 0], [-math.sin(t), 0, math.cos(t)]]) @ axis


def test_every_topic_stands_in_the_contract():
    assert set(topic_names()) == set(CONTRACT)


@pytest.mark.parametrize("name", CONTRACT)
def test_the_names_of_a_topic_stay(name):
    found = topic(name)
    assert ([o.name for o in found.options], list(found.results)) == CONTRACT[name]


def public_functions():
    """Every public function of every topic file."""
    modules = [import_module(f"fixturegen.calc.{n.replace('-', '_')}") for n in topic_names()]
    return [
        thing
        for module in modules
        for name, thing in vars(module).items()
        if inspect.isfunction(thing) and thing.__module__ == module.__name__ and not name.startswith("_")
    ]


def complaints(function):
    """What the docstring of a formula lacks."""
    text = inspect.getdoc(function) or ""
    parts = {
        "a first line": r"\A[A-Z].*\.$",
        "Args": r"^Args:$",
        "Returns": r"^Returns:$",
        "Formula": r"^Formula: \S",
        "Holds": r"^Holds: \S",
        "Source": r"^Source: \S",
        "Example": r"^Example: \S",
    }
    lacking = [part for part, pattern in parts.items() if not re.search(pattern, text, re.MULTILINE)]
    hints = get_type_hints(function, include_extras=True)
    for name in inspect.signature(function).parameters:
        line = re.search(rf"^    {name}: (.*(?:\n {{8}}.*)*)", text, re.MULTILINE)
        if not line:
            lacking.append(f"words for {name}")
            continue
        marker = next((a for a in get_args(hints[name]) if isinstance(a, Dimension)), None)
        if marker and marker.unit != "1" and f"[{marker.unit}]" not in line.group(1):
            lacking.append(f"the unit of {name}")
    cited = re.search(r"^Source: (.*(?:\n {4}.*)*)", text, re.MULTILINE)
    for part in cited.group(1).split("; ") if cited else ():
        if part.strip().split(",")[0] not in sources():
            lacking.append(f"a known source, not {part}")
    return lacking


@pytest.mark.parametrize("function", public_functions(), ids=lambda f: f.__name__)
def test_every_public_function_says_what_a_formula_must_say(function):
    assert complaints(function) == []


def test_a_docstring_without_its_parts_is_found_out():
    def bare(length: Annotated[float, topic("sine-height").options[0].dimension]) -> None:
        """Nothing much.

        Args:
            length: How long.

        Source: hearsay.
        """

    assert complaints(bare) == [
        "Returns",
        "Formula",
        "Holds",
        "Example",
        "the unit of length",
        "a known source, not hearsay.",
    ]


@pytest.mark.parametrize("found", ALL, ids=lambda t: t.name)
def test_every_parameter_and_result_says_what_it_takes_and_a_range(found):
    for option in found.options:
        assert option.help
        if option.dimension is not None:
            assert option.dimension.low
            assert option.dimension.high
    for name, dimension in found.results.items():
        if isinstance(dimension, Columns):
            assert all(column for column, _ in dimension.columns)
            continue
        assert isinstance(dimension, Dimension), name
        assert dimension.low
        assert dimension.high
    result = get_type_hints(found.function)["return"]
    assert issubclass(result, Answer)
    assert result.__dataclass_params__.frozen


@pytest.mark.parametrize("found", ALL, ids=lambda t: t.name)
def test_the_example_of_every_topic_can_be_typed_as_it_stands(found):
    typed = shlex.split(found.example)
    given = {k.removeprefix("--"): v for k, v in zip(typed[::2], typed[1::2], strict=True)}
    assert list(given) == [o.name for o in found.options]
    reply = ask(found.name, given)
    assert reply.answer.formula
    assert reply.answer.source
    assert reply.trust is not Trust.ASSUMED


def test_a_toy_topic_dropped_in_is_found(folder, toy):
    assert "toy-topic" not in topic_names()
    (folder / "toy_topic.py").write_text(toy, encoding="utf-8")
    assert "toy-topic" in topic_names()
    found = topic("toy-topic")
    # trailing underscore dropped, _ to -, case kept
    assert [o.name for o in found.options] == ["lambda", "Big-one"]
    assert list(found.results) == ["twice", "words", "rows"]
    reply = ask("toy-topic", {"lambda": "1 in"})
    assert reply.answer.twice == pytest.approx(50.8)
    assert reply.assumed == ("Big-one",)
    assert reply.trust is Trust.ASSUMED
    assert reply.warnings == ("--Big-one was not given: taken as 25.4 mm",)


def test_an_answer_outside_its_range_is_refused(folder, toy):
    (folder / "toy_topic.py").write_text(toy, encoding="utf-8")
    assert ask("toy-topic", {"lambda": "5 in"}).answer.twice == pytest.approx(254)
    with pytest.raises(InputFault, match="leaves the range"):
        ask("toy-topic", {"lambda": "5.001 in"})


@pytest.mark.parametrize(
    "change",
    [
        lambda toy: '"""Nothing."""\n',
        lambda toy: toy + "\n\ndef second() -> None:\n    pass\n",
        lambda toy: toy.replace("-> Toy:", "-> float:"),
        lambda toy: toy.replace("lambda_: Annotated[float, ", "lambda_: Annotated[int, "),
    ],
)
def test_a_file_that_holds_no_topic_is_a_fault_of_the_program(folder, toy, change):
    (folder / "toy_broken.py").write_text(change(toy), encoding="utf-8")
    with pytest.raises(ProgramFault):
        topic("toy-broken")


def test_all_that_is_wrong_comes_out_at_once():
    with pytest.raises(InputFault) as refused:
        ask("bench-caster", {"caster": "7", "pinion": "90 deg", "axel": "front"})
    keys = [f.key for f in refused.value.faults]
    assert keys == ["--axel", "--caster", "--pinion", "--axle"]
    assert refused.value.exit_code == 2
    by_key = {f.key: f for f in refused.value.faults}
    assert by_key["--axel"].remedy == "did you mean --axle"
    assert by_key["--pinion"].allowed == "-15 deg to 30 deg"
    assert by_key["--axle"].given == "nothing"


@pytest.mark.parametrize(
    ("name", "given", "words"),
    [
        ("sine-hight", {}, "did you mean sine-height"),
        ("qqq", {}, "fixturegen calc"),
        ("bench-caster", {"caster": "7 deg", "pinion": "1 deg", "axle": "Front"}, "did you mean"),
        ("hole", {"bolt": " ", "fit": "close"}, "an empty text"),
        ("tube", {"diameter": "1 in", "wall": "0.501 in"}, "half the diameter"),
        ("chord", {"diameter": "8 in", "count": "5.5"}, "whole number"),
        ("chord", {"diameter": "8 in", "count": "1"}, "2 to 360"),
        ("sine-height", {"length": "5 in", "angle": "91 deg"}, "0 deg to 90 deg"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_words(name, given, words):
    with pytest.raises(InputFault, match=re.escape(words)):
        ask(name, given)


def test_listing_topics_loads_no_heavy_library():
    code = (
        "import sys; from fixturegen.calc import topics; topics();"
        "print([m for m in ('pint', 'scipy', 'numpy', 'pydantic', 'cadquery') if m in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


def test_names_are_listed_without_loading_a_topic():
    code = (
        "import sys; from fixturegen.calc import topic_names; topic_names();"
        "print('fixturegen.calc.tube' in sys.modules)"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "False"


# Common practice, no source: a knuckle set 17 deg on the bench with the pinion later raised 10 deg
# gives 7 deg in the vehicle.
def test_seventeen_on_the_bench_and_ten_of_pinion_give_seven():
    assert bench_caster(7.0, 10.0, "front").bench_caster == 17.0
    assert bench_caster(7.0, 10.0, "rear").bench_caster != 17.0


@pytest.mark.parametrize("axle", ["front", "rear"])
@pytest.mark.parametrize(("caster", "pinion"), [(7.0, 10.0), (-3.0, 4.0), (5.5, -6.0), (0.0, 25.0)])
def test_bench_caster_agrees_with_plain_rotation_matrices(axle, caster, pinion):
    # ISO 8855 frame: x forward, z up; caster positive when the top leans to the rear
    bench = bench_caster(caster, pinion, axle).bench_caster
    axis = np.array([-math.tan(math.radians(bench)), -0.15, 1.0])
    nose = np.array([-1.0 if axle == "front" else 1.0, 0.0, 0.0])
    # the turn that raises the nose by the pinion angle, whichever way it points
    turn = pinion if axle == "front" else -pinion
    raised = turned(nose, turn)
    assert math.degrees(math.asin(raised[2])) == pytest.approx(pinion)
    assert math.copysign(1, raised[0]) == nose[0]
    k = turned(axis, turn)
    assert math.degrees(math.atan2(-k[0], k[2])) == pytest.approx(caster)


@pytest.mark.parametrize("camber", [-2.0, 0.0, 0.5, 3.0])
@pytest.mark.parametrize(("before", "after"), [(0.0, 8.0), (4.0, -3.0), (17.0, 13.5), (5.0, 5.0)])
def test_a_turned_knuckle_agrees_with_plain_rotation_matrices(camber, before, after):
    # left wheel; ISO 8855 signs; more caster turns the top to the rear, the other way round y
    i0, g = math.radians(8.5), math.radians(camber)
    axis = np.array([-math.tan(math.radians(before)), -math.tan(i0), 1.0])
    spindle = np.array([0.0, math.cos(g), -math.sin(g)])
    k, s = (turned(v, -(after - before)) for v in (axis, spindle))
    answer = turned_knuckle(before, after, 8.5, camber)
    assert math.degrees(math.atan2(-k[0], k[2])) == pytest.approx(after)
    assert answer.inclination == pytest.approx(math.degrees(math.atan2(-k[1], k[2])))
    assert answer.camber == pytest.approx(math.degrees(math.asin(-s[2])), abs=1e-12)
    assert answer.toe_gain == pytest.approx(math.degrees(math.atan2(s[0], s[1])), abs=1e-12)


def test_a_turned_knuckle_comes_back_when_turned_back():
    there = turned_knuckle(3.0, 11.0, 8.5, 0.0)
    assert turned_knuckle(11.0, 3.0, there.inclination, 0.0).inclination == pytest.approx(8.5)


def test_toe_gain_is_about_camber_times_sine_of_the_turn():
    # first order: g sin d per wheel, toe-in for positive camber and growing caster
    gain = turned_knuckle(0.0, 8.0, 8.5, 1.0).toe_gain
    assert gain == pytest.approx(math.sin(math.radians(8.0)), rel=1e-3)
    assert turned_knuckle(8.0, 0.0, 8.5, 1.0).toe_gain == pytest.approx(-gain)


def test_inclination_nine_at_zero_caster_is_9_087_at_eight():
    # derived: atan(tan 9 deg / cos 8 deg); adding angles as if plane would leave 9
    assert turned_knuckle(0.0, 8.0, 9.0, 0.0).inclination == pytest.approx(9.087, abs=5e-4)


@pytest.mark.parametrize("found", ALL, ids=lambda t: t.name)
def test_an_annotation_of_a_number_names_its_dimension(found):
    hints = get_type_hints(found.function, include_extras=True)
    for name, hint in hints.items():
        if get_origin(hint) is Annotated:
            assert isinstance(get_args(hint)[1], Dimension), name
