"""Bench sheets: every planned value beside an empty box, nothing off the page, read back by another library."""

import math
import re
from dataclasses import replace
from pathlib import Path

import pytest

from fixturegen import pipeline
from fixturegen.bench.documents import documents, stations
from fixturegen.bench.layout import station_pdf, unbroken
from fixturegen.bench.records import (
    Listing,
    Reading,
    Station,
    assumed_of,
    caliper,
    fraction,
    tape_reading,
    tape_within,
    taped,
)
from fixturegen.checks.registry import Job
from fixturegen.pages import A4, LETTER, TitleBlock, read_pdf
from fixturegen.pages.documents import Contents
from fixturegen.pages.figure import broken, text_width
from fixturegen.pages.proving import findings_of
from fixturegen.plate import Assembly
from fixturegen.sheet import assumptions, digest
from tests.few_brackets import few_brackets

BLOCK = TitleBlock("Job", "B", "0123456789ab")
EXAMPLES = Path(__file__).parents[2] / "examples"


def contents_of(example: str, folder: Path, leave: tuple[str, ...] = ()) -> Contents:
    path = folder / "sheet.toml"
    path.write_text(few_brackets((EXAMPLES / example).read_text("utf-8"), leave=leave), encoding="utf-8")
    sheet = pipeline.read(path)
    axle = pipeline.axle_of(sheet)
    job = Job(sheet, axle, pipeline.plan_of(sheet, axle))
    pipeline._add_parts(job)
    return Contents(job, digest(sheet), assumptions=assumptions(sheet))


@pytest.fixture(scope="module")
def front(tmp_path_factory: pytest.TempPathFactory) -> Contents:
    return contents_of("front-dropout-kingpin.toml", tmp_path_factory.mktemp("front"))


@pytest.fixture(scope="module")
def gauged(tmp_path_factory: pytest.TempPathFactory) -> Contents:
    return contents_of("front-dropout-kingpin.toml", tmp_path_factory.mktemp("gauged"), ("gauges",))


def by_slug(contents: Contents, slug: str) -> Station:
    return next(s for s in stations(contents) if s.slug == slug)


def test_the_stations_stand_in_the_order_of_the_work(front: Contents) -> None:
    slugs = [s.slug for s in stations(front)]
    wanted = ["cut-list", "hardware", "make-the-jig", "set-up-housing", "set-caster", "place-brackets", "check-cold"]
    assert [s for s in slugs if s in wanted] == wanted


def test_every_sheet_is_proved_and_says_job_revision_digest_caution_and_who_signs(front: Contents) -> None:
    for document in documents(front):
        assert all(f.level.value == "pass" for f in findings_of(document)), document.path
        read = read_pdf(document.content)
        assert len(read.pages) == len(document.proofs)
        for page in read.pages:
            assert "Rev A" in page.text and front.digest[:8] in page.text and "not certified" in page.text
        first = read.pages[0].text
        assert "Inspector" in first and "Initials" in first and "Local rule" in first


def test_every_step_and_every_reading_of_a_station_stands_on_its_paper(front: Contents) -> None:
    one = by_slug(front, "set-caster")
    text = squeezed(" ".join(p.text for p in read_pdf(station_pdf(one, "1 of 1", BLOCK, LETTER)[0]).pages))
    for words in (*one.steps, *(r.what for r in one.readings), *(r.planned for r in one.readings), *one.cautions):
        assert squeezed(words) in text, words


def squeezed(text: str) -> str:
    return "".join(text.split())


def test_all_steps_of_the_jig_stand_on_one_sheet_and_once(front: Contents) -> None:
    of_the_jig = ("make-the-jig", "set-up-housing", "set-caster")
    told = [step for s in stations(front) if s.slug in of_the_jig for step in s.steps]
    jig = front.job.assemblies["jig"].steps
    assert len(jig) > 20 and all(told.count(step) == 1 for step in jig)


def test_the_plates_that_carry_the_bores_are_lined_up_by_the_bar_before_a_bead(front: Contents) -> None:
    # common practice, no source: what must be true is tacked and welded last, off the bar
    steps = by_slug(front, "make-the-jig").steps
    stand = next(k for k, s in enumerate(steps) if s.startswith("Stand:"))
    assert "stay loose" in steps[stand] and "every joint, " not in steps[stand]
    assert "index and puck plate not" in steps[stand + 1]
    lined = steps[stand + 2]
    assert lined.index("line them up") < lined.index("straight edge") < lined.index("tack both") < lined.index("weld")


def test_tubes_and_knuckles_are_on_before_the_bar_goes_between_their_arms(front: Contents) -> None:
    steps = by_slug(front, "set-up-housing").steps
    tubes, knuckles, straps, bar = (
        next(k for k, s in enumerate(steps) if s.startswith(words))
        for words in ("Tubes are in", "Knuckles onto", "All face nuts", "Bar, wiped")
    )
    assert tubes == 0 and straps < knuckles < bar
    # nothing is let go on two nuts of ten
    assert not any("two nuts" in s or "Two face nuts" in s for s in steps)
    last = by_slug(front, "set-caster").steps
    assert last[-3].startswith("Bar drawn out") and "hoist hooked" in last[-2] and "stand drawn back" in last[-1]


def test_a_reading_names_the_gauge_that_was_made_for_it_and_none_that_is_held(gauged: Contents) -> None:
    def tools(contents: Contents, slug: str) -> str:
        return " ".join(r.tool for r in by_slug(contents, slug).readings)

    cold, placed, caster = (tools(gauged, slug) for slug in ("check-cold", "place-brackets", "set-caster"))
    for part in ("sine-gauge", "end-disc", "toe-bar", "puck-1"):
        assert f"(part {part})" in cold and part in gauged.job.parts
    assert "(part hole-bar-lower)" in placed and "(part saddle-arch)" in placed
    assert "(part pivot-spread)" in caster
    steps = " ".join(by_slug(gauged, "place-brackets").steps)
    assert all(word in steps for word in ("plug-1", "width-1", "fillet-leaf-1"))
    held = replace(gauged, held={"hole-bar-lower": "FIT-01: it meets the housing", "end-disc": "the same"})
    assert "hole-bar" not in tools(held, "place-brackets") and "end-disc" not in tools(held, "check-cold")
    job = gauged.job
    bare = replace(gauged, job=Job(job.sheet, job.axle, job.plan, job.parts, job.assemblies, brackets=job.brackets))
    assert not any("(part" in tools(bare, s.slug) for s in stations(bare))


def test_a_template_that_says_another_angle_than_the_sheet_is_settled_on_the_row(gauged: Contents) -> None:
    row = next(r for r in by_slug(gauged, "place-brackets").readings if r.what == "lower left: clock of the hole")
    # lower axle point of the sheet: 3 3/4 in behind, 16 1/2 in over the ground; hub centre 17 1/2 in; pinion 10 deg
    # up at ride height and level on the bench; 0 up, 90 forward
    clock = math.degrees(math.atan2(-3.75, 16.5 - 17.5)) - 10.0
    assert abs(float(row.planned.removesuffix(" deg")) - clock) < 0.1, clock
    template = re.search(r"(-?[0-9.]+) deg on the template", row.beside)
    assert template is not None and f"{template[1]} DEG" in " ".join(
        m.text for m in gauged.job.parts["clock-lower"].marks
    )


def test_no_two_readings_have_the_same_words_and_a_side_is_told_once(front: Contents) -> None:
    for one in stations(front):
        words = [r.what for r in one.readings]
        assert len(set(words)) == len(words), one.slug
    told = [r.what for r in by_slug(front, "place-brackets").readings]
    assert any("lower left" in what for what in told)
    assert not any("left" in what and "(L)" in what for what in told)


def test_nothing_is_loaded_while_the_knuckles_hold_on_tacks(front: Contents) -> None:
    # common practice, no source: tack, mock up without load, finish-weld
    cold, placed = by_slug(front, "check-cold"), by_slug(front, "place-brackets")
    for one in (cold, placed):
        assert any("no weight on the wheels, no force on the steering" in words for words in one.cautions)
    assert "Only the knuckles are on tacks" in cold.steps[0] and cold.steps[1].startswith("Finish-weld")
    assert not any("Everything on tacks" in words for words in cold.steps)
    mock_up = next(s for s in placed.steps if s.startswith("Mock-up"))
    assert "links only" in mock_up and "drag link off" in mock_up and "Nobody under it" in mock_up


def test_toe_is_told_by_the_band_of_the_toe_bars(gauged: Contents) -> None:
    rows = {r.what: r for r in by_slug(gauged, "check-cold").readings}
    toe = rows["total toe on the bare wheel mount surfaces"]
    # 1/16 to 1/8 in over the tyres (common practice, no source), 28 in of bar over a tyre of 36 3/4 in
    low, high = (28.0 / 36.75 * inch for inch in (1.0 / 16.0, 1.0 / 8.0))
    assert toe.within.startswith(f"{low:.3f} in to {high:.3f} in") and "toe-in" in toe.planned


def test_no_cell_is_broken_inside_a_bracket_where_it_can_be_helped() -> None:
    text = "1.001 in (25.43 mm)"
    narrow = text_width("1.001 in (25.43", 3.0, True) + 0.5
    assert unbroken(text, narrow, 3.0, True) == "1.001 in\n(25.43 mm)"
    assert unbroken(text, 200.0, 3.0, True) == text
    limit = "+/- 0.25 deg; reject 0.5 deg"
    narrow = text_width("+/- 0.25 deg; reject 0.5", 3.0) + 0.5
    assert unbroken(limit, narrow, 3.0) == "+/- 0.25 deg;\nreject 0.5 deg"
    long = "0.13 mm over the face; reject 0.38 mm"
    narrow = text_width("reject 0.38", 3.0) + 0.5
    lines = broken(unbroken(long, narrow, 3.0), narrow, 3.0)
    assert lines[-1] == "0.38 mm" and " ".join(lines) == long and broken(long, narrow, 3.0)[-1] == "mm"
    assert unbroken("66.000 in (1676.4 mm)", 1.0, 3.0) == "66.000 in (1676.4 mm)"  # nothing helps


def test_the_cut_list_says_what_was_measured_of_plate_and_kerf(front: Contents) -> None:
    one = by_slug(front, "cut-list")
    sheet = front.job.sheet
    assert f"Kerf on the sheet: {float(sheet.process.kerf) / 25.4:.3f} in" in one.zero
    for plate in {p.thickness for p in front.job.parts.values() if p.profile is not None}:
        assert sum(f"measured {plate / 25.4:.3f} in" in lst.title for lst in one.lists) >= 1


def test_what_sets_an_angle_is_bored_before_anything_is_welded(front: Contents) -> None:
    steps = by_slug(front, "make-the-jig").steps
    bored = next(k for k, s in enumerate(steps) if "Stack both clock plates" in s)
    assert bored < next(k for k, s in enumerate(steps) if "Weld 2 in" in s)
    assert "puck plate" in steps[bored]  # a drop-out's housing has no bearing bores: they are in the stack
    assert any("retaining compound" in s for s in steps) and any("Keepers" in s for s in steps)


def test_caster_on_the_sheet_is_bench_less_pinion(front: Contents) -> None:
    # common practice, no source: 17 deg on the bench, pinion raised 10 deg, gives 7 deg in the vehicle
    rows = [r for r in by_slug(front, "set-caster").readings if r.what.startswith("caster, left")]
    assert rows[0].planned == "17.00 deg" and "in the vehicle 7.00 deg, pinion 10.0 deg up" in rows[0].beside


def test_nothing_is_drawn_off_the_paper_or_over_the_title_block(front: Contents) -> None:
    for document in documents(replace(front, paper=A4)):
        for page in read_pdf(document.content).pages:
            assert math.isclose(page.width, 210.0, abs_tol=0.05)
            low = 10.0 + 22.0  # margin and title block [mm]
            for box in (*(p.box for p in page.paths), *(w.box for w in page.words)):
                x0, y0, x1, y1 = box
                assert x0 >= 9.5 and x1 <= page.width - 9.5 and y1 <= page.height - 9.0, box
                assert y1 <= low + 0.5 or y0 >= low - 0.5, box


def test_a_held_part_is_named_as_held_and_is_not_in_the_list_to_cut(front: Contents) -> None:
    held = replace(front, held={"index-plate": "FIT-01: it meets the tube"})
    one = by_slug(held, "cut-list")
    rows = {row[0]: lst.title for lst in one.lists for row in lst.rows}
    assert rows["index-plate"].startswith("HELD") and "FIT-01: it meets the tube" in one.lists[0].rows[0]
    assert not any(lst.rows and row[0] == "index-plate" for lst in one.lists[1:] for row in lst.rows)
    assert not by_slug(front, "cut-list").lists[0].rows


def test_a_rear_axle_has_no_sheet_for_caster(tmp_path: Path) -> None:
    rear = contents_of("rear-dropout.toml", tmp_path)
    slugs = [s.slug for s in stations(rear)]
    # what a front axle is told with its caster is told here: end checks, axle out; and no knuckles
    told = [step for s in stations(rear) for step in s.steps]
    assert all(told.count(words) == 1 for words in rear.job.assemblies["jig"].steps)
    assert not any("nuckle" in words for words in by_slug(rear, "set-up-housing").steps)
    assert "set-caster" not in slugs and "set-up-housing" in slugs


def test_a_job_with_a_truss_has_a_sheet_for_it(front: Contents) -> None:
    job = replace_assemblies(front.job, Assembly("truss", "A", (), steps=("Set the front plate on its marks.",)))
    one = by_slug(replace(front, job=job), "fit-truss")
    assert one.steps[1:] == ("Set the front plate on its marks.",) and "out of the jig" in one.steps[0]
    assert any("Bare housing" in words for words in by_slug(replace(front, job=job), "set-up-housing").cautions)
    # a bracket may stand on the truss: it is fitted first
    slugs = [s.slug for s in stations(replace(front, job=job))]
    assert slugs.index("fit-truss") < slugs.index("place-brackets")


def test_a_truss_of_the_sheet_is_told_by_its_ends_and_gaps(tmp_path: Path) -> None:
    path = tmp_path / "sheet.toml"
    text = (EXAMPLES / "front-integral-balljoint.toml").read_text("utf-8")
    path.write_text(few_brackets(text, leave=("truss",)), encoding="utf-8")
    sheet = pipeline.read(path)
    axle = pipeline.axle_of(sheet)
    job = Job(sheet, axle, pipeline.plan_of(sheet, axle))
    job.assemblies["truss"] = Assembly("truss", "A", ())
    told = {r.what: r for r in by_slug(Contents(job, digest(sheet)), "fit-truss").readings}
    # 1/32 in and 3/16 in are what the sheet takes when nothing is said
    assert told["root gap where it is welded, dry"].planned == "0.031 in (0.79 mm)"
    assert told["air to what it is not welded to"].planned == "0.188 in (4.76 mm)"
    # both ends stand outboard of the centre section and inboard of the wheel mount surfaces
    for side in ("left", "right"):
        read = told[f"{side} end, from the {side} wheel mount surface"].beside
        assert 0.0 < float(read.split(" in")[0]) < axle.half_width / 25.4


def replace_assemblies(job: Job, extra: Assembly) -> Job:
    named = {**job.assemblies, extra.name: extra}
    return Job(job.sheet, job.axle, job.plan, job.parts, named, brackets=job.brackets)


def test_a_fraction_stands_over_its_decimals_and_millimetres() -> None:
    # 91.9 mm = 3.6181 in; nearest 1/32 is 3 5/8 (3.6250)
    row = tape_reading("x", 91.9, "in", "+/- 1/16 in", "tape")
    assert (row.planned, row.beside) == ("3 5/8 in", "3.618 in, 91.9 mm")
    assert fraction(25.4 / 32.0) == "1/32 in" and tape_reading("x", 91.9, "mm", "", "").planned == "91.9 mm"


def test_a_half_is_rounded_up_and_a_limit_is_told_in_the_unit_of_the_job() -> None:
    # 1/4 in is 6.35 mm, 1 1/8 in 28.575 mm, by definition of the inch
    assert taped(6.35, parts=16) == "1/4 in (6.4 mm)" and caliper(28.575) == "1.125 in (28.58 mm)"
    assert tape_within(25.4 / 16.0, "in", 25.4 / 8.0) == "+/- 1/16 in; reject 1/8 in"
    assert tape_within(25.4 / 16.0, "mm") == "+/- 1.6 mm"


def test_assumed_sizes_of_one_kind_are_told_once_in_words_and_none_is_left_out() -> None:
    rows = [(f"brackets[{n}].hole_pitch", "1 in", "from hole to hole") for n in (1, 2, 3)]
    rows += [("brackets[5].hole_pitch", "1 in", "from hole to hole"), ("brackets[4].hole_pitch", "2 in", "x")]
    rows += [("truss.gap", "1/32 in", "at the root"), ("brackets[1].on", "tube", "what it is welded to")]
    told = assumed_of(tuple(rows), ("brackets",))
    assert told == (
        "brackets hole pitch (rows 1, 2, 3 and 5) 1 in: from hole to hole",
        "brackets hole pitch (row 4) 2 in: x",
    )
    many = tuple((f"jig.size_{n}", f"{n} in", "a size") for n in range(30))
    one = Station("x", "Many", "ZERO", assumed=assumed_of(many, ("jig",)))
    text = squeezed(" ".join(p.text for p in read_pdf(station_pdf(one, "1 of 1", BLOCK, LETTER)[0]).pages))
    assert all(squeezed(f"jig size {n} {n} in") in text for n in range(30))


def test_no_last_page_carries_a_lone_row() -> None:
    def pages(count: int) -> list[int]:
        rows = tuple((f"part-{n}", "bracket") for n in range(count))
        one = Station("x", "Rows", "ZERO", lists=(Listing("Plates", "", ("Part", "What"), (1.0, 1.0), rows, "cut"),))
        read = read_pdf(station_pdf(one, "1 of 1", BLOCK, LETTER)[0])
        return [sum(f"part-{n}" in p.text.split() for n in range(count)) for p in read.pages]

    found = [pages(count) for count in range(15, 50, 3)]
    assert any(len(p) == 2 for p in found)
    assert all(p[-1] > 3 for p in found), found


def test_the_same_job_gives_the_same_bytes(front: Contents) -> None:
    assert [d.content for d in documents(front)] == [d.content for d in documents(front)]


def test_a_list_of_three_hundred_rows_and_odd_names_runs_over_pages_and_loses_none() -> None:
    odd = ("naïve ≤ ½", "مرحبا", "bracket 🔧")
    rows = tuple((f"part-{n:03d}", odd[n % 3]) for n in range(300))
    one = Station("x", "Many", "ZERO", lists=(Listing("Plates", "", ("Part", "What"), (1.0, 1.0), rows, "cut"),))
    content, pages = station_pdf(one, "1 of 1", BLOCK, LETTER)
    read = read_pdf(content)
    text = " ".join(p.text for p in read.pages)
    assert len(read.pages) == pages > 8
    assert all(f"part-{n:03d}" in text for n in range(300))


def test_every_reading_has_an_empty_box_for_each_name(front: Contents) -> None:
    one = Station("x", "Boxes", "ZERO", readings=(Reading("a", "1 in", "", "tape", ("up", "fwd", "down", "rear")),))
    page = read_pdf(station_pdf(one, "1 of 1", BLOCK, LETTER)[0]).pages[0]
    assert all(word in page.text for word in ("up", "fwd", "down", "rear"))
    named = [w for w in page.words if w.text in ("up", "fwd", "down", "rear")]
    boxes = [p.box for p in page.paths if p.closed and 10.0 < p.box[3] - p.box[1] < 30.0 and p.box[2] - p.box[0] < 40.0]
    for word in named:
        x, y = word.box[0], word.box[1]
        assert any(x0 <= x <= x1 and y0 <= y <= y1 for x0, y0, x1, y1 in boxes), word
    # words on one line with others are read as one piece of text
    assert len(named) >= 2 and len(set(boxes)) >= 4
