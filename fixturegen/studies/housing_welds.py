"""What the welds between tube and truss must hand over: flow along each seam, and its weld metal and plate.

Along a truss of one section the flow is V Q / I, shared by the walls as they give. Where plates grow toward the
middle, or come to carry beside the end of their weld, they take up load besides: the change of their pull per length,
spread over about the height of the truss. In stitches all of it goes through the runs.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.calc._welds import E70, FILLER_SHARE, THROAT_SHARE
from fixturegen.findings import Trust, weakest
from fixturegen.studies.housing_actions import Actions
from fixturegen.studies.housing_section import TUBE, Seam, Section
from fixturegen.studies.housing_stations import Beam, Length
from fixturegen.studies.housing_study import HousingStudy
from fixturegen.studies.housing_truss import ActingTruss
from fixturegen.studies.strength_records import FATIGUE, HEAT, IMPACT, STANDARD, Factors, Given, Steel, Strength
from fixturegen.studies.weld_groups import SHEAR_SHARE

AT_ENDS = "toes of the welds at the ends of the truss"
NOT_COVERED = (
    FATIGUE,
    AT_ENDS,
    HEAT,
    IMPACT,
    "what welding leaves in the steel",
    "a casting under the weld",
)


@dataclass(frozen=True)
class SeamFlow:
    """Flow through one seam at one station in one case.

    Attributes:
        seam: The seam.
        case: Name of the case.
        station: Left of the middle [mm].
        along: V Q / I and torque, per length of the seam [N/mm].
        taken_up: What the plates take up besides, per length of the seam [N/mm].
        plate: Thickness of the plate [mm].
    """

    seam: Seam
    case: str
    station: float
    along: float
    taken_up: float
    plate: float

    @property
    def ending(self) -> bool:
        """Whether more comes in because the plates take up load than goes along them."""
        return abs(self.taken_up) > abs(self.along)

    @property
    def flow(self) -> float:
        """Per length of the seam [N/mm]."""
        return abs(self.along + self.taken_up)

    @property
    def at_weld(self) -> float:
        """Per length of weld, each bead by itself [N/mm]."""
        return self.flow / (self.seam.welded * self.seam.beads)


def seam_flows(study: HousingStudy) -> tuple[SeamFlow, ...]:
    """Every seam at its worst station and in its worst case, along it and where its plates take up load.

    From right to left; of a seam on both tubes each by itself.

    Args:
        study: The housing with its truss.
    """
    worst: dict[tuple[str, bool, bool], SeamFlow] = {}
    for flow in all_flows(study):
        key = (flow.seam.name, flow.station >= sum(study.beam.roots) / 2.0, flow.ending)
        if key not in worst or flow.at_weld > worst[key].at_weld * (1.0 + 1e-9):
            worst[key] = flow
    return tuple(sorted(worst.values(), key=lambda f: (f.station, f.seam.name)))


def all_flows(study: HousingStudy) -> list[SeamFlow]:
    """The flow through every welded seam at the middle of every length, of each the worst case."""
    found: list[SeamFlow] = []
    for k, one in enumerate(study.beam.lengths):
        if one.filled[1].bare:
            continue
        found += _at_length(study, one, 3 * k + 1)
    return found


def _at_length(study: HousingStudy, one: Length, at: int) -> list[SeamFlow]:
    acted = [case.actions for case in study.cases]
    forward, upward, torque = (np.array([getattr(a, n)[at] for a in acted]) for n in ("forward", "upward", "torque"))
    along = one.flows.through(forward, upward, torque)
    first, last, span = _window(study.beam, one)
    pulls = [_pulls(s, acted, at) for s in (first, last)]
    grown = (pulls[1] - pulls[0]) / span
    seams = one.filled[1].cut.seams
    # flow runs from plate to tube: what a plate takes up as one goes left comes the other way
    taken = -_to_seams(one.filled[1], grown)
    found = []
    for k, seam in enumerate(seams):
        if seam.folded:
            continue
        case = int(np.argmax(np.round(np.abs(along[k] + taken[k]), 9)))
        found.append(
            SeamFlow(
                seam,
                study.cases[case].name,
                one.stations[1],
                float(along[k, case]),
                float(taken[k, case]),
                _plate(one.filled[1], seam),
            )
        )
    return found


def _window(beam: Beam, one: Length) -> tuple[Section, Section, float]:
    """Sections at both ends of a stretch about as long as the truss is high there, and its length [mm].

    What changes at once, at a knee for instance, is taken up over that: load spreads at 45 deg, both ways.
    """
    half = one.filled[1].cut.height(beam.bare.diameter) / 2.0
    middle = one.stations[1]
    near = [k for k in beam.lengths if k is one or (not k.filled[1].bare and abs(k.stations[1] - middle) <= half)]
    near = [k for k in near if (k.begin >= beam.roots[1]) == (one.begin >= beam.roots[1])]
    return near[0].filled[0], near[-1].filled[2], near[-1].end - near[0].begin


def _plate(section: Section, seam: Seam) -> float:
    return next(s.thickness for s in section.cut.strips if s.name == seam.first)


def _pulls(section: Section, acted: list[Actions], at: int) -> Array:
    """Pull in all strips together, and its moment about x = 0, in every case, shape (2, cases) [N, N*mm]."""
    x, z = section.middle
    found = np.zeros((2, len(acted)))
    for c, a in enumerate(acted):
        forward, upward = section.slopes(a.about_x[at] + z * a.axial[at], a.about_z[at] - x * a.axial[at])
        for strip in section.cut.strips:
            mid = ((strip.start[0] + strip.end[0]) / 2.0, (strip.start[1] + strip.end[1]) / 2.0)
            area = strip.carrying * strip.width
            mean = a.axial[at] / section.area + (mid[0] - x) * forward + (mid[1] - z) * upward
            # a plate that lies across has a moment of its own about its middle
            own = area * (strip.end[0] - strip.start[0]) ** 2 / 12.0 * forward
            own += area * (strip.end[0] - strip.start[0]) * (strip.end[1] - strip.start[1]) / 12.0 * upward
            found[:, c] += area * mean, area * mean * mid[0] + own
    return found


def _to_seams(section: Section, pulls: Array) -> Array:
    """Pulls of all plates together, shape (2, cases), shared by the seams onto the tube, (seams, cases).

    One seam takes all. Two take it as two walls take a load between them: their sum and its moment about the
    upright are those of the plates. The seams between plates take none here.
    """
    seams = section.cut.seams
    found = np.zeros((len(seams), pulls.shape[1]))
    onto = [k for k, s in enumerate(seams) if s.second == TUBE]
    total, moment = pulls
    if len(onto) == 2 and abs(seams[onto[0]].at[0] - seams[onto[1]].at[0]) > 1.0:
        first, second = (seams[k].at[0] for k in onto)
        found[onto[0]] = (moment - total * second) / (first - second)
        found[onto[1]] = total - found[onto[0]]
    elif onto:
        found[onto] = total / len(onto)
    return found


def centre_flows(study: HousingStudy, truss: ActingTruss) -> tuple[SeamFlow, ...]:
    """What each plate must hand to the centre section at least, shared by its whole weld there, in the worst case.

    Over the centre section the plates are pulled by those of both tubes; what these differ by goes into it. A
    centre section stiffer than the truss takes more: that is not told.

    Args:
        study: The housing with its truss.
        truss: The truss, for its welds there.
    """
    acted = [case.actions for case in study.cases]
    pulls: dict[str, Array] = {}
    for k, one in enumerate(study.beam.lengths):
        for edge, at, section, way in (
            (one.end == study.beam.roots[0], 3 * k + 2, one.filled[2], -1.0),
            (one.begin == study.beam.roots[1], 3 * k, one.filled[0], 1.0),
        ):
            if not edge or section.bare:
                continue
            shared = _to_seams(section, _pulls(section, acted, at))
            for seam, pull in zip(section.cut.seams, shared, strict=True):
                if seam.second == TUBE:
                    pulls[seam.first] = pulls.get(seam.first, np.zeros(len(acted))) + way * pull
    found = []
    for seam, length, plate in truss.onto_centre():
        if seam.first in pulls:
            case = int(np.argmax(np.round(np.abs(pulls[seam.first]), 9)))
            flow = float(pulls[seam.first][case]) / length
            middle = sum(study.beam.roots) / 2.0
            found.append(SeamFlow(seam, study.cases[case].name, middle, 0.0, flow, plate))
    return tuple(found)


def seam_strengths(
    flow: SeamFlow, plate: Steel, filler: float = E70, factors: Factors = STANDARD
) -> tuple[Strength, ...]:
    """Weld metal at its throat and the plate beside it, under a flow along the weld.

    Args:
        flow: Through the seam.
        plate: Steel of the plate.
        filler: Tensile strength of the weld metal [MPa].
        factors: Asked for.
    """
    seam = flow.seam
    given = (
        Given("flow along the seam", flow.flow, "N/mm"),
        Given("of that V Q / I", abs(flow.along), "N/mm"),
        Given("weld over length", seam.welded, "1"),
        Given("leg", seam.leg, "mm"),
    )
    metal = Strength(
        what=f"{seam.name}: weld metal",
        demand=flow.at_weld,
        capacity=FILLER_SHARE * filler * THROAT_SHARE * seam.leg,
        unit="N/mm",
        factor=factors.weld,
        given=(*given, Given("tensile strength of the filler", filler, "MPa")),
        formula="flow / (weld over length) against 0.6 F_filler 0.7071 leg",
        source="aisc-360",
        section="J2.4; flow = V Q / I and what the plates take up (Blodgett, section 7.4, from memory)",
        trust=weakest(Trust.MEMORY, factors.weld.trust),
        not_covered=NOT_COVERED,
    )
    shear = (
        ("yield", SHEAR_SHARE * plate.yield_strength, factors.base_yield),
        ("rupture", SHEAR_SHARE * plate.tensile, factors.base_rupture),
    )
    way, strength, factor = min(shear, key=lambda s: s[1] / s[2].value)
    beside = replace(
        metal,
        what=f"{seam.name}: plate beside the weld, {way}",
        demand=flow.flow / seam.welded,
        capacity=strength * flow.plate,
        factor=factor,
        given=(
            *given,
            Given("plate", flow.plate, "mm"),
            Given(f"yield strength of {plate.name}", plate.yield_strength, "MPa"),
        ),
        formula=f"flow / (weld over length) against 0.6 F t, {way} in shear",
        section="J4.2",
        trust=weakest(Trust.MEMORY, plate.trust, factor.trust),
    )
    return metal, beside


def nearest(found: tuple[Strength, ...]) -> Strength:
    """The one that is nearest to, or farthest beyond, its factor."""
    return max(found, key=lambda s: s.used * s.factor.value)
