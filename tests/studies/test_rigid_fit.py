"""Best rigid fit against scipy's, against known motions, and its error bound against errors drawn at random."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from fixturegen.studies.rigid_fit import best_fit, error_at

SEEDS = range(8)


def scattered(seed, count=5):
    rng = np.random.default_rng(seed)
    points = rng.uniform(-200.0, 200.0, (count, 3))
    turn = Rotation.from_rotvec(rng.normal(0.0, 1.5, 3))
    return rng, points, turn, rng.uniform(-2000.0, 2000.0, 3)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_known_motion_is_found_again_and_leaves_nothing(seed):
    _, points, turn, shift = scattered(seed)
    fit = best_fit(points, turn.apply(points) + shift)
    assert fit.rotation == pytest.approx(turn.as_matrix(), abs=1e-12)
    assert fit.origin == pytest.approx(shift, abs=1e-9)
    assert fit.rms < 1e-9
    assert fit.spread == pytest.approx(1.0)


@pytest.mark.parametrize("count", [3, 4, 12])
@pytest.mark.parametrize("seed", SEEDS)
def test_noisy_points_give_the_rotation_scipy_gives(seed, count):
    """scipy.spatial.transform.Rotation.align_vectors, another implementation of the same least squares."""
    rng, points, turn, shift = scattered(seed, count)
    places = turn.apply(points) + shift + rng.normal(0.0, 3.0, points.shape)
    fit = best_fit(points, places)
    other, distance = Rotation.align_vectors(places - places.mean(axis=0), points - points.mean(axis=0))
    assert fit.rotation == pytest.approx(other.as_matrix(), abs=1e-9)
    assert fit.rms == pytest.approx(distance / np.sqrt(count), rel=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_points_in_a_plane_and_mirrored_ones_never_give_a_mirror(seed):
    _, points, turn, shift = scattered(seed, 6)
    flat = points * [1.0, 1.0, 0.0]
    assert best_fit(flat, turn.apply(flat) + shift).rotation == pytest.approx(turn.as_matrix(), abs=1e-9)
    mirrored = best_fit(points, points * [-1.0, 1.0, 1.0])
    assert np.linalg.det(mirrored.rotation) == pytest.approx(1.0)
    assert mirrored.rms > 10.0


def test_a_scale_is_told_and_never_fitted():
    _, points, turn, shift = scattered(3)
    fit = best_fit(points, 25.4 * turn.apply(points) + shift)
    assert np.linalg.det(fit.rotation) == pytest.approx(1.0)
    assert fit.spread == pytest.approx(25.4)
    # p and 25.4 p about one middle: each is left 24.4 times its distance from it
    middle = points.mean(axis=0)
    assert fit.residuals == pytest.approx(24.4 * np.linalg.norm(points - middle, axis=1))


@pytest.mark.parametrize("seed", SEEDS)
def test_errors_of_the_points_put_no_place_farther_out_than_the_bound_says(seed):
    """Errors of full size in random directions: none beyond the bound (first order, 1 % over), some near it."""
    rng, points, turn, shift = scattered(seed, 4)
    far = rng.uniform(-500.0, 500.0, (20, 3))
    error, worst = 1.0, np.zeros(20)
    for _ in range(400):
        wrong = rng.normal(size=points.shape)
        wrong *= error / np.linalg.norm(wrong, axis=1, keepdims=True)
        fit = best_fit(points, turn.apply(points) + shift + wrong)
        out = far @ fit.rotation.T + fit.origin - turn.apply(far) - shift
        worst = np.maximum(worst, np.linalg.norm(out, axis=1))
    bound = error_at(points, error, far)
    assert (worst <= 1.01 * bound).all()
    assert (bound <= 3.0 * worst).all()


def test_at_the_middle_the_bound_is_the_error_itself():
    """All points out the same way shift the part by just that: closed form."""
    _, points, *_ = scattered(1)
    assert error_at(points, 2.5, points.mean(axis=0)[None, :]) == pytest.approx([2.5])
