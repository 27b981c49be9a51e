"""Written and sounding pitch: published notes both ways, octave instruments, far keys, the slips, music21."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import asked, drafts
from questions.hand_written import extract
from questions.rules_of_kinds import texts
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import NotesForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.sounding_pitch import KIND, SoundingPitch
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.score.stave import Stave
from stavewright.syllabus.scope import scope_for
from stavewright.theory.instrument import instrument
from stavewright.theory.pitch import Pitch
from stavewright.tunes.composed import ComposedMelodies


def part(name: str, notes: str, to: str = "sounding", *, fifths: int | None = None, clef: str = "treble"):
    score = extract(" ".join(f"{note}/1" for note in notes.split()), f"{len(notes.split())}/4", fifths or 0, clef=clef)
    if fifths is None:
        stave = score.staves[0]
        bare = Stave(stave.clef, stave.bars, None, stave.time)
        score = type(score)((bare,))
    return SoundingPitch(document_of(score), name, to)


def notes_of(facts: SoundingPitch) -> list[str]:
    value = KIND.solve(facts)[0].value[0]
    return [Pitch(note.step, note.alter, note.octave).short for note in value.notes]


# How far each instrument sounds from its part: Schmidt-Jones, Understanding Your French Horn (m10672); Gehrkens, Music
# Notation and Terminology (1914) Appendix B for the octave instruments. The notes follow by that interval, worked
# twice over: by letters and semitones by hand, and by music21.
@pytest.mark.parametrize(
    "name, written, sounding",
    [
        ("clarinet in B flat", "E4 G#4 Eb5", "D4 F#4 Db5"), ("trumpet in B flat", "G4 F4 G#4", "F4 Eb4 F#4"),
        ("clarinet in A", "C5 F#5 F4", "A4 D#5 D4"), ("clarinet in E flat", "G4 A4", "Bb4 C5"),
        ("horn in F", "B4 Bb3 G4", "E4 Eb3 C4"), ("cor anglais", "A4 C#5", "D4 F#4"), ("piccolo", "D4 A4", "D5 A5"),
        ("guitar", "E4 B4", "E3 B3"),
    ],
)  # fmt: skip
def test_published_notes_both_ways(name: str, written: str, sounding: str) -> None:
    assert notes_of(part(name, written)) == sounding.split()
    assert notes_of(part(name, sounding, "part")) == written.split()


def test_the_double_bass_sounds_an_octave_lower() -> None:
    assert notes_of(part("double bass", "E2 G2", clef="bass")) == ["E1", "G1"]
    assert texts("sounding-pitch", part("double bass", "A2 C3", "part", clef="bass", fifths=6)) == ["6 sharps: A, C"]


def test_the_signature_moves_with_the_music() -> None:
    value = KIND.solve(part("clarinet in B flat", "D4 F#4", fifths=2))[0].value[0]
    assert value.signature == 0
    assert texts("sounding-pitch", part("clarinet in B flat", "E4 B4", "part", fifths=4)) == [
        "6 sharps: F sharp, C sharp",
        "6 flats: G flat, D flat",
    ]


def test_each_slip_writes_by_its_wrong_rule() -> None:
    found = {one.name: one for one in KIND.slips(part("clarinet in B flat", "D4 F#4", fifths=2))}
    assert found["wrong direction"].text == "4 sharps: E, G sharp"
    assert found["wrong direction"].remedy.startswith("It sounds lower than written")
    assert found["left as it stands"].text == "2 sharps: D, F sharp"
    assert found["signature not moved"].value[0].signature == 2
    assert found["steady wrong interval"].text == "7 sharps: C sharp, E sharp"
    high = found["an octave too far"].value[0]
    assert [note.octave for note in high.notes] == [3, 3]
    octave = {one.name: one.text for one in KIND.slips(part("guitar", "E4 B4"))}
    assert octave["wrong direction"] == octave["left as it stands"] == "E, B"
    assert "an octave too far" not in octave


def test_others_than_transposing_instruments_are_refused() -> None:
    for name in ("flute", "zither"):
        with pytest.raises(BadDocument, match="no transposing instrument"):
            part(name, "C4 D4")


def test_music21_sounds_the_same_notes() -> None:
    """Sounding pitch by music21's own table of instruments, for those whose transposition it knows."""
    table = {
        "clarinet in B flat": music21.instrument.Clarinet(), "cor anglais": music21.instrument.EnglishHorn(),
        "horn in F": music21.instrument.Horn(), "trumpet in B flat": music21.instrument.Trumpet(),
        "soprano saxophone": music21.instrument.SopranoSaxophone(), "piccolo": music21.instrument.Piccolo(),
        "double bass": music21.instrument.Contrabass(),
    }  # fmt: skip
    seen = set()
    for _, draft in drafts("sounding-pitch", 160, melodies=ComposedMelodies()):
        facts = draft.facts
        if facts.instrument not in table:
            continue
        printed = [note.pitch.short for note in score_of(facts.melody).notes()]
        size = table[facts.instrument].transposition
        size = size if facts.to == "sounding" else size.reverse()
        theirs = [music21.pitch.Pitch(one.replace("b", "-")).transpose(size).nameWithOctave for one in printed]
        assert [one.replace("b", "-") for one in notes_of(facts)] == theirs
        seen.add((facts.instrument, facts.to))
    assert len(seen) >= 10


def test_questions_stay_in_range_and_in_keys_of_the_grade() -> None:
    scope = scope_for(5)
    known = {key.fifths for key in scope.keys}
    for kind, draft, question in asked("sounding-pitch", 40, melodies=ComposedMelodies()):
        facts = draft.facts
        value = kind.solve(facts)[0].value[0]
        low, high = scope.range_of(facts.melody.staves[0].clef)
        player = instrument(facts.instrument)
        assert all(low.diatonic <= Pitch(n.step, 0, n.octave).diatonic <= high.diatonic for n in value.notes)
        assert value.signature is None or value.signature in known
        assert facts.instrument != "horn in F" or value.signature is None
        heard = notes_of(facts) if facts.to == "sounding" else [n.pitch.short for n in score_of(facts.melody).notes()]
        assert all(player.can_play(Pitch.parse(one)) is not False for one in heard)
        form = question.response[0]
        if isinstance(form, NotesForm):
            assert form.count == len(value.notes)
        for one in (*kind.solve(facts), *kind.slips(facts)):
            assert faults(kind.draw(facts, one.value[0])) == [], one
        if facts.instrument in ("guitar", "piccolo", "double bass", "contrabassoon"):
            assert len(kind.solve(facts)) == 1


def test_any_written_answer_can_be_drawn() -> None:
    facts = part("cor anglais", "A4 C5")
    odd = WrittenNote("C", octave=9, type="banana", dots=3, accidental="banana")
    for value in (Value(notes=()), Value(notes=(odd,)), Value(notes=(odd, odd))):
        assert faults(KIND.draw(facts, value)) == []
    assert not is_right(Value(notes=()), KIND.solve(facts), KIND)
