"""Passages in four parts from real chorales: what qualifies, the proof of the key, and the questions set on them."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import music21
import pytest

from stavewright.exchange.musicxml_read import read_musicxml
from stavewright.questions.asking import ask, facts_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import TextBlock
from stavewright.questions.melodies import Choirs
from stavewright.questions.score_mirror import score_of
from stavewright.questions.setting.chorales import chorale_chords, chorale_passage, real_choirs
from stavewright.score.check import faults
from stavewright.score.event import Note
from stavewright.score.moments import moments
from stavewright.services.verify import verify_case
from stavewright.syllabus.scope import scope_for
from stavewright.theory.degree import degree_number
from stavewright.theory.part_writing import check_chord
from stavewright.theory.voice import SATB, voice
from stavewright.tunes import survey
from stavewright.tunes.choral import BARS, choir_at, choirs
from stavewright.tunes.collections import SCORES, corpus_folder, files_of
from stavewright.tunes.composed import ComposedMelodies
from stavewright.tunes.source import FEWEST, TuneMelodies
from stavewright.tunes.survey import build_index

BACH = SCORES[0]
SCOPE = scope_for(5)
KINDS = ("name-the-cadence", "chord-in-texture", "short-and-open-score")


@pytest.fixture(scope="module")
def index():
    """The index of a third of the chorales."""
    some = pytest.MonkeyPatch()
    some.setattr(
        survey, "files_of", lambda one, folder: list(files_of(one, folder))[::3] if one.id == "bach" else []
    )
    found = build_index(read_musicxml, lambda done, of: None)
    some.undo()
    return found


@pytest.fixture(scope="module")
def real(index):
    return TuneMelodies(None, ComposedMelodies(), read=read_musicxml, index=index)


@pytest.fixture(scope="module")
def passages(real, index):
    found = [real._fetch_choir(entry) for entry in index.choirs]
    assert all(found)
    return found


def test_the_index_finds_passages_in_many_keys_and_none_twice(index):
    assert len(index.choirs) > 120
    assert len({(one.fifths, one.minor) for one in index.choirs}) > 10
    assert len({(one.file, one.first) for one in index.choirs}) == len(index.choirs)
    assert sum(one.cadence == "perfect" for one in index.choirs) > 50


def test_every_passage_keeps_its_promises(passages):
    """Four voices in order and in range, two bars to a fermata, every note of the key, a goal in root position."""
    for one, credit, title in passages:
        assert faults(one.score) == []
        assert [stave.clef for stave in one.score.staves] == ["treble", "bass"]
        assert all(len(stave.bars) == BARS for stave in one.score.staves)
        rows = [bar.voices[at] for stave in one.score.staves for at in (0, 1) for bar in stave.bars]
        assert all(isinstance(event, Note) for row in rows for event in row)
        for moment in moments(one.score):
            voices = [event.pitch for event in moment.events]
            assert {fault.kind for fault in check_chord(voices)} <= {"spacing"}
        assert all(degree_number(note.pitch, one.key) is not None for note in one.score.notes())
        assert "fermata" in one.score.staves[0].bars[-1].voices[0][-1].marks
        bass = moments(one.score)[-1].pitches[0].name
        assert degree_number(bass, one.key) in (1, 5, 6)
        assert credit.startswith("J. S. Bach, Chorale, BWV")
        assert title in credit


def test_the_key_is_told_from_its_neighbours(passages):
    """The 4th and 7th of a major key are there, the raised 7th of a minor one."""
    for one, _, _ in passages:
        names = {note.pitch.name for note in one.score.notes()}
        if one.key.is_minor:
            assert one.key.leading_note in names
        else:
            assert one.key.leading_note in names
            assert any(degree_number(name, one.key) == 4 for name in names)
            assert one.key.relative.leading_note not in names


def test_passages_are_as_music21_reads_them(index, passages):
    """Pitch and length of every note, voice by voice, in fifty passages (music21, its own copy of the file)."""
    compared = 0
    for entry, (one, _, _) in list(zip(index.choirs, passages, strict=True))[:: max(1, len(passages) // 50)]:
        theirs = music21.converter.parse(corpus_folder() / index.files[entry.file][1])
        for part, (stave, at) in zip(theirs.parts[:4], [(0, 0), (0, 1), (1, 0), (1, 1)], strict=True):
            bars = list(part.getElementsByClass("Measure"))[entry.first : entry.first + BARS]
            heard = [(n.pitch.nameWithOctave, float(n.quarterLength)) for bar in bars for n in bar.recurse().notes]
            ours = [
                (note.pitch.short.replace("b", "-"), note.ticks / 161280)
                for bar in one.score.staves[stave].bars
                for note in bar.voices[at]
            ]
            assert ours == heard[: len(ours)]
            compared += len(ours)
    assert compared > 800


def test_the_chords_meant_are_those_that_music21_reads(real):
    """Degree and inversion of each bracketed chord (music21, roman numerals from the sounding notes)."""
    compared = 0
    for seed in range(400):
        made = chorale_chords(SCOPE, Random(seed), real, ("I", "II", "IV", "V"))
        if made is None:
            continue
        key = music21.key.Key(made.key.tonic.short.replace("b", "-"), made.key.mode)
        heard = {event.id: one for one in reversed(moments(score_of(made.passage))) for event in one.events}
        for bracket, label in zip(made.passage.brackets, made.labels, strict=True):
            chord = music21.chord.Chord([p.short.replace("b", "-") for p in heard[bracket.first].pitches])
            roman = music21.roman.romanNumeralFromChord(chord, key)
            assert (roman.scaleDegree, roman.inversion()) == (label.degree, label.inversion)
            compared += 1
    assert compared > 200


@pytest.mark.parametrize("kind", KINDS)
def test_questions_on_chorales_keep_every_promise(kind, real):
    for edition in ("written", "on-screen"):
        assert verify_case(kind, 5, edition, seed=0, count=40, melodies=real).problems == ()


@pytest.mark.parametrize("kind", KINDS)
def test_the_credit_is_printed_with_the_music(kind, real):
    one, credited = kind_of(kind), 0
    for seed in range(60):
        draft = one.set(SCOPE, Random(seed), None, real)
        question = ask(one, draft, id="q", grade=5, edition="written", seed=seed)
        said = [block.text for block in question.prompt if isinstance(block, TextBlock) and block.id == "credit"]
        assert said == ([facts_of(question).credit] if facts_of(question).credit else [])
        credited += bool(said)
    assert 8 < credited < 60


def test_without_the_collections_passages_are_composed():
    assert not isinstance(ComposedMelodies(), Choirs)
    assert list(real_choirs(SCOPE, Random(1), ComposedMelodies())) == []
    bare = TuneMelodies(None, ComposedMelodies(), read=read_musicxml, index=None)
    bare.__dict__["index"] = None
    assert bare.choir(SCOPE, Random(1)) is None
    for kind in KINDS:
        assert kind_of(kind).set(SCOPE, Random(1), None, bare).facts.credit == ""


def test_a_passage_that_is_gone_or_rare_is_passed_over(index):
    rare = TuneMelodies(None, ComposedMelodies(), read=read_musicxml, index=index)
    plagal = sum(one.cadence == "plagal" for one in index.choirs)
    assert plagal < FEWEST
    assert rare.choir(SCOPE, Random(1), cadence="plagal") is None

    def gone(data, **more):
        raise OSError("the file is not there")

    assert TuneMelodies(None, ComposedMelodies(), read=gone, index=index).choir(SCOPE, Random(1)) is None


def test_passages_keep_within_the_grade_and_the_voices(real):
    for seed in range(80):
        found = real.choir(SCOPE, Random(seed))
        assert found.key in SCOPE.keys
        assert found.score.staves[0].time in SCOPE.time_signatures
        for stave, parts in zip(found.score.staves, (SATB[:2], SATB[2:]), strict=True):
            low, high = SCOPE.range_of(stave.clef)
            for at, part in enumerate(parts):
                for note in (note for bar in stave.bars for note in bar.voices[at]):
                    assert low.diatonic <= note.pitch.diatonic <= high.diatonic
                    assert voice(part).can_reach(note.pitch)


def test_a_short_passage_begins_on_a_beat_that_every_voice_has(real):
    cut = 0
    for seed in range(120):
        found = chorale_passage(SCOPE, Random(seed), real, 20)
        if found is None:
            continue
        assert sum(1 for _ in found.score.notes()) <= 20
        assert faults(found.score) == []
        assert not any(note.marks for note in found.score.notes())
        sizes = {sum(e.ticks for e in row) for stave in found.score.staves for row in stave.bars[0].voices}
        assert len(sizes) == 1
        cut += found.score.anacrusis
    assert cut > 5


def chorale(number: str):
    path = corpus_folder() / f"bach/bwv{number}.mxl"
    return read_musicxml(path.read_bytes(), parts={0, 1, 2, 3})


def test_what_does_not_qualify_is_left_out():
    """A part of an instrument, a stave missing, a tie cut through, a note foreign to the key."""
    whole = chorale("10.7")
    good = list(choirs(whole))
    assert good
    named = replace(whole, staves=(replace(whole.staves[0], name="Horn"), *whole.staves[1:]))
    assert list(choirs(named)) == []
    assert list(choirs(replace(whole, staves=whole.staves[:3]))) == []
    first = good[0].first
    parts = [list(stave.bars) for stave in whole.staves]
    assert choir_at(parts, first) is not None
    head = parts[1][first]
    note = head.bar.events[0]
    strange = replace(note, pitch=replace(note.pitch, alter=note.pitch.alter + 2))
    row = (strange, *head.bar.events[1:])
    parts[1][first] = replace(head, bar=replace(head.bar, voices=(row,)))
    assert choir_at(parts, first) is None
    parts[1][first] = head
    before = parts[2][first - 1]
    last = replace(before.bar.events[-1], tie=True)
    parts[2][first - 1] = replace(before, bar=replace(before.bar, voices=((*before.bar.events[:-1], last),)))
    assert choir_at(parts, first) is None
