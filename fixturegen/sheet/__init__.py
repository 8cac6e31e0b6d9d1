"""The build sheet: keys, reading, what is wrong with it, what it assumes, its history."""

from fixturegen.sheet.reading import read, read_text
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.values import assumptions, digest, flat

__all__ = ["Sheet", "assumptions", "digest", "flat", "read", "read_text"]
