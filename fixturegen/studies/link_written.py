"""Points of a linkage as text of a sheet, in steps a tape reads, and back."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from typing import Any, TypeVar

from fixturegen.axle.linkage import Joint, Linkage
from fixturegen.axle.model import Point
from fixturegen.sheet.specs import LinkEnds, Links, Spec
from fixturegen.sheet.specs.links import ArmLines
from fixturegen.units import Length, as_inch, as_text, parse

INCH = 25.4
SAME = 1e-6
"""mm; a point nearer than this is the same."""
TAPES: dict[str, tuple[float, ...]] = {"in": (INCH / 16, INCH / 32, INCH / 64), "mm": (1.0, 0.5, 0.1)}
"""Steps a found coordinate is rounded to [mm]: the first with which everything that was met still is."""
FINE = {"in": 4, "mm": 3}
"""Places behind the point of what falls between the steps: a hole of a row, the end of a range."""


def written(value: float, unit: str) -> str:
    """A length as it stands on a sheet: 20 1/4 in, 512.5 mm.

    Args:
        value: The length [mm].
        unit: in or mm.
    """
    if unit == "in":
        fraction = as_inch(value)
        if "(" not in fraction:
            return fraction
    return as_text(value, "length", unit, FINE[unit])


def _read_back(point: Point, was: Point, unit: str) -> Point:
    """A point as the sheet gives it [mm]: coordinates that moved through their text, others as they were."""
    x, y, z = (
        w if abs(c - w) < SAME else float(parse(written(c, unit), Length())) for c, w in zip(point, was, strict=True)
    )
    return x, y, z


def as_written(linkage: Linkage, before: Linkage, unit: str) -> Linkage:
    """The linkage with every coordinate that is not what it was before as its text gives it.

    Args:
        linkage: With some points moved.
        before: The same linkage before.
        unit: in or mm.
    """

    def one(joint: Joint, was: Joint) -> Joint:
        return replace(joint, point=_read_back(joint.point, was.point, unit))

    links = [
        replace(k, frame=one(k.frame, b.frame), axle=one(k.axle, b.axle))
        for k, b in zip(linkage.links, before.links, strict=True)
    ]
    return replace(linkage, links=tuple(links))


def _same(one: Point, other: Point) -> bool:
    return max(abs(a - b) for a, b in zip(one, other, strict=True)) < SAME


def sheet_text(links: Links, linkage: Linkage, before: Linkage, unit: str) -> str:
    """Tables of the links whose points moved, to stand on the sheet instead of those of the same names.

    All other keys of a link stay as they are. A link that the sheet leaves out because it is the mirror image
    of the left one is written only where it is that no more.

    Args:
        links: Of the sheet.
        linkage: With some points moved.
        before: As the sheet has it.
        unit: in or mm.
    """
    tables = []
    at = {k.key: k for k in linkage.links}
    for link, was in zip(linkage.links, before.links, strict=True):
        if _same(link.frame.point, was.frame.point) and _same(link.axle.point, was.axle.point):
            continue
        given = _given(links, link.key)
        twin = at.get(link.key.replace(".right", ".left"))
        mirrored = given is None and twin is not None
        if mirrored and twin is not None and _mirrors(link.frame, twin.frame) and _mirrors(link.axle, twin.axle):
            continue
        source = given or (_given(links, twin.key) if twin is not None else None)
        if source is not None:
            tables.append(_table(link.key, (link.frame, link.axle), source, mirrored, unit))
    return "\n".join(tables)


def assumed_tolerances(links: Links, linkage: Linkage) -> tuple[str, ...]:
    """Keys of the links on the sheet that do not say how well their points were measured."""
    given = [(k.key, _given(links, k.key)) for k in linkage.links]
    return tuple(key for key, ends in given if ends is not None and "tolerance" not in ends.model_fields_set)


def _given(links: Links, key: str) -> LinkEnds | None:
    found: object = links
    for step in key.split(".")[1:]:
        found = getattr(found, step, None)
    return found if isinstance(found, LinkEnds) else None


def _mirrors(one: Joint, other: Joint) -> bool:
    x, y, z = other.point
    return _same(one.point, (x, -y, z))


def _table(key: str, ends: tuple[Joint, Joint], source: LinkEnds, mirrored: bool, unit: str) -> str:
    """One table: the two points, and what else the sheet says of the link."""
    lines = [f"[{key}]"]
    for name, joint in zip(("frame", "axle"), ends, strict=True):
        # a coordinate that stays is told in the person's own words
        own = [] if mirrored else getattr(source, name)
        texts = [written(c, unit) for c in joint.point]
        for k, measured in enumerate(own):
            if abs(float(measured) - joint.point[k]) < SAME:
                texts[k] = measured.text
        lines.append(f"{name} = [{', '.join(_quoted(t) for t in texts)}]")
    for name in sorted(source.model_fields_set - {"frame", "axle"}, key=list(LinkEnds.model_fields).index):
        value = getattr(source, name)
        if isinstance(value, tuple):
            texts = [v.text for v in value]
            if mirrored and len(texts) == len(value) == 3:
                texts[1] = f"{0.0 - float(value[1]):g}"
            if texts:
                lines.append(f"{name} = [{', '.join(_quoted(t) for t in texts)}]")
        elif value is not None:
            lines.append(f"{name} = {_quoted(getattr(value, 'text', value))}")
    return "\n".join(lines) + "\n"


def _quoted(text: object) -> str:
    return f'"{text}"'


Section = TypeVar("Section", bound=Spec)


def taken(links: Links, text: str) -> Links:
    """The links of a sheet with the tables of a text instead of those of the same names.

    Args:
        links: Of the sheet.
        text: As `sheet_text` writes it.
    """
    return _with(links, tomllib.loads(text).get("links", {}))


def _with(section: Section, values: dict[str, Any]) -> Section:
    new: dict[str, Spec] = {}
    for name, value in values.items():
        if "frame" in value:
            new[name] = LinkEnds.model_validate(value)
        else:
            new[name] = _with(getattr(section, name) or ArmLines(), value)
    return section.model_copy(update=new)
