import errno
import os
import tempfile

import pytest

from fixturegen.cli.main import main
from fixturegen.sheet import read
from tests.sheet.altered import faults


def test_new_writes_a_starter_that_names_its_blanks(tmp_path, capsys):
    path = tmp_path / "front-axle.toml"
    assert main(["new", str(path)]) == 0
    text = path.read_text(encoding="utf-8")
    assert 'name = "Front axle"' in text
    assert len(faults(text)) > 40
    assert "fixturegen check" in capsys.readouterr().out


@pytest.mark.parametrize(
    "options",
    [
        [],
        ["--knuckle", "ball-joint"],
        ["--housing", "integral"],
        ["--axle", "rear"],
        ["--axle", "rear", "--housing", "integral"],
    ],
)
def test_new_filled_reads_for_every_variant(tmp_path, options):
    path = tmp_path / "axle.toml"
    assert main(["new", str(path), "--filled", *options]) == 0
    assert read(path).job.name == "Axle"


def test_new_never_overwrites(tmp_path, capsys):
    path = tmp_path / "axle.toml"
    path.write_text("mine", encoding="utf-8")
    assert main(["new", str(path)]) == 2
    assert path.read_text(encoding="utf-8") == "mine"
    assert "a file that is there already" in capsys.readouterr().err
    assert [p.name for p in tmp_path.iterdir()] == ["axle.toml"]


def test_new_does_not_follow_a_dangling_link(tmp_path):
    path = tmp_path / "axle.toml"
    path.symlink_to(tmp_path / "elsewhere.toml")
    assert main(["new", str(path)]) == 2
    assert not (tmp_path / "elsewhere.toml").exists()


def test_new_into_a_folder_that_is_not_there_is_one_sentence(tmp_path, capsys):
    assert main(["new", str(tmp_path / "no" / "axle.toml")]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_new_for_a_rear_axle_takes_no_knuckle(tmp_path, capsys):
    path = tmp_path / "axle.toml"
    assert main(["new", str(path), "--axle", "rear", "--knuckle", "kingpin"]) == 2
    assert "a rear axle has no knuckles" in capsys.readouterr().err
    assert not path.exists()


def test_new_in_a_place_that_cannot_be_written_leaves_nothing(tmp_path, monkeypatch, capsys):
    def refuse(*_a, **_k):
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(tempfile, "mkstemp", refuse)
    assert main(["new", str(tmp_path / "axle.toml")]) == 3
    assert list(tmp_path.iterdir()) == []
    assert "Permission denied" in capsys.readouterr().err


def test_new_on_a_disk_without_hard_links_writes_all_the_same(tmp_path, monkeypatch):
    def no_links(*_a, **_k):
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    assert main(["new", str(tmp_path / "axle.toml"), "--filled"]) == 0
    assert [p.name for p in tmp_path.iterdir()] == ["axle.toml"]
    assert read(tmp_path / "axle.toml")


def test_a_name_of_odd_signs_still_reads(tmp_path):
    path = tmp_path / 'my "good"\taxle.toml'
    assert main(["new", str(path), "--filled"]) == 0
    assert read(path).job.name == 'My "good" axle'
