"""The pictures of the links as files: whole, named, with their words, the same bytes each time; and as PNG."""

import io
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from fixturegen.errors import MachineFault
from fixturegen.papers import pixels
from fixturegen.papers.link_files import about_text, link_pictures, slug
from fixturegen.papers.link_section import link_section
from fixturegen.papers.pixels import ZOOM, png_bytes
from tests.papers import invented_cases as cases
from tests.papers.svg_reading import boxes, elements, graph, texts


@pytest.fixture(scope="module")
def two():
    return (cases.splayed_case("as measured"), cases.flat_case('level <lowers> & "more"'))


@pytest.fixture(scope="module")
def pictures(two):
    return link_pictures(two)


def test_there_is_one_file_for_the_views_and_one_for_each_plot(two, pictures):
    assert pictures[0].name == "views"
    assert len(pictures) == 1 + len(link_section(two).plots)
    names = [p.name for p in pictures]
    assert len(names) == len(set(names))
    assert all(re.fullmatch(r"[a-z0-9-]+", n) for n in names)
    assert "anti-squat-under-drive-over-wheel-travel" in names


def test_the_views_of_all_geometries_stand_side_by_side(two, pictures):
    svg = pictures[0].svg
    inner = elements(svg, "svg")[1:]
    assert len(inner) == 2
    places = [(float(e.get("x")), float(e.get("x")) + float(e.get("width"))) for e in inner]
    assert places[0][1] <= places[1][0]
    wide, high = (float(v) for v in ET.fromstring(svg).get("viewBox").split()[2:])
    assert places[1][1] <= wide
    assert all(float(e.get("y")) + float(e.get("height")) <= high for e in inner)
    assert {c.name for c in two} <= set(texts(svg))


def test_every_plot_carries_the_words_on_its_signs_in_the_picture_itself(two, pictures):
    for picture, figure in zip(pictures[1:], link_section(two).plots, strict=True):
        words = " ".join(texts(picture.svg))
        assert figure.caption in words
        wide, high = (float(v) for v in ET.fromstring(picture.svg).get("viewBox").split()[2:])
        outer = ET.fromstring(picture.svg)
        own = [e for e in outer if e.tag.endswith("text")]
        assert all(float(e.get("y")) < high for e in own)
        assert all(float(e.get("x")) + 0.58 * 12.0 * len(e.text) <= wide for e in own)


def test_a_plot_in_a_file_reads_as_the_one_in_the_report(two, pictures):
    for picture, figure in zip(pictures[1:4], link_section(two).plots[:3], strict=True):
        a, b = graph(picture.svg), graph(figure.svg)
        assert all(np.allclose(np.concatenate(a.curves[n]), np.concatenate(b.curves[n])) for n in b.curves)


def test_the_text_beside_the_pictures_names_each_and_begins_with_the_caution(two, pictures):
    text = about_text(two, pictures)
    for picture in pictures[1:]:
        assert f"{picture.name}:" in text
    assert "trained hands" in text[:200]
    assert max(len(line) for line in text.splitlines()) <= 100
    assert text.endswith("\n")


def test_the_same_geometries_give_the_same_files(pictures):
    again = (cases.splayed_case("as measured"), cases.flat_case('level <lowers> & "more"'))
    assert link_pictures(again) == pictures


def test_two_springs_of_nearly_one_name_get_two_files():
    case = cases.sheet_case(cases.KINGPIN)

    def renamed(travel):
        pairs = zip(travel.struts[:2], ("a b", "a/b"), strict=True)
        return replace(travel, struts=tuple((kind, replace(motion, name=name)) for (kind, motion), name in pairs))

    study = case.study
    travels = {"named": renamed(study.named), "heave": renamed(study.heave), "roll": renamed(study.roll)}
    odd = replace(case, study=replace(study, **travels))
    names = [p.name for p in link_pictures((odd,))]
    assert "length-of-a-b-over-wheel-travel" in names
    assert "length-of-a-b-over-wheel-travel-2" in names


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Toe-in, total over roll", "toe-in-total-over-roll"),
        ("../../x", "x"),
        ("A" * 90, "a" * 60),
        ("é ü/ß", "picture"),
    ],
)
def test_a_file_name_has_letters_digits_and_hyphens_only(title, name):
    assert slug(title) == name


def opened(data):
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB")).astype(int)


def test_a_png_is_as_large_as_the_picture_says_and_not_blank(pictures):
    svg = pictures[1].svg
    wide, high = (float(v) for v in ET.fromstring(svg).get("viewBox").split()[2:])
    seen = opened(png_bytes(svg))
    assert seen.shape[:2] == (round(ZOOM * high), round(ZOOM * wide))
    assert seen[0, 0].tolist() == [255, 255, 255]
    assert (seen.sum(axis=2) < 300).sum() > 2000


def test_a_png_shows_its_words(two):
    # without letters the renderer draws the lines and says nothing: the pixels under each word are looked at
    svg = link_section(two).plots[0].svg
    silent = re.sub(r"<text.*?</text>", "", svg)
    there, gone = opened(png_bytes(svg)), opened(png_bytes(silent))
    words = boxes(svg)
    assert len(words) > 15
    for left, top, right, low, word in words:
        part = np.s_[int(ZOOM * top) : int(ZOOM * low), int(ZOOM * left) : int(ZOOM * right)]
        assert np.abs(there[part] - gone[part]).max() > 100, word


def test_the_same_picture_gives_the_same_png(pictures):
    assert png_bytes(pictures[0].svg) == png_bytes(pictures[0].svg)
    assert png_bytes(pictures[0].svg) != png_bytes(pictures[1].svg)


def test_a_png_without_its_letters_is_refused_in_a_sentence(pictures, monkeypatch):
    monkeypatch.setattr(pixels, "LETTERS", ("no-such-font.ttf",))
    with pytest.raises(MachineFault, match="leave --png out"):
        png_bytes(pictures[0].svg)


def test_a_png_without_its_library_is_refused_in_a_sentence(pictures, monkeypatch):
    monkeypatch.setitem(__import__("sys").modules, "resvg_py", None)
    with pytest.raises(MachineFault, match="resvg_py is not installed"):
        png_bytes(pictures[0].svg)
