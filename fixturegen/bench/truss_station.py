"""Fitting the truss: what is put where, gaps to feel for, beads in their order."""

from __future__ import annotations

from fixturegen.bench.records import (
    Listing,
    Reading,
    Station,
    assumed_of,
    caliper,
    fine,
    tape_reading,
    tape_within,
    taped,
)
from fixturegen.checks.truss import drawn_plan
from fixturegen.pages import cautions
from fixturegen.pages.documents import Contents
from fixturegen.plate import Part
from fixturegen.units.written import MM_PER_INCH

ORDER = 45  # before the brackets: an upper one may stand on it
PARTS = ("Part", "What", "How many", "Know first")
NAME = "truss"
STATION_GOOD = MM_PER_INCH / 8.0  # [mm] common practice, no source
ROOT_GOOD = "1/16 in at most"  # AWS D1.1, fit-up of fillets, from memory
OFF = {"drop-out": "third member, its nuts, fill plug", "integral": "cover, its bolts, fill plug"}
OFF_JIG = "Housing out of the jig: its plates stand where the truss goes. Bar and pucks alone go back in; dial again."
DIAL_GOOD = 0.010 * MM_PER_INCH  # [mm] common practice, no source
AIR_GOOD = "none touches"
ZERO = (
    "ZERO along the axle is the machined wheel mount surface; across it is the axle line, pinion level. The bar stays "
    "in its bores while the truss is tacked, and is turned by hand after every bead."
)


def station(contents: Contents) -> Station | None:
    """The sheet on which the truss is fitted; None where the job has none."""
    job, units = contents.job, contents.units
    truss = job.assemblies.get(NAME)
    if truss is None:
        return None
    names = [name for name in dict.fromkeys(p.part for p in truss.placements) if name in job.parts]
    rows = []
    for name in names:
        part = job.parts[name]
        state = "HELD: not cut" if name in contents.held else f"{part.quantity} off, {taped(part.thickness, units, 64)}"
        rows.append((name, part.label, state, _first(part)))
    beads = tuple(
        (w.parts[0], w.parts[1], taped(w.leg, units, 32), taped(w.length, units, 16), w.words)
        for w in truss.welds
        if not any(p in contents.held for p in w.parts)
    )
    return Station(
        slug="fit-truss",
        title="Fit the truss",
        zero=ZERO,
        assumed=assumed_of(contents.assumptions, ("truss",)),
        readings=_readings(contents),
        steps=(*((OFF_JIG,) if "jig" in job.assemblies else ()), *truss.steps),
        lists=(
            Listing("Parts", "", PARTS, (0.14, 0.27, 0.2, 0.39), tuple(rows), "fits", 0.08),
            Listing(
                "Beads", "", ("Part", "To", "Leg", "Length", "How"), (0.15, 0.15, 0.15, 0.17, 0.38), beads, "done", 0.08
            ),
        ),
        cautions=(cautions.VENT, cautions.IRON, cautions.CLEANER, cautions.EARTH_HOUSING, cautions.LIFT),
    )


def _first(part: Part) -> str:
    """What its maker says of a part first; not how it is cut, that is done by now."""
    return next((note for note in part.notes if not note.startswith("cut with")), "")


def _readings(contents: Contents) -> tuple[Reading, ...]:
    return (
        *_places(contents),
        Reading(f"{OFF[contents.job.sheet.housing.kind]}", "come off and go on", "all of them", "try each", ("dry",)),
        Reading("bar in its bores", "turns by hand", "no tight spot", "by hand", ("dry", "tacked", "cold")),
        Reading(
            "dial at each tube end, up and down",
            "what it was before",
            f"{fine(DIAL_GOOD, contents.units)} (common practice)",
            "dial indicator",
            ("left dry", "left cold", "right dry", "right cold"),
        ),
    )


def _places(contents: Contents) -> tuple[Reading, ...]:
    """Where it ends, how high it stands, what gaps it is cut for; none where it could not be planned."""
    plan, units = drawn_plan(contents.job), contents.units
    if plan is None:
        return ()
    half, good = contents.job.axle.half_width, tape_within(STATION_GOOD, units)
    right, left = half + plan.ends[0], half - plan.ends[1]
    found = [
        tape_reading("left end, from the left wheel mount surface", left, units, good, "tape"),
        tape_reading("right end, from the right wheel mount surface", right, units, good, "tape"),
    ]
    if plan.runs:
        height = "top of the truss above the axle line, where it is highest"
        found.append(tape_reading(height, plan.height, units, good, "square and rule from the bar"))
    found.append(
        Reading("root gap where it is welded, dry", caliper(plan.gap, units), ROOT_GOOD, "feeler, wire", ("widest",))
    )
    found.append(
        Reading("air to what it is not welded to", caliper(plan.air, units), AIR_GOOD, "feeler, drill", ("smallest",))
    )
    return tuple(found)
