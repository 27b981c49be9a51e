"""Writing tonic triads: worked triads, any octave and any order of writing, signature or signs, the slips, pychord."""

from __future__ import annotations

import pychord
import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.comparing import compare
from stavewright.questions.kinds.write_the_tonic_triad import KIND, WriteTheTonicTriad
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import ALL_KEYS
from stavewright.theory.pitch import NoteName, Pitch

_SIGNS = {"#": "sharp", "b": "flat", "n": "natural", "": None}


def written(notes: str) -> Value:
    """Notes as a pupil writes them: "F#4" with a sharp, "Fn4" with a natural, "F4" with nothing."""
    return Value(
        notes=tuple(
            WrittenNote(one[0], octave=int(one[-1]), type="semibreve", accidental=_SIGNS[one[1:-1]])
            for one in notes.split()
        )
    )


def faults_of(facts: WriteTheTonicTriad, notes: str) -> int:
    return min(compare(written(notes), one.value[0], KIND.marking).faults for one in KIND.solve(facts))


# Triads of the major and minor keys: Gehrkens, Music Notation and Terminology (1914) §§197-198.
@pytest.mark.parametrize(
    "key, triad",
    [
        ("C major", "C, E, G"), ("A minor", "A, C, E"), ("D major", "D, F sharp, A"), ("G minor", "G, B flat, D"),
        ("E flat major", "E flat, G, B flat"), ("F sharp minor", "F sharp, A, C sharp"), ("C minor", "C, E flat, G"),
    ],
)  # fmt: skip
def test_worked_triads(key: str, triad: str) -> None:
    assert texts("write-the-tonic-triad", WriteTheTonicTriad("treble", key))[0] == triad


def test_any_octave_and_any_order_of_writing_is_right() -> None:
    facts = WriteTheTonicTriad("treble", "D major")
    assert faults_of(facts, "D4 F#4 A4") == 0
    assert faults_of(facts, "D5 F#5 A5") == 0
    assert faults_of(facts, "A4 D4 F#4") == 0
    assert faults_of(facts, "F#4 A4 D5") >= 2, "the root must be the lowest note"
    assert faults_of(facts, "D4 F4 A4") == 1
    assert faults_of(facts, "D4 F#4") == 1


@pytest.mark.parametrize("spread", ["D4 F#5 A5", "D4 A4 F#5", "D4 F#4 A5"])
def test_a_triad_that_is_not_close_is_not_what_was_asked(spread: str) -> None:
    """The question says "as close as can be": in close position root, third and fifth lie within a fifth."""
    assert faults_of(WriteTheTonicTriad("treble", "D major"), spread) > 0


def test_the_printed_signature_writes_the_signs() -> None:
    facts = WriteTheTonicTriad("treble", "D major", 2)
    assert faults_of(facts, "D4 F4 A4") == 0
    assert faults_of(facts, "D4 F#4 A4") == 0, "a sign that says it again is no fault"
    assert faults_of(facts, "D4 Fn4 A4") == 1


def test_each_slip_writes_by_its_wrong_rule() -> None:
    slips = slip_texts("write-the-tonic-triad", WriteTheTonicTriad("treble", "E major"))
    assert slips["minor third"] == "E, G, B"
    assert slips["signs left out"] == "E, G, B"
    assert slips["triad of the relative key"] == "C sharp, E, G sharp"
    assert slips["not in root position"] == "G sharp, B, E"
    assert slips["4th for 5th"] == "E, G sharp, A"
    assert slip_texts("write-the-tonic-triad", WriteTheTonicTriad("bass", "C minor"))["major third"] == "C, E, G"


def test_one_cause_is_steady() -> None:
    """Signs left out, or the right notes in another position, are one cause each: they cost at most half."""
    steady = {one.name for one in KIND.slips(WriteTheTonicTriad("bass", "E flat major", None)) if one.steady}
    assert steady == {"signs left out", "not in root position"}


def test_pychord_spells_the_same_triads() -> None:
    """Held against pychord for every key whose root it knows."""
    seen = 0
    for key in ALL_KEYS:
        name = key.tonic.short + ("m" if key.is_minor else "")
        try:
            theirs = pychord.Chord(name).components()
        except ValueError:
            continue
        ours = texts("write-the-tonic-triad", WriteTheTonicTriad("treble", key.text))[0].split(", ")
        if len({part[0] for part in theirs}) == 3 and theirs[0] == key.tonic.short:
            seen += 1
            assert [NoteName.parse(part).text for part in theirs] == ours, key.text
    assert seen > 20


def test_the_setters_triads_fit_the_clef() -> None:
    for _, draft in drafts("write-the-tonic-triad", 40):
        clef = CLEFS[draft.facts.clef]
        for one in KIND.solve(draft.facts):
            for note in one.value[0].notes:
                assert -5 <= clef.place(Pitch(note.step, 0, note.octave)) <= 13


def test_any_written_answer_can_be_drawn() -> None:
    facts = WriteTheTonicTriad("bass", "A minor", 0)
    for value in (Value(notes=()), written("C9 C9"), Value(notes=(WrittenNote("D", type="banana", accidental="x"),))):
        assert faults(KIND.draw(facts, value)) == []


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("write-the-tonic-triad")
