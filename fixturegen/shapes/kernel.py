"""How the kernel's shapes are named here, and how its faults become ours.

The kernel publishes no types, so its shapes are `Any` to the type checker. The aliases say which
kind is meant: `Shape` any of them, `Solid` one solid, `Face` one planar face, `Wire` a closed loop.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any

from fixturegen.errors import GeometryFault

Shape = Any
Solid = Any
Face = Any
Wire = Any

POINT_TOLERANCE = 1e-7  # [mm] the kernel's own: two points nearer than this are one
AREA_TOLERANCE = 1e-6  # [mm] times perimeter: what a face may differ from its profile


@contextmanager
def kernel_faults(part: str, doing: str) -> Iterator[None]:
    """A context in which a kernel failure becomes a `GeometryFault` that names the part.

    Args:
        part: Name of the part.
        doing: What was being made, in words ("the outline").
    """
    try:
        yield
    except GeometryFault:
        raise
    except Exception as fault:
        if not _is_the_kernels(fault):
            raise
        said = " ".join(str(fault).split()) or type(fault).__name__
        raise GeometryFault(part, f"{doing} cannot be made ({said})", "check the dimensions that lead to it") from fault


def _is_the_kernels(fault: Exception) -> bool:
    # the binding gives each kernel exception its own class with no common base but Exception
    return type(fault).__module__.startswith("OCP") or isinstance(fault, ValueError | RuntimeError | ZeroDivisionError)


def demand_finite(part: str, numbers: Iterable[float]) -> None:
    """Nothing; raises a `GeometryFault` when a number is not finite (the kernel would hang on it).

    Args:
        part: Name of the part.
        numbers: Coordinates and sizes [mm].
    """
    if not all(math.isfinite(n) for n in numbers):
        raise GeometryFault(part, "a dimension is not a finite number", "check the values it is worked out from")
