"""Chords under brackets: piano and choir by hand, passing notes and V7, marks for degree and position, music21."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.hand_written import event
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask as put
from stavewright.questions.choosing import is_right
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.chord_in_texture import KIND, ChordInTexture
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.solving.textures import under
from stavewright.questions.values import Value
from stavewright.score.stave import Bar, Bracket, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.theory.errors import UnknownChordError
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature


def passage(key: str, *voices: str, brackets: str = "1-2") -> ChordInTexture:
    """One bar of 4/4: the voices of the treble stave, a bar "/" and those of the bass; brackets by event number."""
    at = voices.index("/")
    staves = []
    for clef, rows in (("treble", voices[:at]), ("bass", voices[at + 1 :])):
        bar = Bar(tuple(tuple(event(one) for one in row.split()) for row in rows))
        staves.append(Stave(clef, (bar,), Key.parse(key).fifths, TimeSignature(4, 4)))
    score = with_ids(with_accidentals(Score(tuple(staves), join="brace")))
    drawn = [one.split("-") for one in brackets.split()]
    marks = tuple(Bracket(f"n{a}", f"n{b}", letter) for (a, b), letter in zip(drawn, "ABCD", strict=False))
    return ChordInTexture(document_of(Score(score.staves, score.join, marks)), key)


# Chords and positions: Gehrkens, Music Notation and Terminology (1914) §§197-200; passing notes do not belong to the
# chord: common practice. All worked by hand.
BROKEN = passage(
    "C major", "E5/1 D5/1 B4/2", "/", "C3/q G3/q E3/q G3/q G3/q D4/q B3/q D4/q", brackets="1-2 3-3"
)  # fmt: skip
CHOIR = passage(
    "G major", "C5/1 B4/1 A4/2", "E4/2 D4/2", "/", "G3/2 F#3/2", "C3/2 D3/2", brackets="1-2 3-3"
)  # fmt: skip
SEVENTH = passage("C major", "G4/1 F4/1 E4/2", "/", "G2/q D3/q B2/q D3/q C3/q G3/q E3/q G3/q", brackets="1-2 3-3")
MINOR = passage("A minor", "D5/1 D5/1 C5/2", "/", "D3/q B3/q F3/q B3/q E3/q A3/q C4/q A3/q", brackets="1-2 3-3")


@pytest.mark.parametrize("facts, chords", [(BROKEN, "I, V"), (CHOIR, "IV, V"), (SEVENTH, "V, I"), (MINOR, "IIb, Ic")])
def test_worked_passages(facts: ChordInTexture, chords: str) -> None:
    assert texts("chord-in-texture", facts)[0] == chords


def test_a_passing_7th_may_be_counted_into_v() -> None:
    """Where the 7th of V passes by, V7 is taken as well (common practice)."""
    assert texts("chord-in-texture", SEVENTH) == ["V, I", "V7, I"]
    assert is_right(Value(chords=("V7", "I")), KIND.solve(SEVENTH), KIND)
    assert not is_right(Value(chords=("I", "V7")), KIND.solve(BROKEN), KIND)


def test_the_bass_is_the_lowest_note_of_the_whole_bracket() -> None:
    upside = passage("C major", "E5/2 B4/2", "/", "G3/q C3/q E3/q G3/q G3/q D4/q B3/q D4/q", brackets="1-1 2-2")
    assert texts("chord-in-texture", upside)[0] == "I, V"


def test_degree_and_position_are_marked_apart() -> None:
    question = put(KIND, Draft(MINOR, "IIb, Ic"), id="q1", grade=5, edition="written", seed=1)
    marked = {"IIb Ic": 4, "ii6 I6/4": 4, "II Ic": 3, "II I": 2, "IV Ic": 2, "IV V": 0, "IIb": 2}
    for chords, marks in marked.items():
        assert mark_question(question, (Value(chords=tuple(chords.split())),)).marks == marks, chords


def test_each_slip_answers_by_its_wrong_rule() -> None:
    slips = slip_texts("chord-in-texture", MINOR)
    assert slips["bass taken for the root"] == "IV, Ic"
    assert slips["II and IV confused"] == "IVb, Ic"
    assert slips["position not read"] == "II, I"
    counted = slip_texts("chord-in-texture", SEVENTH)["passing note counted as a chord note"]
    assert counted == "VII, I", "F and B sound together on the second beat"
    assert "passing note counted as a chord note" not in slips


def test_what_is_no_chord_is_refused() -> None:
    with pytest.raises(UnknownChordError, match="no chords of C major"):
        KIND.solve(passage("C major", "E5/2 B4/2", "/", "C3/2 G3/2", brackets="1-1"))
    with pytest.raises(BadDocument, match="draw one to four"):
        passage("C major", "E5/2 B4/2", "/", "C3/2 G3/2", brackets="")


def test_music21_reads_the_notes_that_are_struck_together() -> None:
    """The chord notes of every bracket make the named triad in the named inversion for music21."""
    seen = set()
    for _, draft in drafts("chord-in-texture", 120):
        facts, key = draft.facts, Key.parse(draft.facts.key)
        score = score_of(facts.passage)
        for bracket, label in zip(score.brackets, KIND.solve(facts)[0].value[0].chords, strict=True):
            pitches = {heard.pitch for heard in under(score, bracket)}
            lead = sorted(pitches, key=lambda pitch: pitch.midi)
            named = ""
            for drop in [(), *[(one,) for one in lead[1:]], *[(a, b) for a in lead[1:] for b in lead[1:]]]:
                kept = [pitch for pitch in lead if pitch not in drop]
                found = music21.chord.Chord([pitch.short.replace("b", "-") for pitch in kept])
                degree = ("CDEFGAB".index(found.root().step) - key.tonic.index) % 7
                numeral = ("I", "II", "III", "IV", "V", "VI", "VII")[degree]
                if found.isTriad() and numeral in facts.numerals:
                    named = numeral + ("", "b", "c")[found.inversion()]
                    break
            assert named == label
            seen.add(label)
    assert len(seen) >= 8


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("chord-in-texture")
