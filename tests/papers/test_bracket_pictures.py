"""What is put before the camera: brackets of the axle on the axle, then locators on the table."""

import dataclasses

from fixturegen.papers import bracket_pictures
from fixturegen.plate.bracket_set import BracketSet
from fixturegen.shapes.solids import bounding_box
from tests.brackets.place_jobs import rear


def shot(monkeypatch, made):
    scenes = []

    def photographed(items, views, size):
        scenes.append(items)
        return [b"png"] * len(views)

    monkeypatch.setattr(bracket_pictures, "pictures_bytes", photographed)
    return bracket_pictures.bracket_pictures(made), scenes


def test_brackets_are_shown_on_the_axle_and_locators_on_the_table(monkeypatch):
    made = rear()
    pictures, (on_axle, on_table) = shot(monkeypatch, made)
    assert len(pictures) == 3 and "locators on the table" in pictures[-1].caption
    amber = [s for s, colour, _ in on_axle if colour == bracket_pictures.BRACKET]
    assert len(amber) == len(made.assemblies["brackets"].placements)
    # in the axle's frame the axle line is at zero, on the table at the height of the jig
    low = min(bounding_box(s)[2] for s, *_ in on_axle)
    base = min(bounding_box(s)[2] for s, colour, _ in on_table if colour == bracket_pictures.HOLDER)
    assert low < 0.0 <= base
    assert all(opacity < 1.0 for _, colour, opacity in on_table if colour == bracket_pictures.GHOST)


def test_a_job_without_brackets_has_no_such_picture(monkeypatch):
    pictures, scenes = shot(monkeypatch, dataclasses.replace(rear(), brackets=BracketSet()))
    assert (pictures, scenes) == ((), [])
