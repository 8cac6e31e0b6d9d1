"""An example sheet with few brackets, for tests of builds in which brackets are not the matter."""

import re

LINKS = ("links", "loads", "joints", "brackets")
SLOW = ("access", "clearance", "gauges", "papers", "truss", "tube_ends")


def jig_alone(text: str) -> str:
    """A sheet with the jig alone: no links, so no brackets either; for tests that build the same job many times.

    Args:
        text: Of the sheet.
    """
    tables = re.split(r"(?m)^(?=\[)", few_brackets(text, keep=0))
    return "".join(t for t in tables if t.partition("]")[0].strip("[").partition(".")[0] not in LINKS)


def few_brackets(text: str, keep: int = 1, leave: tuple[str, ...] = ()) -> str:
    """A sheet with its first brackets only, without what makes a build slow: it takes half the time.

    Args:
        text: Of the sheet.
        keep: How many brackets stay.
        leave: Sections that stay although they are slow.
    """
    tables = re.split(r"(?m)^(?=\[)", text)
    kept, brackets = [], 0
    for table in tables:
        name = table.partition("]")[0].strip("[")
        if name.partition(".")[0] in SLOW and name.partition(".")[0] not in leave:
            continue
        if name == "brackets" and 'on = "truss"' in table:
            continue  # what it would stand on is left out
        brackets += name == "brackets"
        if name != "brackets" or brackets <= keep:
            kept.append(table)
    off = "" if "papers" in leave else "\n\n[papers]\nwith_build = false\n"
    return "".join(kept).rstrip("\n") + off
