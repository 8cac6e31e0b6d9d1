"""What is kept between runs: never seen in what comes out."""

from pathlib import Path

import pytest

from fixturegen import keeping, pipeline
from tests.few_brackets import jig_alone

EXAMPLE = Path(__file__).parents[1] / "examples" / "rear-dropout.toml"


def built(sheet: Path, out: Path) -> dict[str, bytes]:
    """Every file of the job folder."""
    pipeline.build(sheet, out, only=None)
    return {p.relative_to(out).as_posix(): p.read_bytes() for p in sorted(out.rglob("*")) if p.is_file()}


def test_a_build_gives_the_same_bytes_without_cache_cold_warm_and_over_a_damaged_one(tmp_path: Path) -> None:
    sheet = tmp_path / "job.toml"
    sheet.write_text(jig_alone(EXAMPLE.read_text("utf-8")), encoding="utf-8")
    with keeping.cache_used(False):
        without = built(sheet, tmp_path / "out")
    with keeping.cache_in(tmp_path / "cache"):
        cold = built(sheet, tmp_path / "out")
        warm = built(sheet, tmp_path / "out")
        assert {n for n in cold if warm.get(n) != cold[n]} == set()
        for entry in sorted((tmp_path / "cache").iterdir())[::4]:  # names are hashes: some of every kind
            body = bytearray(entry.read_bytes())
            body[-1] ^= 1
            entry.write_bytes(bytes(body))
        damaged = built(sheet, tmp_path / "out")
    assert {n for n in cold if without.get(n) != cold[n] or damaged.get(n) != cold[n]} == set()
    assert without.keys() == cold.keys() == damaged.keys()


def test_records_mappings_and_bytes_have_a_text_of_their_own_and_sets_do_not() -> None:
    assert keeping.key_of({"a": 1.0}) != keeping.key_of({"a": 2.0})
    assert keeping.key_of(b"a") != keeping.key_of("a")
    assert keeping.key_of(None) != keeping.key_of("None")
    with pytest.raises(TypeError, match="no fixed text"):
        keeping.key_of({1, 2})


def test_a_value_comes_by_way_of_the_same_text_whether_it_was_there_or_not(tmp_path: Path) -> None:
    made: list[int] = []
    with keeping.cache_in(tmp_path):
        for _ in range(2):
            # a tuple is a list in JSON: cold and warm must not differ
            assert keeping.kept_json("t", keeping.key_of("x"), lambda: made.append(1) or (0.1, None)) == [0.1, None]
    assert made == [1]
