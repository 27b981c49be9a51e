"""Accidentals that put a melody into a key."""

from __future__ import annotations

import msgspec
import music21
import pytest

from questions.asking_many import asked, drafts
from questions.scale_papers import M21
from questions.tiny_melodies import TinyMelodies
from questions.written_melodies import crotchets, signs_of
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.documents import ChoiceForm, NotesForm, StaveBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.fit_the_key import KIND, FitTheKey
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.tunes.composed import ComposedMelodies


def facts(tonic: str, form: str, *bars: str) -> FitTheKey:
    return FitTheKey(crotchets(*bars), tonic, form)


def right(shown: FitTheKey) -> Value:
    return KIND.solve(shown)[0].value[0]


MINOR = facts("E", "harmonic minor", "E4 F4 G4 D5", "D5 C5 D4 E4")


# Gehrkens, Music Notation and Terminology (1914): keys §83, natural minor §85, harmonic §86, relative minors §89.
@pytest.mark.parametrize(
    "shown, signs",
    [
        (facts("D", "major", "D4 F4 A4 C5", "C5 B4 C5 D5"), [None, "sharp", None, "sharp", "sharp", None, None, None]),
        (facts("E flat", "major", "B4 A4 G4 E4"), ["flat", "flat", None, "flat"]),
        (MINOR, [None, "sharp", None, "sharp", "sharp", None, "sharp", None]),
        (facts("E", "natural minor", "E4 F4 D5 C5"), [None, "sharp", None, None]),
        (facts("G", "harmonic minor", "G4 F4 E4 B4"), [None, "sharp", "flat", "flat"]),
        (facts("G sharp", "harmonic minor", "G4 F4 E4 D4"), ["sharp", "double-sharp", None, "sharp"]),
    ],
)
def test_published_keys(shown: FitTheKey, signs: list[str | None]) -> None:
    assert signs_of(right(shown)) == signs


def test_every_slip_in_minor() -> None:
    """Worked by hand: E minor, harmonic form."""
    found = {one.name: signs_of(one.value[0]) for one in KIND.slips(MINOR)}
    assert found == {
        "leading note forgotten": [None, "sharp", None, None, None, None, None, None],
        "major for minor": [None, "sharp", "sharp", "sharp", "sharp", "sharp", "sharp", None],
        "sign not repeated after the bar line": [None, "sharp", None, "sharp", None, None, "sharp", None],
        "sign not repeated in another octave": [None, "sharp", None, "sharp", "sharp", None, None, None],
        "one sign too many": [None, "sharp", None, "sharp", "sharp", "sharp", "sharp", None],
        "one sign too few": [None, None, None, "sharp", "sharp", None, "sharp", None],
        "no accidental at all": [None] * 8,
    }


def test_every_slip_in_major_and_natural_minor() -> None:
    major = {one.name: signs_of(one.value[0]) for one in KIND.slips(facts("D", "major", "D4 F4 A4 C5"))}
    assert major["leading note forgotten"] == [None, "sharp", None, None]
    natural = {one.name: signs_of(one.value[0]) for one in KIND.slips(facts("E", "natural minor", "E4 F4 D5 C5"))}
    assert natural["7th raised"] == [None, "sharp", "sharp", None]
    octaves = {one.name: signs_of(one.value[0]) for one in KIND.slips(facts("D", "major", "F4 A4 F5 D5"))}
    assert octaves["sign not repeated in another octave"] == ["sharp", None, None, None]


def test_one_fault_costs_one_mark() -> None:
    question = ask(KIND, Draft(MINOR, right(MINOR)), id="q", grade=3, edition="written", seed=1)
    value = right(MINOR)
    assert mark_question(question, (value,)).marks == 3
    notes = (*value.notes[:6], msgspec.structs.replace(value.notes[6], accidental=None), value.notes[7])
    assert mark_question(question, (msgspec.structs.replace(value, notes=notes),)).marks == 2
    signed = msgspec.structs.replace(value, signature=1)
    assert mark_question(question, (signed,)).marks == 2, "the question asks for no signature"


def test_the_melodic_form_is_refused() -> None:
    with pytest.raises(BadDocument, match="use harmonic or natural"):
        facts("E", "melodic minor", "E4 F4")


def test_the_printed_melody_gives_nothing_away() -> None:
    for _, _, question in asked("fit-the-key", 12, melodies=TinyMelodies()):
        pictures = [block.score for block in question.prompt if isinstance(block, StaveBlock)]
        form = question.response[0]
        if isinstance(form, NotesForm):
            pictures.append(form.given)
        else:
            assert isinstance(form, ChoiceForm)
        for picture in pictures:
            stave = score_of(picture).staves[0]
            assert stave.fifths is None
            assert {note.accidental for note in score_of(picture).notes()} == {None}


@pytest.mark.parametrize("source", [TinyMelodies(), ComposedMelodies()])
def test_music21_finds_the_same_notes_in_its_scale(source: object) -> None:
    forms = set()
    for _, draft in drafts("fit-the-key", 40, melodies=source):
        shown = draft.facts
        tonic = music21.pitch.Pitch(shown.tonic.replace(" sharp", "#").replace(" flat", "-"))
        names = {
            p.name.replace("-", "b") for p in M21[shown.form](tonic).getPitches(f"{tonic.name}4", f"{tonic.name}5")
        }
        drawn = list(KIND.draw(shown, right(shown)).notes())
        assert {note.pitch.name.short for note in drawn} <= names
        assert len(drawn) == len(list(score_of(shown.melody).notes()))
        forms.add(shown.form)
    assert forms == {"major", "natural minor", "harmonic minor"}


def test_any_answer_can_be_drawn() -> None:
    for value in (Value(notes=()), Value(notes=(WrittenNote("F", octave=2, accidental="odd", type="odd"),) * 8)):
        assert faults(KIND.draw(MINOR, value)) == []
