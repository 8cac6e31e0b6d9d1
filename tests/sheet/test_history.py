import errno
import os
from pathlib import Path

import pytest

from fixturegen.errors import MachineFault, SheetFault
from fixturegen.sheet import read
from fixturegen.sheet.history import changes_since, folder_of, remember, revisions
from tests.sheet.altered import KINGPIN, line_with, put

A = KINGPIN
B = put(KINGPIN, ('id = "A"', 'id = "B"\nsince = "A"'), ('caster = "7 deg"', 'caster = "6.5 deg"'))


@pytest.fixture
def path(tmp_path) -> Path:
    found = tmp_path / "front axle.toml"
    found.write_text(A, encoding="utf-8")
    return found


def test_the_history_stands_beside_the_sheet(path):
    assert folder_of(path) == path.parent / "front axle.history"
    assert revisions(path) == ()


def test_a_remembered_revision_is_the_sheet_byte_for_byte(path):
    path.write_bytes(b"\xef\xbb\xbf" + A.replace("\n", "\r\n").encode())
    assert remember(path) == ""
    assert (folder_of(path) / "A.toml").read_bytes() == path.read_bytes()
    assert [p.name for p in folder_of(path).iterdir()] == ["A.toml"]


def test_remembering_twice_changes_nothing_and_warns_of_nothing(path):
    remember(path)
    path.write_text(put(A, ("# Build sheet", "# The build sheet"), ('"112 in"', '"9 ft 4 in"')), encoding="utf-8")
    assert remember(path) == ""
    assert (folder_of(path) / "A.toml").read_text(encoding="utf-8") == A


def test_other_values_under_the_same_id_never_overwrite_and_are_told(path):
    remember(path)
    path.write_text(put(A, ('caster = "7 deg"', 'caster = "6.5 deg"')), encoding="utf-8")
    warning = remember(path)
    assert "revision A is kept already with other values" in warning
    assert "new revision.id" in warning
    assert (folder_of(path) / "A.toml").read_text(encoding="utf-8") == A


def test_a_disk_without_hard_links_keeps_the_same(path, monkeypatch):
    def no_links(*_a, **_k):
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    assert remember(path) == ""
    path.write_text(put(A, ('caster = "7 deg"', 'caster = "6.5 deg"')), encoding="utf-8")
    assert remember(path) != ""
    assert (folder_of(path) / "A.toml").read_text(encoding="utf-8") == A
    assert [p.name for p in folder_of(path).iterdir()] == ["A.toml"]


def test_a_full_disk_leaves_nothing_behind(path, monkeypatch):
    def full(*_a, **_k):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(MachineFault, match="No space left"):
        remember(path)
    assert list(folder_of(path).iterdir()) == []


def test_a_sheet_with_faults_is_not_remembered(path):
    path.write_text(put(A, ('"112 in"', '"112 deg"')), encoding="utf-8")
    with pytest.raises(SheetFault):
        remember(path)
    assert not folder_of(path).exists()


def test_changes_since_a_revision_are_listed_with_both_values(path):
    remember(path)
    path.write_text(B, encoding="utf-8")
    assert changes_since(path, read(path)) == [("axle.caster", "7 deg", "6.5 deg")]


def test_other_words_for_the_same_value_are_no_change(path):
    remember(path)
    path.write_text(put(B, ('"112 in"', '"2844.8 mm"'), ('"6.5 deg"', '"7 deg"')), encoding="utf-8")
    assert changes_since(path, read(path)) == []


def test_what_came_and_what_went_is_a_change(path):
    remember(path)
    text = put(B, ('"6.5 deg"', '"7 deg"'), ('angle = "0.5 deg +/- 0.05 deg"', ""))
    text += '\n[jig]\naxle_height = "14 in"\n'
    path.write_text(text, encoding="utf-8")
    assert changes_since(path, read(path)) == [
        ("jig.axle_height", "not given", "14 in"),
        ("housing.face.angle", "0.5 deg +/- 0.05 deg", "not given"),
    ]


def test_without_since_there_is_nothing_to_list(path):
    assert changes_since(path, read(path)) == []


def test_a_missing_revision_names_those_there_are(path):
    remember(path)
    path.write_text(put(A, ('id = "A"', 'id = "B"')), encoding="utf-8")
    remember(path)
    text = put(B, ('id = "B"', 'id = "D"'), ('since = "A"', 'since = "C"'))
    path.write_text(text, encoding="utf-8")
    with pytest.raises(SheetFault) as caught:
        changes_since(path, read(path))
    (fault,) = caught.value.faults
    assert (fault.key, fault.given, fault.allowed) == ("revision.since", "C", "A, B")
    assert fault.line == line_with(text, "since =")


def test_a_missing_history_says_that_builds_make_it(path):
    path.write_text(B, encoding="utf-8")
    with pytest.raises(SheetFault) as caught:
        changes_since(path, read(path))
    assert "a build keeps each revision" in caught.value.faults[0].allowed
