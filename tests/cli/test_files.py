"""Files are written whole or not at all, several together too."""

from __future__ import annotations

from pathlib import Path

import pytest

from stavewright.cli.files import BadFile, read_bytes, write_all, write_whole


def listing(folder: Path) -> dict[str, bytes | None]:
    """Every file below a folder with what it holds, hidden ones too."""
    return {
        str(one.relative_to(folder)): one.read_bytes() if one.is_file() else None for one in sorted(folder.rglob("*"))
    }


def test_files_are_written_and_nothing_else_is(tmp_path: Path) -> None:
    out = tmp_path / "new" / "folder"
    assert write_all(out, {"a": b"1", "b": b"2"}) == [out / "a", out / "b"]
    assert listing(out) == {"a": b"1", "b": b"2"}
    write_whole(out / "a", b"3")
    assert listing(out) == {"a": b"3", "b": b"2"}
    assert (out / "a").stat().st_mode & 0o777 == 0o644


def test_one_that_cannot_be_put_in_its_place_takes_all_back(tmp_path: Path) -> None:
    """Old files are restored, new ones taken away, nothing is left beside them."""
    (tmp_path / "old").write_bytes(b"before")
    (tmp_path / "taken").mkdir()
    (tmp_path / "taken" / "inside").write_bytes(b"kept")
    before = listing(tmp_path)
    with pytest.raises(BadFile, match="cannot write into"):
        write_all(tmp_path, {"old": b"after", "new": b"x", "taken": b"y"})
    assert listing(tmp_path) == before


def test_a_folder_that_cannot_be_made_leaves_none_of_its_parents(tmp_path: Path) -> None:
    """A name too long for the disk is refused, and the folders made on the way to it are taken away again."""
    with pytest.raises(BadFile, match="cannot write"):
        write_all(tmp_path / "a" / "b", {"x" * 300: b"1"})
    assert listing(tmp_path) == {}


def test_a_file_in_the_place_of_a_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"1")
    with pytest.raises(BadFile, match="file"):
        write_whole(tmp_path / "file" / "b.json", b"2")
    assert listing(tmp_path) == {"file": b"1"}


def test_a_file_that_is_not_there_is_refused_by_name(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match=r"nothing\.json: No such file"):
        read_bytes(tmp_path / "nothing.json")
