"""ASME B36.10M pipe sizes, as the package `fluids` holds them in metres; secondary copy."""

import pytest
from fluids.piping import nearest_pipe

from fixturegen.stock import Tube, table

PIPES = [e for e in table("tubes").entries.values() if isinstance(e, Tube) and e.form == "pipe"]
ROUNDING = 0.03
"""mm; the metric column is rounded to 0.1 mm outside (2.375 in is called 60.3 mm) and 0.01 mm wall."""


def theirs(entry):
    """Outside diameter and wall [mm] of the same pipe in the package."""
    _, size, schedule = entry.id.split("-")
    _, _, outside, wall = nearest_pipe(NPS=float(size), schedule=schedule.upper())
    return outside * 1000, wall * 1000


@pytest.mark.parametrize("entry", PIPES, ids=lambda e: e.id)
def test_pipe_sizes_agree_with_the_standard(entry):
    assert (entry.diameter, entry.wall) == pytest.approx(theirs(entry), abs=ROUNDING)


def test_a_pipe_of_another_schedule_would_be_seen():
    forty = next(e for e in PIPES if e.id == "pipe-3-40")
    eighty = next(e for e in PIPES if e.id == "pipe-3-80")
    assert (forty.diameter, forty.wall) != pytest.approx(theirs(eighty), abs=ROUNDING)


def test_pipe_is_not_called_by_its_outside():
    # 3 in pipe is 3.500 in across
    assert next(e for e in PIPES if e.id == "pipe-3-40").diameter == pytest.approx(3.5 * 25.4)
