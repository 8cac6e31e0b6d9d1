"""The torch's path: half a kerf into the scrap all round, by Steiner's formula."""

import math

import pytest

from fixturegen.errors import GeometryFault
from fixturegen.plate import Profile
from fixturegen.plate.profile import perimeter, rectangle, reversed_loop, signed_area
from fixturegen.write.kerf import torch_part
from tests.write.toys import OUTSIDE_AREA, plate_part


def test_the_outside_grows_as_a_convex_shape_does() -> None:
    # Steiner's formula for a convex region: A(d) = A + P d + pi d^2
    part = plate_part()
    assert part.profile is not None
    torch = torch_part(part, 1.6).profile
    assert torch is not None
    d = 0.8
    expected = OUTSIDE_AREA + perimeter(part.profile.outer) * d + math.pi * d**2
    assert signed_area(torch.outer) == pytest.approx(expected, rel=1e-9)


def test_openings_and_holes_shrink_and_pilot_marks_stay() -> None:
    torch = torch_part(plate_part(), 1.6).profile
    assert torch is not None
    assert signed_area(torch.inner[0]) == pytest.approx(-(40.0 - 1.6) * (9.6 - 1.6), rel=1e-9)
    assert [h.cut for h in torch.holes] == [pytest.approx(15.4), None, pytest.approx(11.9)]


def test_no_kerf_changes_nothing() -> None:
    part = plate_part()
    assert torch_part(part, 0.0) is part


@pytest.mark.parametrize(("width", "fits"), [(1.61, True), (1.59, False)])
def test_an_opening_narrower_than_the_kerf_is_refused(width: float, fits: bool) -> None:
    slot = reversed_loop(rectangle(20.0, 20.0, 60.0, 20.0 + width))
    part = plate_part(profile=Profile(plate_part().profile.outer, (slot,)))
    if fits:
        torch_part(part, 1.6)
    else:
        with pytest.raises(GeometryFault):
            torch_part(part, 1.6)
