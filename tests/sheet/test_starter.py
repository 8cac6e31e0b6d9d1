import itertools
import re

import pytest

from fixturegen.errors import SheetFault
from fixturegen.sheet import read_text
from fixturegen.sheet.keys import all_keys
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.starter import LATER, starter
from fixturegen.sheet.starter_values import Variant
from tests.sheet.altered import faults

VARIANTS = [
    *(Variant("front", h, k) for h, k in itertools.product(("drop-out", "integral"), ("kingpin", "ball-joint"))),
    *(Variant("rear", h) for h in ("drop-out", "integral")),
]
IDS = [f"{v.position} {v.housing} {v.knuckle}" for v in VARIANTS]


def _blanks(text: str) -> dict[str, int]:
    """Dotted key and line of every blank, read from the text alone."""
    found, section, plates = {}, "", 0
    for number, line in enumerate(text.split("\n"), 1):
        if head := re.match(r"\[\[?([\w.]+)\]", line):
            section = head.group(1)
            if section == "plates":
                plates += 1
                section = f"plates[{plates}]"
        elif blank := re.match(r"# measure: (\w+) =", line):
            found[f"{section}.{blank.group(1)}"] = number
    return found


@pytest.mark.parametrize("variant", VARIANTS, ids=IDS)
def test_a_filled_starter_reads_without_a_fault(variant):
    sheet = read_text(starter(variant, "Try", filled=True))
    assert sheet.axle.position == variant.position
    assert sheet.housing.kind == variant.housing
    assert (sheet.knuckles.kind if sheet.knuckles else None) == (
        variant.knuckle if variant.position == "front" else None
    )


@pytest.mark.parametrize("variant", VARIANTS, ids=IDS)
def test_a_blank_starter_names_exactly_its_blanks_with_their_lines(variant):
    text = starter(variant, "Try")
    blanks = _blanks(text)
    pattern = {"housing.face.studs.circle_diameter", "housing.face.studs.angles"}
    found = {f.key: f.line for f in faults(text)}
    assert found.pop("housing.face.studs")  # one pattern of two
    assert found == {key: line for key, line in blanks.items() if key not in pattern}


@pytest.mark.parametrize("variant", VARIANTS, ids=IDS)
def test_a_blank_starter_holds_no_measured_value(variant):
    given = {line.split(" =")[0] for line in starter(variant).split("\n") if re.match(r"\w+ = ", line)}
    assert given <= {"schema", "name", "position", "kind", "nominal", "length"}


@pytest.mark.parametrize("variant", VARIANTS, ids=IDS)
def test_every_blank_filled_in_by_hand_reads(variant):
    # take "# measure:" away and write the value of the filled starter: what a person does
    filled = {}
    section = ""
    for line in starter(variant, filled=True).split("\n"):
        if head := re.match(r"\[+([\w.]+)", line):
            section = head.group(1)
        elif value := re.match(r"(\w+) = (.*)", line):
            filled.setdefault(f"{section}.{value.group(1)}", []).append(value.group(2))
    lines = []
    for line in starter(variant).split("\n"):
        if head := re.match(r"\[+([\w.]+)", line):
            section = head.group(1)
        if blank := re.match(r"# measure: (\w+) =", line):
            values = filled[f"{section}.{blank.group(1)}"]
            line = f"{blank.group(1)} = {values.pop(0) if len(values) > 1 else values[0]}"
        lines.append(line)
    by_hand = "\n".join(lines)
    extras = {"taper_per_foot", "depth"}  # of the pivots: which of them is wanted depends on the kind
    assert {f.key.rsplit(".", 1)[-1] for f in faults(by_hand)} <= extras


@pytest.mark.parametrize("variant", VARIANTS, ids=IDS)
def test_the_starter_names_every_key_of_its_axle_with_its_words(variant):
    text = starter(variant)
    left_out = {"caster", "end_flange_thickness", "knuckles", "jig"}
    for path, key in all_keys(Sheet):
        if path[0] == "knuckles" and variant.position == "rear":
            assert "[knuckles" not in text
            continue
        if path[0] in LATER or key.name in left_out or key.section is not None or path[0] == "plates":
            continue
        assert re.search(rf"^(# measure: |# |# [a-z]+ = .*)?{key.name} = ", text, re.MULTILINE), path
        assert key.doc.split(",")[0] in text or key.name == "schema", path


def test_a_front_starter_asks_for_caster_and_a_rear_one_for_its_end_flange():
    front, rear = starter(Variant()), starter(Variant("rear"))
    assert "# measure: caster" in front
    assert "end_flange_thickness" not in front
    assert "caster" not in rear.replace("caster-setting", "")
    assert "# end_flange_thickness" in rear


def test_the_measured_distance_of_a_drop_out_has_no_value():
    assert '# measure: bore_distance = ""' in starter(Variant())


def test_cover_bolts_of_a_casting_are_tapped_from_the_start():
    assert 'length = "0 in"' in starter(Variant("front", "integral"))


@pytest.mark.parametrize("name", ['My "good" axle', "C:\\jobs", "x" * 200, "Ünïcode", "a]b # c"])
def test_any_name_of_a_job_reads_back(name):
    assert read_text(starter(Variant(), name, filled=True)).job.name == name[:60]


def test_the_same_variant_gives_the_same_text():
    assert starter(Variant()) == starter(Variant())
    assert starter(Variant()).endswith("\n")
    assert "\r" not in starter(Variant())


def test_a_filled_starter_says_on_top_that_it_is_invented():
    assert "EVERY NUMBER BELOW IS INVENTED" in starter(Variant(), filled=True)[:600]
    assert "INVENTED" not in starter(Variant())


def test_a_starter_uncommented_without_values_is_refused():
    text = starter(Variant()).replace("# measure: ", "")
    with pytest.raises(SheetFault):
        read_text(text)
