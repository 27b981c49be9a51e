"""Chords for a cadence: every workable set and no other, the model, the slips, the setter's melodies."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import music21
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from questions.asking_many import asked, drafts
from questions.hand_written import extract
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.choosing import is_right
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.cadence_chords import KIND, CadenceChords
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.solving.workable import fault_of, workable
from stavewright.questions.values import Value
from stavewright.theory.chord import ChordLabel, chord_notes
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName
from stavewright.tunes.composed import ComposedMelodies


def ask(key: str, notes: str) -> CadenceChords:
    """A melody of these notes alone, every one of them marked."""
    names = notes.split()
    score = extract(" ".join(f"{name}/2" for name in names), {2: "2/2", 3: "3/2"}[len(names)], Key.parse(key).fifths)
    stave = score.staves[0]
    row = tuple(replace(event, label=letter) for event, letter in zip(stave.bars[0].events, "ABC", strict=False))
    bar = replace(stave.bars[0], voices=(row,))
    return CadenceChords(document_of(replace(score, staves=(replace(stave, bars=(bar,)),))), key)


def accepts(facts: CadenceChords, chords: str) -> bool:
    return is_right(Value(chords=tuple(chords.split())), KIND.solve(facts), KIND)


# Perfect V-I, plagal IV-I: Gehrkens, Music Notation and Terminology (1914) §§203-205; imperfect, any chord to V: Open
# Music Theory v1, cadenceTypes (IV-V, II-V, I-V). The chords of the notes follow from Gehrkens §198.
@pytest.mark.parametrize(
    "key, notes, model",
    [
        ("C major", "B4 C5", "V, I"), ("C major", "A4 G4", "IV, I"), ("C major", "F5 D5 C5", "IV, V, I"),
        ("C major", "D5 B4 C5", "II, V, I"), ("C major", "E5 D5 C5", "I, V, I"), ("C major", "C5 D5", "IV, V"),
        ("C major", "E5 D5", "I, V"), ("C major", "E5 F5 E5", "I, IV, I"), ("A minor", "C5 B4 A4", "I, V, I"),
        ("A minor", "D5 G#4 A4", "IV, V, I"), ("C major", "E5 C5 B4", "I, IV, V"), ("C major", "C5 F5 D5", "I, IV, V"),
    ],
)  # fmt: skip
def test_the_model_is_the_usual_way(key: str, notes: str, model: str) -> None:
    assert texts("cadence-chords", ask(key, notes))[0] == model


@pytest.mark.parametrize(
    "notes, right, wrong",
    [
        ("F5 D5 C5", "IV V I | II V I | IIb V I | IVb V I | IV6 V I | ii6 V I | IV V7 I", "V V I | IV II I | I V I"),
        ("C5 B4 C5", "I V I | IV V I | Ic V I | Ib V I | I V7 I", "I Vb I | I V Ib | I V IV | Ic Vb I | V V I"),
        ("C5 C5 B4", "I IV V | IV I V | IV Ic V | I IVb V", "I I V | Ic IV V | I Ib V | IV IVb V"),
        ("D5 C5", "", "V IV | II I | V Ic | V Ib | Vb I"),
        ("G4 G4", "I V | Ic V | V I", "I I | V V | I Ib | V Vb"),
        ("A4 G4", "IV I | II V | IV V", "II I | IV Ib | IVb I"),
        ("C5 A4 G4", "I IV I | I II V | IV II V", "I II I"),
    ],
)
def test_every_workable_set_is_taken_and_no_other(notes: str, right: str, wrong: str) -> None:
    """Each chord holds its note, the last two make a cadence, Ic stands before V; V-IV, V-II, II-I, staying are not."""
    facts = ask("C major", notes)
    for chords in filter(None, right.split(" | ")):
        assert accepts(facts, chords), chords
    for chords in wrong.split(" | "):
        assert not accepts(facts, chords), chords


def test_ic_goes_to_v_and_v7_to_i() -> None:
    """The cadential 6/4 stands before V (Open Music Theory v1); V7 may stand for V before I (common practice)."""
    facts = ask("C major", "E5 D5 C5")
    assert accepts(facts, "Ic V I")
    assert accepts(facts, "Ic V7 I")
    assert not accepts(ask("C major", "E5 C5"), "Ic I")
    assert not accepts(ask("C major", "E5 D5"), "I V7")


def test_faults_are_named() -> None:
    labels = {name: ChordLabel.parse(name) for name in ("I", "Ib", "Ic", "II", "III", "IV", "V", "V7")}
    said = {
        "V IV I": "V does not go to IV", "V II V": "V does not go to II", "II I V": "II does not go to I",
        "I Ib V": "I to Ib: the chord merely stays", "Ic IV V": "Ic goes only to V, not to IV",
        "I V7 III": "V7 goes to I or VI, not to III", "I IV II": "IV to II is no cadence",
    }  # fmt: skip
    for row, sentence in said.items():
        assert fault_of([labels[name] for name in row.split()]) == sentence
    assert fault_of([labels["I"], labels["V"], labels["I"]]) is None


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(["C major", "D major", "A minor"]), st.lists(st.sampled_from("ABCDEFG"), min_size=2, max_size=3))
def test_every_set_holds_its_notes_and_closes(key_text: str, letters: list[str]) -> None:
    """Every workable row, and none besides, holds its notes and has no fault (over every row of triads there is)."""
    key, numerals = Key.parse(key_text), ("I", "II", "IV", "V")
    names = [NoteName(letter, key.alter_of(letter)) for letter in letters]
    found = {tuple(label.text for label in row) for row in workable(names, key, numerals)}
    triads = [ChordLabel(degree, inversion) for degree in (1, 2, 4, 5) for inversion in (0, 1)]
    for row in product([*triads, ChordLabel(1, 2)], repeat=len(names)):
        holds = all(name in chord_notes(key, label) for name, label in zip(names, row, strict=True))
        text = tuple(label.text for label in row)
        assert (text in found) is (holds and fault_of(row) is None), text


def test_each_slip_answers_by_its_wrong_rule() -> None:
    slips = slip_texts("cadence-chords", ask("C major", "F5 D5 C5"))
    assert slips["each note by itself, the approach not heard"] == "IV, V, I"
    assert slips["each note taken for the root"] == "IV, II, I"
    assert slip_texts("cadence-chords", ask("C major", "C5 G4 C5"))["each note by itself, the approach not heard"] == (
        "I, I, I"
    )
    assert slip_texts("cadence-chords", ask("C major", "D5 G4 C5"))["Ic not before V"] == "II, Ic, I"
    assert slip_texts("cadence-chords", ask("C major", "D5 G4 C5"))["a chord that merely stays"] == "II, I, I"
    wrong = slip_texts("cadence-chords", ask("C major", "D5 C5 G4"))
    assert wrong["V led the wrong way"] == "V, IV, I"
    assert KIND.slips(ask("C major", "D5 C5 G4"))[0].remedy.startswith(
        ("V does not", "I to I", "II does not", "V to I")
    )


def test_two_marks_at_least() -> None:
    score = extract("C5/2 D5/2", "2/2")
    with pytest.raises(BadDocument, match="mark two to four"):
        CadenceChords(document_of(score), "C major")


def test_the_setters_melodies_end_on_their_last_mark() -> None:
    seen = set()
    for kind, draft, question in asked("cadence-chords", 60, melodies=ComposedMelodies()):
        events = [e for s in draft.facts.melody.staves for b in s.bars for e in b.voices[0]]
        labels = [event.label for event in events if getattr(event, "label", None)]
        assert labels == list("ABC")[: len(labels)]
        assert question.response[0].slots == len(labels)
        assert [event for event in events if hasattr(event, "step")][-1].label == labels[-1]
        seen.add(kind.skill(draft.facts).split("/")[1].split()[0])
    assert seen == {"perfect", "plagal", "imperfect"}


# music21's own numerals, by our labels: small for minor and diminished chords, figures for inversions. Its letters for
# inversions are not used ("Ib" is a chord of another kind there).
_NUMERALS = {
    "major": {"I": "I", "II": "ii", "IV": "IV", "V": "V"},
    "minor": {"I": "i", "II": "iio", "IV": "iv", "V": "V"},
}
_FIGURES = {"": "", "b": "6", "c": "64", "7": "7"}


def by_music21(label: str, key: music21.key.Key) -> music21.roman.RomanNumeral:
    numeral = label.rstrip("bc7")
    return music21.roman.RomanNumeral(_NUMERALS[key.mode][numeral] + _FIGURES[label[len(numeral) :]], key)


def test_music21_finds_each_note_in_its_chord_and_the_cadence_at_the_end() -> None:
    """music21 spells every chord of every accepted row itself and must find the marked note in it."""
    named = {(5, 1): "perfect", (4, 1): "plagal"}
    seen = set()
    for _, draft in drafts("cadence-chords", 40, melodies=ComposedMelodies()):
        tonic, mode = draft.facts.key.rsplit(" ", 1)
        key = music21.key.Key(tonic.replace(" sharp", "#").replace(" flat", "-"), mode)
        marked = [
            music21.pitch.Pitch(event.pitch.name.short.replace("b", "-")).name
            for event in score_of(draft.facts.melody).events()
            if getattr(event, "label", None)
        ]
        for one in KIND.solve(draft.facts):
            chords = [by_music21(label, key) for label in one.value[0].chords]
            assert all(note in chord.pitchNames for note, chord in zip(marked, chords, strict=True)), one.text
            before, last = chords[-2:]
            assert last.inversion() == 0
            assert not last.seventh
            close = named.get((before.scaleDegree, last.scaleDegree), "imperfect" if last.scaleDegree == 5 else None)
            assert close is not None
            seen.add(close)
    assert seen == {"perfect", "plagal", "imperfect"}


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("cadence-chords")
