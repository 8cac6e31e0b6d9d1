"""What a file alone adds: a maker, a claim. Toys are dropped into a folder that counts as the room's.

Topics (tests/calc), commands (tests/cli) and migrations (tests/sheet) have their toys beside them.
"""

import sys
from pathlib import Path

import pytest

import fixturegen.checks
import fixturegen.parts
from fixturegen.axle.model import axle_of
from fixturegen.checks import registry as claim_registry
from fixturegen.checks.registry import Job
from fixturegen.checks.release import release
from fixturegen.errors import GeometryFault, ProgramFault
from fixturegen.findings import Level
from fixturegen.parts import registry as maker_registry
from fixturegen.studies.jig_plan import plan_of
from tests.studies.study_jobs import case, sheet_of

TOY_MAKER = '''
"""Toy blocks."""
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Part, Placement, Turned, TurnedStep


def make_toy_blocks(context: Context) -> Made:
    """One round block on the table."""
    part = Part("toy-block", "Toy block", "toy_blocks", "turned", turned=Turned((TurnedStep(20.0, 30.0),)), needs=NEEDS)
    return Made(parts=(part,), placements=(Placement("toy-block", group="toys"),), steps=((0, "Set the toy down."),))


NEEDS = ("TOY-01",)
'''

TOY_CLAIM = '''
"""Toy claim."""
from fixturegen.checks.registry import claim
from fixturegen.findings import Level


@claim("TOY-01", "the toy stands", holds="part", stage="numbers")
def check_toy_stands(claim, job):
    """One finding on the toy."""
    return [claim.finding(Level.PASS, "it stands", parts=("toy-block",))]
'''


@pytest.fixture
def parts_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """A folder whose files count as makers."""
    folder = tmp_path / "parts"
    folder.mkdir()
    monkeypatch.setattr(fixturegen.parts, "__path__", [*fixturegen.parts.__path__, str(folder)])
    yield folder
    forget("fixturegen.parts.toy")


@pytest.fixture
def checks_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """A folder whose files count as claims; what they declare is forgotten again."""
    claim_registry.claims()  # what is ours stands before the copy is taken
    folder = tmp_path / "checks"
    folder.mkdir()
    monkeypatch.setattr(claim_registry, "_CLAIMS", dict(claim_registry._CLAIMS))
    monkeypatch.setattr(fixturegen.checks, "__path__", [*fixturegen.checks.__path__, str(folder)])
    yield folder
    forget("fixturegen.checks.toy")


def forget(prefix: str) -> None:
    for name in [m for m in sys.modules if m.startswith(prefix)]:
        package, _, last = name.rpartition(".")
        vars(sys.modules[package]).pop(last, None)
        del sys.modules[name]


def codes() -> list[str]:
    return [c.code for c in claim_registry.claims()]


def test_a_maker_is_found_by_its_file_alone(parts_folder: Path) -> None:
    before = dict(maker_registry.makers())
    (parts_folder / "toy_blocks.py").write_text(TOY_MAKER, encoding="utf-8")
    assert set(dict(maker_registry.makers())) - set(before) == {"toy_blocks"}
    parts, (jig,) = maker_registry.make_jig(*case())
    assert "toy-block" in {p.name for p in parts}
    assert "toy-block" in {p.part for p in jig.placements}
    assert jig.steps[1] == "Set the toy down."  # before it, the coupons are cut


def test_a_makers_own_drawing_in_an_underscore_file_is_no_maker(parts_folder: Path) -> None:
    before = maker_registry.makers()
    (parts_folder / "_toy_pieces.py").write_text("PIECES = 3\n", encoding="utf-8")
    assert maker_registry.makers() == before


def test_two_parts_of_one_name_are_refused(parts_folder: Path) -> None:
    (parts_folder / "toy_blocks.py").write_text(TOY_MAKER, encoding="utf-8")
    (parts_folder / "toy_bricks.py").write_text(TOY_MAKER.replace("toy_blocks(", "toy_bricks("), encoding="utf-8")
    with pytest.raises(ValueError, match="not unique"):
        maker_registry.make_jig(*case())


def test_a_maker_that_cannot_draw_at_these_sizes_says_so_in_a_sentence(parts_folder: Path) -> None:
    text = TOY_MAKER.replace("    part = Part(", "    raise ValueError('no room')\n    part = Part(")
    (parts_folder / "toy_blocks.py").write_text(text, encoding="utf-8")
    with pytest.raises(GeometryFault, match="toy blocks"):
        maker_registry.make_jig(*case())


def test_a_claim_is_found_by_its_file_alone_and_run_in_order_of_code(checks_folder: Path) -> None:
    assert "TOY-01" not in codes()
    (checks_folder / "toy_stands.py").write_text(TOY_CLAIM, encoding="utf-8")
    assert "TOY-01" in codes()
    assert codes() == sorted(codes())
    found = claim_registry.run(Job(*case()), "numbers")
    assert [f.words for f in found if f.code == "TOY-01"] == ["it stands"]
    assert "TOY-01" not in [c.code for c in claim_registry.claims("solids")]


def test_a_part_whose_claim_has_no_file_is_held_until_it_has_one(parts_folder: Path, checks_folder: Path) -> None:
    (parts_folder / "toy_blocks.py").write_text(TOY_MAKER, encoding="utf-8")
    sheet = sheet_of()
    axle = axle_of(sheet)
    plan = plan_of(sheet, axle)
    parts, assemblies = maker_registry.make_jig(sheet, axle, plan)
    toy = next(p for p in parts if p.name == "toy-block")
    assert release([toy], assemblies, ())["toy-block"] == "TOY-01: was not checked on this part"
    (checks_folder / "toy_stands.py").write_text(TOY_CLAIM, encoding="utf-8")
    one = next(c for c in claim_registry.claims() if c.code == "TOY-01")
    found = one.check(Job(sheet, axle, plan))
    assert found[0].level is Level.PASS
    assert release([toy], assemblies, found)["toy-block"] is None


def test_a_second_claim_of_one_code_is_refused_from_another_file(checks_folder: Path) -> None:
    text = TOY_CLAIM.replace("TOY-01", "FIT-01")
    (checks_folder / "toy_again.py").write_text(text, encoding="utf-8")
    with pytest.raises(ProgramFault, match="FIT-01 is declared twice"):
        claim_registry.claims()


def test_a_second_claim_of_one_code_is_refused_in_one_file(checks_folder: Path) -> None:
    second = TOY_CLAIM.partition("import Level")[2].replace("check_toy_stands", "check_toy_lies")
    (checks_folder / "toy_twice.py").write_text(TOY_CLAIM + second, encoding="utf-8")
    with pytest.raises(ProgramFault, match="TOY-01 is declared twice"):
        claim_registry.claims()


def test_a_retired_code_is_refused(checks_folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(claim_registry, "RETIRED", frozenset({"TOY-01"}))
    (checks_folder / "toy_stands.py").write_text(TOY_CLAIM, encoding="utf-8")
    with pytest.raises(ProgramFault, match="TOY-01 is retired"):
        claim_registry.claims()


def test_no_claim_in_use_is_retired() -> None:
    assert claim_registry.RETIRED.isdisjoint(codes())
