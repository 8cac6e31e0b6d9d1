"""The cache of solids: hits, misses, damage, and the same files with and without it."""

from dataclasses import replace

import pytest

from fixturegen.plate import Hole, Part, Profile, Purpose
from fixturegen.plate.profile import rectangle
from fixturegen.shapes import cache, solids, step

PART = Part(
    "plate", "Plate", "test", "plate", 6.0,
    profile=Profile(rectangle(0, 0, 100, 50), (), (Hole(50, 25, 20, Purpose.BOLT, cut=18.0),)),
)  # fmt: skip


@pytest.fixture
def made(monkeypatch, tmp_path):
    """Names of the parts really made, the cache being in a folder of the test."""
    names = []
    real = cache.solid_of

    def counted(part, *, as_cut=False):
        names.append(part.name)
        return real(part, as_cut=as_cut)

    monkeypatch.setattr(cache, "solid_of", counted)
    with cache.cache_in(tmp_path / "cache"):
        yield names


def step_of(solid):
    return step.step_bytes([step.StepItem("plate", solid)])


def test_a_solid_is_made_once_and_then_read(made):
    first, second = cache.cached_solid(PART), cache.cached_solid(PART)
    assert made == ["plate"]
    assert solids.volume(first) == solids.volume(second)
    # names and notes shape nothing
    cache.cached_solid(replace(PART, name="other", notes=("ream it",)))
    assert made == ["plate"]


@pytest.mark.parametrize(
    "other",
    [
        replace(PART, thickness=6.0000001),
        replace(PART, profile=Profile(rectangle(0, 0, 100, 50))),
        replace(PART, profile=replace(PART.profile, holes=(replace(PART.profile.holes[0], x=51),))),
    ],
)
def test_another_dimension_is_another_entry(made, other):
    cache.cached_solid(PART)
    cache.cached_solid(other)
    assert len(made) == 2


def test_finished_and_as_cut_are_two_entries(made):
    finished, as_cut = cache.cached_solid(PART), cache.cached_solid(PART, as_cut=True)
    assert len(made) == 2
    assert solids.volume(as_cut) > solids.volume(finished)


def test_files_are_the_same_cold_warm_and_without_the_cache(made):
    cold = step_of(cache.cached_solid(PART))
    warm = step_of(cache.cached_solid(PART))
    with cache.cache_disabled():
        none = step_of(cache.cached_solid(PART))
    assert made == ["plate", "plate"]
    assert cold == warm == none


@pytest.mark.parametrize("damage", [b"", b"nonsense", None])
def test_a_damaged_entry_is_a_miss_and_is_mended(made, damage):
    cache.cached_solid(PART)
    (entry,) = cache.cache_folder().glob("*.brep")
    whole = entry.read_bytes()
    if damage is None:
        damage = bytearray(whole)
        damage[len(damage) // 2] ^= 1
    entry.write_bytes(bytes(damage))
    assert solids.volume(cache.cached_solid(PART)) == pytest.approx(6 * (5000 - 314.159265), rel=1e-6)
    assert len(made) == 2
    assert entry.read_bytes() == whole


def test_a_cache_that_cannot_be_written_costs_nothing_but_time(made, tmp_path):
    blocker = tmp_path / "file"
    blocker.write_text("in the way")
    with cache.cache_in(blocker / "cache"):
        assert solids.volume(cache.cached_solid(PART)) > 0
    assert blocker.read_text() == "in the way"


def test_without_the_cache_nothing_is_written(made):
    with cache.cache_disabled():
        cache.cached_solid(PART)
    assert not cache.cache_folder().exists()


def test_the_key_changes_with_the_source_of_the_maker_and_with_the_libraries(tmp_path, monkeypatch):
    source = tmp_path / "maker.py"
    source.write_text("first")
    key = cache.key_of(("a", 1.0), (source,))
    assert cache.key_of(("a", 1.0), (source,)) == key
    source.write_text("second")
    assert cache.key_of(("a", 1.0), (source,)) != key
    before = cache.key_of("a")
    monkeypatch.setattr(cache, "_surroundings", lambda: ("cadquery 99\n",))
    assert cache.key_of("a") != before
    assert cache.key_of(("a", "b")) != cache.key_of(("a,b",))
    with pytest.raises(TypeError, match="no fixed text"):
        cache.key_of({"a": 1})


def test_old_entries_go_when_the_folder_grows_too_large(made, monkeypatch):
    monkeypatch.setattr(cache, "LARGEST", 0)
    cache.cached_solid(PART)
    assert list(cache.cache_folder().glob("*")) == []
