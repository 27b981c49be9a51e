"""Intervals between notes of a melody: signature, signs in force, ties and bar lines, read from the printed notes."""

from __future__ import annotations

from random import Random

import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import slip_texts, texts
from questions.tiny_melodies import TinyMelodies, stimulus
from stavewright.questions.asking import ask, full
from stavewright.questions.documents import ChoiceForm, StaveBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.interval_in_a_melody import KIND, IntervalInAMelody
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.solving.melody_reading import read_note
from stavewright.score.check import faults
from stavewright.score.event import Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.syllabus.scope import scope_for
from stavewright.theory.duration import Duration
from stavewright.theory.interval import Interval, between
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch
from stavewright.tunes.composed import ComposedMelodies


def melody(bars: list[str], fifths: int, clef: str = "treble", ties: tuple[int, ...] = ()) -> ScoreDocument:
    """Crotchets by bar, `ties` the numbers (from 0, through the whole) of the notes that tie on."""
    number = 0
    written = []
    for bar in bars:
        row = []
        for name in bar.split():
            row.append(Note(Pitch.parse(name), Duration("crotchet"), tie=number in ties))
            number += 1
        written.append(Bar((tuple(row),)))
    stave = Stave(clef, tuple(written), fifths=fifths, time=TimeSignature(4, 4))
    return document_of(with_ids(with_accidentals(Score((stave,), numbered=True))))


def asked(extract: ScoreDocument, first: tuple[int, int], second: tuple[int, int]) -> IntervalInAMelody:
    return IntervalInAMelody(extract, *first, *second)


# How long signs hold: Gehrkens, Music Notation and Terminology (1914) §§24-25. The names: §§184-192.
@pytest.mark.parametrize(
    "bars, fifths, first, second, name",
    [
        (["G4 B4 D5 F#5", "G5 F#5 E5 D5"], 1, (1, 3), (1, 4), "major 3rd"),  # the signature's F sharp
        (["D4 A4 F4 D4", "D4 F#4 A4 D5"], 2, (1, 3), (1, 4), "minor 3rd"),  # a natural against the signature
        (["D4 F4 A4 F4", "D4 F#4 A4 D5"], 2, (1, 3), (1, 4), "major 3rd"),  # that natural still holds in its bar
        (["D4 F4 A4 F4", "D4 F#4 A4 D5"], 2, (2, 1), (2, 2), "major 3rd"),  # and not past the bar line
        (["C4 Eb4 G4 C5", "B4 C5 Ab4 B4"], -3, (2, 3), (2, 4), "augmented 2nd"),  # C minor, leading note by a sign
        (["E4 Bb4 C5 E5", "E5 C5 Bb4 E4"], -1, (1, 1), (1, 2), "diminished 5th"),
    ],
)  # fmt: skip
def test_the_signs_in_force_are_read(
    bars: list[str], fifths: int, first: tuple[int, int], second: tuple[int, int], name: str
) -> None:
    assert texts("interval-in-a-melody", asked(melody(bars, fifths), first, second))[0] == name


def test_a_tie_carries_a_sign_over_the_bar_line() -> None:
    extract = melody(["G4 A4 B4 C#5", "C#5 A4 C5 A4"], 0, ties=(3,))
    assert extract.staves[0].bars[1].voices[0][0].accidental is None
    assert texts("interval-in-a-melody", asked(extract, (2, 1), (2, 2)))[0] == "major 3rd"
    assert texts("interval-in-a-melody", asked(extract, (2, 2), (2, 3)))[0] == "minor 3rd"


def test_each_slip_misreads_in_its_own_way() -> None:
    signed = melody(["D4 F4 A4 F4", "D4 F#4 A4 D5"], 2)
    assert slip_texts("interval-in-a-melody", asked(signed, (2, 1), (2, 2)))["signature forgotten"] == "minor 3rd"
    assert slip_texts("interval-in-a-melody", asked(signed, (1, 3), (1, 4)))["earlier sign in the bar forgotten"] == (
        "minor 3rd"
    )
    carried = melody(["D4 A4 G#4 A4", "E4 G4 E4 D4"], 0)
    slips = slip_texts("interval-in-a-melody", asked(carried, (2, 1), (2, 2)))
    assert slips["sign carried past the bar line"] == "major 3rd"
    # E and G of the treble clef stand where the bass clef has G and B.
    assert slips["read in the bass clef"] == "major 3rd"
    assert slips["counted the gap"] == "minor 2nd"


def test_a_place_that_is_not_there_is_refused() -> None:
    extract = melody(["D4 F4 A4 F4"], 0)
    with pytest.raises(BadDocument, match="no bar 7"):
        read_note(extract, 7, 1)
    with pytest.raises(BadDocument, match="no note 9"):
        read_note(extract, 1, 9)


@pytest.mark.parametrize("grade", [3, 4, 5])
def test_shared_and_own_extracts_keep_the_rules(grade: int) -> None:
    scope, none, found = scope_for(grade), 0, 0
    for seed in range(40):
        for shared in (None, stimulus(scope, seed, bars=8)):
            draft = KIND.set(scope, Random(f"{seed}"), shared, TinyMelodies())
            if draft is None:
                none += 1
                continue
            for edition in ("written", "on-screen"):
                question = ask(KIND, draft, id="q1", grade=grade, edition=edition, seed=seed)
                assert question is not None
                found += 1
                whole = full(question)
                block = next(b for b in question.prompt if isinstance(b, StaveBlock))
                score = score_of(block.score)
                assert block.id == ("extract" if shared else "")
                assert bool(score.brackets) is (shared is None)
                assert faults(score) == []
                ids = {event.id for event in score.events()}
                assert {place for step in whole.working for place in step.points_at} <= ids
                assert 2 <= len(whole.working) <= 6
                assert edition == "written" or isinstance(question.response[0], ChoiceForm)
    assert none < 0.2 * 80
    assert found


def test_leaps_are_asked_oftener_than_steps() -> None:
    """Most melodies move by step, but two marks are worth a leap where there is one (common practice)."""
    answers = []
    for seed in range(60):
        draft = KIND.set(scope_for(4), Random(f"{seed}"), None, ComposedMelodies())
        if draft is not None:
            answers.append(str(draft.expected))
    assert sum(not one.endswith("2nd") for one in answers) > 0.6 * len(answers) > 20


def test_the_pitches_that_the_composer_meant_are_those_read() -> None:
    """The names of another path: the pitches stored in the extract, not the signs printed."""
    for grade, draft in drafts("interval-in-a-melody", 60, melodies=TinyMelodies()):
        notes = {
            (index + 1, number): note.pitch
            for index, bar in enumerate(score_of(draft.facts.extract).staves[0].bars)
            for number, note in enumerate([e for e in bar.events if isinstance(e, Note)], 1)
        }
        facts = draft.facts
        first, second = notes[facts.first_bar, facts.first_note], notes[facts.second_bar, facts.second_note]
        assert texts("interval-in-a-melody", facts)[0] == between(first, second).text
        assert Interval.parse(texts("interval-in-a-melody", facts)[0]).quality_text in scope_for(grade).intervals.kinds


def test_without_an_extract_or_melodies_nothing_is_asked() -> None:
    assert KIND.set(scope_for(3), Random("1"), None, None) is None
