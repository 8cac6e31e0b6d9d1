"""The cautions of the report: those that stand on every paper."""

from fixturegen.pages.cautions import TOP, WORK

__all__ = ["TOP", "WORK"]
