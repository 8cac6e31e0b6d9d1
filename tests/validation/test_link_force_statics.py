"""Crude link forces: equilibrium, and figures of common practice (no source)."""

import numpy as np
import pytest

from fixturegen.calc.link_force import link_force

INCH, LBF = 25.4, 4.4482216152605


# common practice, no source: 4 000 lb, friction 1, 20 in of tyre radius
@pytest.mark.parametrize(("apart", "upper", "lower"), [(6, 13_300, 17_300), (8, 10_000, 14_000), (10, 8_000, 12_000)])
def test_the_usual_figures_come_out(apart, upper, lower):
    found = link_force(4000 * LBF, 1.0, 20 * INCH, apart * INCH)
    assert found.upper_force / LBF == pytest.approx(upper, abs=40)
    assert found.lower_force / LBF == pytest.approx(lower, abs=40)


def test_forces_and_moments_of_the_axle_come_to_nothing():
    load, friction, radius, apart, factor = 12_000.0, 0.8, 500.0, 180.0, 2.5
    found = link_force(load, friction, radius, apart, factor)
    # side view: pull forward at the ground, lowers push back at axle height, uppers pull forward above
    points = np.array([[0, 0], [0, radius], [0, radius + apart]])
    forces = np.array([[factor * friction * load, 0], [-found.lower_force, 0], [found.upper_force, 0]])
    assert forces.sum() == pytest.approx(0, abs=1e-9 * load)
    assert float(np.sum(points[:, 1] * forces[:, 0])) == pytest.approx(0, abs=1e-6 * load)
    forces[2, 0] *= 1.01
    assert abs(float(np.sum(points[:, 1] * forces[:, 0]))) > load
