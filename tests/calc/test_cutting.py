"""Kerf and smallest holes: shop practice (no source), read from the table of processes."""

import pytest

from fixturegen.calc import ask
from fixturegen.errors import InputFault
from fixturegen.findings import Trust

INCH = 25.4


def asked(topic, thickness, process="plasma-air-45a"):
    """A reply for a process and a thickness."""
    return ask(topic, {"process": process, "thickness": thickness})


@pytest.mark.parametrize("thickness", ["1/8 in", "1/4 in", "3/8 in"])
def test_kerf_lies_in_the_spread_of_the_shop_and_the_torch_runs_half_of_it_off(thickness):
    # common practice, no source: 40-50 A 0.060 to 0.085 in
    answer = asked("kerf", thickness).answer
    assert 0.060 <= answer.kerf / INCH <= 0.085
    assert answer.offset == pytest.approx(answer.kerf / 2)


def test_a_thickness_without_a_kerf_on_file_is_said():
    assert any("no kerf on file" in w for w in asked("kerf", "1 in").warnings)
    assert not any("no kerf on file" in w for w in asked("kerf", "1/4 in").warnings)


def test_a_hole_is_one_and_a_half_thicknesses_at_least():
    # common practice, no source
    reply = asked("min-hole", "1/4 in")
    assert reply.answer.hole / INCH == pytest.approx(0.375)
    assert reply.answer.web / INCH == pytest.approx(0.375)
    assert reply.trust is Trust.PRACTICE


def test_a_slot_is_never_narrower_than_the_cut():
    # 2 mm by the table, but the kerf at 65 A in 1/2 in plate is 0.105 in = 2.667 mm
    assert asked("min-hole", "1/2 in", "plasma-air-65a").answer.slot == pytest.approx(2.667)
    assert asked("min-hole", "1/8 in").answer.slot == pytest.approx(2.0)


@pytest.mark.parametrize("topic", ["kerf", "min-hole"])
def test_a_process_that_is_not_known_is_refused_with_the_nearest(topic):
    with pytest.raises(InputFault, match="did you mean plasma-air-45a"):
        asked(topic, "1/4 in", "plasma-air-45")
