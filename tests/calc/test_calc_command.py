"""`fixturegen calc` and `fixturegen tables` as they are typed."""

import json
import subprocess
import sys

import pytest

from fixturegen.calc import topic_names
from fixturegen.cli.main import main
from fixturegen.stock import table_names

FRONT = ["--caster", "7 deg", "--pinion", "10 deg", "--axle", "front"]


def run(capsys, *words):
    """Exit code, standard output and standard error of one command."""
    code = main([*words])
    out, err = capsys.readouterr()
    return code, out, err


def test_calc_lists_every_topic(capsys):
    code, out, _ = run(capsys, "calc")
    assert code == 0
    assert all(f"  {name}" in out for name in topic_names())
    code, out, _ = run(capsys, "calc", "--json")
    listed = json.loads(out)
    assert [t["name"] for t in listed["topics"]] == list(topic_names())
    assert listed["exit"] == 0


def test_an_answer_in_words_says_all_it_must(capsys):
    code, out, err = run(capsys, "calc", "bench-caster", *FRONT)
    assert (code, err) == (0, "")
    for words in ("17 deg", "caster: 7 deg", "formula", "ISO 8855", "trust     derived"):
        assert words in out


def test_a_length_is_answered_in_the_shop_form_and_mm(capsys):
    _, out, _ = run(capsys, "calc", "sine-height", "--length", "5 in", "--angle", "30 deg")
    assert "height: 2.5 in = 63.5 mm, 2 1/2 in" in out


@pytest.mark.parametrize("where", ["before", "after", "last"])
def test_json_is_one_object_wherever_it_is_asked_for(capsys, where):
    words = {
        "before": ["calc", "--json", "bench-caster", *FRONT],
        "after": ["calc", "bench-caster", "--json", *FRONT],
        "last": ["calc", "bench-caster", *FRONT, "--json"],
    }[where]
    code, out, err = run(capsys, *words)
    body = json.loads(out)
    assert (code, err) == (0, "")
    assert {
        "schema", "command", "exit", "topic", "inputs", "results", "formula", "source", "trust",
        "warnings", "findings",
    } == set(body)  # fmt: skip
    assert (body["schema"], body["command"], body["exit"]) == (1, "calc", 0)
    assert body["topic"] == "bench-caster"
    assert body["results"] == {"bench_caster": {"value": 17.0, "unit": "deg"}}
    assert body["inputs"]["caster"] == {
        "value": 7.0, "unit": "deg", "given": "7 deg", "assumed": False,
    }  # fmt: skip
    assert body["inputs"]["axle"]["value"] == "front"
    assert body["findings"] == []


@pytest.mark.parametrize(
    ("words", "keys"),
    [
        (["bench-caster", "--caster", "7", "--pinion", "99 deg"], ["--caster", "--pinion", "--axle"]),
        (["bench-caster", "--castor", "7 deg"], ["--castor"]),
        (["bench-caster", "--caster", "7 deg", *FRONT], ["--caster"]),
        (["bench-caster", *FRONT, "stray"], ["calc bench-caster"]),
        (["bench-caster", "--caster"], ["calc bench-caster"]),
        (["sine-hight", "--length", "5 in"], ["calc"]),
        (["hole", "--bolt", "9/16", "--fit", "close"], ["--bolt"]),
        (["tube", "--diameter", "1 in", "--wall", "1 in"], ["--wall"]),
    ],
)
def test_bad_input_ends_with_2_and_a_sentence(capsys, words, keys):
    code, out, err = run(capsys, "calc", *words)
    assert (code, out) == (2, "")
    assert len(err.strip().splitlines()) == len(keys)
    assert all(line.startswith(key) for line, key in zip(err.splitlines(), keys, strict=True))
    assert "Traceback" not in err
    code, out, err = run(capsys, "calc", "--json", *words)
    body = json.loads(out)
    assert (code, body["exit"], err) == (2, 2, "")
    assert [e["key"] for e in body["errors"]] == keys
    assert all({"key", "line", "given", "allowed", "remedy"} == set(e) for e in body["errors"])


def test_a_negative_value_is_a_value_and_no_option(capsys):
    words = ["--caster", "-2 deg", "--pinion", "-3 deg", "--axle", "front", "--json"]
    code, out, _ = run(capsys, "calc", "bench-caster", *words)
    assert code == 0
    assert json.loads(out)["results"]["bench_caster"]["value"] == -5.0


def test_a_default_is_named_as_assumed(capsys):
    words = ["--caster-before", "0 deg", "--caster-after", "8 deg", "--inclination", "9 deg"]
    code, out, _ = run(capsys, "calc", "turned-knuckle", *words, "--json")
    body = json.loads(out)
    assert code == 0
    assert body["inputs"]["camber"]["assumed"]
    assert body["trust"] == "assumed"
    assert any("--camber" in w for w in body["warnings"])
    _, out, _ = run(capsys, "calc", "turned-knuckle", *words)
    assert "assumed, not given" in out


@pytest.mark.parametrize("name", topic_names())
def test_every_topic_has_a_help_with_an_example(capsys, name):
    code, out, _ = run(capsys, "calc", name, "--help")
    assert code == 0
    assert "Example: fixturegen calc" in out


def test_results_that_are_text_or_table_are_printed(capsys, folder, toy):
    (folder / "toy_printed.py").write_text(toy, encoding="utf-8")
    _, out, _ = run(capsys, "calc", "toy-printed", "--lambda", "1 in")
    assert "words: ok" in out
    assert "size [mm]" in out
    _, out, _ = run(capsys, "calc", "toy-printed", "--lambda", "1 in", "--Big-one", "2 in", "--json")
    results = json.loads(out)["results"]
    assert results["words"] == {"value": "ok", "unit": ""}
    assert results["rows"]["value"] == [{"name": "a", "size": 1.0}, {"name": "b", "size": 2.5}]
    assert results["rows"]["unit"] == {"name": "", "size": "mm"}


def test_tables_are_listed(capsys):
    code, out, _ = run(capsys, "tables")
    assert code == 0
    assert all(f"  {name}" in out for name in table_names())
    code, out, _ = run(capsys, "tables", "--json")
    assert [t["name"] for t in json.loads(out)["tables"]] == list(table_names())


@pytest.mark.parametrize("name", table_names())
def test_every_table_prints_every_entry_with_source_and_trust(capsys, name):
    code, out, _ = run(capsys, "tables", name, "--json")
    body = json.loads(out)
    assert code == 0
    assert body["entries"]
    assert all(e["source"] in body["sources"] and e["trust"] for e in body["entries"])
    code, text, _ = run(capsys, "tables", name)
    assert code == 0
    assert all(e["id"] in text and e["source"] in text for e in body["entries"])


def test_a_number_in_a_table_has_value_unit_and_text(capsys):
    _, out, _ = run(capsys, "tables", "holes", "--json")
    half = next(e for e in json.loads(out)["entries"] if e["id"] == "1/2")
    assert half["normal"] == {"value": pytest.approx(0.562 * 25.4), "unit": "mm", "text": "0.562 in"}


def test_an_unknown_table_is_refused(capsys):
    code, out, err = run(capsys, "tables", "hole")
    assert (code, out) == (2, "")
    assert "did you mean holes" in err
    code, out, _ = run(capsys, "tables", "hole", "--json")
    assert json.loads(out)["errors"][0]["given"] == "hole"


def test_calc_loads_no_heavy_library_in_a_fresh_process():
    code = (
        "import sys; from fixturegen.cli.main import main; main(['calc']);"
        "main(['calc', 'chord', '--diameter', '8 in', '--count', '5', '--json']);"
        "main(['tables', 'holes']);"
        "print([m for m in ('pint', 'scipy', 'numpy', 'pydantic', 'cadquery', 'OCP', 'trimesh')"
        " if m in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip().endswith("[]")
