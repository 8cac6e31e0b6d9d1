"""Stress, deflection, camber and toe of the housing in every load case, bare and with its truss.

Sections stay plane; tube and plates bend as one where the truss counts. Source: geometry, sections and moments;
statics, a beam cut at a station; curvature = moment / (E I), slope and deflection by adding it up from the centre
section outward.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.axle_loads import AxleLoads
from fixturegen.studies.housing_actions import Actions, actions_on, places_of
from fixturegen.studies.housing_section import Section
from fixturegen.studies.housing_stations import Beam, Truss, beam_of
from fixturegen.studies.strength_records import steel_of

POISSON = 0.3
"""Of steel: sideways over lengthwise strain (AISC 360 takes G = 11 200 ksi beside E = 29 000 ksi; from memory)."""
SIDES = ("right", "left")
FIBRES = ("top", "bottom", "front", "rear")


@dataclass(frozen=True, eq=False)
class Ends:
    """What bending does to the wheels of one case; arrays of right and left, shape (2,).

    Attributes:
        rise: Of the wheel mount surface against the centre section held fast, up positive [mm].
        ahead: The same in plan, forward positive [mm].
        camber: Change against the line through both wheels, top outboard positive [deg].
        toe: Change against that line, toe-in positive [deg].
        twist: Of the tube end about the axle line, top to the front positive [deg].
    """

    rise: Array
    ahead: Array
    camber: Array
    toe: Array
    twist: Array


@dataclass(frozen=True, eq=False)
class Response:
    """Stress and shape of one housing under one case, at the stations of its beam.

    Attributes:
        fibres: Stress of the tube at top, bottom, front and rear, shape (4, n), pull positive [MPa].
        peak: Largest size of it round the tube, shape (n,) [MPa].
        sheared: Shear stress of the tube by torque, the tube taken alone [MPa].
        plates: Largest size of stress in the plates of the truss, as far as they carry; 0 where none counts [MPa].
        up: Rise of the axle line, the centre section held fast [mm].
        forward: The same in plan [mm].
        ends: At the wheels.
    """

    fibres: Array
    peak: Array
    sheared: Array
    plates: Array
    up: Array
    forward: Array
    ends: Ends

    @cached_property
    def equivalent(self) -> Array:
        """Bending, pull and torque together [MPa]. Source: distortion energy, sqrt(s^2 + 3 t^2)."""
        return np.asarray(np.sqrt(self.peak**2 + 3.0 * self.sheared**2), dtype=np.float64)


@dataclass(frozen=True, eq=False)
class CaseBending:
    """One load case: actions inside the housing, what the bare one makes of them and what it does with its truss.

    Attributes:
        name: Of the case.
        actions: At the stations of the beams.
        bare: The tubes alone.
        truss: With the truss; None without one.
    """

    name: str
    actions: Actions
    bare: Response
    truss: Response | None

    @property
    def best(self) -> Response:
        """As it is on the sheet: with the truss where there is one."""
        return self.truss or self.bare


@dataclass(frozen=True, eq=False)
class HousingStudy:
    """The housing under every load case.

    Attributes:
        beam: As it is on the sheet; its stations hold for both.
        cases: In the order of the cases.
        modulus: Of elasticity [MPa].
        truss: What stiffens it, or None.
    """

    beam: Beam
    cases: tuple[CaseBending, ...]
    modulus: float
    truss: Truss | None

    def case(self, name: str) -> CaseBending:
        """One case.

        Raises:
            KeyError: When it was not carried, or there is none of this name.
        """
        for one in self.cases:
            if one.name == name:
                return one
        raise KeyError(name)

    def worst(self, of: str = "equivalent", with_truss: bool = True) -> tuple[CaseBending, int]:
        """Case and index of the station where a stress is largest.

        Args:
            of: equivalent, peak, plates.
            with_truss: With the truss where there is one.
        """
        found = []
        for k, one in enumerate(self.cases):
            values: Array = getattr(one.best if with_truss else one.bare, of)
            at = int(np.argmax(np.round(values, 9)))
            found.append((float(values[at]), -k, at))
        _, k, at = max(found)
        return self.cases[-k], at


def housing_study(sheet: Sheet, axle: AxleModel, loads: AxleLoads, truss: Truss | None = None) -> HousingStudy:
    """The housing of a sheet under all cases that were carried.

    Args:
        sheet: For the tubes.
        axle: For where they are.
        loads: What pushes.
        truss: What stiffens it.
    """
    places = tuple(sorted({y for one in loads.cases for y in places_of(axle, loads, one)}))
    beam = beam_of(sheet, axle, truss, places)
    modulus = steel_of(sheet.tubes.material).modulus
    whole, alone = _Sections.of(beam), _Sections.alone(beam)
    cases = []
    for one in loads.cases:
        actions = actions_on(axle, loads, one, beam.stations)
        bare = _response(beam, alone, actions, modulus, axle.half_width)
        stiff = _response(beam, whole, actions, modulus, axle.half_width) if beam.trussed else None
        cases.append(CaseBending(one.case.name, actions, bare, stiff))
    return HousingStudy(beam, tuple(cases), modulus, truss)


@dataclass(frozen=True, eq=False)
class _Sections:
    """Sections of all stations as arrays, shape (n,) each; corners of plates with their share by station."""

    area: Array
    x: Array
    z: Array
    upright: Array
    level: Array
    mixed: Array
    torsion: Array
    corners: tuple[Array, ...]

    @classmethod
    def of(cls, beam: Beam) -> _Sections:
        torsion = np.repeat([one.flows.torsion for one in beam.lengths], 3)
        return cls._made(beam.sections, torsion)

    @classmethod
    def alone(cls, beam: Beam) -> _Sections:
        count = 3 * len(beam.lengths)
        return cls._made((beam.bare,) * count, np.full(count, beam.torsion))

    @classmethod
    def _made(cls, sections: tuple[Section, ...], torsion: Array) -> _Sections:
        area, x, z, upright, level, mixed = np.array(
            [(s.area, *s.middle, s.upright, s.level, s.mixed) for s in sections]
        ).T
        # what a plate carries beside the end of its weld is less than its section would
        corners = tuple(
            np.array([(*c, strip.share) for strip in s.cut.strips for c in strip.corners]).reshape(-1, 3)
            for s in sections
        )
        return cls(area, x, z, upright, level, mixed, torsion, corners)

    def slopes(self, about_x: Array, about_z: Array) -> tuple[Array, Array]:
        """As `Section.slopes`, for all stations."""
        whole = self.upright * self.level - self.mixed**2
        forward = (about_z * self.upright + about_x * self.mixed) / whole
        return forward, (-about_x * self.level - about_z * self.mixed) / whole


def _response(beam: Beam, sections: _Sections, actions: Actions, modulus: float, wheel: float) -> Response:
    radius = beam.bare.diameter / 2.0
    about_x, about_z = actions.bent_about(sections.x, sections.z)
    forward, upward = sections.slopes(about_x, about_z)
    pull = actions.axial / sections.area
    middle = pull - forward * sections.x - upward * sections.z  # at the axle line
    fibres = middle + radius * np.stack([upward, -upward, forward, -forward])
    plates = np.zeros(len(sections.corners))
    for k, c in enumerate(sections.corners):
        if len(c):
            stress = pull[k] + (c[:, 0] - sections.x[k]) * forward[k] + (c[:, 1] - sections.z[k]) * upward[k]
            plates[k] = float(np.abs(c[:, 2] * stress).max())
    sheared = np.abs(actions.torque) * radius / beam.torsion
    shear_modulus = modulus / (2.0 * (1.0 + POISSON))
    rates = np.stack([-upward / modulus, -forward / modulus, actions.torque / (shear_modulus * sections.torsion)])
    shapes, slopes = _added_up(beam, rates)
    ends = _at_wheels(beam, shapes, slopes, wheel)
    peak = np.abs(middle) + radius * np.hypot(forward, upward)
    return Response(fibres, peak, sheared, plates, shapes[0], shapes[1], ends)


def _added_up(beam: Beam, rates: Array) -> tuple[Array, Array]:
    """Twice and once added up from the centre section outward, shapes (3, n) both.

    Simpson's rule over each length; half a length is taken by the parabola through the three.

    Args:
        beam: For the lengths, three stations each.
        rates: Curvature upward, curvature forward, twist per length, shape (3, n) [1/mm].
    """
    shapes, slopes = np.zeros_like(rates), np.zeros_like(rates)
    count = len(beam.lengths)
    right = [k for k in range(count) if beam.lengths[k].end <= beam.roots[0] + 1e-6]
    left = [k for k in range(count) if k not in set(right)]
    for order, way in ((right[::-1], -1), (left, 1)):
        slope, shape = np.zeros(3), np.zeros(3)
        for k in order:
            span = way * (beam.lengths[k].end - beam.lengths[k].begin)
            at = (3 * k, 3 * k + 1, 3 * k + 2)[::way]
            a, b, c = (rates[:, i] for i in at)
            slopes[:, at[0]], shapes[:, at[0]] = slope, shape
            slopes[:, at[1]] = slope + span * (5.0 * a + 8.0 * b - c) / 24.0
            shapes[:, at[1]] = shape + slope * span / 2.0 + span**2 * (7.0 * a + 6.0 * b - c) / 96.0
            shape = shape + slope * span + span**2 * (a + 2.0 * b) / 6.0
            slope = slope + span * (a + 4.0 * b + c) / 6.0
            slopes[:, at[2]], shapes[:, at[2]] = slope, shape
    return shapes, slopes


def _at_wheels(beam: Beam, shapes: Array, slopes: Array, wheel: float) -> Ends:
    """Rise, camber, toe and twist at the wheels; beyond a tube's end all is rigid."""
    ends = np.array([0, 3 * len(beam.lengths) - 1])
    sign = np.array([-1.0, 1.0])
    away = sign * wheel - np.array(beam.ends)
    moved = shapes[:2, ends] + slopes[:2, ends] * away
    line = (moved[:, 1] - moved[:, 0]) / (2.0 * wheel)
    # an outer end that goes up tips the wheel's top inboard; one that goes forward turns its front inboard
    turned = np.degrees(np.arctan(slopes[:2, ends] - line[:, None])) * sign
    return Ends(moved[0], moved[1], -turned[0], turned[1], np.degrees(slopes[2, ends]))
