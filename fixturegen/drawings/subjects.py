"""What the drawing of a part says beside its shape: stock, mass, tolerance and where it comes from."""

from __future__ import annotations

from fixturegen.drawings.sections import length_of, widest_of
from fixturegen.drawings.sheets import PaperName, Subject
from fixturegen.drawings.written import Writer
from fixturegen.drawings.zeros import zero_of
from fixturegen.pages.documents import Contents
from fixturegen.plate.part import Part
from fixturegen.plate.profile import Purpose, bounds
from fixturegen.stock import Material, NotInTable, entry
from fixturegen.studies.budget_inputs import PLACE
from fixturegen.studies.cutting_rules import rules_for

MASS_PLACES = 6  # decimals of a kg: a mass worked out another way keeps the same drawing
BOUGHT = "bought: "  # how the note of a part begins that is bought and worked on
PLAIN_FACES = ("face at the first length", "one face", "axis")
PLACED = (Purpose.ANGLE, Purpose.BORE, Purpose.DOWEL)
MADE = {"mill": "bored from coordinates on a mill", "marked": "drilled from a punched mark"}
MEDIUM = ((6.0, 0.1), (30.0, 0.2), (120.0, 0.3), (400.0, 0.5), (1000.0, 0.8), (2000.0, 1.2))
"""(up to a size, plus and minus) [mm]. Source: iso-2768-1, class m, from memory."""


def subject_of(part: Part, contents: Contents) -> Subject:
    """What is said of a part.

    Args:
        part: Any part.
        contents: Carries the sheet and the masses.
    """
    units = contents.job.sheet.job.units
    paper: PaperName = "a4" if contents.paper.name == "a4" else "letter"
    writer, mass = Writer(units), contents.masses.get(part.name)
    if part.profile is not None:
        zero = zero_of(part).words
    else:
        zero = f"the axis, and the face at the left end of the view{_face(part.datum)}"
    return Subject(
        name=part.name,
        label=part.label,
        job=contents.job.sheet.job.name,
        revision=contents.job.sheet.revision.id,
        units=units,
        paper=paper,
        material=_stock(part, writer),
        quantity=part.quantity,
        mass=None if mass is None else round(mass, MASS_PLACES),
        hand=part.hand,
        tolerance=_tolerance(part, contents, writer),
        places=_places(part, contents, writer),
        zero=zero,
    )


def _face(datum: str) -> str:
    """Which face a turned part is counted from, in brackets; nothing where the view alone tells."""
    # what follows tells how the solid's axes run, which no lathe hand needs
    words = datum.partition(";")[0].removeprefix("axis, ").removeprefix("and the ").removeprefix("axis and ")
    return "" if words in PLAIN_FACES else f" ({words})"


def _stock(part: Part, writer: Writer) -> str:
    bought = next((note for note in part.notes if note.startswith(BOUGHT)), None)
    if bought is not None:
        return bought.partition(";")[0]
    try:
        name = entry("materials", part.material, Material).name
    except NotInTable:
        name = part.material
    if part.profile is not None:
        return f"{name}, measured {writer.pair(part.thickness)}"
    if part.turned is not None:
        return f"{name}, \N{LATIN CAPITAL LETTER O WITH STROKE}{writer.pair(widest_of(part.turned))} or larger"
    if part.tube is not None:
        size, wall, _, square = part.tube
        return f"{name}, {'square' if square else 'round'} {writer.pair(size)}, wall {writer.pair(wall)}"
    return name


def _tolerance(part: Part, contents: Contents, writer: Writer) -> str:
    """What holds where no size carries limits of its own: the cutter's class, or the lathe's."""
    if part.profile is not None:
        return _cut(part, contents, writer)
    longest = length_of(part.turned) if part.turned is not None else part.tube[2] if part.tube else 0.0
    unit = "in" if writer.units == "in" else "mm"
    rows, low = [], 0.0
    for size, room in MEDIUM:
        rows.append(f"to {writer.first(size)} \N{PLUS-MINUS SIGN}{writer.first(room)}")
        if longest <= size or low > longest:
            break
        low = size
    return f"Sizes without limits, {unit}: {', '.join(rows)} (ISO 2768-1 medium, from memory)."


def _places(part: Part, contents: Contents, writer: Writer) -> str:
    """How true holes stand that set an angle or a place; empty for a part that has none."""
    if part.profile is None or not any(h.purpose in PLACED for h in part.profile.holes):
        return ""
    way = contents.job.sheet.process.angle_holes
    room = f"\N{PLUS-MINUS SIGN}{writer.full(PLACE[way]).split(' = ')[-1]}"
    return (
        f"Holes that set an angle or a place stand within {room} of their place, {MADE[way]} "
        "(common practice, no source); what is drilled in one stack or with its mate agrees with it."
    )


def _cut(part: Part, contents: Contents, writer: Writer) -> str:
    profile = part.profile
    if profile is None:
        return ""
    rules = rules_for(contents.job.sheet, part.thickness)
    x0, y0, x1, y1 = bounds(profile.outer)
    size = max(x1 - x0, y1 - y0)
    allowed = rules.tolerance(size)
    holes = "Holes as the table says: a marked hole is never cut to size."
    if allowed is None:
        return f"Cut edges ({rules.process_name}): the table has no class for this size, agree it. {holes}"
    words = f"\N{PLUS-MINUS SIGN}{writer.pair(allowed.value)}"
    quality = f"ISO 9013 class {rules.tolerance_class}"
    return f"Cut edges {words} over the whole length, {quality} ({rules.process_name}). {holes}"
