"""Numbers of the housing under its loads for the papers: stress, camber, toe, welds, with and without its truss."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from fixturegen.findings import Number, Trust, weakest
from fixturegen.studies.housing_study import HousingStudy
from fixturegen.studies.housing_welds import SeamFlow
from fixturegen.studies.strength_records import Strength

SHOWN = ("static", "bump")
"""Cases whose wheels are told of; the report has all of them."""
BEAM = "beam of tube and truss, centre section rigid, sections plane"


def housing_numbers(
    study: HousingStudy,
    welds: Iterable[tuple[SeamFlow, Strength]],
    steps: Iterable[tuple[float, float, float]],
    trust: Trust,
) -> dict[str, Number]:
    """`housing.stress`, `housing.stress-bare` [MPa], `housing.<case>.camber-left` [deg] and so on.

    Args:
        study: The housing.
        welds: Each seam of its truss where it is used most.
        steps: (station, ratio, height) at the ends of the welds of its truss, right first.
        trust: Of the loads.
    """
    found = _stresses(study, trust) | _wheels(study, trust)
    used = max((s.used * s.factor.value for _, s in welds), default=None)
    if used is not None:
        why = "used of what the welds of the truss are allowed, worst seam and case"
        found["housing.weld-used"] = Number(used, "1", why, weakest(trust, Trust.MEMORY))
    for station, ratio, _ in steps:
        side = "left" if station >= sum(study.beam.roots) / 2.0 else "right"
        why = "second moment just inside the end of the truss's weld over that of the tube"
        found[f"housing.step-{side}"] = Number(ratio, "1", why, Trust.DERIVED)
    return found


def _stresses(study: HousingStudy, trust: Trust) -> dict[str, Number]:
    """Largest stresses, and how much stiffer the truss makes the housing."""
    found: dict[str, Number] = {}
    for name, with_truss in (("housing.stress", True), ("housing.stress-bare", False)):
        one, at = study.worst(with_truss=with_truss)
        value = float((one.best if with_truss else one.bare).equivalent[at])
        where = f"{one.name}, station {study.beam.stations[at]:.0f} mm"
        found[name] = Number(value, "MPa", f"largest stress of the tubes, {where}; {BEAM}", trust)
    if study.beam.trussed:
        one, at = study.worst("plates")
        why = f"largest stress of the plates of the truss, {one.name}; {BEAM}"
        found["housing.plate-stress"] = Number(float(one.best.plates[at]), "MPa", why, trust)
        bare = study.beam.bare.upright
        for k, side in enumerate(("right", "left")):
            mine = [s for n in study.beam.lengths for s in n.sections if (n.begin >= study.beam.roots[1] - 1e-6) == k]
            why = "largest second moment with the truss over that of the tube, upright; openings cut out"
            ratio = max(s.upright for s in mine) / bare
            found[f"housing.stiffer-{side}"] = Number(ratio, "1", why, Trust.DERIVED)
    return found


def _wheels(study: HousingStudy, trust: Trust) -> dict[str, Number]:
    """What bending does to the wheels."""
    found: dict[str, Number] = {}
    for one in study.cases:
        if one.name not in SHOWN:
            continue
        for ends, tail in ((one.best.ends, ""), (one.bare.ends, "-bare")):
            if tail and one.truss is None:
                continue
            for what, unit in (("camber", "deg"), ("toe", "deg"), ("rise", "mm")):
                for k, side in enumerate(("right", "left")):
                    value = float(np.round(getattr(ends, what)[k], 9))
                    why = f"{what} by bending in {one.name}{', truss left out' if tail else ''}; {BEAM}"
                    found[f"housing.{one.name}.{what}-{side}{tail}"] = Number(value, unit, why, trust)
    return found
