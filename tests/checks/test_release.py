"""The release rule: what holds what, and what never does. The rule is this project's own."""

import dataclasses
from typing import Any

import pytest

from fixturegen.checks.release import held_only, release
from fixturegen.findings import Finding, Level
from fixturegen.plate import Assembly, Part, Placement

A, B, C = (Part(n, n.upper(), "toy", "plate") for n in ("a", "b", "c"))
PARTS = (A, B, C)
STAND = Assembly("stand", "T", (Placement("a"), Placement("b")))


def finding(level: Level = Level.FAIL, **more: Any) -> Finding:
    return Finding(**{"code": "FIT-01", "level": level, "claim": "fits", "words": "0.2 mm over", **more})


def held(*findings: Finding, parts: tuple[Part, ...] = PARTS) -> dict[str, str]:
    return held_only(release(parts, (STAND,), findings))


def test_every_part_has_a_verdict() -> None:
    assert release(PARTS, (STAND,), ()) == {"a": None, "b": None, "c": None}


def test_a_fail_holds_the_parts_it_names_and_says_why() -> None:
    assert held(finding(parts=("b",))) == {"b": "FIT-01: 0.2 mm over"}


@pytest.mark.parametrize(
    ("level", "needed", "expected"),
    [
        (Level.FAIL, False, True),
        (Level.FAIL, True, True),
        (Level.NOT_CHECKED, True, True),
        (Level.NOT_CHECKED, False, False),
        (Level.WARN, True, False),
        (Level.PASS, True, False),
    ],
)
def test_only_a_fail_or_a_needed_claim_not_checked_holds(level: Level, needed: bool, expected: bool) -> None:
    for holds in ("part", "assembly", "job"):
        one = finding(level, needed=needed, parts=("a",), assembly="stand", holds=holds)
        assert bool(held(one)) is expected


def test_a_claim_that_holds_nothing_holds_nothing() -> None:
    assert held(finding(parts=("a",), assembly="stand", holds="nothing")) == {}


def test_a_claim_that_holds_assemblies_holds_all_members() -> None:
    found = held(finding(assembly="stand", holds="assembly"))
    assert found == dict.fromkeys("ab", "by stand FIT-01: 0.2 mm over")


def test_a_claim_that_holds_parts_leaves_the_rest_of_the_assembly_alone() -> None:
    assert set(held(finding(parts=("a",), assembly="stand", holds="part"))) == {"a"}


def test_a_claim_that_holds_the_job_holds_every_part() -> None:
    assert set(held(finding(holds="job"))) == {"a", "b", "c"}


def test_the_own_reason_stands_before_the_assembly_and_the_job() -> None:
    found = held(
        finding(code="JOB-01", holds="job"),
        finding(code="FIT-02", assembly="stand", holds="assembly"),
        finding(code="CUT-01", parts=("a",)),
    )
    assert found["a"].startswith("CUT-01")
    assert found["b"].startswith("by stand FIT-02")
    assert found["c"].startswith("by the job JOB-01")


def test_a_holding_finding_that_names_nothing_known_holds_the_widest_thing() -> None:
    assert set(held(finding(parts=("tube-left",)))) == {"a", "b", "c"}
    assert set(held(finding(parts=("tube-left",), assembly="stand"))) == {"a", "b"}
    assert set(held(finding(parts=("c", "tube-left")))) == {"c"}


def test_a_claim_on_assemblies_that_names_only_a_part_holds_its_assemblies() -> None:
    assert set(held(finding(parts=("a",), holds="assembly"))) == {"a", "b"}
    assert set(held(finding(parts=("c",), holds="assembly"))) == {"c"}


def test_a_claim_a_part_needs_must_have_been_looked_at() -> None:
    needy = dataclasses.replace(A, needs=("FIT-01",))
    parts = (needy, B, C)
    assert "FIT-01" in held(parts=parts)["a"]
    assert held(finding(Level.PASS, parts=("b",)), parts=parts) != {}
    for looked in (
        finding(Level.PASS, parts=("a",)),
        finding(Level.WARN, parts=("a", "b")),
        finding(Level.PASS, assembly="stand"),
        finding(Level.PASS),
    ):
        assert held(looked, parts=parts) == {}
    assert set(held(finding(Level.NOT_CHECKED, needed=False, parts=("a",)), parts=parts)) == {"a"}
