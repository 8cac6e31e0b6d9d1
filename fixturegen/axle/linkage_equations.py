"""The equations of a linkage for many poses at once: how far each length is off, and its change with the unknowns.

The unknowns of a pose are x, y of the axle centre, yaw about Z and pitch about the axle line; heave z and
roll r are asked for. With the axle standing at ride height turned by R0,

    R = Rz(yaw) Rx(roll) Ry(pitch) R0,

so that sin(roll) is the climb of the axle line toward the left and wheel centres stand at z +/- b sin(roll).
Angles are carried as an arc of radius `ARC`, which makes all unknowns lengths. Poses run along the last axis:
one numpy call works on thousands of poses and the arrays stay in the processor's cache.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import HELD, Linkage

ARC = 1000.0
"""mm; about the length of a link: balances the columns of the matrix, changes no result."""

UNKNOWNS = 4


@dataclass(frozen=True, eq=False)
class System:
    """A linkage as arrays, origin at the axle centre of ride height, axes of V.

    Attributes:
        axle: Ends on the axle at ride height, shape (n, 3) [mm].
        frame: Ends on the frame, shape (n, 3) [mm].
        length: Lengths at ride height, shape (n,) [mm]; 1 for guides.
        guide: Rows that are guides, shape (g,).
        direction: Their unit directions, shape (g, 3).
        shared: Whether there are more lengths than needed, so that some are not held: their true change is
            wanted, not one that is true to first order.
    """

    axle: Array
    frame: Array
    length: Array
    guide: tuple[int, ...]
    direction: Array
    shared: bool


def system_of(linkage: Linkage) -> System:
    """The arrays of a linkage."""
    stance = linkage.stance
    axle = linkage.axle_points() @ stance.rotation.T
    guides = tuple(i for i, k in enumerate(linkage.links) if k.part == "guide")
    ways = np.array([linkage.links[i].direction for i in guides], dtype=np.float64).reshape(len(guides), 3)
    if guides:
        ways = ways / np.linalg.norm(ways, axis=1, keepdims=True)
    frame = linkage.frame_points() - stance.origin
    length = np.linalg.norm(axle - frame, axis=1)
    length[list(guides)] = 1.0  # not held; kept off zero, by which is divided
    return System(axle, frame, length, guides, ways, len(linkage.links) > HELD)


@dataclass(frozen=True, eq=False)
class Values:
    """The equations at some poses.

    Attributes:
        off: Length less the length held, shape (n, m) [mm]; (l^2 - L^2) / 2L, which is l - L to first order
            and has no root to take, unless lengths are shared.
        matrix: Change of `off` with the unknowns, four arrays of shape (n, m); x and y along axes that are
            turned by the yaw of the pose, which saves a third of the work: see `unturned`.
        climb: Change of `off` with heave, shape (n, m).
        lever: Change of `off` with the arc of roll, shape (n, m); None unless asked for.
        yaw: Cosine and sine of yaw, each of shape (m,).
    """

    off: Array
    matrix: tuple[Array, Array, Array, Array]
    climb: Array
    lever: Array | None
    yaw: tuple[Array, Array]


def values(s: System, q: Array, heave: Array, roll: tuple[Array, Array], with_roll: bool = False) -> Values:
    """The equations of a linkage at the poses.

    Args:
        s: The linkage.
        q: x, y, yaw arc, pitch arc, shape (4, m) [mm].
        heave: Shape (m,) [mm].
        roll: Its cosine and sine, each of shape (m,).
        with_roll: Whether `lever` is wanted.

    Source: geometry, distance of two points and its derivative under small turns.
    """
    yaw, pitch = q[2] / ARC, q[3] / ARC
    cy, sy, cp, sp = np.cos(yaw), np.sin(yaw), np.cos(pitch), np.sin(pitch)
    cr, sr = roll
    bx, by, bz = s.axle[:, 0:1], s.axle[:, 1:2], s.axle[:, 2:3]
    # the axle's ends turned by pitch and roll; the frame is turned back by yaw instead of the axle forth
    x = bx * cp + bz * sp
    low = bz * cp - bx * sp
    y, z = by * cr - low * sr, by * sr + low * cr
    fx, fy = q[0] - s.frame[:, 0:1], q[1] - s.frame[:, 1:2]
    dx = x + (fx * cy + fy * sy)
    dy = y + (fy * cy - fx * sy)
    dz = z + (heave - s.frame[:, 2:3])
    off, ux, uy, uz = _rods(s, dx, dy, dz)
    for row, way in zip(s.guide, s.direction, strict=True):
        ux[row], uy[row], uz[row] = way[0] * cy + way[1] * sy, way[1] * cy - way[0] * sy, way[2]
        start = way @ (s.axle[row] - s.frame[row])
        off[row] = ux[row] * dx[row] + uy[row] * dy[row] + uz[row] * dz[row] - start
    yaw_column = (uy * x - ux * y) / ARC
    pitch_column = (ux * low + x * (uy * sr - uz * cr)) / ARC
    lever = (uz * y - uy * z) / ARC if with_roll else None
    return Values(off, (ux, uy, yaw_column, pitch_column), uz, lever, (cy, sy))


def _rods(s: System, dx: Array, dy: Array, dz: Array) -> tuple[Array, Array, Array, Array]:
    """Lengths less those held, and the links' directions, for lines (n, m) between their ends [mm]."""
    length = s.length[:, None]
    square = dx * dx + dy * dy + dz * dz
    if s.shared:
        now = np.sqrt(square)
        return now - length, dx / now, dy / now, dz / now
    share = 1.0 / length
    off = square * (0.5 * share) - 0.5 * length
    return off, dx * share, dy * share, dz * share


def cosines(roll: Array) -> tuple[Array, Array]:
    """Cosine and sine of roll [rad], for `values`."""
    return np.cos(roll), np.sin(roll)


def unturned(step: Array, at: Values) -> Array:
    """A step of the unknowns (4, m) with x and y along the axes of V again."""
    cy, sy = at.yaw
    step[0], step[1] = cy * step[0] - sy * step[1], sy * step[0] + cy * step[1]
    return step


def determinant(matrix: tuple[Array, Array, Array, Array]) -> Array:
    """Determinant (m,) of four equations, four columns of shape (4, m).

    Source: geometry, Laplace expansion by two-rowed minors.
    """
    a, b, c, d = matrix
    det = (a[0] * b[1] - a[1] * b[0]) * (c[2] * d[3] - c[3] * d[2])
    det -= (a[0] * c[1] - a[1] * c[0]) * (b[2] * d[3] - b[3] * d[2])
    det += (a[0] * d[1] - a[1] * d[0]) * (b[2] * c[3] - b[3] * c[2])
    det += (b[0] * c[1] - b[1] * c[0]) * (a[2] * d[3] - a[3] * d[2])
    det -= (b[0] * d[1] - b[1] * d[0]) * (a[2] * c[3] - a[3] * c[2])
    det += (c[0] * d[1] - c[1] * d[0]) * (a[2] * b[3] - a[3] * b[2])
    return np.asarray(det, dtype=np.float64)


def solve_four(matrix: tuple[Array, Array, Array, Array], right: Array) -> tuple[Array, Array]:
    """Solution (4, m) and determinant (m,) of four equations in four unknowns, at each pose.

    Args:
        matrix: Four columns of shape (4, m).
        right: Right-hand sides, shape (4, m).

    Source: geometry, Laplace expansion by two-rowed minors; no pivoting, Newton's method mends rounding.
    """
    a, b, c, d = matrix
    s0, s1, s2 = a[0] * b[1] - a[1] * b[0], a[0] * c[1] - a[1] * c[0], a[0] * d[1] - a[1] * d[0]
    s3, s4, s5 = b[0] * c[1] - b[1] * c[0], b[0] * d[1] - b[1] * d[0], c[0] * d[1] - c[1] * d[0]
    c0, c1, c2 = a[2] * b[3] - a[3] * b[2], a[2] * c[3] - a[3] * c[2], a[2] * d[3] - a[3] * d[2]
    c3, c4, c5 = b[2] * c[3] - b[3] * c[2], b[2] * d[3] - b[3] * d[2], c[2] * d[3] - c[3] * d[2]
    det = s0 * c5 - s1 * c4 + s2 * c3 + s3 * c2 - s4 * c1 + s5 * c0
    # right-hand side joined to the rows in two pairs, then Cramer's rule
    r0, r1, r2, r3 = right
    ra0, rb0 = r0 * a[1] - r1 * a[0], r0 * b[1] - r1 * b[0]
    rc0, rd0 = r0 * c[1] - r1 * c[0], r0 * d[1] - r1 * d[0]
    ra2, rb2 = r2 * a[3] - r3 * a[2], r2 * b[3] - r3 * b[2]
    rc2, rd2 = r2 * c[3] - r3 * c[2], r2 * d[3] - r3 * d[2]
    out = np.empty_like(right)
    out[0] = rb0 * c5 - rc0 * c4 + rd0 * c3 + s3 * rd2 - s4 * rc2 + s5 * rb2
    out[1] = -ra0 * c5 + s1 * -rd2 + s2 * rc2 + rc0 * c2 - rd0 * c1 - s5 * ra2
    out[2] = s0 * rd2 + ra0 * c4 - s2 * rb2 - rb0 * c2 + s4 * ra2 + rd0 * c0
    out[3] = s0 * -rc2 + s1 * rb2 - ra0 * c3 - s3 * ra2 + rb0 * c1 - rc0 * c0
    return out / det, det
