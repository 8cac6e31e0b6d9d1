"""Jack pads under the tubes."""

from __future__ import annotations

from fixturegen.sheet.specs import Sheet
from fixturegen.studies.truss_records import TrussPlan
from fixturegen.truss.shared import Drawn


def make_pads(sheet: Sheet, plan: TrussPlan) -> Drawn:
    """A flat pad on two cheeks under the tube, at each station of `truss.jack_pads`."""
    return Drawn()
