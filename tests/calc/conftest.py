"""A toy topic, and a folder whose files count as topics."""

import sys

import pytest

import fixturegen.calc

TOY = '''
"""A toy."""
from dataclasses import dataclass
from typing import Annotated
from fixturegen.calc import Answer, Columns
from fixturegen.findings import Trust
from fixturegen.units import Length


@dataclass(frozen=True, kw_only=True)
class Toy(Answer):
    """A toy."""

    twice: Annotated[float, Length("0 in", "10 in")]
    words: str
    rows: Annotated[tuple[tuple[str, float], ...], Columns((("name", ""), ("size", "mm")))]


def toy_topic(
    lambda_: Annotated[float, Length("0 in", "100 in")],
    Big_one: Annotated[float, Length("0 in", "100 in")] = 25.4,
) -> Toy:
    """A toy of a topic.

    Args:
        lambda_: A length [mm].
        Big_one: Another [mm].
    """
    return Toy(
        twice=2 * lambda_, words="ok", rows=(("a", 1.0), ("b", 2.5)),
        formula="f", source="s", trust=Trust.DERIVED,
    )
'''


@pytest.fixture
def toy():
    """The text of a topic."""
    return TOY


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """A folder whose files count as topics."""
    monkeypatch.setattr(fixturegen.calc, "__path__", [*fixturegen.calc.__path__, str(tmp_path)])
    yield tmp_path
    for name in [m for m in sys.modules if m.startswith("fixturegen.calc.toy")]:
        del sys.modules[name]
