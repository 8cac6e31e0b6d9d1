"""The axle at poses asked for: `poses_at`, what cannot be reached, and where the way ends."""

from __future__ import annotations

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import HELD, Linkage
from fixturegen.axle.linkage_equations import UNKNOWNS, System, cosines, system_of, values
from fixturegen.axle.poses import (
    CHUNK,
    EDGE,
    FINER,
    JUMP,
    MANY,
    NODES,
    TRACED,
    Binding,
    Bools,
    Closed,
    Poses,
    approach,
    close,
    start_sign,
    step_of,
)
from fixturegen.errors import Fault, InputFault
from fixturegen.units import as_text

FITS = 1e-7
"""mm; more lengths than needed that fit this well bind nowhere: a thousandth of what a micrometer reads."""
CARRIES = 0.3
"""A link with this part of the largest force is among those that lock one another."""
NEAR = 1.0
"""mm; the polynomial is this near, or its poses are approached one by one."""


def poses_at(linkage: Linkage, heave: Array | float, roll: Array | float = 0.0, traced: bool = True) -> Poses:
    """The axle at each heave and roll.

    Args:
        linkage: What holds it; see `linkage_faults.refuse` for what is no linkage.
        heave: Travel of the axle centre, up positive, shape (m,) [mm].
        roll: Left wheel up positive, shape (m,) [deg].
        traced: Whether the binding on the way to poses out of reach is looked for.

    Raises:
        InputFault: When more than four lengths hold the axle, they do not fit, and no bush rate was given.
    """
    wide = np.broadcast_arrays(np.atleast_1d(np.asarray(heave, float)), np.atleast_1d(np.asarray(roll, float)))
    z, r = (np.ascontiguousarray(a).ravel() for a in wide)
    s = system_of(linkage)
    sign = start_sign(s, linkage)
    start = _polynomial(linkage, s, z, np.radians(r), sign) if z.size >= MANY else None
    parts = [
        _chunk(linkage, s, z[i : i + CHUNK], np.radians(r[i : i + CHUNK]), sign, start) for i in range(0, z.size, CHUNK)
    ]
    unknowns = np.concatenate([p.unknowns for p in parts], axis=1)
    off = np.concatenate([p.off for p in parts], axis=1).T
    det = np.concatenate([p.det for p in parts])
    good = np.concatenate([p.good for p in parts])
    unknowns[:, ~good] = np.nan
    off[~good] = np.nan
    at_ride = step_of(linkage)(values(s, np.zeros((UNKNOWNS, 1)), np.zeros(1), cosines(np.zeros(1))))[1][0]
    margin = np.where(good, det / at_ride, np.nan)
    bindings = () if good.all() or not traced else _bindings(linkage, s, z[~good], np.radians(r[~good]), sign)
    poses = Poses(linkage, z, r, unknowns, good, off, margin, bindings)
    _refuse_what_does_not_fit(poses)
    return poses


def refuse_out_of_reach(poses: Poses) -> None:
    """Nothing, when every pose is in reach.

    Raises:
        InputFault: With the pose where the linkage binds, the links that do it, and the remedy.
    """
    if poses.bindings:
        first = min(poses.bindings, key=lambda b: abs(b.asked_heave) + abs(b.asked_roll))
        raise InputFault(
            Fault(
                "links.bump" if first.asked_heave > 0.0 else "links.droop",
                _said(first.asked_heave, first.asked_roll),
                f"the linkage binds at {_said(first.heave, first.roll)}: {' and '.join(first.links)} lock there",
                "take less travel, or longer or flatter links",
            )
        )


def _said(heave: float, roll: float) -> str:
    return f"heave {as_text(heave, 'length', 'in', 2)} with roll {as_text(roll, 'angle', 'deg', 2)}"


def _chunk(linkage: Linkage, s: System, z: Array, r: Array, sign: float, start: tuple[Array, Array] | None) -> Closed:
    """One lot of poses, from the polynomial where there is one; those it missed from ride height."""
    if start is None:
        found, _ = approach(linkage, s, z, r, sign)
    else:
        found = close(linkage, s, _from_polynomial(start, z, r), z, r, sign, NEAR)
    missed = ~found.good
    if missed.any():
        again, _ = approach(linkage, s, z[missed], r[missed], sign, FINER)
        for old, new in ((found.unknowns, again.unknowns), (found.off, again.off)):
            old[:, missed] = new
        found.det[missed], found.good[missed] = again.det, again.good
    return found


def _basis(x: Array, count: int) -> Array:
    """Chebyshev polynomials of x in -1..1, shape (m, count)."""
    rows = np.ones((count, x.size))
    if count > 1:
        rows[1] = x
    for k in range(2, count):
        rows[k] = 2.0 * x * rows[k - 1] - rows[k - 2]
    return rows


def _polynomial(linkage: Linkage, s: System, z: Array, r: Array, sign: float) -> tuple[Array, Array] | None:
    """Coefficients (h, 4, k) in heave and roll and the box [[low, high], [low, high]]; None when part is out of reach.

    Source: geometry, interpolation at Chebyshev's nodes.
    """
    box = np.array([[z.min(), z.max()], [r.min(), r.max()]])
    counts = [NODES if high > low else 1 for low, high in box]
    nodes = [np.cos(np.pi * (np.arange(c) + 0.5) / c) for c in counts]
    places = [low + (high - low) * (1.0 + n) / 2.0 for (low, high), n in zip(box, nodes, strict=True)]
    grid = np.meshgrid(*places, indexing="ij")
    state, _ = approach(linkage, s, grid[0].ravel(), grid[1].ravel(), sign)
    if not state.good.all():
        return None
    at = state.unknowns.reshape(UNKNOWNS, *counts)
    shares = []
    for count, node in zip(counts, nodes, strict=True):
        weight = _basis(node, count) * (2.0 / count)
        weight[0] /= 2.0
        shares.append(weight)
    return np.einsum("hi,kj,qij->hqk", shares[0], shares[1], at), box


def _from_polynomial(start: tuple[Array, Array], z: Array, r: Array) -> Array:
    """Unknowns (4, m) off the polynomial."""
    coefficients, box = start
    scaled = []
    for value, (low, high) in zip((z, r), box, strict=True):
        scaled.append((2.0 * value - low - high) / (high - low) if high > low else np.zeros_like(value))
    count_h, _, count_k = coefficients.shape
    along_roll = np.einsum("ak,km->am", coefficients.reshape(-1, count_k), _basis(scaled[1], count_k))  # no threads
    along = along_roll.reshape(count_h, UNKNOWNS, z.size)
    return np.asarray((along * _basis(scaled[0], count_h)[:, None, :]).sum(axis=0), dtype=np.float64)


def _bindings(linkage: Linkage, s: System, z: Array, r: Array, sign: float) -> tuple[Binding, ...]:
    """Where the way ends, for the poses nearest to ride height: the step is halved until it is nothing."""
    order = np.argsort(np.abs(z) / max(float(np.abs(z).max()), 1.0) + np.abs(r), kind="stable")[:TRACED]
    z, r = z[order], r[order]
    _, part = approach(linkage, s, z, r, sign, FINER)
    q = np.zeros((UNKNOWNS, z.size))
    # the way again up to there, then in ever smaller steps from the last pose that closed
    reached, _ = approach(linkage, s, z * part, r * part, sign, FINER)
    q[:, reached.good] = reached.unknowns[:, reached.good]
    part = np.where(reached.good, part, 0.0)
    stride = np.full(z.size, 0.05)
    while (stride > EDGE).any():
        tried = np.minimum(part + stride, 1.0)
        state = close(linkage, s, q, z * tried, r * tried, sign, JUMP)
        on: Bools = state.good & (stride > EDGE)
        q[:, on] = state.unknowns[:, on]
        part[on] = tried[on]
        stride = np.where(on, stride, stride / 2.0)
        stride[part >= 1.0] = 0.0
    at = values(s, q, z * part, cosines(r * part))
    out = []
    for i in range(z.size):
        matrix = np.stack([c[:, i] for c in at.matrix], axis=1)  # (n, 4)
        force = np.abs(np.linalg.svd(matrix.T)[2][UNKNOWNS - 1]) if len(linkage.links) == HELD else np.ones(len(matrix))
        names = tuple(n for n, f in zip(linkage.names, force, strict=True) if f >= CARRIES * force.max())
        h, t = float(z[i] * part[i]), float(np.degrees(r[i] * part[i]))
        out.append(Binding(h, t, float(z[i]), float(np.degrees(r[i])), names))
    return tuple(out)


def _refuse_what_does_not_fit(poses: Poses) -> None:
    """More than four lengths without bush rates are right only where they fit."""
    linkage = poses.linkage
    if len(linkage.links) <= HELD or linkage.rates() is not None:
        return
    worst = np.nanmax(np.abs(poses.off), axis=1, initial=0.0)
    if not (worst > FITS).any():
        return
    bad = int(np.nanargmax(worst))
    still = bool((np.abs(poses.roll[worst > FITS]) > 0.0).all())
    how = "binds in roll" if still else "binds in heave"
    raise InputFault(
        Fault(
            "links.kind",
            f"{linkage.kind} with {len(linkage.links)} lengths, {how}: "
            f"{as_text(float(worst[bad]), 'length', 'in', 3)} must give at {poses.ids[bad]}",
            "joints whose bush rates are given",
            "measure or ask the maker for the rates of the bushes (rate of each joint), or take fewer links",
        )
    )
