"""What the shared formulas take and give, and what none of the strength formulas covers."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Numbers: TypeAlias = float | npt.NDArray[np.float64]
    """A number, or an array of numbers of any shape that numpy can bring together."""

NOT_COVERED = (
    "static strength only; not covered: fatigue, the heat-affected zone beside a weld, impact. "
    "For a part people drive on or stand under, ask someone licensed to judge it"
)
"""Stands beside every strength that is worked out here."""
