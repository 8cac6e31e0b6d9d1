"""What the report says of the papers of a build."""

from fixturegen.papers.paper_section import paper_sections

PAPERS = (
    ("papers/bench/set-caster.pdf", "Bench sheet 1: set the caster", 2),
    ("papers/drawings/assembly-jig.pdf", "drawing of the jig on the table", 6),
    ("papers/drawings/keeper-l.pdf", "drawing of the keeper", 1),
    ("papers/templates/keeper-l.pdf", "keeper 1:1", 1),
    ("papers/templates/keeper-l.svg", "keeper 1:1", None),
    ("papers/templates/face-plate.pdf", "face plate 1:1", 8),
)


def test_sheets_for_the_bench_are_named_one_by_one_and_the_rest_is_counted():
    (section,) = paper_sections(PAPERS)
    (table,) = section.tables
    assert table.rows == (
        ("Bench sheet 1: set the caster", "papers/bench/set-caster.pdf", "2"),
        ("Drawing of the jig on the table", "papers/drawings/assembly-jig.pdf", "6"),
        ("1 drawings, one a part", "papers/drawings/", "1"),
        ("2 templates 1:1, one a blank, place or tube end", "papers/templates/", "9"),
        ("all together", "", "18"),
    )
    assert any("100 %" in note for note in section.notes)


def test_a_build_without_papers_has_no_such_section():
    assert paper_sections(()) == ()
    assert paper_sections((("papers/templates/keeper-l.svg", "keeper 1:1", None),)) == ()
