import pytest

from fixturegen.sheet.nesting import too_deep


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[a]\n[b]\n" * 50,
        '"[[[["',
        "'[[[['",
        '"""\n[[[[\n"""',
        "'''[[[['''",
        "# [[[[",
        '"\\"[[[["',
        'a = "[[[',
        "]]]]",
    ],
)
def test_brackets_that_do_not_nest_are_not_counted(text):
    assert too_deep(text, 3) == 0


@pytest.mark.parametrize("text, line", [("[[[[", 1), ("a\n\n[[\n[\n{", 5), ('"""\n\n"""[[[[', 3), ("a.b.c.d = 1", 1)])
def test_the_line_of_the_level_too_many_is_found(text, line):
    assert too_deep(text, 3) == line


def test_points_in_numbers_and_texts_are_no_levels():
    assert too_deep('a = "1.2.3.4.5.6"\nb = [1.5, 2.5, 3.5, 4.5]\n# a.b.c.d.e', 3) == 0
