"""What else lies on a sheet, so that no lead is drawn into another part or off the plate."""

from __future__ import annotations

from collections.abc import Sequence

from fixturegen.plate import Loop, Profile
from fixturegen.plate.profile import Edge, circle, polyline
from fixturegen.write.dxf import cut_diameter
from fixturegen.write.leads import CHORDS, Free, Point, room_of


class Neighbours:
    """The parts of a sheet where they lie, and its border."""

    def __init__(self, profiles: Sequence[Profile], border: Loop) -> None:
        import shapely

        self._steel = [shapely.Polygon(polyline(p.outer, CHORDS), _openings(p)) for p in profiles]
        self._tree = shapely.STRtree(self._steel)
        self._plate = shapely.Polygon(polyline(border, CHORDS))

    def free_for(self, own: int, kerf: float) -> Free:
        """Whether a lead is clear of every part but its own, by as much as a pierce needs, and on the plate.

        Args:
            own: Number of its own part.
            kerf: Width of the cut [mm].
        """
        import shapely

        room = room_of(kerf)

        def free(pierce: Point, start: Point) -> bool:
            line = shapely.LineString([pierce, start])
            if not self._plate.contains(shapely.Point(pierce).buffer(room)):
                return False
            return not any(int(k) != own for k in self._tree.query(line, predicate="dwithin", distance=room))

        return free

    def faults(self, leads: Sequence[Edge], size: float, kerf: float) -> list[str]:
        """Leads that cut into a part, pierce at the edge of one or begin off the plate, in words.

        Args:
            leads: Each from its free end.
            size: How far a lead may reach into a part by rounding [mm].
            kerf: Width of the cut [mm].
        """
        import shapely

        found = []
        for e in leads:
            pierce, line = shapely.Point(e.x0, e.y0), shapely.LineString([(e.x0, e.y0), (e.x1, e.y1)])
            where = f"the lead from {e.x0:.3f}, {e.y0:.3f} mm"
            met = [self._steel[k].buffer(-2.0 * CHORDS) for k in self._tree.query(line, predicate="intersects")]
            if any(steel.intersection(line).length > size for steel in met):
                found.append(f"{where} cuts into a part")
            # a short lead at 45 deg to its own part lies nearer than it is long
            least = min(kerf / 2.0, 0.7 * e.length - 2.0 * CHORDS)
            if len(self._tree.query(pierce, predicate="dwithin", distance=least)):
                found.append(f"{where} pierces at the edge of a part")
            if not self._plate.contains(pierce):
                found.append(f"{where} begins off the sheet")
        return found


def _openings(profile: Profile) -> list[tuple[Point, ...]]:
    rings = [circle(h.x, h.y, d) for h in profile.holes if (d := cut_diameter(h)) is not None]
    return [polyline(loop, CHORDS) for loop in (*profile.inner, *rings)]
