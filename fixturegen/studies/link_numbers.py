"""Numbers of the links as the summary lists them: `links.*`, `steering.*`, `driveline.*`, by pose."""

from __future__ import annotations

import re
from collections.abc import Iterator

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.findings import Number, Trust, weakest
from fixturegen.studies.link_metrics import casters, link_angles, wheel_centres
from fixturegen.studies.link_records import NAMED, LinkStudy

MODEL = "exact rigid links, free motions of the constraint matrix"
Row = tuple[str, Array, str, str]
"""Dotted name without the pose, values at the named poses (m,), unit, what it is and where it comes from."""

METRICS = (
    # name, attribute, unit, what it is
    ("anti_squat", "anti_squat", "%", "of the drive force; anti-lift on a front axle"),
    ("anti_dive", "anti_dive", "%", "of the brake force; anti-lift on a rear axle"),
    ("roll_centre", "roll_centre", "mm", "height above ground at ride"),
    ("roll_axis", "roll_axis", "deg", "climbing forward positive"),
    ("roll_steer", "roll_steer", "deg/deg", "toward understeer positive"),
    ("pinion_angle", "pinion_angle", "deg", "nose above level"),
    ("sideways", "sideways", "mm", "axle centre to the left"),
    ("wheelbase_change", "wheelbase_change", "mm", "longer positive"),
)


FAR = 1200.0 * 25.4
"""mm; an instant centre farther off than a hundred feet is as good as nowhere: links are parallel."""
PLACES = ("forward", "left", "up")


def slug(name: str) -> str:
    """A name as it stands between the dots of a number: lower-case letters, digits and hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "unnamed"


def trust_of(study: LinkStudy) -> Trust:
    """How far its numbers can be trusted: as far as the points, less where links stand for leaf springs."""
    found = weakest(Trust.MEASURED, Trust.DERIVED)
    return weakest(found, Trust.PRACTICE) if study.linkage.approximate else found


def numbers_of(study: LinkStudy) -> dict[str, Number]:
    """Every number of a study by dotted name and pose; poses out of reach and what is not finite give none."""
    trust = trust_of(study)
    found: dict[str, Number] = {}
    rows = [*_moved(study), *_joined(study), *_steered(study), *_driven(study), *_sprung(study)]
    for name, values, unit, source in rows:
        for i, pose in enumerate(p.lower() for p in NAMED):
            if study.named.poses.reached[i] and np.isfinite(values[i]):
                found[f"{name}.{pose}"] = Number(float(values[i]), unit, source, trust)
    for name, value, unit, source in [*_locked(study), *_ending(study), *_beside_bar(study)]:
        if value is not None and np.isfinite(value):
            found[name] = Number(float(value), unit, source, trust)
    return found


def _moved(study: LinkStudy) -> Iterator[Row]:
    """The axle and its wheels."""
    metrics = study.named.metrics
    for name, attribute, unit, meaning in METRICS:
        yield f"links.{name}", getattr(metrics, attribute), unit, f"{MODEL}; {meaning}"
    words = "side-view instant centre, vehicle's frame at ride"
    centre = metrics.instant_centre.copy()
    centre[np.hypot(*(centre - study.linkage.stance.origin[[0, 2]]).T) > FAR] = np.nan
    yield "links.instant_centre_forward", centre[:, 0], "mm", f"{MODEL}; {words}, forward"
    yield "links.instant_centre_height", centre[:, 1], "mm", f"{MODEL}; {words}, above ground"
    stance = study.linkage.stance
    ride = stance.wheels @ stance.rotation.T + stance.origin
    wheels = wheel_centres(study.named.poses) - ride
    for k, side in enumerate(("left", "right")):
        for axis, way in enumerate(PLACES):
            words = f"{side} wheel centre from its place at ride, {way} positive"
            yield f"links.tyre_{side}_{way}", wheels[:, k, axis], "mm", f"{MODEL}; {words}"


def _joined(study: LinkStudy) -> Iterator[Row]:
    """Slopes of links and how far their joints are bent."""
    slopes = link_angles(study.named.poses).slope
    for i, link in enumerate(study.linkage.links):
        if link.part != "guide":
            words = "iso-8855; link above level, frame end higher positive"
            yield f"links.slope.{slug(link.name)}", slopes[:, i], "deg", words
    for joint in study.named.joints:
        for end, angles in (("frame", joint.frame), ("axle", joint.axle)):
            if angles is not None:
                words = "geometry; joint out of line with its bolt, half of the link's twist in it"
                yield f"links.joint.{slug(joint.link)}-{end}", angles, "deg", words


def _steered(study: LinkStudy) -> Iterator[Row]:
    motion, lost = study.named.steering, study.named.lost
    if motion is None or study.steering is None:
        return

    def there(values: Array) -> Array:
        return np.where(motion.reached, values, np.nan)

    words = "mean turn of both wheels with the steering held, to the left positive"
    yield "steering.change", there(motion.change), "deg", f"geometry; {words}"
    yield "steering.toe", there(motion.toe), "deg", "iso-8855; total toe-in"
    yield (
        "steering.drag_slope",
        there(motion.drag_slope),
        "deg",
        "geometry; drag link, front view, climbing to the left",
    )
    axes = np.array([study.steering.left.axis, study.steering.right.axis])
    caster, inclination = casters(study.named.poses, axes)
    for k, side in enumerate(("left", "right")):
        yield f"steering.caster_{side}", caster[:, k], "deg", "iso-8855; top to the rear positive"
        yield f"steering.inclination_{side}", inclination[:, k], "deg", "iso-8855; top inboard positive"
        lean = there(motion.camber[:, k] - motion.camber[0, k])
        yield f"steering.camber_change_{side}", lean, "deg", "iso-8855; since ride, top outboard positive"
    if lost is not None:
        words = "steer lost while the tie rod rolls from stop to stop"
        yield "steering.roll_over", there(lost), "deg", f"geometry; {words}; practice, that it rolls first"


def _driven(study: LinkStudy) -> Iterator[Row]:
    shaft = study.named.shaft
    if shaft is None:
        return
    yield "driveline.length", shaft.length, "mm", "geometry; between the joint centres"
    yield "driveline.plunge", shaft.plunge, "mm", "geometry; length less that at ride"
    yield "driveline.case_angle", shaft.case_angle, "deg", "geometry; true joint angle"
    yield "driveline.pinion_joint", shaft.pinion_angle, "deg", "geometry; true joint angle"
    words = "fastest less slowest over mean speed of the pinion"
    yield "driveline.fluctuation", shaft.fluctuation, "1", f"geometry; {words}"
    words = "angle of the one cross joint that is as uneven"
    yield "driveline.equivalent_angle", shaft.equivalent_angle, "deg", f"geometry; {words}"


def _sprung(study: LinkStudy) -> Iterator[Row]:
    """Springs, shocks, stops and straps of the left side, and hoses."""
    for kind, strut in study.named.struts:
        name = slug(strut.name)
        yield f"links.strut_length.{name}", strut.length, "mm", f"geometry; {kind}, left side, end to end"
        yield f"links.motion_ratio.{name}", strut.heave_ratio, "1", "geometry; shortening per heave of the wheels"
        yield f"links.roll_ratio.{name}", strut.roll_ratio, "1", "geometry; shortening per travel of its wheel in roll"
        yield f"links.strut_lean.{name}", strut.lean, "deg", "geometry; off vertical"
        yield f"links.strut_bend.{name}", strut.bend, "deg", "geometry; turn of the axle's seat against it since ride"
    for hose in study.named.hoses:
        name = slug(hose.name)
        yield f"links.hose_needed.{name}", hose.needed.max(axis=1), "mm", "geometry; the worst of straight and locks"
        yield f"links.hose_spare.{name}", hose.least_spare, "mm", "geometry; length less what is needed, the worst"


Single = tuple[str, float | None, str, str]


def _locked(study: LinkStudy) -> Iterator[Single]:
    """Wheels, shafts and pitman arm at lock."""
    found = study.turned
    if found is None:
        return
    words = "geometry; wheels that roll about one point"
    for k, pose in ((-1, "lock-l"), (0, "lock-r")):
        inside, outside = (0, 1) if k else (1, 0)
        yield f"steering.inner.{pose}", float(found.inner[k]), "deg", "sheet; to the left positive"
        yield f"steering.outer.{pose}", float(found.outer[k]), "deg", "geometry; the tie rod keeps its length"
        yield f"steering.outer_wanted.{pose}", float(found.wanted[k]), "deg", words
        yield f"steering.ackermann.{pose}", float(found.share[k]), "%", f"{words}, given by the tie rod of that wanted"
        source = "geometry; axle line against the spindle turned about its leaning axis"
        yield f"steering.shaft_inner.{pose}", float(found.shafts[k, inside]), "deg", source
        yield f"steering.shaft_outer.{pose}", float(found.shafts[k, outside]), "deg", source
        if found.pitman is not None:
            source = "geometry; arm on its circle, the drag link keeps its length; at ride, left turn positive"
            yield f"steering.pitman.{pose}", float(found.pitman[k]), "deg", source


def _ending(study: LinkStudy) -> Iterator[Single]:
    """Travel of the wheel at which stops and straps hold."""
    for hold in study.holds:
        name = f"links.{'stop' if hold.end == 'bump' else 'strap'}.{slug(hold.name)}-{hold.side}-{hold.way}"
        yield f"{name}.touches", hold.touches, "mm", "geometry; travel of its wheel, up positive"
        yield f"{name}.holds", hold.holds, "mm", "geometry; travel of its wheel, up positive"


def _beside_bar(study: LinkStudy) -> Iterator[Single]:
    """The drag link against the track bar, front view at ride: slopes first, lengths second."""
    motion, steering = study.named.steering, study.steering
    names = study.linkage.names
    if motion is None or steering is None or "track-bar" not in names:
        return
    i, stance = names.index("track-bar"), study.linkage.stance
    bar = float(link_angles(study.named.poses).front[0, i])
    source = "geometry, front view at ride; practice, angle before length"
    yield (
        "steering.drag_off_bar",
        float(motion.drag_slope[0]) - bar,
        "deg",
        f"{source}; drag link's slope less the bar's",
    )
    ends = stance.rotation @ stance.in_axle(steering.drag) + stance.origin - np.array(steering.pitman)
    yield "steering.drag_length", float(np.linalg.norm(ends)), "mm", "geometry; joint to joint"
    yield "steering.bar_length", float(study.linkage.lengths()[i]), "mm", "geometry; joint to joint"
