"""An example sheet with few brackets, for tests of builds in which brackets are not the matter."""

import re


def few_brackets(text: str, keep: int = 1) -> str:
    """The text of a sheet with its first brackets only, and without [clearance]; a build of it takes half the time."""
    tables = re.split(r"(?m)^(?=\[)", text)
    kept, brackets = [], 0
    for table in tables:
        name = table.partition("]")[0].strip("[")
        if name == "clearance" or name.startswith("clearance."):
            continue
        brackets += name == "brackets"
        if name != "brackets" or brackets <= keep:
            kept.append(table)
    return "".join(kept)
