"""Tests mirror the package; a test name is a sentence."""
