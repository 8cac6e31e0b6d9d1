"""Makers of the truss: side plates, top, ribs, jack pads."""
