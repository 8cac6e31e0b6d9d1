"""Names that people, their scripts and their notes rely on: none may go without being missed.

Topics and results of `calc` stand in tests/calc/test_topics.py, the keys of summary.json in its schema.
A claim that is given up goes to `RETIRED` (checks/registry.py) and to `GIVEN_UP` here; its code is
never used again.
"""

import re

from fixturegen import nest_flow
from fixturegen.checks import registry
from fixturegen.cli.main import cli, command_names
from fixturegen.drawings import proof
from fixturegen.pages import proving
from fixturegen.templates import documents as templates
from fixturegen.write import readback, sheet_files, staging, step, summary
from tests.checks.boundary_pairs import PAIRS

COMMANDS = {
    "build": {"--out", "--only", "--units", "--json", "--no-cache"},
    "calc": {"--json"},
    "check": {"--sheet", "--json", "--no-cache"},
    "clear": {"--out", "--no-cache", "--json"},
    "coupon": {
        *("--plate", "--window", "--block", "--kerf-set", "--hole-1", "--hole-2", "--hole-3", "--slot", "--saddle"),
        *("--letters", "--flange-a", "--flange-b", "--flat", "--radius", "--angle"),
        *("--revision", "--dry-run", "--json"),
    },
    "links": {"--points", "--out", "--png", "--search", "--take", "--spread", "--seed", "--json"},
    "nest": {"--seconds", "--json", "--no-cache"},
    "papers": {"--out", "--paper", "--no-cache", "--json"},
    "new": {"--axle", "--housing", "--knuckle", "--filled", "--section"},
    "tables": {"--json"},
}

CLAIMS = {
    *("ACC-01", "ACC-02", "ACC-03", "ACC-04", "ACC-05", "ACC-06", "ACC-07", "ACC-08"),
    *("ANG-01", "ANG-02", "ANG-03", "ANG-04"),
    *("BAR-01", "BAR-02", "BAR-03"),
    *("BND-01", "BND-02", "BND-03", "BND-04", "BND-05", "BND-06"),
    *("BRK-01", "BRK-02", "BRK-03", "BRK-04", "BRK-05", "BRK-06"),
    *("BRK-07", "BRK-08", "BRK-09", "BRK-10", "BRK-11", "BRK-12"),
    *("BUD-01", "BUD-02", "BUD-03"),
    *("CLR-01", "CLR-02", "CLR-03", "CLR-04", "CLR-05", "CLR-06"),
    *("CMP-01", "CMP-02", "CMP-03", "CMP-04", "CMP-05"),
    *("CUT-03", "CUT-04", "CUT-05", "CUT-06", "CUT-07", "CUT-08", "CUT-09"),
    *("FIT-01", "FIT-02", "FIT-03", "FIT-04", "FIT-05", "FIT-06", "FIT-07"),
    *("FIT-08", "FIT-09", "FIT-10", "FIT-11", "FIT-12", "FIT-13", "FIT-14"),
    *("GAU-01", "GAU-02", "GAU-03", "GAU-04"),
    *("HOL-01", "HOL-02", "HOL-03", "HOL-04"),
    *("HSG-01", "HSG-02", "HSG-03", "HSG-04", "HSG-05"),
    *("JNT-01", "JNT-02", "JNT-03"),
    *("LCT-01", "LCT-02", "LCT-03"),
    "LOC-01",
    "MRK-01",
    *("LNK-01", "LNK-02", "LNK-03", "LNK-04", "LNK-05", "LNK-06", "LNK-07", "LNK-08", "LNK-09", "LNK-10", "LNK-11"),
    *("LNK-12", "LNK-13"),
    "LOD-01",
    "NST-01",
    *("RDG-01", "RDG-02"),
    *("STA-01", "STA-02", "STA-03", "STA-04", "STA-05", "STA-06"),
    *("STR-01", "STR-02", "STR-03", "STR-04", "STR-05", "STR-06", "STR-07", "STR-08", "STR-09", "STR-10"),
    *("TAB-01", "TAB-02", "TAB-03"),
    *("TCH-01", "TCH-02", "TCH-03"),
    *("TRS-01", "TRS-02", "TRS-03", "TRS-04", "TRS-05", "TRS-06"),
    *("TRS-07", "TRS-08", "TRS-09", "TRS-10", "TRS-11", "TRS-12"),
    *("TRS-13", "TRS-14"),
    "WLD-01",
}

FILE_CLAIMS = {
    *("CUT-01", "CUT-02", "CUT-10", "DRW-01", "GEO-01", "JSN-01", "NST-02", "NST-03", "PDF-01", "PDF-02", "PDF-03"),
    "STP-01",
}

GIVEN_UP: set[str] = set()


def test_the_commands_and_their_options_are_exactly_these_or_more_on_purpose() -> None:
    assert set(command_names()) == set(COMMANDS)
    for name, options in COMMANDS.items():
        command = cli.get_command(None, name)  # type: ignore[arg-type]
        assert command is not None
        assert {o for p in command.params for o in p.opts if o.startswith("--")} == options, name


def test_the_claim_codes_are_exactly_these() -> None:
    assert {c.code for c in registry.claims()} == CLAIMS


def test_the_claims_about_files_are_exactly_these() -> None:
    named = {readback.CODE, sheet_files.CODE, staging.KERF, staging.MADE, summary.CODE, step.CODE}
    named |= {nest_flow.LAYOUT, nest_flow.KEPT, proving.SCALE, proving.PLACES, templates.CODE, proof.CODE}
    assert named == FILE_CLAIMS
    assert named.isdisjoint(CLAIMS)


def test_a_code_given_up_stays_retired_and_out_of_use() -> None:
    assert set(registry.RETIRED) == GIVEN_UP
    assert GIVEN_UP.isdisjoint(CLAIMS | FILE_CLAIMS)


def test_codes_have_one_form_and_each_has_its_pair_of_cases() -> None:
    assert all(re.fullmatch(r"[A-Z]{3}-\d\d", code) for code in CLAIMS | FILE_CLAIMS)
    assert set(PAIRS) == CLAIMS | FILE_CLAIMS
