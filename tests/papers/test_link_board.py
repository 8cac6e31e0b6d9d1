"""Words on a board: off one another, off lines, and joined to what they name."""

import re

import pytest

from fixturegen.papers.link_board import Board, crosses, meets
from tests.papers.svg_reading import boxes

BOX = (10.0, 10.0, 20.0, 15.0)


@pytest.mark.parametrize(
    ("a", "b", "through"),
    [
        ((0, 12), (30, 12), True),
        ((12, 0), (12, 11), True),
        ((11, 11), (12, 12), True),
        ((0, 0), (30, 30), True),
        ((0, 12), (9, 12), False),
        ((0, 9), (30, 9), False),
        ((0, 14), (14, 0), False),
        ((5, 12), (5, 20), False),
    ],
)
def test_a_stretch_crosses_a_box_or_passes_it(a, b, through):
    assert bool(crosses(BOX, a, b)) is through
    assert bool(crosses(BOX, b, a)) is through


def svg(board):
    return f'<svg xmlns="http://www.w3.org/2000/svg">{"".join(board.body)}</svg>'


def test_many_words_of_one_spot_do_not_lie_on_one_another():
    board = Board((0.0, 0.0, 400.0, 300.0))
    for i in range(12):
        board.name([(200.0, 150.0)], f"word {i}")
    words = boxes(svg(board))
    for i, a in enumerate(words):
        for b in words[i + 1 :]:
            assert not (a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3])


def test_a_word_keeps_off_a_line_where_there_is_room():
    board = Board((0.0, 0.0, 400.0, 300.0), lines=[((0.0, 150.0), (400.0, 150.0))])
    board.name([(200.0, 150.0)], "level")
    assert not crosses(board.boxes[0], (0.0, 150.0), (400.0, 150.0))


def test_a_word_far_from_its_spot_has_a_lead_to_it_that_goes_through_no_word():
    board = Board((0.0, 0.0, 400.0, 300.0))
    board.keep_off(200.0, 150.0, 12.0)
    for i in range(4):
        board.name([(200.0, 150.0)], f"long word {i}")
    assert board.leads
    drawn = re.findall(r'class="lead" d="M([0-9.]+) ([0-9.]+)L', svg(board))
    assert {(float(x), float(y)) for x, y in drawn} == {(200.0, 150.0)}
    for lead in board.leads:
        through = [b for b in board.boxes[1:] if crosses((b[0] + 1, b[1] + 1, b[2] - 1, b[3] - 1), *lead)]
        assert through == []


@pytest.mark.parametrize(
    ("c", "d", "cross"),
    [((5, -1), (5, 1), True), ((5, 1), (5, 2), False), ((11, -1), (11, 1), False), ((0, 1), (10, 1), False)],
)
def test_two_stretches_cross_or_do_not(c, d, cross):
    assert bool(meets((0, 0), (10, 0), c, d)) is cross
    assert bool(meets(c, d, (0, 0), (10, 0))) is cross


def test_a_lead_goes_around_what_the_word_does_not_name():
    # walls close to the right of the spot and one to the left: the word goes where there are fewer
    walls = [((x, 0.0), (x, 300.0)) for x in (190.0, 206.0, 210.0, 214.0)]
    board = Board((0.0, 0.0, 400.0, 300.0), lines=[*walls, ((200.0, 0.0), (200.0, 300.0))])
    board.name([(200.0, 150.0)], "word")
    assert board.boxes[0][2] < 190.0


def test_words_are_escaped():
    board = Board((0.0, 0.0, 400.0, 300.0))
    board.fixed(10.0, 10.0, "a<b & c")
    board.name([(50.0, 50.0)], "<x>")
    assert [b[4] for b in boxes(svg(board))] == ["a<b & c", "<x>"]
