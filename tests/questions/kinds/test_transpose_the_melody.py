"""Transposing a melody: published keys and notes, signs bar by bar, enharmonic keys, the slips, music21."""

from __future__ import annotations

from random import Random

import msgspec
import music21
import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import texts
from questions.tiny_melodies import TinyMelodies
from stavewright.questions.asking import ask, full
from stavewright.questions.choosing import is_right
from stavewright.questions.comparing import compare
from stavewright.questions.documents import ChoiceForm, NotesForm, StaveBlock
from stavewright.questions.kinds.transpose_the_melody import KIND, METHODS, TransposeTheMelody
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.solving.transposing import notes_of
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.score.event import Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.syllabus.scope import scope_for
from stavewright.theory.duration import Duration
from stavewright.theory.interval import Interval
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch
from stavewright.tunes.composed import ComposedMelodies


def melody(bars: list[str], fifths: int | None, interval: str, *, up: bool) -> TransposeTheMelody:
    written = [
        Bar((tuple(Note(Pitch.parse(name), Duration("crotchet")) for name in bar.split()),), line="single")
        for bar in bars
    ]
    stave = Stave("treble", tuple(written), fifths=fifths, time=TimeSignature(len(bars[0].split()), 4))
    score = with_ids(with_accidentals(Score((stave,))))
    return TransposeTheMelody(document_of(score), interval, up)


def right(facts: TransposeTheMelody, at: int = 0) -> str:
    return texts("transpose-the-melody", facts)[at]


def value_of(facts: TransposeTheMelody) -> Value:
    return KIND.solve(facts)[0].value[0]


# Keys: Schmidt-Jones, Understanding Basic Music Theory, m10668, and Gehrkens, Music Notation and Terminology (1914)
# §215; the notes are the tonic and the fifth of each.
@pytest.mark.parametrize(
    "key, interval, up, new, signs",
    [
        ("D", "M2", True, "E, B", "4 sharps"), ("Bb", "M2", False, "A flat, E flat", "4 flats"),
        ("Eb", "m3", False, "C, G", "no sharps or flats"), ("Bb", "m3", False, "G, D", "1 sharp"),
        ("C", "m3", True, "E flat, B flat", "3 flats"), ("G", "M2", True, "A, E", "3 sharps"),
        ("G", "P5", True, "D, A", "2 sharps"), ("G", "M2", False, "F, C", "1 flat"),
        ("G", "m3", False, "E, B", "4 sharps"), ("G", "P4", True, "C, G", "no sharps or flats"),
        ("Ab", "m2", False, "G, D", "1 sharp"), ("F", "P5", True, "C, G", "no sharps or flats"),
        ("E", "M2", True, "F sharp, C sharp", "6 sharps"), ("Db", "P5", True, "A flat, E flat", "4 flats"),
    ],
)  # fmt: skip
def test_published_keys_and_their_notes(key: str, interval: str, up: bool, new: str, signs: str) -> None:
    home = Key.parse(key)
    tonic = Pitch(home.tonic.step, home.tonic.alter, 4)
    fifth = Pitch.from_diatonic(tonic.diatonic + 4)
    notes = f"{tonic.short} {fifth.altered(home.alter_of(fifth.step)).short}"
    assert right(melody([notes], home.fifths, interval, up=up)) == f"{signs}: {new}"


def test_a_raised_fifth_stays_a_raised_fifth() -> None:
    """B natural in E flat major becomes A sharp in D major (Schmidt-Jones, m10668)."""
    facts = melody(["Eb4 B4"], -3, "m2", up=False)
    assert right(facts) == "2 sharps: D, A sharp"
    assert [note.accidental for note in value_of(facts).notes] == [None, "sharp"]
    down = melody(["D4 F4"], 2, "M2", up=False)
    assert [(n.step, n.accidental) for n in value_of(down).notes] == [("C", None), ("E", "flat")]


def test_signs_last_to_the_bar_line_and_no_further() -> None:
    """Gehrkens (1914) §24: each bar needs its own sign, and a sign written again within the bar is no fault."""
    facts = melody(["G4 C#5 C#5 D5", "D5 C#5 B4 C5"], 1, "M2", up=True)
    value = value_of(facts)
    assert value.bar_lines == (4,)
    assert [n.accidental for n in value.notes] == [None, "sharp", None, None, None, "sharp", None, "natural"]
    notes = list(value.notes)
    again = [*notes[:2], msgspec.structs.replace(notes[2], accidental="sharp"), *notes[3:]]
    assert is_right(Value(notes=tuple(again), signature=3), KIND.solve(facts), KIND)
    forgotten = [*notes[:5], msgspec.structs.replace(notes[5], accidental=None), *notes[6:]]
    assert compare(Value(notes=tuple(forgotten), signature=3), value, KIND.marking).faults == 1


def test_values_and_signature_count() -> None:
    facts = melody(["G4 A4"], 1, "M2", up=True)
    value = value_of(facts)
    short = tuple(msgspec.structs.replace(note, type="quaver") for note in value.notes)
    assert compare(Value(notes=short, signature=3), value, KIND.marking).faults == 2
    wrong = Value(notes=value.notes, signature=2)
    assert compare(wrong, value, KIND.marking).faults == 1
    assert compare(Value(notes=value.notes, signature=3), value, KIND.marking).same
    assert compare(Value(notes=value.notes), value, KIND.marking).faults == 1, "the signature is asked for"


def test_both_spellings_of_a_far_key_are_right() -> None:
    """G flat and F sharp major are one key on the keyboard (Gehrkens, 1914, §83)."""
    facts = melody(["E4 B4"], 4, "M2", up=True)
    assert texts("transpose-the-melody", facts) == ["6 sharps: F sharp, C sharp", "6 flats: G flat, D flat"]
    assert len(texts("transpose-the-melody", melody(["D4 A4"], 2, "M2", up=True))) == 1


def test_each_slip_writes_by_its_wrong_rule() -> None:
    facts = melody(["G4 C#5 D5 B4"], 1, "m3", up=True)
    assert right(facts) == "2 flats: B flat, E, F, D"
    found = {one.name: one for one in KIND.slips(facts)}
    copied = found["signature moved, signs not"].value[0]
    assert [n.accidental for n in copied.notes] == [None, "sharp", None, None]
    assert copied.signature == -2
    kept = found["signature not moved"].value[0]
    assert kept.signature == 1
    assert [n.step for n in kept.notes] == ["B", "E", "F", "D"]
    assert found["wrong direction"].text == "4 sharps: E, A sharp, B, G sharp"
    assert found["wrong direction"].steady
    assert found["steady wrong interval"].text == "5 sharps: B, E sharp, F sharp, D sharp"
    assert found["steady wrong interval"].steady
    steps = [one.text for one in KIND.slips(facts) if one.name == "off by a step"]
    assert steps == ["2 flats: C, F, G, E flat", "2 flats: A, D, E flat, C"]
    bare = {one.name: one.text for one in KIND.slips(melody(["G4 C#5 D5 B4"], None, "m3", up=True))}
    assert bare["signs left out"] == "B, E, F, D"
    assert "letters moved, signs not" in bare


@pytest.mark.parametrize("source", [TinyMelodies(), ComposedMelodies()])
def test_music21_moves_every_note_alike(source: object) -> None:
    seen = 0
    for _, draft in drafts("transpose-the-melody", 60, melodies=source):
        facts = draft.facts
        old = [n.pitch for n in score_of(facts.melody).notes()]
        size = music21.interval.Interval(facts.interval if facts.up else f"-{facts.interval}")
        theirs = [music21.pitch.Pitch(p.short.replace("b", "-")).transpose(size).nameWithOctave for p in old]
        value = value_of(facts)
        ours = [Pitch(n.step, n.alter, n.octave).short.replace("b", "-") for n in value.notes]
        assert ours == theirs
        drawn = KIND.draw(facts, value)
        assert [n.pitch.short.replace("b", "-") for n in drawn.notes()] == theirs
        key = facts.melody.staves[0].fifths
        assert (value.signature is None) is (key is None)
        assert value.signature is None or value.signature in {k.fifths for k in scope_for(5).keys}
        seen += 1
    assert seen > 45


@pytest.mark.parametrize("source", [TinyMelodies(), ComposedMelodies()])
def test_questions_keep_the_rules(source: object) -> None:
    scope = scope_for(5)
    for seed in range(30):
        draft = KIND.set(scope, Random(f"{seed}"), None, source)  # type: ignore[arg-type]
        if draft is None:
            continue
        assert draft.facts.interval in scope.transpositions
        low, high = scope.range_of(draft.facts.melody.staves[0].clef)
        for note in value_of(draft.facts).notes:
            assert low.diatonic <= Pitch(note.step, 0, note.octave).diatonic <= high.diatonic
        for edition in ("written", "on-screen"):
            question = ask(KIND, draft, id="q1", grade=5, edition=edition, seed=seed)
            assert question is not None
            form = question.response[0]
            pictures = [b.score for b in question.prompt if isinstance(b, StaveBlock)]
            if isinstance(form, ChoiceForm):
                assert len(form.options) == 4
                pictures += [option.score for option in form.options]
                rights = [is_right(option.value, KIND.solve(draft.facts), KIND) for option in form.options]
                assert sum(rights) == 1
            else:
                assert isinstance(form, NotesForm)
                assert form.count == len(value_of(draft.facts).notes)
                pictures.append(form.given)
            assert [fault for picture in pictures for fault in faults(score_of(picture))] == []
            ids = {event.id for event in score_of(pictures[0]).events()}
            for method in METHODS:
                steps = full(question, method).working
                assert 2 <= len(steps) <= 6
                assert {place for step in steps for place in step.points_at} <= ids
        for one in KIND.slips(draft.facts):
            assert faults(KIND.draw(draft.facts, one.value[0])) == [], one.name


def test_without_a_signature_most_notes_need_no_sign() -> None:
    """Accidentals alone are asked for in keys of few signs only, before and after (common practice)."""
    plain = 0
    for seed in range(120):
        draft = KIND.set(scope_for(5), Random(f"{seed}"), None, ComposedMelodies())
        if draft is None or draft.facts.melody.staves[0].fifths is not None:
            continue
        plain += 1
        notes = notes_of(score_of(draft.facts.melody))
        letters = {note.pitch.step for note in notes if note.pitch.alter}
        assert len(letters) <= 4, [note.pitch.short for note in notes]
    assert plain > 15


def test_a_melody_that_cannot_be_moved_fairly_is_not_asked() -> None:
    assert KIND.set(scope_for(5), Random("1"), None, None) is None
    assert KIND.set(scope_for(4), Random("1"), None, ComposedMelodies()) is None


def test_any_written_answer_can_be_drawn() -> None:
    facts = melody(["G4 A4"], 1, "M2", up=True)
    odd = WrittenNote("C", octave=9, type="banana", dots=3, accidental="banana")
    for value in (Value(notes=()), Value(notes=(odd,)), Value(notes=(odd, odd)), Value(notes=(odd,) * 5)):
        assert faults(KIND.draw(facts, value)) == []


def test_the_answers_interval_is_the_one_asked() -> None:
    for _, draft in drafts("transpose-the-melody", 20, melodies=ComposedMelodies()):
        size = Interval.parse(draft.facts.interval)
        old = [n.pitch.midi for n in score_of(draft.facts.melody).notes()]
        new = [Pitch(n.step, n.alter, n.octave).midi for n in value_of(draft.facts).notes]
        assert {b - a for a, b in zip(old, new, strict=True)} == {size.semitones if draft.facts.up else -size.semitones}
