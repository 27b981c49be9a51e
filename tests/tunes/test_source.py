"""The source of melodies: its order, the grade's scope, the proof of every key, and credit for every tune."""

from __future__ import annotations

from random import Random

import msgspec
import pytest

from exchange.any_score import hard_case
from stavewright.exchange.musicxml_read import read_musicxml
from stavewright.exchange.musicxml_write import to_musicxml
from stavewright.score.check import faults
from stavewright.score.event import Note
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import GRADES, scope_for
from stavewright.theory.key import Key
from stavewright.theory.key_proof import prove_key
from stavewright.tunes import survey
from stavewright.tunes.abc_read import read_tune
from stavewright.tunes.choice import fitting, printed_time
from stavewright.tunes.collections import SCORES, files_of
from stavewright.tunes.composed import ComposedMelodies
from stavewright.tunes.errors import NothingInFolder
from stavewright.tunes.extract import Line, cut
from stavewright.tunes.index import Entry
from stavewright.tunes.own_folder import OwnFolder
from stavewright.tunes.setting_out import set_out
from stavewright.tunes.source import TuneMelodies
from stavewright.tunes.survey import build_index
from stavewright.tunes.window import Window


class Silent:
    """A source that has nothing, so that what is real can be told apart."""

    def melody(self, scope, rng, *, bars=4, clef=None, key=None, provable=True):
        return None


@pytest.fixture(scope="module")
def index():
    some = pytest.MonkeyPatch()
    some.setattr(survey, "files_of", lambda one, folder: list(files_of(one, folder))[::6])
    found = build_index(read_musicxml, lambda done, of: None)
    some.undo()
    return found


@pytest.fixture(scope="module")
def real(index):
    return TuneMelodies(None, Silent(), read=read_musicxml, index=index)


def drawn(source, grade, count=40, **more):
    scope = scope_for(grade)
    found = (source.melody(scope, Random(f"{grade} {number}"), **more) for number in range(count))
    return [one for one in found if one is not None]


@pytest.mark.parametrize("grade", GRADES)
@pytest.mark.parametrize("bars", [4, 8])
def test_every_extract_keeps_within_the_grade(real, grade, bars):
    """Clef, range, key, time, values, dots, tuplets and signs are the grade's; bars are full; the key is proved."""
    scope = scope_for(grade)
    extracts = drawn(real, grade, bars=bars)
    assert len(extracts) > 15
    for extract in extracts:
        (stave,) = extract.score.staves
        low, high = scope.range_of(stave.clef)
        assert stave.clef in scope.clefs
        assert stave.time in scope.time_signatures
        assert extract.key in scope.keys
        assert stave.fifths == extract.key.fifths
        assert len(stave.bars) == bars + extract.score.anacrusis
        assert scope.anacrusis or not extract.score.anacrusis
        notes = list(extract.score.notes())
        assert prove_key([note.pitch for note in notes], stave.fifths).key == extract.key
        assert all(low.diatonic <= note.pitch.diatonic <= high.diatonic for note in notes)
        for event in extract.score.events():
            assert event.duration.type in scope.values
            assert event.duration.dots <= scope.dots
            assert event.duration.tuplet is None or event.duration.tuplet.actual in scope.tuplets
        assert faults(extract.score) == []
        assert extract.score == with_accidentals(extract.score)


def test_every_extract_has_its_credit(real):
    """Collection and transcriber for a tune, composer and work for a passage of a score."""
    extracts = [*drawn(real, 3), *drawn(real, 5)]
    for extract in extracts:
        folk = " from " in extract.credit and "transcrib" in extract.credit
        assert folk or any(f"{one.composer}, " in extract.credit for one in SCORES)
        assert extract.title
    assert {"transcribed by" in extract.credit for extract in extracts} == {True, False}


def test_an_extract_in_another_key_says_so(real):
    found = [one for one in drawn(real, 5) if "transposed" in one.credit]
    assert found
    assert all(one.credit.endswith("transposed") for one in found)


def test_the_wanted_clef_and_key_are_given(real):
    for key in (Key.parse("E flat"), Key.parse("F# minor")):
        found = drawn(real, 5, clef="tenor", key=key)
        assert found
        assert {(one.score.staves[0].clef, one.key) for one in found} == {("tenor", key)}


def test_the_same_chance_gives_the_same_melody(index):
    def fresh():
        return TuneMelodies(None, ComposedMelodies(), read=read_musicxml, index=index)

    assert drawn(fresh(), 4, 12) == drawn(fresh(), 4, 12)


def test_an_extract_is_what_its_source_holds(real, index):
    """The melody of an extract is the source's, moved: the same steps in semitones, the same values."""
    for entry in index.entries[:: max(1, len(index.entries) // 40)]:
        passage, _, _ = real._fetch(entry)
        key = Key.parse("A minor") if entry.minor else Key.parse("C")
        score = set_out(passage, key, "treble", scope_for(5).range_of("treble"), passage.time)
        if score is not None:
            notes = [note.pitch.midi for note in score.notes()]
            source = [pitch.midi for pitch in passage.pitches]
            assert [a - notes[0] for a in notes] == [b - source[0] for b in source]


def test_without_real_tunes_melodies_are_composed():
    source = TuneMelodies(None, ComposedMelodies(), read=read_musicxml, index=None)
    source.__dict__["index"] = None
    assert {one.credit for one in drawn(source, 3, 5)} == {"composed by Stavewright for this paper"}


def test_composed_melodies_keep_their_part(index):
    """Some are composed even where there are tunes, so that rare keys and times do not die out."""
    source = TuneMelodies(None, ComposedMelodies(), read=read_musicxml, index=index)
    composed = ["composed" in one.credit for one in drawn(source, 4, 60)]
    assert 3 <= sum(composed) <= 40


def test_a_collection_changed_under_the_index_costs_nothing(index, monkeypatch):
    """When the installed files no longer hold an extract, another source is asked and nothing breaks."""
    monkeypatch.setattr("stavewright.tunes.source.read_tune", lambda text: (_ for _ in ()).throw(OSError("gone")))
    source = TuneMelodies(None, ComposedMelodies(), read=read_musicxml, index=index)
    assert len(drawn(source, 3, 8)) == 8


MINE = "X:1\nT:Mine\nM:3/4\nL:1/4\nK:D\nDFA|dcB|A2F|GEC|DFA|dBG|FGE|D3|]\n"


@pytest.fixture
def folder(tmp_path):
    """A teacher's folder: one good melody, one score with more in it, one broken and one hostile file, one text."""
    line = Line(read_tune(MINE).bars)
    passage = cut(line, Window(0, 8))
    score = set_out(passage, Key.parse("D"), "treble", scope_for(5).range_of("treble"), passage.time)
    (tmp_path / "mine.musicxml").write_text(to_musicxml(score, title="Morning", composer="C. Example"))
    (tmp_path / "other.xml").write_text(to_musicxml(hard_case()))
    (tmp_path / "broken.xml").write_text("<score-partwise><part>")
    (tmp_path / "bad.mxl").write_bytes(b"PK\x03\x04 not really")
    (tmp_path / "words.txt").write_text("no music")
    return tmp_path


def test_the_teachers_own_music_comes_first(folder, index):
    source = TuneMelodies(folder, ComposedMelodies(), read=read_musicxml, index=index)
    for grade in (1, 3, 5):
        found = {one.credit for one in drawn(source, grade, 10, bars=8)}
        assert found <= {"C. Example, Morning", "C. Example, Morning; transposed"}
        assert found


def test_what_does_not_fit_the_grade_is_taken_from_elsewhere(folder, index):
    source = TuneMelodies(folder, ComposedMelodies(), read=read_musicxml, index=index)
    found = source.melody(scope_for(5), Random(1), bars=8, key=Key.parse("F# minor"))
    assert found is not None
    assert "Example" not in found.credit


def test_files_that_are_not_understood_are_named_with_the_reason(folder):
    found = OwnFolder.read(folder, read_musicxml)
    assert [name for name, _ in found.refused] == ["bad.mxl", "broken.xml"]
    assert "cannot be unpacked" in found.refused[0][1]
    assert all(isinstance(event, Note) for passage, _, _ in found.passages for bar in passage.bars for event in bar)


def test_a_folder_that_gives_nothing_is_refused_not_passed_over(tmp_path):
    """Composed music in place of the teacher's own would go unnoticed: the folder is refused, each file with why."""
    source = TuneMelodies(tmp_path, ComposedMelodies(), read=read_musicxml)
    with pytest.raises(NothingInFolder, match="give a folder of MusicXML files"):
        source.melody(scope_for(1), Random(1))
    (tmp_path / "broken.xml").write_text("<score-partwise><part")
    with pytest.raises(NothingInFolder, match=r"broken\.xml: the file is not sound XML"):
        TuneMelodies(tmp_path, ComposedMelodies(), read=read_musicxml).melody(scope_for(1), Random(1))


def test_a_link_out_of_the_folder_is_not_followed(folder, tmp_path_factory):
    outside = tmp_path_factory.mktemp("outside") / "secret.musicxml"
    outside.write_text((folder / "mine.musicxml").read_text())
    (folder / "a-link.musicxml").symlink_to(outside)
    assert ("a-link.musicxml", "it lies outside the folder") in OwnFolder.read(folder, read_musicxml).refused


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"bars": 8}, "too many bars"),
        ({"time": 1}, "a time of a later grade"),
        ({"values": 1 << 6}, "a demisemiquaver"),
        ({"dots": 2}, "two dots"),
        ({"tuplets": 1 << 3}, "a triplet"),
        ({"pick_up": 161280}, "a pick-up"),
    ],
)
def test_each_measure_of_an_entry_can_keep_it_out(change, why):
    """Grade 1 knows 2/4, single dots and semiquavers; no tuplets, no pick-up: each rule alone keeps an extract out."""
    fits = Entry(0, 0, 0, 4, 0, 1, False, 0, 28, 35, 0b11000, 1, 0)
    scope = scope_for(1)
    assert fitting([fits], ["2/4", "6/8"], scope, 4) == [fits]
    assert fitting([msgspec.structs.replace(fits, **change)], ["2/4", "6/8"], scope, 4) == [], why


def test_common_time_is_printed_as_the_grade_knows_it():
    assert printed_time("C", scope_for(1)).text == "C"
    assert printed_time("cut C", scope_for(1)) is None
    assert printed_time("cut C", scope_for(2)).beats == 2
