"""How high a truss must be for the loads: the least at which the tubes beside the centre section hold in every case.

Only the tubes where they leave the centre section are asked, with the truss in full there; its ends, its welds and
what it does not reach are judged by the claims about the housing.
"""

from __future__ import annotations

import math

import numpy as np

from fixturegen.axle.model import AxleModel
from fixturegen.errors import InputFault
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.axle_loads import loads_of
from fixturegen.studies.housing_actions import Actions, actions_on
from fixturegen.studies.housing_section import TUBE, Cut, Seam, Section, Strip, section_of
from fixturegen.studies.housing_stations import BESIDE
from fixturegen.studies.strength_records import STANDARD, steel_of

STEP = 25.4 / 8.0
"""Heights are tried by eighths of an inch [mm]."""
TALLEST = 24.0 * 25.4
"""Beyond the largest height the sheet takes nothing is tried [mm]."""
LEG = 1.0  # mm; plates are joined here, how strongly is not asked


def height_for_loads(
    sheet: Sheet, axle: AxleModel, faces: tuple[tuple[float, float], ...], top: float, least: float
) -> float | None:
    """Height of the top above the axle line at which the tubes hold [mm]; None without loads, or where none is enough.

    Args:
        sheet: With [links] and [loads].
        axle: The axle.
        faces: Rear and front face of both side plates [mm].
        top: Thickness of the top plate [mm].
        least: No lower than this [mm].
    """
    if sheet.loads is None or sheet.links is None:
        return None
    try:
        loads = loads_of(sheet, axle)
    except InputFault:
        return None  # LOD-01 tells why
    stations = np.array([axle.section[0] - BESIDE, axle.section[1] + BESIDE])
    acted = [actions_on(axle, loads, one, stations) for one in loads.cases]
    limit = steel_of(sheet.tubes.material).yield_strength / STANDARD.tab_yield.value
    diameter, wall = float(sheet.tubes.outside_diameter), float(sheet.tubes.wall)
    twist = math.pi / 32.0 * (diameter**4 - (diameter - 2.0 * wall) ** 4)
    first = math.ceil(max(least, diameter / 2.0 + top + STEP) / STEP - 1e-9)
    for eighths in range(first, math.floor(TALLEST / STEP) + 1):
        section = section_of(diameter, wall, box_cut(diameter, faces, top, STEP * eighths))
        if all(_largest(section, twist, actions) <= limit for actions in acted):
            return STEP * eighths
    return None


def box_cut(diameter: float, faces: tuple[tuple[float, float], ...], top: float, height: float) -> Cut:
    """What a plane cuts of a box of two side plates and a top on a tube.

    Args:
        diameter: Of the tube [mm].
        faces: Rear and front face of both side plates [mm].
        top: Thickness of the top plate [mm].
        height: Of its upper face above the axle line [mm].
    """
    strips, seams = [], []
    for k, (rear, front) in enumerate(faces):
        x = (rear + front) / 2.0
        foot = math.sqrt(max(0.0, (diameter / 2.0) ** 2 - x**2))
        strips.append(Strip(f"side {k}", (x, foot), (x, height - top), front - rear))
        seams.append(Seam(f"side {k} to the tube", f"side {k}", TUBE, (x, foot), LEG))
        seams.append(Seam(f"side {k} to the top", f"side {k}", "top", (x, height - top), LEG))
    edge = (min(r for r, _ in faces), max(f for _, f in faces))
    z = height - top / 2.0
    return Cut((*strips, Strip("top", (edge[0], z), (edge[1], z), top)), tuple(seams))


def _largest(section: Section, twist: float, actions: Actions) -> float:
    """Largest stress of the tube with torque, at any of the stations [MPa]."""
    x, z = section.middle
    about_x, about_z = actions.bent_about(np.full(2, x), np.full(2, z))
    found = []
    for k in range(2):
        forward, upward = section.slopes(float(about_x[k]), float(about_z[k]))
        middle = float(actions.axial[k]) / section.area - forward * x - upward * z
        bent = abs(middle) + section.diameter / 2.0 * math.hypot(forward, upward)
        sheared = abs(float(actions.torque[k])) * section.diameter / 2.0 / twist
        found.append(math.sqrt(bent**2 + 3.0 * sheared**2))
    return max(found)
