"""Fixtures of the tests of written files."""

import pytest

from fixturegen.plate import Part
from tests.write.toys import plate_part


@pytest.fixture
def part() -> Part:
    """The toy plate."""
    return plate_part()
