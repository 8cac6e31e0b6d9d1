"""Shock tabs: two plates beside the eye of a shock, or one that its bolt stands out of."""

from __future__ import annotations

from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.tab_sets import TabKind, make_tabs, other_bolt_words
from fixturegen.studies.bracket_records import Mount

NOTE = "a shock is neither bump stop nor strap: leave half an inch of its stroke at both ends"


def make_shock_tab(context: BracketContext, mount: Mount) -> MadeBracket:
    """The tabs of a shock on a tube, a plate or a rail.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    return make_tabs(context, mount, TabKind("Shock tab", (NOTE, *other_bolt_words(context, mount)), what="eye"))
