import errno
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fixturegen import __version__
from fixturegen.errors import EXIT_INPUT, EXIT_MACHINE, MachineFault, SheetFault
from fixturegen.sheet import read, read_text
from tests.sheet.altered import EXAMPLES, KINGPIN, by_key, faults, line_with, only, put


def _refused(path: Path) -> SheetFault:
    with pytest.raises(SheetFault) as caught:
        read(path)
    assert caught.value.exit_code == EXIT_INPUT
    return caught.value


def _written(folder: Path, content: bytes) -> Path:
    path = folder / "axle.toml"
    path.write_bytes(content)
    return path


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.toml")), ids=lambda p: p.name)
def test_the_examples_read_without_a_fault(path):
    sheet = read(path)
    assert sheet.schema_ == 1
    assert sheet.job.name


def test_lengths_become_millimetres_and_angles_stay_degrees():
    sheet = read_text(KINGPIN)
    # 1 in = 25.4 mm by definition (1959 agreement)
    assert float(sheet.axle.wheel_mount_width) == pytest.approx(66 * 25.4, abs=1e-9)
    assert float(sheet.axle.pinion_angle) == 10.0
    assert sheet.housing.face.angle.tolerance == pytest.approx(0.05)
    assert sheet.housing.face.bore_distance.tolerance == pytest.approx(0.002 * 25.4)


def test_byte_order_mark_and_windows_line_ends_are_accepted(tmp_path):
    content = b"\xef\xbb\xbf" + KINGPIN.replace("\n", "\r\n").encode()
    assert read(_written(tmp_path, content)) == read_text(KINGPIN)


def test_a_fault_behind_windows_line_ends_has_its_line(tmp_path):
    text = put(KINGPIN, ('"112 in"', '"112 deg"'))
    content = b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode()
    fault = _refused(_written(tmp_path, content)).faults[0]
    assert (fault.key, fault.line) == ("vehicle.wheelbase", line_with(text, '"112 deg"'))


@pytest.mark.parametrize("content", [b"", b"\n \n\t\n", b"\xef\xbb\xbf"])
def test_an_empty_file_is_told_how_to_start(tmp_path, content):
    path = _written(tmp_path, content)
    (fault,) = _refused(path).faults
    assert fault.key == str(path)
    assert fault.given == "an empty file"
    assert "fixturegen new" in fault.remedy


def test_a_file_of_comments_only_is_told_how_to_start(tmp_path):
    (fault,) = _refused(_written(tmp_path, b"# nothing yet\n")).faults
    assert fault.given == "a file of comments only"
    assert "fixturegen new" in fault.remedy


@pytest.mark.parametrize("content", [b"PK\x03\x04\x00\x00\x08", bytes(range(256)), b"\x01\x02\x90\xff" * 40])
def test_a_binary_file_is_named_as_such(tmp_path, content):
    path = _written(tmp_path, content)
    (fault,) = _refused(path).faults
    assert fault.key == str(path)
    assert fault.given == "a file that is no text"
    assert "name the right file" in fault.remedy


def test_a_file_in_utf_16_is_told_to_be_saved_as_utf_8(tmp_path):
    (fault,) = _refused(_written(tmp_path, KINGPIN.encode("utf-16"))).faults
    assert "UTF-16" in fault.given
    assert "UTF-8" in fault.remedy


def test_a_degree_sign_of_an_old_code_page_is_named_with_its_line(tmp_path):
    text = put(KINGPIN, ('"7 deg"', '"7°"'))
    (fault,) = _refused(_written(tmp_path, text.encode("cp1252"))).faults
    assert fault.line == line_with(text, '"7°"')
    assert "UTF-8" in fault.remedy
    assert "write deg" in fault.remedy


def test_a_sheet_of_fifty_mebibytes_is_refused_by_its_size_alone(tmp_path, monkeypatch):
    path = tmp_path / "axle.toml"
    with path.open("wb") as file:
        file.truncate(50 * 2**20)
    monkeypatch.setattr(Path, "open", lambda *_a, **_k: pytest.fail("it was opened"))
    (fault,) = _refused(path).faults
    assert fault.given == "50.0 MiB"
    assert fault.allowed == "up to 1 MiB"


def test_one_byte_over_the_limit_is_refused_and_the_limit_itself_is_read(tmp_path):
    room = 2**20 - len(KINGPIN.encode()) - 2
    at_limit = KINGPIN.encode() + b"\n#" + b"x" * room
    assert len(at_limit) == 2**20
    assert read(_written(tmp_path, at_limit)) == read_text(KINGPIN)
    (fault,) = _refused(_written(tmp_path, at_limit + b"x")).faults
    assert fault.allowed == "up to 1 MiB"


def test_a_missing_file_gets_the_nearest_name_there_is(tmp_path):
    (tmp_path / "front-axle.toml").write_text(KINGPIN, encoding="utf-8")
    (fault,) = _refused(tmp_path / "front-axel.toml").faults
    assert "did you mean front-axle.toml?" in fault.remedy


def test_a_missing_file_in_a_missing_folder_is_one_sentence(tmp_path):
    (fault,) = _refused(tmp_path / "no" / "axle.toml").faults
    assert "there is no such file" in fault.remedy


def test_a_folder_is_no_sheet(tmp_path):
    (fault,) = _refused(tmp_path).faults
    assert fault.given == "a folder"


def test_a_name_with_a_zero_byte_is_refused():
    (fault,) = _refused(Path("a\0b.toml")).faults
    assert fault.allowed == "a file name"


def test_an_unreadable_file_is_the_machines_fault(tmp_path, monkeypatch):
    path = _written(tmp_path, KINGPIN.encode())

    def refuse(*_a, **_k):
        raise PermissionError(errno.EACCES, "Permission denied", str(path))

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(MachineFault) as caught:
        read(path)
    assert caught.value.exit_code == EXIT_MACHINE
    assert caught.value.faults[0].key == str(path)
    assert "Permission denied" in str(caught.value)


def test_a_sheet_without_a_schema_is_told_its_first_line():
    fault = only(put(KINGPIN, ("schema = 1\n", "")))
    assert (fault.key, fault.line, fault.allowed) == ("schema", 1, "1")
    assert fault.remedy == "write schema = 1 on the first line"


@pytest.mark.parametrize("value", ['"1"', "1.0", "true", "[1]"])
def test_a_schema_that_is_no_whole_number_is_refused(value):
    fault = only(put(KINGPIN, ("schema = 1", f"schema = {value}")))
    assert (fault.key, fault.line) == ("schema", line_with(KINGPIN, "schema = 1"))


def test_a_newer_schema_says_which_program_is_needed():
    text = put(KINGPIN, ("schema = 1", "schema = 7"), ("[tubes]", "[pipes]"))
    fault = only(text)  # nothing else is judged: its keys are not ours
    assert (fault.key, fault.given, fault.line) == ("schema", "7", line_with(text, "schema = 7"))
    assert f"a fixturegen that reads schema 7, newer than {__version__}" in fault.remedy


def test_a_schema_before_the_first_is_refused():
    assert only(put(KINGPIN, ("schema = 1", "schema = 0"))).remedy == "write schema = 1"


def test_ten_thousand_studs_are_counted_and_not_read_one_by_one():
    studs = ", ".join(['"1 deg"'] * 10_000)
    text = put(KINGPIN, ("angles = [\n", f"angles = [\n{studs},\n"))
    fault = only(text)
    assert fault.key == "housing.face.studs.angles"
    assert fault.given == "10010 entries"
    assert fault.allowed == "up to 64 entries"
    assert fault.line == line_with(text, "angles = [")


def test_sixty_five_studs_are_one_too_many():
    text = put(KINGPIN, ("angles = [\n", "angles = [\n" + '"1 deg", ' * 55 + "\n"))
    fault = by_key(text, "housing.face.studs.angles")
    assert (fault.given, fault.line) == ("a list of 65", line_with(text, "angles = ["))


def test_more_than_two_hundred_entries_of_an_unknown_list_are_refused():
    parts = "\n".join(["[[parts]]\nkind = 1"] * 201)
    fault = only(KINGPIN + parts)
    assert (fault.key, fault.given, fault.allowed) == ("parts", "201 entries", "up to 200 entries")
    assert only(KINGPIN + "\n".join(["[[parts]]\nkind = 1"] * 200)).key == "parts"  # unknown, but read


@pytest.mark.parametrize("opening, closing", [("[", "]"), ("{a=", "}")])
def test_the_twenty_first_level_of_brackets_is_refused(opening, closing):
    deep = put(KINGPIN, ("schema = 1", f"schema = 1\nx = {opening * 21}1{closing * 21}"))
    fault = only(deep)
    assert fault.allowed == "up to 20 levels"
    assert fault.line == line_with(deep, "x = ")
    flat = put(KINGPIN, ("schema = 1", f"schema = 1\nx = {opening * 19}1{closing * 19}"))
    assert only(flat).key == "x"  # unknown, but read


@pytest.mark.parametrize("levels", [100, 5_000, 200_000])
def test_a_nest_of_brackets_or_of_dots_never_ends_in_a_traceback(levels):
    assert only("x = " + "[" * levels).allowed == "up to 20 levels"
    assert only(".".join(["a"] * levels) + " = 1").allowed == "up to 20 levels"
    assert only("[" + ".".join(["a"] * levels) + "]").allowed == "up to 20 levels"


def test_brackets_in_texts_and_comments_are_no_levels():
    text = put(KINGPIN, ('notes = "', 'notes = "' + "[" * 40), ("schema = 1", f"schema = 1  # {'[' * 40}"))
    assert faults(text) == ()


def test_a_number_of_thousands_of_digits_is_refused_with_its_line():
    text = put(KINGPIN, ('"112 in"', "9" * 5000))
    fault = only(text)
    assert "thousands of digits" in fault.given
    assert fault.line == line_with(text, "99999")


def test_all_faults_are_told_at_once_in_the_order_of_the_sheet():
    text = put(
        KINGPIN,
        ('wheelbase = "112 in"', 'wheelbase = "112 deg"'),
        ('position = "front"', 'position = "frnt"'),
        ('skin = "0.250 in"\n', ""),
        ('wall = "0.375 in"', 'wal = "0.375 in"'),
        ('hoist = "1000 lbf"', 'hoist = "a lot"'),
        ('pin = "0.623 in"', 'pin = "0.700 in"'),
    )
    found = faults(text)
    assert [f.key for f in found] == [
        *("vehicle.wheelbase", "axle.position", "housing.skin", "tubes.wal", "table.pin", "tools.hoist"),
    ]
    lines = [f.line for f in found]
    assert lines == sorted(lines)


def test_contradictions_are_told_beside_faults_of_other_keys():
    text = put(KINGPIN, ('skin = "0.250 in"', "skin = 1"), ('bore = "3.503 in"', 'bore = "3.25 in"'))
    assert {f.key for f in faults(text)} == {"housing.skin", "tubes.outside_diameter"}


def test_a_hundred_faults_are_told_and_the_rest_counted():
    text = KINGPIN + "".join(f"\nzz{n} = 1" for n in range(250))
    found = faults(text)
    assert len(found) == 101
    assert found[-1].given == "150 faults more"


def test_a_sheet_that_reads_loads_neither_kernel_nor_the_reader_of_lines():
    code = (
        "import sys; from fixturegen.sheet import read, flat, assumptions, digest;"
        f"s = read({str(EXAMPLES / 'front-dropout-kingpin.toml')!r}); flat(s); assumptions(s); digest(s);"
        "bad = {'cadquery', 'OCP', 'trimesh', 'scipy', 'pint', 'numpy', 'tree_sitter', 'tree_sitter_toml', 'tomlkit'};"
        "print(sorted(bad & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def _never_anything_but_a_sheet_fault(text: str) -> None:
    try:
        read_text(text)
    except SheetFault as fault:
        assert fault.faults
        for one in fault.faults:
            assert "\n" not in one.sentence()
            assert one.remedy or one.allowed
            assert one.line is None or 1 <= one.line <= text.count("\n") + text.count("\r") + 1


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=300))
def test_no_text_raises_anything_but_a_sheet_fault(text):
    _never_anything_but_a_sheet_fault(text)


_PIECES = st.sampled_from(
    [
        *('"', "'", '"""', "'''", "[", "]", "{", "}", "=", ",", "#", "\\", "\n", "\r", "\r\n", "\0"),
        *("3 1/2 in", '3 1/2"', "-1 in", "1e400", "nan", "inf", "true", "1979-05-27", "0x_1", "[[a]]", "a.b = 1"),
        *("\ufeff", "°", "\u2028", "\x85", "\x07", "", "x" * 90, "1/0 in", "-", "+/-", "schema", "[jig]"),
    ]
)


@settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.sampled_from(sorted(p.name for p in EXAMPLES.glob("*.toml"))),
    st.lists(
        st.tuples(st.floats(0, 1), st.integers(0, 30), st.one_of(_PIECES, st.text(max_size=8))), min_size=1, max_size=4
    ),
)
def test_no_mutated_sheet_raises_anything_but_a_sheet_fault(name, cuts):
    text = (EXAMPLES / name).read_text(encoding="utf-8")
    for place, length, piece in cuts:
        at = int(place * len(text))
        text = text[:at] + piece + text[at + length :]
    _never_anything_but_a_sheet_fault(text)


_VALUES = st.one_of(
    st.text(max_size=12).filter(lambda t: "\x7f" not in t),
    st.integers(-(10**30), 10**30),
    st.booleans(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.just([]),
    st.just(["1 in", 2]),
    st.just([{}]),
    st.just({}),
    st.sampled_from(["0 in", "-1 in", "1 in", "1 deg", "3/0 in", "1000 in", "12 lb", "0 deg"]),
)


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_no_value_in_any_key_raises_anything_but_a_sheet_fault(data):
    import tomlkit

    document = tomlkit.parse(
        data.draw(st.sampled_from([p.read_text(encoding="utf-8") for p in EXAMPLES.glob("*.toml")]))
    )
    for _ in range(data.draw(st.integers(1, 4))):
        table = document
        while True:
            key = data.draw(st.sampled_from(sorted(table)))
            inner = table[key]
            if not isinstance(inner, dict) or not inner or data.draw(st.booleans()):
                break
            table = inner
        table[key] = data.draw(_VALUES)
    text = tomlkit.dumps(document)
    tomllib.loads(text)
    _never_anything_but_a_sheet_fault(text)
