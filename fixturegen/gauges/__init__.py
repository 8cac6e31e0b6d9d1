"""Gauges: what the fabricator holds in the hand to prove a setting without the program."""
