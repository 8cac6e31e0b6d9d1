"""What the strength topics refuse, and what stands beside every one of their answers."""

import pytest

from fixturegen.calc import ask
from fixturegen.calc._numbers import NOT_COVERED
from fixturegen.errors import InputFault

PLATE = {
    "code": "aisc",
    "thickness": "1/2 in",
    "width": "4 1/4 in",
    "hole": "1.03 in",
    "pin": "1 in",
    "edge": "2 1/4 in",
    "yield": "36 ksi",
    "tensile": "58 ksi",
}
TUBE = {"diameter": "2 in", "wall": "1/4 in", "length": "36 in", "yield": "60 ksi", "end-condition": "pinned"}
BEAM = {"diameter": "3.5 in", "wall": "1/4 in", "load": "3000 lbf", "overhang": "12 in", "spacing": "36 in"}
WELD = {"leg": "1/4 in", "length": "4 in", "thickness": "1/4 in"}
LINK = {"axle-load": "4000 lbf", "friction": "1", "tyre-radius": "20 in", "separation": "8 in"}
BOLT = {"bolt": "1/2-13", "grade": "SAE 2"}


@pytest.mark.parametrize(
    ("name", "given"),
    [
        ("pin-plate", PLATE),
        ("column", TUBE),
        ("tube-bending", BEAM),
        ("fillet", WELD),
        ("link-force", LINK),
        ("bolt", BOLT),
    ],
)
def test_every_strength_says_what_it_does_not_cover(name, given):
    reply = ask(name, given)
    assert NOT_COVERED in reply.warnings
    assert all(word in NOT_COVERED for word in ("fatigue", "heat-affected zone", "impact"))
    assert reply.answer.formula
    assert reply.answer.source


def test_options_of_the_other_code_take_no_part():
    reply = ask("pin-plate", PLATE)
    assert reply.assumed == ()
    assert ask("pin-plate", {**PLATE, "code": "bth"}).assumed == ("design-factor", "end-radius")


@pytest.mark.parametrize(
    ("name", "given", "key", "words"),
    [
        ("pin-plate", {**PLATE, "hole": "4 1/4 in"}, "--hole", "no plate is left"),
        ("pin-plate", {**PLATE, "pin": "1.04 in"}, "--pin", "which of the two is the hole"),
        ("pin-plate", {**PLATE, "yield": "60 ksi"}, "--yield", "which of the two"),
        ("pin-plate", {**PLATE, "code": "bth", "end-radius": "0.4 in"}, "--end-radius", "middle of the round"),
        ("pin-plate", {**PLATE, "code": "asme"}, "--code", "choose one"),
        ("column", {**TUBE, "wall": "1.1 in"}, "--wall", "half the diameter"),
        ("column", {**TUBE, "end-condition": "hinged"}, "--end-condition", "choose one|did you mean"),
        ("tube-bending", {**BEAM, "wall": "2 in"}, "--wall", "half the diameter"),
        ("tube-bending", {**BEAM, "load": "3000 in"}, "--load", "force"),
        ("fillet", {**WELD, "thickness": "1 in"}, "--leg", "5/16 in or more"),
        ("link-force", {**LINK, "separation": "0 in"}, "--separation", "1 in to 30 in"),
    ],
)
def test_each_bad_size_is_refused_in_one_sentence(name, given, key, words):
    with pytest.raises(InputFault, match=words) as refused:
        ask(name, given)
    assert [f.key for f in refused.value.faults] == [key]
    assert "\n" not in refused.value.faults[0].sentence()


def test_a_very_slender_column_is_warned_of():
    assert not [w for w in ask("column", TUBE).warnings if "advises against" in w]
    # E2: slenderness 200
    slender = {**TUBE, "diameter": "1 in", "wall": "0.1 in", "length": "70 in"}
    assert [w for w in ask("column", slender).warnings if "advises against" in w]
