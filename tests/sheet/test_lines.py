from fixturegen.sheet.lines import line_of, lines_of

TEXT = """schema = 1
a.b = 1
[t]
c = { d = [1, 2], "e f" = "x" }
[[p]]
q = 1
[[p]]
q = [
  { a = 1 },
  # between
  { a = 2 },
]
[p.r]
s = 1
[x."y z"]
w = 1
# measure: left =  ""
# measure: out = ""
"""


def test_every_key_section_and_entry_has_its_line():
    found = lines_of(TEXT)
    assert found[("schema",)] == 1
    assert found[("a",)] == found[("a", "b")] == 2
    assert found[("t",)] == 3
    assert found[("t", "c", "d", 1)] == found[("t", "c", "e f")] == 4
    assert found[("p",)] == found[("p", 0)] == 5
    assert found[("p", 0, "q")] == 6
    assert found[("p", 1)] == 7
    assert found[("p", 1, "q", 0)] == 9
    assert found[("p", 1, "q", 1, "a")] == 11
    assert found[("p", 1, "r", "s")] == 14
    assert found[("x", "y z", "w")] == 16
    assert found[("x", "y z", "out")] == 18


def test_a_missing_key_has_the_line_of_what_is_round_it():
    found = lines_of(TEXT)
    assert line_of(found, ("p", 1, "zz")) == 7
    assert line_of(found, ("t", "c", "zz", 3)) == 4
    assert line_of(found, ("nowhere", "at", "all")) is None


def test_a_broken_text_gives_the_lines_that_can_be_read():
    found = lines_of("a = 1\n[[[\nb = = 2\n[t]\nc = 3\n")
    assert found[("a",)] == 1


def test_signs_of_several_bytes_do_not_shift_the_lines():
    assert lines_of('a = "°½ö"\nb = 1\n')[("b",)] == 2
