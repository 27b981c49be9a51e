"""The allow-list, the index, and the credits: what is opened, what is counted, and who is named."""

from __future__ import annotations

import json
from pathlib import Path

import msgspec
import pytest

from stavewright.exchange.musicxml_read import read_musicxml
from stavewright.tunes import survey
from stavewright.tunes.abc_header import transcriber_of
from stavewright.tunes.abc_read import tune_texts
from stavewright.tunes.collections import FOLK, SCORES, corpus_folder, corpus_version, files_of
from stavewright.tunes.credit import score_credit, tune_credit, work_title
from stavewright.tunes.errors import BadIndex, NoCollections
from stavewright.tunes.index import FORMAT, Entry, TuneIndex, index_path, load_index, save_index
from stavewright.tunes.survey import build_index

ALLOWED = {"airdsAirs", "ryansMammoth", "oneills1850", "miscFolk", "bach", "beethoven", "haydn", "mozart"}


@pytest.fixture(scope="module")
def index() -> TuneIndex:
    """The index of a tenth of the files, so that the tests are quick."""
    some = pytest.MonkeyPatch()
    some.setattr(survey, "files_of", lambda one, folder: list(files_of(one, folder))[::10])
    heard: list[tuple[int, int]] = []
    found = build_index(read_musicxml, lambda done, of: heard.append((done, of)))
    some.undo()
    assert heard == [(n + 1, len(heard)) for n in range(len(heard))]
    return found


def test_only_the_allowed_folders_are_named():
    """Four fiddle collections, the chorales and the quartets; never the folk songs with non-commercial terms."""
    patterns = [pattern for one in (*FOLK, *SCORES) for pattern in one.patterns]
    assert {pattern.split("/")[0] for pattern in patterns} == ALLOWED
    assert not any(".." in pattern or pattern.startswith("*") for pattern in patterns)
    opened = [path for one in (*FOLK, *SCORES) for path in files_of(one, corpus_folder())]
    assert len(opened) == len(set(opened)) > 1500
    assert not any("essenFolksong" in path.parts for path in opened)


def test_nothing_else_is_ever_opened(monkeypatch):
    """Every file that is opened while the whole index is looked through lies in an allowed folder."""
    seen: set[str] = set()
    real_text, real_bytes = Path.read_text, Path.read_bytes

    def note(path):
        if "corpus" in path.parts:
            seen.add(path.parts[path.parts.index("corpus") + 1])

    monkeypatch.setattr(Path, "read_text", lambda path, *a, **k: (note(path), real_text(path, *a, **k))[1])
    monkeypatch.setattr(Path, "read_bytes", lambda path: (note(path), real_bytes(path))[1])
    monkeypatch.setattr(survey, "files_of", lambda one, folder: list(files_of(one, folder))[:3])
    build_index(read_musicxml, lambda done, of: None)
    assert seen == ALLOWED


def test_the_package_is_found_and_not_imported():
    """Reading in place must not cost the import of the package."""
    import subprocess
    import sys

    code = (
        "import sys; from stavewright.tunes.collections import corpus_folder, FOLK, files_of;"
        "from stavewright.tunes.survey import scan_file; from stavewright.exchange.musicxml_read import read_musicxml;"
        "scan_file(read_musicxml, (FOLK[0], next(iter(files_of(FOLK[0], corpus_folder())))));"
        "assert 'music21' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_without_the_extra_it_says_what_to_install(monkeypatch):
    monkeypatch.setattr("stavewright.tunes.collections.find_spec", lambda name: None)
    with pytest.raises(NoCollections, match=r"pip install 'stavewright\[tunes\]'"):
        corpus_folder()


def test_the_index_counts_what_was_read_and_skipped(index):
    assert set(index.census) == {one.id for one in (*FOLK, *SCORES)}
    folk = [index.census[one.id] for one in FOLK]
    assert sum(one.read for one in folk) > 500
    assert all(one.windows >= one.provable for one in index.census.values())
    assert sum(one.provable for one in index.census.values()) == len(index.entries) > 500
    reasons = {reason for one in folk for reason in (*one.skipped, *one.bars_left_out)}
    assert "a roll" in reasons


def test_the_index_holds_places_and_no_notes(index):
    """An entry is thirteen numbers: none of them is a pitch or a value of a note in order."""
    (first, *_) = json.loads(msgspec.json.encode(index))["entries"]
    assert len(first) == len(Entry.__struct_fields__) == 13
    assert all(isinstance(one, int) for one in first)


def test_the_same_files_give_the_same_index(index, monkeypatch):
    monkeypatch.setattr(survey, "files_of", lambda one, folder: list(files_of(one, folder))[::10])
    assert msgspec.json.encode(build_index(read_musicxml, lambda done, of: None)) == msgspec.json.encode(index)


def test_no_extract_is_there_twice(index):
    assert len({msgspec.json.encode(entry) for entry in index.entries}) == len(index.entries)


def test_the_index_is_kept_whole_and_found_again(index, tmp_path):
    path = index_path({"XDG_CACHE_HOME": str(tmp_path)}, index.version)
    save_index(index, path)
    assert load_index(path, index.version) == index
    assert [one.name for one in path.parent.iterdir()] == [path.name]


@pytest.mark.parametrize("broken", [b"", b"{}", b"[" * 100_000, b'{"format":1}', b"\xff\xfe", None])
def test_a_broken_index_counts_as_none(broken, tmp_path):
    path = tmp_path / "index.json"
    if broken is not None:
        path.write_bytes(broken)
    assert load_index(path, "1") is None


def test_an_index_of_another_version_counts_as_none(index, tmp_path):
    path = tmp_path / "index.json"
    save_index(index, path)
    assert load_index(path, "another") is None
    save_index(msgspec.structs.replace(index, format=FORMAT + 1), path)
    assert load_index(path, index.version) is None
    save_index(msgspec.structs.replace(index, files=()), path)
    assert load_index(path, index.version) is None


def test_a_folder_that_cannot_be_written_is_named(index, tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(BadIndex, match="XDG_CACHE_HOME"):
        save_index(index, tmp_path / "file" / "index.json")


def test_every_folk_credit_names_the_collection_and_a_transcriber(index):
    """The tunes are in the public domain, their encodings are credited: the transcriber, or that none is named."""
    assert tune_credit("Spotted Cow, The", FOLK[2], "Ann Example", '"collected by B. Example"') == (
        "'The Spotted Cow', collected by B. Example, from O'Neill's Music of Ireland (Chicago, 1903), "
        "transcribed by Ann Example"
    )
    assert tune_credit("", FOLK[0], "").endswith("transcriber not named")


def test_every_score_credit_names_composer_and_work():
    for collection in SCORES:
        for path in files_of(collection, corpus_folder()):
            title = work_title(path.relative_to(corpus_folder()).as_posix())
            assert title.startswith(("Chorale, BWV ", "String Quartet, Op. ", "String Quartet, K. ")), path
            assert score_credit(collection.composer, title).startswith(collection.composer)


def test_the_version_is_the_installed_one():
    assert corpus_version().split(".")[0].isdigit()


def test_the_notice_names_every_transcriber():
    """Everyone who transcribed a tune that may be shown is named in the project's NOTICE."""
    notice = " ".join((Path(__file__).parents[2] / "NOTICE").read_text("utf-8").split())
    names: set[str] = set()
    for collection in FOLK:
        for path in files_of(collection, corpus_folder()):
            for text in tune_texts(path.read_text("utf-8")):
                fields = [line[2:] for line in text.splitlines() if line.startswith("Z:")]
                names.add(transcriber_of(fields))
    assert len(names) > 20
    assert [name for name in sorted(names) if name not in notice] == []
