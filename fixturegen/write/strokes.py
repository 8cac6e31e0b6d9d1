"""Lettering as single strokes; drawn in `plate.lettering`, so that makers know the room it takes."""

from fixturegen.plate.lettering import Stroke, plain, strokes

__all__ = ["Stroke", "plain", "strokes"]
