"""Tabs on a shock hoop, or on the rail below one: the upper end of a shock on the chassis."""

from __future__ import annotations

from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.tab_sets import TabKind, make_tabs, other_bolt_words
from fixturegen.studies.bracket_records import Mount, TubeBase

NOTE = "the body of the shock and its reservoir turn about this bolt: look for hoop and rail at full droop"


def make_hoop_tab(context: BracketContext, mount: Mount) -> MadeBracket:
    """The tabs of a shock's upper eye, across the tube of its hoop.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    notes = [NOTE, *other_bolt_words(context, mount)]
    if isinstance(mount.base, TubeBase):
        notes.append("keep its beads two tube diameters off a bend of the hoop and off its weld to the rail")
    return make_tabs(context, mount, TabKind("Hoop tab", tuple(notes), what="eye"))
