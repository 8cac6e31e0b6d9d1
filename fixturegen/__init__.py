"""fixturegen: one build sheet of measured values in, jigs, cut files and bench papers out."""

__version__ = "0.1.0"
__all__ = ["__version__"]
