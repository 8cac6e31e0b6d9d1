"""Contradictions about the weights that the axle carries."""

from __future__ import annotations

from collections.abc import Iterator

from fixturegen.sheet.contradictions.rule import Clash, beside, rule
from fixturegen.sheet.specs import Sheet

AXLE_LOAD = ("loads", "axle_load")


@rule
def axle_load_against_truck(sheet: Sheet) -> Iterator[Clash]:
    """An axle that weighs on the ground as much as the whole truck."""
    loads = sheet.loads
    if loads is not None and loads.truck_load is not None and loads.axle_load >= loads.truck_load:
        yield Clash(
            AXLE_LOAD,
            beside(loads.axle_load, ("loads", "truck_load"), loads.truck_load),
            f"less than {loads.truck_load.text}",
            "weigh this axle with the other one off the scales, then the whole truck",
        )


@rule
def unsprung_against_axle_load(sheet: Sheet) -> Iterator[Clash]:
    """Axle and wheels that weigh more than rests on them and with them."""
    loads = sheet.loads
    if loads is not None and loads.unsprung is not None and loads.unsprung >= loads.axle_load:
        yield Clash(
            ("loads", "unsprung"),
            beside(loads.unsprung, AXLE_LOAD, loads.axle_load),
            f"less than {loads.axle_load.text}",
            "axle_load holds the weight of axle and wheels too: weigh the axle on the ground, truck complete",
        )


@rule
def steering_on_a_rear_axle(sheet: Sheet) -> Iterator[Clash]:
    """A force in the drag link of an axle that has none."""
    loads = sheet.loads
    if loads is not None and loads.steering_force is not None and sheet.axle.position == "rear":
        yield Clash(
            ("loads", "steering_force"),
            f'{loads.steering_force.text}, with axle.position = "rear"',
            "nothing on a rear axle",
            "take steering_force off the sheet",
        )
