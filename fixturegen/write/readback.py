"""What a written DXF holds, read again from its bytes and measured against the part.

Contours are put together from the file's own entities alone, whatever their order or direction, and
measured by Green's theorem. Nothing the writer knew is used but the part itself.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from fixturegen.findings import Finding, Level
from fixturegen.keeping import kept_json, key_of
from fixturegen.plate import Hole, Loop, Part, Profile
from fixturegen.plate.profile import Edge, bounds, circle, edges, perimeter, signed_area
from fixturegen.write import dxf
from fixturegen.write.content import (
    SIZE,
    Content,
    Contour,
    Ring,
    away,
    contours,
    doubles,
    file_faults,
    half_arcs,
    measured,
    read_dxf,
    without_leads,
    witness_faults,
)
from fixturegen.write.dxf import PLAIN, Units
from fixturegen.write.file_rules import FileRules
from fixturegen.write.leads import lead_faults
from fixturegen.write.sequence import order_faults

CODE = "CUT-01"
CLAIM = "the cut file holds exactly this part: closed, true to size, nothing cut twice"


def has_cross(hole: Hole, lines: Sequence[Edge]) -> bool:
    """Whether a pilot cross stands at a hole, of its size."""
    through = [
        e
        for e in lines
        if math.dist(((e.x0 + e.x1) / 2.0, (e.y0 + e.y1) / 2.0), (hole.x, hole.y)) <= SIZE
        and abs(e.length - 2.0 * dxf.PILOT_ARM) <= SIZE
    ]
    return any(
        abs((a.x1 - a.x0) * (b.x1 - b.x0) + (a.y1 - a.y0) * (b.y1 - b.y0)) <= SIZE for a in through for b in through
    )


def _unmatched(wanted: Sequence[Ring], found: Sequence[Ring]) -> list[str]:
    left, faults = list(found), []
    for ring in wanted:
        same = [f for f in left if max(abs(a - b) for a, b in zip(ring, f, strict=True)) <= SIZE]
        if same:
            left.remove(same[0])
        else:
            faults.append(f"hole {ring[2]:.3f} mm at {ring[0]:.3f}, {ring[1]:.3f} mm is missing")
    faults += [f"hole {d:.3f} mm at {x:.3f}, {y:.3f} mm is not the part's" for x, y, d in left]
    return faults


def _inside_faults(profile: Profile, content: Content, found: Sequence[Contour]) -> list[str]:
    wanted: list[Ring] = [(h.x, h.y, d) for h in profile.holes if (d := dxf.cut_diameter(h)) is not None]
    areas = []
    for loop in profile.inner:
        ring = dxf.as_circle(loop)
        if ring is None:
            areas.append((abs(signed_area(loop)), perimeter(loop)))
        else:
            wanted.append(ring)
    faults = _unmatched(wanted, content.rings.get(dxf.CUT_IN, []))
    if len(found) != len(areas):
        faults.append(f"{len(found)} cut-outs in the file, {len(areas)} in the part")
    pairs = zip(sorted(areas), sorted(c.area for c in found), strict=False)
    faults += [
        f"a cut-out measures {got:.3f} mm2, not {want:.3f}"
        for (want, around), got in pairs
        if abs(want - got) > SIZE * around
    ]
    marks = content.pieces.get(dxf.MARK, [])
    faults += [
        f"pilot mark of {h.label or 'a hole'} at {h.x:.3f}, {h.y:.3f} mm is missing"
        for h in profile.holes
        if dxf.cut_diameter(h) is None and not has_cross(h, marks)
    ]
    return faults


def elsewhere(loop: Loop, pieces: Sequence[Edge]) -> list[str]:
    """Corners and middles of edges of the part that lie on no line of the file."""
    points = [p for e in edges(loop) for p in ((e.x0, e.y0), _middle(e))]
    lost = [p for p in points if not any(away(p, e) <= SIZE for e in pieces)]
    return [f"the contour does not pass {x:.3f}, {y:.3f} mm" for x, y in lost[:1]]


def _middle(e: Edge) -> tuple[float, float]:
    if e.centre is None:
        return (e.x0 + e.x1) / 2.0, (e.y0 + e.y1) / 2.0
    a = math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0]) + e.sweep_rad / 2.0
    return e.centre[0] + e.radius * math.cos(a), e.centre[1] + e.radius * math.sin(a)


def _outside_faults(profile: Profile, found: Sequence[Contour]) -> list[str]:
    if len(found) != 1:
        return [f"{len(found)} outside contours in the file, 1 in the part"]
    faults = []
    want, got = signed_area(profile.outer), found[0].area
    if abs(want - got) > SIZE * perimeter(profile.outer):
        faults.append(f"the outside measures {got:.3f} mm2, not {want:.3f}")
    box = bounds(profile.outer)
    if max(abs(a - b) for a, b in zip(box, found[0].box, strict=True)) > SIZE:
        faults.append("the outside stands elsewhere or has other overall sizes")
    return faults


def dxf_faults(part: Part, units: Units, data: bytes, rules: FileRules = PLAIN) -> list[str]:
    """What is wrong with a part's DXF file, in words; empty when all is as it must be.

    Args:
        part: The part as cut.
        units: Unit of the file.
        data: The file.
        rules: How it was to be written.
    """
    if part.profile is None:
        return ["the part has no flat profile"]
    try:
        content = read_dxf(data)
    except ValueError as error:
        return [str(error)]
    faults = file_faults(content, units, rules)
    if not content.scale:
        return faults
    cut: dict[str, list[Edge]] = {}
    for layer in (dxf.CUT_OUT, dxf.CUT_IN):
        cut[layer] = content.pieces.get(layer, [])
        if rules.lead is not None:
            cut[layer], leads = without_leads(cut[layer], content.rings.get(layer, []))
            inside_cuts, outline = dxf.contours_of(part.profile, rules)
            faults += lead_faults(outline, inside_cuts, leads, SIZE)
    outer_rings = [measured(half_arcs(*r)) for r in content.rings.get(dxf.CUT_OUT, [])]
    outside, open_out = contours(cut[dxf.CUT_OUT])
    inside, open_in = contours(cut[dxf.CUT_IN])
    faults += open_out + open_in
    faults += _outside_faults(part.profile, outside + outer_rings)
    faults += _inside_faults(part.profile, content, inside)
    pieces = cut[dxf.CUT_OUT] + cut[dxf.CUT_IN]
    rings = [r for layer in cut for r in content.rings.get(layer, [])]
    every = pieces + [e for r in rings for e in half_arcs(*r)]
    for loop in (part.profile.outer, *part.profile.inner):
        faults += elsewhere(loop, every)
    faults += doubles(pieces, rings)
    # order is looked at in whole contours alone; what is open has been told
    faults += [] if open_out or open_in else order_faults(content, rules)
    return faults + witness_faults(content)


def check_dxf(part: Part, units: Units, data: bytes, rules: FileRules = PLAIN) -> Finding:
    """The finding of reading a part's DXF file back (CUT-01); a fail holds the part."""
    # the same part and a file of the very same bytes have been compared before
    key = key_of(("read back", part, units, data, rules))
    faults: list[str] = kept_json("faults", key, lambda: dxf_faults(part, units, data, rules))
    name = dxf.file_name(part, units)
    if faults:
        more = f" and {len(faults) - 3} more" if len(faults) > 3 else ""
        return Finding(
            code=CODE,
            level=Level.FAIL,
            claim=CLAIM,
            words=f"{name}: {'; '.join(faults[:3])}{more}",
            remedy="do not cut this file; the part is held. Report it with the sheet",
            parts=(part.name,),
            frame="P",
        )
    return Finding(
        code=CODE, level=Level.PASS, claim=CLAIM, words=_as_read(part, name), parts=(part.name,),
        frame="P",
    )  # fmt: skip


def _as_read(part: Part, name: str) -> str:
    profile = part.profile or Profile(circle(0.0, 0.0, 1.0))
    x0, y0, x1, y1 = bounds(profile.outer)
    cut = [h for h in profile.holes if dxf.cut_diameter(h) is not None]
    return (
        f"{name}: {x1 - x0:.2f} x {y1 - y0:.2f} mm overall, {len(cut)} holes cut, "
        f"{len(profile.holes) - len(cut)} pilot marks, {len(profile.inner)} cut-outs, "
        f"{1 + len(profile.inner) + len(cut)} pierces"
    )
