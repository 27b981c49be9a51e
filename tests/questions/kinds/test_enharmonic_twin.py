"""Enharmonic twins."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts
from stavewright.questions.choosing import is_right
from stavewright.questions.kinds.enharmonic_twin import KIND, EnharmonicTwin
from stavewright.questions.values import Value, WrittenNote
from stavewright.syllabus.scope import scope_for
from stavewright.theory.clef import CLEFS
from stavewright.theory.pitch import Pitch

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
SIGNS = {0: None, 1: "sharp", -1: "flat", 2: "double-sharp", -2: "flat-flat"}
MUSIC21 = {None: "", "natural": "", "sharp": "#", "flat": "-", "double-sharp": "##", "flat-flat": "--"}


def shown(text: str, clef: str = "treble") -> EnharmonicTwin:
    pitch = Pitch.parse(text)
    return EnharmonicTwin(clef, CLEFS[clef].place(pitch), SIGNS[pitch.alter])


def twins(text: str, clef: str = "treble") -> list[str]:
    notes = [one.value[0].notes[0] for one in KIND.solve(shown(text, clef))]
    return [Pitch(note.step, note.alter, note.octave).short for note in notes]


@pytest.mark.parametrize(
    "note, model, source",
    [
        ("F#4", "Gb4", f"{GEHRKENS} §27, 83: F sharp and G flat"),
        ("Gb4", "F#4", f"{GEHRKENS} §27, 83: G flat and F sharp"),
        ("C#5", "Db5", f"{GEHRKENS} §83: C sharp and D flat"),
        ("B4", "Cb5", f"{GEHRKENS} §83: B and C flat; the octave number follows the letter (D15)"),
        ("B#3", "C4", "Open Music Theory v1, pitches; W3C MusicXML 4.0: B sharp 3 sounds as C4"),
        ("C4", "B#3", "Open Music Theory v1, pitches; W3C MusicXML 4.0: B sharp 3 sounds as C4"),
        ("Cb4", "B3", "Open Music Theory v1, pitches: C flat 4 lies a semitone below C4"),
        ("E#4", "F4", "common practice"),
        ("F##4", "G4", f"{GEHRKENS} §26: a double sharp is two semitones"),
        ("Bbb4", "A4", f"{GEHRKENS} §26: a double flat is two semitones"),
    ],
)
def test_published_pairs(note: str, model: str, source: str) -> None:
    assert twins(note)[0] == model, source


def test_every_spelling_up_to_a_double_sign_is_right() -> None:
    """D15: any spelling with two signs or fewer; G sharp has one twin, the other keys two (three names a key)."""
    assert set(twins("D4")) == {"C##4", "Ebb4"}
    assert set(twins("F#4")) == {"Gb4", "E##4"}
    assert twins("G#4") == ["Ab4"]
    assert set(twins("B4")) == {"Cb5", "A##4"}


def test_an_outside_library_hears_the_same_sound() -> None:
    """Every accepted spelling has the key of the keyboard that music21 gives the note shown, and another letter."""
    for seed in range(300):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        assert draft is not None
        facts = draft.facts
        pitch = music21.pitch.Pitch()
        pitch.diatonicNoteNum = CLEFS[facts.clef].bottom_line.diatonic + facts.place + 1
        heard = music21.pitch.Pitch(f"{pitch.step}{MUSIC21[facts.accidental]}{pitch.octave}")
        for one in KIND.solve(facts):
            note = one.value[0].notes[0]
            twin = music21.pitch.Pitch(f"{note.step}{MUSIC21[note.accidental]}{note.octave}")
            assert twin.ps == heard.ps
            assert twin.step != heard.step


def test_slips_are_what_the_wrong_rule_gives() -> None:
    """Worked by hand: C natural in the third space; its twin B sharp stands on the line below."""
    assert slip_texts("enharmonic-twin", shown("C5")) == {
        "same letter": "C sharp, in the 3rd space",
        "wrong octave at B and C": "B sharp, in the space above the 1st ledger line above the stave",
        "sign left out": "B, on the 3rd line",
        "sign the wrong way": "B flat, on the 3rd line",
        "an octave too low": "B sharp, in the space below the 1st ledger line below the stave",
    }
    assert slip_texts("enharmonic-twin", shown("E#4")) == {
        "same letter": "E flat, on the 1st line",
        "sign kept on the new letter": "F sharp, in the 1st space",
        "one letter too far": "G, on the 2nd line",
        "an octave too high": "F, on the 5th line",
    }


def test_the_note_itself_is_no_twin() -> None:
    facts = shown("F#4")
    same = Value(notes=(WrittenNote("F", octave=4, type="semibreve", accidental="sharp"),))
    high = Value(notes=(WrittenNote("G", octave=5, type="semibreve", accidental="flat"),))
    assert not is_right(same, KIND.solve(facts), KIND)
    assert not is_right(high, KIND.solve(facts), KIND)


def test_the_setters_list_and_the_solver_agree_on_every_name() -> None:
    """Double entry over all 35 names: the list is written out by hand, the solver works on the line of fifths."""
    from stavewright.questions.kinds.enharmonic_twin import _SIMPLEST

    assert len(_SIMPLEST) == 35
    for name, twin in _SIMPLEST.items():
        model = twins(f"{name}4")[0]
        assert model.rstrip("345") == twin


def test_the_pool_is_counted() -> None:
    seen = set()
    for seed in range(8000):
        draft = KIND.set(scope_for(4), Random(seed), None, None)
        assert draft is not None
        seen.add(draft.facts)
    assert len(seen) == KIND.pool(scope_for(4))


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("enharmonic-twin")
