"""Ribs of a truss: they saddle tube or housing between the side plates, tabs in both and in a level top."""

from __future__ import annotations

from fixturegen.parts.joinery import XZ, filleted, tab
from fixturegen.plate import Loop, Part, Placement, Profile, Weld
from fixturegen.plate.outlines import mirrored
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.truss_records import Rib, TrussPlan
from fixturegen.truss.shared import ASSEMBLY, CUT, KIND, Drawn, beside_middle, loop_of, rib_tab, rib_top_tab


def make_ribs(sheet: Sheet, plan: TrussPlan) -> Drawn:
    """Every rib, marked face to the vehicle's left."""
    leg = 0.0 if sheet.truss is None else float(sheet.truss.leg)
    parts = tuple(_part(sheet, plan, r) for r in plan.ribs)
    places = tuple(Placement(r.name, (0.0, r.y[0], 0.0), XZ, ASSEMBLY) for r in plan.ribs)
    welds = []
    for rib in plan.ribs:
        long = rib_tab(rib)[1]
        welds += [
            Weld((rib.name, p.name), leg, long + 2.0 * plan.thickness, "over the tab, from outside")
            for p in plan.plates
        ]
        if rib_top_tab(plan, rib):
            run = plan.run_at(rib.station)
            onto = "truss-top" if run is None else run.name
            welds.append(Weld((rib.name, onto), leg, rib_top_tab(plan, rib), "over the tab, from above"))
    return Drawn(parts, places, tuple(welds))


def _part(sheet: Sheet, plan: TrussPlan, rib: Rib) -> Part:
    kerf = float(sheet.process.kerf)
    z, long = rib_tab(rib)
    rear, front = rib.lower[0].x, rib.lower[-1].x
    items: list[Loop | tuple[float, float, float]] = [loop_of(rib.lower)]
    items.append(tab(front, z, 90.0, long, plan.thickness, kerf))
    items += [(front, rib.top - CUT, 0.0), (front - CUT, rib.top, 0.0)]
    wide = rib_top_tab(plan, rib)
    if wide:
        run = next(r for r in plan.runs if r.right[0] <= rib.station <= r.left[0])
        items.append(tab((rear + front) / 2.0, rib.top, 180.0, wide, run.thickness, kerf))
    items += [(rear + CUT, rib.top, 0.0), (rear, rib.top - CUT, 0.0)]
    items.append(tab(rear, z, -90.0, long, plan.thickness, kerf))
    return Part(
        name=rib.name,
        label=rib.label.replace("Rib", f"Rib {rib.name.rsplit('-', 1)[-1]}", 1),  # counted from the right
        kind=KIND,
        form="plate",
        thickness=plan.thickness,
        material=plan.material,
        profile=Profile(outer=mirrored(filleted(tuple(items)))),
        datum="x rearward from the axle line, y from the axle line; marked face to the vehicle's left",
        notes=(
            f"its middle stands {beside_middle(rib.station)}",
            "corners are cut away so that water passes below and gas above; it is not welded to the axle",
        ),
    )
