"""How the makers of brackets are found and what they give back.

A maker is a module of this package named by its kind (two_tab for "two-tab") with a function
`make_<module>(context, mount) -> MadeBracket`. No maker imports another; what they share stands in
`frames`, `ears`, `tab_sets` (shocks, straps, stabilizers), `seat_sets` (seats and pads on legs), `rails`
and the modules of `parts` for holes, tabs and marks.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable
from dataclasses import dataclass

from fixturegen.axle.model import AxleModel
from fixturegen.errors import GeometryFault
from fixturegen.parts.marking import completed
from fixturegen.plate import Assembly, Mark, Part, Placement, Profile, Weld
from fixturegen.plate.bracket_set import BracketSet, Unmade
from fixturegen.plate.labels import told_apart
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.specs.brackets import NEVER_WELDED
from fixturegen.studies.bracket_records import BracketFacts, BracketPlan, Mount
from fixturegen.studies.cutting_rules import CuttingRules, rules_for
from fixturegen.studies.jig_records import JigPlan
from fixturegen.studies.locator_records import Locator

ASSEMBLY = "brackets"
KIND = "brackets"
LOCATORS = "locators"
NO_WELD = "it would be welded to the {}, and nothing is ever welded to a steering part, spindle, ball joint or caliper"
BOLT_IT = "weld it to the tube, or take a part that has the mount on it or a clamp that is bolted on"


@dataclass(frozen=True)
class BracketContext:
    """What a maker works from."""

    sheet: Sheet
    axle: AxleModel
    plan: JigPlan
    brackets: BracketPlan

    def rules(self, mount: Mount) -> CuttingRules:
        """What the cutter can do on a bracket's plate."""
        return rules_for(self.sheet, mount.thickness)

    def material(self, mount: Mount) -> str:
        """Material of a bracket's plate."""
        return min(self.sheet.plates, key=lambda p: abs(p.nominal - mount.spec.plate)).material

    def plate(
        self,
        mount: Mount,
        *,
        name: str,
        label: str,
        thickness: float,
        profile: Profile,
        datum: str,
        notes: tuple[str, ...],
        marks: tuple[Mark, ...] = (),
        quantity: int = 1,
    ) -> Part:
        """A flat plate of a bracket, of its material and hand; the rest as of `Part`, thickness [mm]."""
        return Part(
            name=name,
            label=label,
            kind=KIND,
            form="plate",
            thickness=thickness,
            material=self.material(mount),
            profile=profile,
            hand=mount.hand,
            quantity=quantity,
            marks=marks,
            datum=datum,
            notes=notes,
        )


@dataclass(frozen=True)
class MadeBracket:
    """What a maker gives back; placements stand in frame A.

    Attributes:
        parts: Parts to cut, their marks not yet complete.
        placements: Where they stand.
        welds: What is welded to what.
        hardware: Bought things (what, size, quantity, where).
        facts: What checks need to know.
    """

    parts: tuple[Part, ...]
    placements: tuple[Placement, ...]
    welds: tuple[Weld, ...]
    hardware: tuple[tuple[str, str, int, str], ...]
    facts: BracketFacts


@dataclass(frozen=True)
class MadeLocator:
    """What holds one dummy bolt; placements stand in frame T.

    Attributes:
        locator: Its layout.
        parts: Its plates, their marks not yet complete.
        placements: Where they stand.
        welds: What is welded to what.
        hardware: Bought things (what, size, quantity, where).
    """

    locator: Locator
    parts: tuple[Part, ...]
    placements: tuple[Placement, ...]
    welds: tuple[Weld, ...]
    hardware: tuple[tuple[str, str, int, str], ...]


@dataclass(frozen=True)
class LocatorSet:
    """All locators of a job.

    Attributes:
        parts: Every part.
        assembly: "locators" in frame T, the brackets in it; None without locators.
        locators: Their layouts.
        unmade: Brackets that no locator goes to.
    """

    parts: tuple[Part, ...] = ()
    assembly: Assembly | None = None
    locators: tuple[Locator, ...] = ()
    unmade: tuple[Unmade, ...] = ()


def maker_of(kind: str) -> Callable[[BracketContext, Mount], MadeBracket]:
    """The maker of a kind of bracket."""
    name = kind.replace("-", "_")
    module = importlib.import_module(f"fixturegen.brackets.{name}")
    made: Callable[[BracketContext, Mount], MadeBracket] = getattr(module, f"make_{name}")
    return made


def make_brackets(sheet: Sheet, axle: AxleModel, plan: JigPlan, brackets: BracketPlan) -> BracketSet:
    """Every bracket of a plan; one that cannot be drawn is told and leaves the others alone."""
    context = BracketContext(sheet, axle, plan, brackets)
    parts: list[Part] = []
    made: list[MadeBracket] = []
    unmade: list[Unmade] = []
    for mount in brackets.mounts:
        if mount.spec.on in NEVER_WELDED:
            unmade.append(Unmade(mount.name, f"{mount.label}: {NO_WELD.format(mount.spec.on)}", BOLT_IT))
            continue
        try:
            one = maker_of(mount.spec.kind)(context, mount)
        except GeometryFault as fault:
            unmade.append(Unmade(mount.name, fault.words, fault.remedy))
            continue
        except ValueError as fault:
            unmade.append(Unmade(mount.name, f"cannot be drawn ({fault})", "check its points, joint and plate"))
            continue
        made.append(one)
        parts += [completed(p, sheet, [q for q in one.placements if q.part == p.name]) for p in one.parts]
    if not made:
        return BracketSet(unmade=tuple(unmade))
    assembly = Assembly(
        name=ASSEMBLY,
        frame="A",
        placements=tuple(p for m in made for p in m.placements),
        welds=tuple(w for m in made for w in m.welds),
        hardware=tuple(h for m in made for h in m.hardware),
        steps=(),
    )
    facts = {m.facts.mount.name: m.facts for m in made}
    held = _locators(context, facts, assembly.placements)
    assemblies = (assembly,) if held.assembly is None else (assembly, held.assembly)
    return BracketSet((*told_apart(parts), *held.parts), assemblies, facts, tuple(unmade), held.locators, held.unmade)


def _locators(context: BracketContext, facts: dict[str, BracketFacts], placements: tuple[Placement, ...]) -> LocatorSet:
    """What holds the dummy bolts; found by its file, as makers of brackets are."""
    module = importlib.import_module("fixturegen.brackets.locators")
    made: LocatorSet = module.make_locators(context, facts, placements)
    return made
