"""Rewriting an octave higher or lower."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import asked, drafts
from questions.tiny_melodies import TinyMelodies
from questions.written_melodies import crotchets, names_of, signs_of
from stavewright.questions.comparing import compare
from stavewright.questions.documents import ChoiceForm, NotesForm
from stavewright.questions.kinds.octave_shift import KIND, OctaveShift
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for
from stavewright.tunes.composed import ComposedMelodies


def right(shown: OctaveShift) -> Value:
    return KIND.solve(shown)[0].value[0]


# Gehrkens, Music Notation and Terminology (1914) §15-17: the clefs; §48: the octaves.
@pytest.mark.parametrize(
    "notes, clef, to, up, moved, first",
    [
        ("C4 E4 G4", "treble", "treble", True, "C5 E5 G5", "in the 3rd space"),
        ("C5 E5 G4", "treble", "bass", False, "C4 E4 G3", "on the 1st ledger line above the stave"),
        ("C3 G3 F3", "bass", "treble", True, "C4 G4 F4", "on the 1st ledger line below the stave"),
        ("C3 G3 F3", "bass", "alto", True, "C4 G4 F4", "on the 3rd line"),
        ("A4 C5 E5", "treble", "tenor", False, "A3 C4 E4", "on the 3rd line"),
    ],
)
def test_an_octave_by_the_clefs(notes: str, clef: str, to: str, up: bool, moved: str, first: str) -> None:
    shown = OctaveShift(crotchets(notes, clef=clef), to, up)
    assert names_of(right(shown)) == moved
    assert right(shown).clef == to
    assert first in KIND.solve(shown)[0].reason


def test_signs_go_with_their_notes() -> None:
    """Gehrkens §24: a sign holds in its bar; the octave changes nothing in that."""
    shown = OctaveShift(crotchets("F#4 G4 F#4", "F#4 Bb4 F4"), "treble", True)
    assert signs_of(right(shown)) == ["sharp", None, None, "sharp", "flat", "natural"]
    dropped = {one.name: one for one in KIND.slips(shown)}["signs dropped"].value[0]
    assert compare(dropped, right(shown), KIND.marking).faults == 4


def test_every_slip() -> None:
    """Worked by hand: C4 F#4 G4 in the treble, an octave lower in the bass."""
    found = {one.name: names_of(one.value[0]) for one in KIND.slips(OctaveShift(crotchets("C4 F#4 G4"), "bass", False))}
    assert found == {
        "kept the line": "E2 A2 B2",
        "left at the same pitch": "C4 F4 G4",
        "two octaves": "C2 F2 G2",
        "signs dropped": "C3 F3 G3",
        "off by a place": "D3 G3 A3",
    }
    same = {one.name for one in KIND.slips(OctaveShift(crotchets("C5 E5"), "treble", False))}
    assert same == {"two octaves", "wrong direction", "off by a place"}


def test_values_count() -> None:
    value = right(OctaveShift(crotchets("C4 E4 G4"), "treble", True))
    notes = (WrittenNote("C", octave=5, type="minim"), *value.notes[1:])
    assert compare(Value(notes=notes, clef="treble"), value, KIND.marking).faults == 1


def test_the_stave_to_write_on_has_the_clef_and_signature() -> None:
    seen = 0
    for _, draft, question in asked("octave-shift", 15, melodies=TinyMelodies()):
        form = question.response[0]
        if isinstance(form, NotesForm):
            given = score_of(form.given).staves[0]
            assert given.clef == draft.facts.clef
            assert given.fifths == draft.facts.melody.staves[0].fifths
            seen += 1
        else:
            assert isinstance(form, ChoiceForm)
            assert len(form.options) >= 3
    assert seen > 20


@pytest.mark.parametrize("source", [TinyMelodies(), ComposedMelodies()])
def test_music21_hears_an_octave_on_every_note(source: object) -> None:
    seen = 0
    for grade, draft in drafts("octave-shift", 40, melodies=source):
        old = [n.pitch for n in score_of(draft.facts.melody).notes()]
        new = [n.pitch for n in KIND.draw(draft.facts, right(draft.facts)).notes()]
        low, high = scope_for(grade).range_of(draft.facts.clef)
        for was, now in zip(old, new, strict=True):
            pair = [music21.pitch.Pitch(p.short.replace("b", "-")) for p in (was, now)]
            assert music21.interval.Interval(*pair).directedName == ("P8" if draft.facts.up else "P-8")
            assert low.diatonic <= now.diatonic <= high.diatonic
        seen += 1
    assert seen > 80


def test_without_melodies_there_is_nothing_to_ask() -> None:
    assert not list(drafts("octave-shift", 3))


def test_any_answer_can_be_drawn() -> None:
    shown = OctaveShift(crotchets("C5 F#5 G5"), "bass", False)
    for value in (Value(notes=()), Value(notes=(WrittenNote("F", octave=2, accidental="odd", type="odd"),) * 3)):
        assert faults(KIND.draw(shown, value)) == []


def test_a_kept_line_keeps_its_look() -> None:
    """Only the clef is new: no sign comes or goes (worked by hand in D major, alto to treble)."""
    shown = OctaveShift(crotchets("A3 B3 C#4", fifths=2, clef="alto"), "treble", True)
    kept = {one.name: one.value[0] for one in KIND.slips(shown)}["kept the line"]
    assert names_of(kept) == "G4 A4 B4"
    assert signs_of(kept) == [None, None, None]
