"""Scales drawings are made in."""

SCALES = (
    5.0,
    4.0,
    2.0,
    1.0,
    1 / 2,
    1 / 3,
    1 / 4,
    1 / 5,
    1 / 8,
    1 / 10,
    1 / 12,
    1 / 16,
    1 / 20,
    1 / 25,
    1 / 50,
    1 / 100,
)
"""[1] Source: iso-5455 with 1:3, 1:4, 1:8, 1:12 and 1:16 of the inch trades, from memory."""
