"""The cache of solids: hits, misses, damage, and the same files with and without it."""

from dataclasses import replace

import pytest

from fixturegen import keeping
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
    with keeping.cache_in(tmp_path / "cache"):
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
    with keeping.cache_used(False):
        none = step_of(cache.cached_solid(PART))
    assert made == ["plate", "plate"]
    assert cold == warm == none


@pytest.mark.parametrize("damage", [b"", b"nonsense", None])
def test_a_damaged_entry_is_a_miss_and_is_mended(made, damage):
    cache.cached_solid(PART)
    (entry,) = keeping.cache_folder().glob("*.brep")
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
    with keeping.cache_in(blocker / "cache"):
        assert solids.volume(cache.cached_solid(PART)) > 0
    assert blocker.read_text() == "in the way"


def test_without_the_cache_nothing_is_written(made):
    with keeping.cache_used(False):
        cache.cached_solid(PART)
    assert not keeping.cache_folder().exists()


def test_the_key_changes_with_the_source_of_the_maker_and_with_the_libraries(tmp_path, monkeypatch):
    source = tmp_path / "maker.py"
    source.write_text("first")
    key = keeping.key_of(("a", 1.0), (source,))
    assert keeping.key_of(("a", 1.0), (source,)) == key
    source.write_text("second")
    assert keeping.key_of(("a", 1.0), (source,)) != key
    before = keeping.key_of("a")
    monkeypatch.setattr(keeping, "_surroundings", lambda: ("cadquery 99\n",))
    assert keeping.key_of("a") != before
    assert keeping.key_of(("a", "b")) != keeping.key_of(("a,b",))
    with pytest.raises(TypeError, match="no fixed text"):
        keeping.key_of({1, 2})


def test_old_entries_go_when_the_folder_grows_too_large(made, monkeypatch):
    monkeypatch.setattr(keeping, "LARGEST", 0)
    cache.cached_solid(PART)
    assert list(keeping.cache_folder().glob("*")) == []


def box_at(x, y, z):
    return solids.moved(solids.box(0, 0, 0, 10, 20, 30), x, y, z)


def test_what_two_boxes_share_is_the_overlap_of_their_edges(made):
    # 2 by 20 by 30 mm is shared: depth is 2 V / A
    for _ in range(2):
        depth, volume, point = cache.shared_piece(box_at(0, 0, 0), box_at(8, 0, 0))
        assert volume == pytest.approx(1200.0)
        assert depth == pytest.approx(2 * 1200.0 / (2 * (2 * 20 + 2 * 30 + 20 * 30)))
        assert point == pytest.approx((9, 10, 15))
    assert cache.shared_piece(box_at(0, 0, 0), box_at(11, 0, 0)) is None


def test_a_pair_that_turns_together_is_asked_once_and_told_where_it_stands(made, monkeypatch):
    asked = []
    real = cache.common
    monkeypatch.setattr(cache, "common", lambda *a: asked.append(a) or real(*a))
    turn = ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    pair = box_at(0, 0, 0), box_at(8, 0, 0)
    first = cache.shared_piece(*pair)
    second = cache.shared_piece(*(solids.transformed(s, turn, (5.0, 0.0, 0.0)) for s in pair))
    assert len(asked) == 1
    assert second[:2] == first[:2]
    # (9, 10, 15) turned by a right angle about Z, then shifted
    assert second[2] == pytest.approx((5.0 - 10.0, 9.0, 15.0))
    with keeping.cache_used(False):
        assert cache.shared_piece(*pair) == first


def test_the_digest_is_the_drawings_own_wherever_it_stands_and_however_it_was_meshed():
    from fixturegen.shapes.meshes import mesh_of

    keys = {cache.shape_key(solids.box(0, 0, 0, 10, 20, 30 + n))[0] for n in range(20)}
    # nothing holds on to these boxes: a number given out again is not another's digest
    assert len(keys) == 20
    box = box_at(0, 0, 0)
    with keeping.cache_used(False):
        mesh_of(box)
    assert cache.shape_key(box)[0] == cache.shape_key(box_at(1, 2, 3))[0]
    assert cache.shape_key(box)[1] != cache.shape_key(box_at(1, 2, 3))[1]


def test_the_digest_of_a_kept_solid_does_not_hang_on_what_is_asked_of_it_before(made):
    first = cache.shape_key(cache.cached_solid(PART))
    asked = cache.cached_solid(PART)
    solids.cut(asked, solids.box(0, 0, 0, 10, 10, 10))  # the kernel adds curves to the faces it looks at
    assert cache.shape_key(asked) == first


def test_asking_what_is_shared_leaves_the_files_of_both_as_they_were(made):
    bar, ring = solids.cylinder((0, 0, 0), (0, 0, 50), 20.0), solids.tube((0, 0, 10), (0, 0, 20), 30.0, 20.0)
    with keeping.cache_used(False):
        before = step_of(bar), step_of(ring)
        cache.shared_piece(bar, ring)
        assert (step_of(bar), step_of(ring)) == before
