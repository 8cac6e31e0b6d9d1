"""Contradictions about brackets and the joints they hold."""

from __future__ import annotations

from collections.abc import Iterator

from fixturegen.sheet.contradictions.rule import Clash, beside, rule, said
from fixturegen.sheet.keys import Path
from fixturegen.sheet.specs import BoltedJoint, Bracket, Links, Sheet
from fixturegen.sheet.threads import thread_diameter

SAME_PLATE = 0.1  # mm; nominal thicknesses that are the same
PADS = ("coil-seat", "bump-pad", "spring-pad")
"""Kinds that no bolt goes through."""
UNDER, OVER = 0.6, 0.05
"""mm; a shank may measure so much less, or more, than its thread is called (common practice, no source)."""
PITCH = 2.0  # bolts from hole to hole, at least (common practice, no source)


def _rows(sheet: Sheet) -> Iterator[tuple[int, Bracket]]:
    yield from enumerate(sheet.brackets)


def _joint_of(sheet: Sheet, spec: Bracket) -> tuple[int, BoltedJoint] | None:
    return next(((n, j) for n, j in enumerate(sheet.joints) if j.name == spec.joint), None)


@rule
def joints_named_once(sheet: Sheet) -> Iterator[Clash]:
    """Two joints of one name: nobody can say which one a bracket means."""
    seen: dict[str, int] = {}
    for n, joint in enumerate(sheet.joints):
        if joint.name in seen:
            yield Clash(
                ("joints", n, "name"),
                f"{joint.name}, as joints[{seen[joint.name] + 1}]",
                "a name of its own",
                "rename one of the two, and the brackets that hold it",
            )
        seen.setdefault(joint.name, n)


@rule
def shank_against_bolt(sheet: Sheet) -> Iterator[Clash]:
    """A shank that is not that of its bolt."""
    for n, joint in enumerate(sheet.joints):
        try:
            called = thread_diameter(joint.bolt)
        except ValueError:
            continue
        if not called - UNDER <= joint.shank <= called + OVER:
            yield Clash(
                ("joints", n, "shank"),
                f"{joint.shank.text}, with joints[{n + 1}].bolt = {joint.bolt}",
                f"{said(called - UNDER)} to {said(called + OVER)}",
                "measure the shank with a micrometer, or name the bolt that goes through the joint",
            )


@rule
def bolt_against_joint(sheet: Sheet) -> Iterator[Clash]:
    """A bolt as thick as the body of the joint it goes through."""
    for n, joint in enumerate(sheet.joints):
        if joint.shank >= joint.body:
            yield Clash(
                ("joints", n, "shank"),
                beside(joint.shank, ("joints", n, "body"), joint.body),
                f"less than {said(joint.body)}",
                "the bolt goes through the joint: measure both again",
            )


@rule
def joint_of_bracket(sheet: Sheet) -> Iterator[Clash]:
    """A bracket that names a joint nobody measured, or none where a bolt goes through it; a pad that names one."""
    known = ", ".join(j.name for j in sheet.joints) or "no joint is listed"
    for n, spec in _rows(sheet):
        path: Path = ("brackets", n, "joint")
        if spec.kind in PADS:
            if spec.joint:
                yield Clash(
                    path, f"{spec.joint}, with kind = {spec.kind}", "nothing", "a pad holds no bolt: leave it out"
                )
        elif not spec.joint:
            remedy = "measure the joint across its sleeve, list it under [[joints]] and name it here"
            yield Clash(path, f"nothing, with kind = {spec.kind}", known, remedy)
        elif _joint_of(sheet, spec) is None:
            yield Clash(path, spec.joint, known, "measure the joint and list it under [[joints]], or name a listed one")


@rule
def plate_of_bracket(sheet: Sheet) -> Iterator[Clash]:
    """A bracket of a plate that is not in the rack."""
    for n, spec in _rows(sheet):
        if all(abs(p.nominal - spec.plate) >= SAME_PLATE for p in sheet.plates):
            yield Clash(
                ("brackets", n, "plate"),
                spec.plate.text,
                ", ".join(p.nominal.text for p in sheet.plates) or "no plate is listed",
                "name a plate of the rack by its nominal thickness, or measure it and list it under [[plates]]",
            )


def held_names(links: Links) -> tuple[str, ...]:
    """What a bracket may hold, in words of the sheet: links, then struts."""
    found: list[str] = []
    for head, pair in (("lower", links.lower), ("upper", links.upper)):
        if pair is not None:
            # of a left link the right one is made too
            found += [f"{head}-{side}" for side in ("left", "right") if pair.left is not None or getattr(pair, side)]
    if links.upper is not None and links.upper.middle is not None:
        found.append("upper")
    if links.arm is not None:
        for side in ("left", "right"):
            arm = getattr(links.arm, side) or links.arm.left
            if arm is not None:
                found += [f"arm-{side}-{end}" for end in ("front", "rear") if getattr(arm, end) is not None]
    if links.track_bar is not None:
        found.append("track-bar")
    return (*found, *(s.name for s in links.struts))


@rule
def bracket_on_a_link(sheet: Sheet) -> Iterator[Clash]:
    """A bracket for a link or strut that is not there."""
    names = () if sheet.links is None else held_names(sheet.links)
    leaves = sheet.links is not None and sheet.links.kind == "leaf-springs"
    for n, spec in _rows(sheet):
        known = (*names, *(name.removesuffix("-left") for name in names))
        sides = (spec.holds.removesuffix("-left"), spec.holds.removesuffix("-right"))
        if spec.point or leaves or spec.holds in known or any(s in names for s in sides):
            continue
        yield Clash(
            ("brackets", n, "holds"),
            spec.holds,
            ", ".join(dict.fromkeys(name.removesuffix("-left") for name in names if not name.endswith("-right")))
            or "no link and no strut is listed",
            "name a link or strut of [links], or say where it ends by point and toward",
        )


@rule
def point_and_toward(sheet: Sheet) -> Iterator[Clash]:
    """One end of something [links] does not hold, without the other."""
    for n, spec in _rows(sheet):
        if len(spec.point) not in (0, 3) or len(spec.toward) not in (0, 3) or bool(spec.point) != bool(spec.toward):
            yield Clash(
                ("brackets", n, "point"),
                f"point with {len(spec.point)} and toward with {len(spec.toward)} numbers",
                "three numbers each, or neither",
                'write both as ["forward", "left", "up"]',
            )


@rule
def each_end_once(sheet: Sheet) -> Iterator[Clash]:
    """Two brackets for one end of a link; of a left one the right one is made too."""
    seen: dict[tuple[str, str], int] = {}
    for n, spec in _rows(sheet):
        head = spec.holds.removesuffix("-left") if not spec.point else spec.holds
        key = (head, spec.end)
        if key in seen:
            yield Clash(
                ("brackets", n, "holds"),
                f"{spec.holds} at the {spec.end}, as brackets[{seen[key] + 1}]",
                "each end once",
                "take one of the two off the sheet; of a left link the right bracket is made too",
            )
        seen.setdefault(key, n)


@rule
def surface_of_bracket(sheet: Sheet) -> Iterator[Clash]:
    """A bracket on the frame, or on a flat face, that does not say where its surface is; a surface without its way."""
    for n, spec in _rows(sheet):
        if spec.on == "hoop" or spec.hoop is not None:
            if spec.hoop is None:
                remedy = "add hoop = { diameter = ..., wall = ..., begin = [...], end = [...] }"
                yield Clash(("brackets", n, "hoop"), "nothing, with on = hoop", "the tube it stands on", remedy)
            continue
        half = (spec.facing is None) != (spec.surface is None)
        if half or (spec.end == "frame" and spec.surface is None):
            given = "facing alone" if spec.facing is not None else "surface alone" if half else "nothing"
            yield Clash(
                ("brackets", n, "surface"),
                f"{given}, with end = {spec.end} and on = {spec.on}",
                "facing and surface together",
                'say which way the surface looks and where it is: facing = "up", surface = "5 in"',
            )


@rule
def joint_against_tube(sheet: Sheet) -> Iterator[Clash]:
    """A joint with its two plates that is wider than the tube it is to stand on."""
    tubes = sheet.tubes
    longest = max((tubes.left.length, tubes.right.length), key=float)
    for n, spec in _rows(sheet):
        found = _joint_of(sheet, spec)
        if found is None or spec.end != "axle" or spec.surface is not None or spec.hoop is not None:
            continue
        _, joint = found
        wide = joint.width + spec.room + 2.0 * spec.plate
        if wide > longest:
            yield Clash(
                ("brackets", n, "joint"),
                f"{spec.joint}, {said(wide)} over both plates, on tubes of {longest.text} at most",
                f"{said(longest)} or less over both plates",
                "take a narrower joint, or stand the bracket on the truss: give facing and surface",
            )


@rule
def holes_against_bolt(sheet: Sheet) -> Iterator[Clash]:
    """Holes to choose from that stand nearer to each other than the bolt allows."""
    for n, spec in _rows(sheet):
        found = _joint_of(sheet, spec)
        if found is None or not spec.extra_holes:
            continue
        row, joint = found
        if spec.hole_pitch < PITCH * joint.shank:
            yield Clash(
                ("brackets", n, "hole_pitch"),
                beside(spec.hole_pitch, ("joints", row, "shank"), joint.shank),
                f"{said(PITCH * joint.shank)} or more, two bolts from hole to hole",
                "set the holes farther apart, or take fewer of them or a smaller bolt",
            )


@rule
def seat_of_coil(sheet: Sheet) -> Iterator[Clash]:
    """A coil seat for a coil nobody measured; an inside of a coil where there is none."""
    for n, spec in _rows(sheet):
        if (spec.kind == "coil-seat") != (spec.coil_inside is not None):
            missing = spec.coil_inside is None
            yield Clash(
                ("brackets", n, "coil_inside"),
                f"{'nothing' if missing else 'a size'}, with kind = {spec.kind}",
                "1 in to 10 in" if missing else "nothing",
                "measure the inside of the coil's end by caliper" if missing else "take coil_inside off this bracket",
            )
