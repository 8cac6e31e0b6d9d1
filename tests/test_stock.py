"""The shipped tables. Published values are checked in tests/validation."""

import math
import re
from dataclasses import FrozenInstanceError
from itertools import pairwise

import pytest

from fixturegen.errors import FixturegenError, ProgramFault
from fixturegen.findings import Trust
from fixturegen.sources import sources
from fixturegen.stock import (
    AxleFamily,
    Bolt,
    CutProcess,
    Dowel,
    FabTable,
    Fit,
    Grade,
    Head,
    Material,
    NotInTable,
    PlateName,
    Tube,
    entry,
    params_folder,
    read_table,
    table,
    table_names,
)

ALL = [(name, e) for name in table_names() for e in table(name).entries.values()]


def test_every_file_of_params_is_a_table_and_every_table_a_file():
    files = {p.stem for p in params_folder().glob("*.toml")}
    assert files - {"sources"} == set(table_names())


@pytest.mark.parametrize(("name", "found"), ALL, ids=[f"{n}:{e.id}" for n, e in ALL])
def test_every_entry_carries_source_and_trust_no_stronger_than_its_source(name, found):
    order = list(Trust)
    assert found.source in sources()
    assert order.index(found.trust) >= order.index(sources()[found.source].trust)
    assert re.fullmatch(r"[A-Za-z0-9./-]+", found.id)


def test_tables_cannot_be_changed():
    holes = table("holes")
    with pytest.raises(TypeError):
        holes.entries["9/16"] = holes.entries["1/2"]
    with pytest.raises(FrozenInstanceError):
        holes.entries["1/2"].close = 1.0


def test_the_defaults_of_a_sheet_are_in_the_tables():
    assert entry("processes", "plasma-air-65a", CutProcess).kerf_at(6.35) == pytest.approx(0.085 * 25.4)
    assert entry("processes", "plasma-air-45a", CutProcess)
    assert entry("materials", "dom-1020", Material)
    assert entry("materials", "a36", Material)


def test_kerf_rises_with_thickness_and_is_level_beyond_the_ends():
    process = entry("processes", "plasma-air-65a", CutProcess)
    kerfs = [process.kerf_at(t) for t in (1, 4.7625, 5.5, 6.35, 8, 9.525, 12.7, 30)]
    assert kerfs == sorted(kerfs)
    assert (kerfs[0], kerfs[-1]) == (process.kerf[0], process.kerf[-1])
    # a point half way lies half way
    assert process.kerf_at((6.35 + 9.525) / 2) == pytest.approx((0.085 + 0.095) / 2 * 25.4)


def test_kerf_stays_inside_the_spread_of_the_shop():
    # common practice, no source: 40-50 A 0.060 to 0.085 in, 65-80 A 0.075 to 0.110 in
    for process in table("processes").entries.values():
        assert isinstance(process, CutProcess)
        assert len(process.thickness) == len(process.kerf)
        assert all(a < b for a, b in pairwise(process.thickness))
        assert all(process.kerf_lowest <= k <= process.kerf_highest for k in process.kerf)


def test_every_table_of_holes_pins_and_tubes_is_possible():
    for e in table("tubes").entries.values():
        assert isinstance(e, Tube)
        assert 2 * e.wall < e.diameter
        assert entry("materials", e.material, Material)
    for e in table("dowels").entries.values():
        assert isinstance(e, Dowel)
        assert e.smallest < e.largest
        assert abs(e.smallest - e.diameter) < 0.03
    for e in table("tables").entries.values():
        assert isinstance(e, FabTable)
        assert e.pin < e.hole < e.grid
        assert entry("bolts", e.bolt, Bolt).diameter < e.hole
    for e in table("fits").entries.values():
        assert isinstance(e, Fit)
        assert e.smallest <= e.largest
    for e in table("materials").entries.values():
        assert isinstance(e, Material)
        assert e.yield_strength < e.tensile
    for e in table("bolt-grades").entries.values():
        assert isinstance(e, Grade)
        assert e.proof < e.yield_strength < e.tensile
    for e in table("plates").entries.values():
        assert isinstance(e, PlateName)
        assert entry("materials", e.material, Material)


def test_heads_and_bolts_name_the_same_threads():
    assert set(table("heads").entries) == set(table("bolts").entries)
    for name in table("bolts").entries:
        bolt, head = entry("bolts", name, Bolt), entry("heads", name, Head)
        assert bolt.diameter < head.across_flats
        # a tap drill leaves between half and the whole of the thread's 1.0825 P in the wall
        assert bolt.diameter - 1.0825 * bolt.lead < head.tap_drill < bolt.diameter - 0.55 * bolt.lead


def test_axle_families_are_ranges_without_a_bolt_pattern():
    for e in table("axles").entries.values():
        assert isinstance(e, AxleFamily)
        assert e.trust in (Trust.MEMORY, Trust.ASSUMED)
        ranges = [v for v in vars(e).values() if isinstance(v, tuple)]
        assert len(ranges) == 10
        assert all(len(r) == 2 and r[0] <= r[1] for r in ranges)
        assert not any("pattern" in key or "angle" in key or "stud" in key for key in vars(e))


@pytest.mark.parametrize(("name", "given", "near"), [("materials", "a-36", "a36"), ("bolts", "M12x1.7", "M12x1.75")])
def test_a_name_that_is_not_in_the_table_is_refused_with_the_nearest(name, given, near):
    record = {"materials": Material, "bolts": Bolt}[name]
    with pytest.raises(NotInTable) as refused:
        entry(name, given, record)
    assert refused.value.given == given
    assert near in refused.value.remedy
    assert near in refused.value.allowed
    assert refused.value.exit_code == 2
    assert refused.value.faults[0].remedy == refused.value.remedy
    assert isinstance(refused.value, FixturegenError)
    assert str(refused.value).startswith(f"given {given}; allowed: ")


def test_a_table_that_does_not_exist_is_refused_with_the_nearest():
    with pytest.raises(NotInTable, match="holes"):
        table("hole")


ENTRY = """
[[entry]]
id = "x"
use = "a fit"
smallest = "0 in"
largest = "1/64 in"
source = "memory"
trust = "memory"
"""
HEAD = 'title = "Fits"\nnote = "n"\n'


def test_a_good_table_is_read(tmp_path):
    (tmp_path / "fits.toml").write_text(HEAD + ENTRY, encoding="utf-8")
    assert read_table("fits", tmp_path).entries["x"].largest == pytest.approx(25.4 / 64)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (ENTRY, "title"),
        (HEAD, "entry"),
        (HEAD + ENTRY + ENTRY, "twice"),
        (HEAD + ENTRY.replace("1/64 in", "1/64"), "unit"),
        (HEAD + ENTRY.replace("1/64 in", "9 in"), "large"),
        (HEAD + ENTRY.replace('"1/64 in"', "0.4"), "quotes"),
        (HEAD + ENTRY.replace('use = "a fit"\n', ""), "missing"),
        (HEAD + ENTRY.replace("use", "uses"), "unknown"),
        (HEAD + ENTRY.replace('source = "memory"', 'source = "hearsay"'), "hearsay"),
        (HEAD + ENTRY.replace('trust = "memory"', 'trust = "surely"'), "surely"),
        (HEAD + ENTRY.replace('trust = "memory"\n', ""), "trust"),
        (HEAD + ENTRY.replace('"a fit"', "3"), "not a text"),
        (HEAD + "[[entry]", "cannot be read"),
    ],
)
def test_a_bad_table_is_a_fault_of_the_program(tmp_path, text, words):
    (tmp_path / "fits.toml").write_text(text, encoding="utf-8")
    with pytest.raises(ProgramFault, match=words):
        read_table("fits", tmp_path)


def test_a_steel_weighs_what_steel_weighs():
    # AISC Manual: steel 490 lb/ft^3 = 7849 kg/m^3 [mem]
    for e in table("materials").entries.values():
        assert isinstance(e, Material)
        assert math.isclose(e.density, 7849, rel_tol=0.002)
