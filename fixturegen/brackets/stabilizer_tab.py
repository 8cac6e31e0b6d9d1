"""The tab of a steering stabilizer on the axle tube or a rail, never on a part that steers."""

from __future__ import annotations

from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.tab_sets import TabKind, make_tabs
from fixturegen.studies.bracket_records import Mount

NOTES = (
    "the stabilizer's other end is clamped on, with bolts: nothing is welded to tie rod, drag link or arm",
    "turn the steering from lock to lock by hand: the stabilizer must neither stop it nor pass over its middle",
    "steering work: local rules come first, and a licensed inspector looks at it before the road",
)


def make_stabilizer_tab(context: BracketContext, mount: Mount) -> MadeBracket:
    """One plate along the tube, its bolt square to tube and rod; two when the sheet asks for both.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    return make_tabs(context, mount, TabKind("Stabilizer tab", NOTES, ears="inner", what="eye"))
