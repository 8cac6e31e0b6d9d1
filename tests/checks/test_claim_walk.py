"""Walks the registry of claims: each has one input that passes and one that trips, in a test by name.

Read from the tests' own text, so that a case which goes, or loses one of its two sides, is missed here.
"""

import ast
from functools import cache
from pathlib import Path

import pytest

from fixturegen import nest_flow
from fixturegen.checks import registry
from fixturegen.drawings import proof
from fixturegen.pages import proving
from fixturegen.templates import documents as templates
from fixturegen.write import readback, sheet_files, staging, step, summary
from tests.checks import boundary_pairs, test_number_claims
from tests.checks.boundary_pairs import PAIRS, Pair

TESTS = Path(__file__).parents[1]
FILES = {readback.CODE, sheet_files.CODE, staging.KERF, staging.MADE, summary.CODE, step.CODE}
FILES |= {nest_flow.LAYOUT, nest_flow.KEPT, proving.SCALE, proving.PLACES, templates.CODE, proof.CODE}
# a check of a whole table of limits: it halves the interval between a pass and a fail itself
CROSSING = "crossing"


@cache
def functions(file: str) -> dict[str, ast.FunctionDef]:
    tree = ast.parse((TESTS / file).read_text(encoding="utf-8"))
    return {n.name: n for n in tree.body if isinstance(n, ast.FunctionDef)}


def calls(node: ast.AST, name: str) -> bool:
    return any(isinstance(n, ast.Call) and isinstance(n.func, ast.Name) and n.func.id == name for n in ast.walk(node))


def sides(test: ast.FunctionDef) -> set[str]:
    """Which of pass and trip the assertions of a test look for, the inputs it is run on counted."""
    found: set[str] = set()
    for node in ast.walk(test):
        if isinstance(node, ast.Attribute) and node.attr in ("PASS", "FAIL", "WARN"):
            found.add("pass" if node.attr == "PASS" else "trip")
        if isinstance(node, ast.Assert):
            found |= {"pass"} if ast.unparse(node.test).endswith("== []") else set()
            found |= {"trip"} if ast.unparse(node.test).startswith("any(") else set()
    if calls(test, CROSSING):
        found |= {"pass", "trip"}
    for mark in test.decorator_list:
        if isinstance(mark, ast.Call) and len(mark.args) == 2 and "wanted" in ast.unparse(mark.args[0]):
            names, rows = ast.literal_eval(mark.args[0]), mark.args[1]
            at = names.index("wanted")
            for row in rows.elts if isinstance(rows, ast.List) else ():
                wanted = row.elts[at] if isinstance(row, ast.Tuple) else row
                found.add("trip" if ast.literal_eval(wanted) else "pass")
    return found


def asserts(test: ast.FunctionDef) -> bool:
    return any(isinstance(n, ast.Assert) for n in ast.walk(test))


def named_by(file: str, test: ast.FunctionDef, code: str) -> bool:
    """Whether the test, the table it runs on, or (claims about files) its room is of this code."""
    if test.name == boundary_pairs.TURNS:
        return code in test_number_claims.BOUNDARIES
    return code in FILES or repr(code) in ast.unparse(test)


def faults(code: str, pair: Pair) -> list[str]:
    """What is wrong with a row of the table."""
    there = functions(pair.file)
    found = [f"{pair.file} has no {t}" for t in {pair.passes, pair.trips} if t not in there]
    if found:
        return found
    for side, name in (("pass", pair.passes), ("trip", pair.trips)):
        test = there[name]
        if not asserts(test):
            found.append(f"{name} asserts nothing")
        if side not in sides(test):
            found.append(f"{name} shows no {side}")
        if not named_by(pair.file, test, code):
            found.append(f"{name} is not about {code}")
    return found


def test_every_claim_has_a_row_and_every_row_a_claim() -> None:
    assert set(PAIRS) == {c.code for c in registry.claims()} | FILES


@pytest.mark.parametrize("code", PAIRS)
def test_the_claim_is_shown_to_pass_and_to_trip(code: str) -> None:
    assert faults(code, PAIRS[code]) == []


@pytest.mark.parametrize(
    ("code", "pair", "words"),
    [
        ("FIT-01", boundary_pairs.both(boundary_pairs.SOLIDS, "test_that_is_not_there"), "has no"),
        ("FIT-01", boundary_pairs.both(boundary_pairs.SOLIDS, "test_fit_06_spans_are_told_in_words"), "shows no pass"),
        ("FIT-01", boundary_pairs.both(boundary_pairs.SOLIDS, PAIRS["FIT-02"].passes), "is not about FIT-01"),
        ("LOC-01", boundary_pairs.both(boundary_pairs.NUMBERS, boundary_pairs.TURNS), "is not about LOC-01"),
    ],
)
def test_a_row_that_shows_nothing_is_found_out(code: str, pair: Pair, words: str) -> None:
    assert any(words in f for f in faults(code, pair))
