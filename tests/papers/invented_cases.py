"""Invented geometries as the paper takes them: studies made straight from linkages, without a sheet."""

from dataclasses import replace

import numpy as np

from fixturegen.axle.linkage import Linkage
from fixturegen.axle.linkage_kinds import linkage_of
from fixturegen.axle.model import axle_of
from fixturegen.axle.poses import wheel_travel
from fixturegen.axle.travel import poses_at
from fixturegen.papers.link_quantities import LinkCase
from fixturegen.pipeline import read
from fixturegen.studies.link_joints import misalignments
from fixturegen.studies.link_metrics import Vehicle, metrics_of
from fixturegen.studies.link_study import LinkStudy, Travel, study_of
from tests.axle.invented_linkages import (
    both,
    five_link,
    front_stance,
    leaves,
    radius_arms,
    rear_stance,
    rod,
    splayed,
    three_link,
    truck_arms,
    wishbone,
)
from tests.sheet.altered import EXAMPLES

INCH = 25.4
ACROSS = (0.0, 1.0, 0.0)


def _travel(linkage: Linkage, vehicle: Vehicle, heave, roll) -> Travel:
    poses = poses_at(linkage, heave, roll)
    return Travel(poses, metrics_of(poses, vehicle), misalignments(poses), None, (), None)


def study(linkage: Linkage, bump=5.0, droop=6.0, drive=1.0) -> LinkStudy:
    """The study of a linkage over bump and droop [in]."""
    vehicle = Vehicle(34.0 * INCH, drive, 0.4)
    up, down = bump * INCH, -droop * INCH
    z, r = wheel_travel(np.array([0, up, down, up, down]), np.array([0, up, down, down, up]), linkage.stance.half_track)
    heave, roll = np.linspace(down, up, 45), np.linspace(-float(r[3]), float(r[3]), 45)
    heave[np.argmin(np.abs(heave))] = 0.0
    none = np.zeros(45)
    return LinkStudy(
        linkage,
        vehicle,
        None,
        _travel(linkage, vehicle, z, r),
        _travel(linkage, vehicle, heave, none),
        _travel(linkage, vehicle, none, roll),
    )


def _bolted(linkage: Linkage, limit: float) -> Linkage:
    links = (
        replace(k, frame=replace(k.frame, bolt=ACROSS, limit=limit), axle=replace(k.axle, bolt=ACROSS, limit=limit))
        for k in linkage.links
    )
    return replace(linkage, links=tuple(links))


def splayed_case(name="splayed", limit=25.0) -> LinkCase:
    """Four splayed links under a rear axle, with joints."""
    return LinkCase(name, study(_bolted(splayed(), limit)))


def flat_case(name="flat") -> LinkCase:
    """The same with level lower links."""
    lowers, uppers = both("lower", (0, 20, 16), (40, 16, 18)), both("upper", (0, 4, 26), (30, 16, 25))
    return LinkCase(name, study(_bolted(linkage_of("four-link", rear_stance(), (*lowers, *uppers)), 25.0)))


def binding_case(name="short") -> LinkCase:
    """Links too short for the travel asked for."""
    lowers, uppers = both("lower", (0, 20, 14), (9, 17, 15)), both("upper", (0, 6, 22), (8, 15, 22))
    return LinkCase(name, study(linkage_of("four-link", rear_stance(), (*lowers, *uppers)), 8.0, 10.0))


def front_case(name="front", drop=0.0, drive=0.5) -> LinkCase:
    """Three links and a track bar under a front axle; `drop` of the bar's frame end [in]."""
    lowers = both("lower", (0, 15, 16), (-36, 14, 18), make=rod)
    links = (*lowers, rod("upper", (-1, -8, 26), (-31, -7, 27)), rod("track-bar", (3, -16, 20), (3, 16, 21 - drop)))
    return LinkCase(name, study(linkage_of("three-link", front_stance(), links), drive=drive))


def sheet_case(file: str, name="as measured") -> LinkCase:
    """The links of an example of the project, with steering, struts and shaft."""
    sheet = read(EXAMPLES / file)
    return LinkCase(name, study_of(sheet, axle_of(sheet)))


KINGPIN, REAR = "front-dropout-kingpin.toml", "rear-dropout.toml"


def of_every_kind() -> dict[str, LinkCase]:
    """One geometry of each kind of linkage."""
    flat = (*both("lower", (0, 18, 14), (38, 18, 14)), *both("upper", (2, 5, 26), (27, 15, 26)))
    made = {
        "parallel": linkage_of("four-link", rear_stance(), flat),
        "splayed": splayed(),
        "three-link": three_link(),
        "radius arms": radius_arms(),
        "wishbone": wishbone(),
        "truck arms": truck_arms(),
        "five-link": five_link(rate=2000.0),
        "leaf springs": leaves(a=24.0, b=28.0, rise=1.0),
    }
    return {name: LinkCase(name, study(linkage)) for name, linkage in made.items()}
