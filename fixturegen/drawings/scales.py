"""Scales drawings are made in."""

SMALLER = (2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 50.0, 100.0)
SCALES = (5.0, 4.0, 2.0, 1.0, *(1.0 / n for n in SMALLER))
"""[1] Source: iso-5455 with 1:3, 1:4, 1:6, 1:8, 1:12 and 1:16 of the inch trades, from memory."""
