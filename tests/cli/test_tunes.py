"""`stavewright tunes` as a person meets it."""

from __future__ import annotations

import pytest

from exchange.any_score import hard_case
from stavewright.cli import main as front
from stavewright.exchange.musicxml_write import to_musicxml
from stavewright.tunes import survey
from stavewright.tunes.collections import files_of


def test_index_says_what_it_found_and_writes_only_to_the_cache(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setattr(survey, "files_of", lambda one, folder: list(files_of(one, folder))[::40])
    assert front.main(["tunes", "index", "--why"]) == 0
    shown = capsys.readouterr().out
    assert "Ryan's Mammoth Collection" in shown
    assert "skipped" in shown
    (written,) = (tmp_path / "stavewright").iterdir()
    assert str(written) in shown


def test_index_without_the_extra_says_what_to_install(monkeypatch, capsys):
    monkeypatch.setattr("stavewright.tunes.collections.find_spec", lambda name: None)
    assert front.main(["tunes", "index"]) == 2
    assert "pip install 'stavewright[tunes]'" in capsys.readouterr().err


def test_folder_names_what_it_does_not_understand(tmp_path, capsys):
    (tmp_path / "good.musicxml").write_text(to_musicxml(hard_case()))
    (tmp_path / "broken.xml").write_text("<score-partwise>")
    assert front.main(["tunes", "folder", str(tmp_path)]) == 0
    shown = capsys.readouterr().out
    assert "not understood: broken.xml: the file is not sound XML" in shown
    assert "good.musicxml" not in shown


@pytest.mark.parametrize("arguments", [["tunes", "folder", "no-such-folder"], ["tunes", "nothing"]])
def test_wrong_use_is_refused(arguments, capsys):
    assert front.main(arguments) == 2
    assert capsys.readouterr().err
