"""Tabs for the end of a limit strap."""

from __future__ import annotations

from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.tab_sets import TabKind, make_tabs
from fixturegen.studies.bracket_records import Mount

NOTES = (
    "round every edge the strap can touch by 1/16 in on both faces: a torch edge cuts webbing",
    "the strap goes tight half an inch before the shock is open; mount it so that it lies flat and untwisted",
)


def make_strap_tab(context: BracketContext, mount: Mount) -> MadeBracket:
    """The tabs that hold the bolt of a limit strap.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    return make_tabs(context, mount, TabKind("Strap tab", NOTES, what="strap end"))
