"""Ornaments and the notes they stand for, both ways; every accepted way of playing is right (D16)."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.asking_many import asked
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.choosing import is_right
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.ornament_realised import KIND, OrnamentRealised
from stavewright.questions.values import Value, WrittenNote
from stavewright.syllabus.scope import scope_for
from stavewright.theory.pitch import Pitch

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
SHORT = {"s": "semiquaver", "q": "quaver", "d": "demisemiquaver", "c": "crotchet"}


def wrote(text: str) -> tuple[WrittenNote, ...]:
    """Notes such as "C5/d B4/d C5/q." or "D#5/s"."""
    found = []
    for one in text.split():
        name, _, value = one.partition("/")
        pitch = Pitch.parse(name)
        sign = {1: "sharp", -1: "flat"}.get(pitch.alter)
        found.append(
            WrittenNote(pitch.step, octave=pitch.octave, type=SHORT[value[0]], dots=value.count("."), accidental=sign)
        )
    return tuple(found)


# fmt: off
# ornament, written note, its value, signature, small note, written out, source
PUBLISHED = [
    ("mordent", "C5", "crotchet", 0, "", "C5/d B4/d C5/q.", f"{GEHRKENS} §66, figure 43"),
    ("turn", "F4", "crotchet", 0, "", "G4/s F4/s E4/s F4/s", f"{GEHRKENS} §69, figure 46"),
    ("inverted turn", "F4", "crotchet", 0, "", "E4/s F4/s G4/s F4/s", f"{GEHRKENS} §72, figure 49"),
    ("appoggiatura", "E4", "crotchet", 0, "F4", "F4/q E4/q", f"{GEHRKENS} §74, figure 50"),
    ("appoggiatura", "G4", "dotted crotchet", 0, "A4", "A4/c G4/q", f"{GEHRKENS} §74, figure 51"),
    ("trill", "D5", "crotchet", 0, "", "E5/d D5/d E5/d D5/d E5/d D5/d C5/d D5/d", "Clementi, Introduction (1801)"),
    ("trill", "D5", "crotchet", 0, "", "E5/d D5/d E5/d D5/d E5/d D5/d E5/d D5/d", "Clementi, Introduction (1801)"),
    ("upper mordent", "C5", "crotchet", 0, "", "C5/d D5/d C5/q.", f"{GEHRKENS} §68, figure 45, on a crotchet"),
    ("mordent", "C5", "crotchet", -2, "", "C5/d Bb4/d C5/q.", "common practice: the key signature counts"),
    ("mordent", "D5", "crotchet", 0, "", "D5/d C#5/d D5/q.", "Clementi, Introduction: mostly a semitone below"),
]
# fmt: on


@pytest.mark.parametrize("ornament, main, value, fifths, grace, notes, source", PUBLISHED)
def test_published_ways_are_right(
    ornament: str, main: str, value: str, fifths: int, grace: str, notes: str, source: str
) -> None:
    """From the sign to the notes."""
    facts = OrnamentRealised(main, value, fifths, "treble", ornament, grace)
    given = Value(notes=wrote(notes), clef="treble", signature=fifths)
    assert is_right(given, KIND.solve(facts), KIND), source


@pytest.mark.parametrize("ornament, main, value, fifths, grace, notes, source", PUBLISHED)
def test_published_ways_are_recognised(
    ornament: str, main: str, value: str, fifths: int, grace: str, notes: str, source: str
) -> None:
    """From the notes to the ornament, by every usual name."""
    facts = OrnamentRealised(main, value, fifths, "treble", played=wrote(notes))
    names = texts("ornament-realised", facts)
    assert ornament in " ".join(names), source
    if ornament == "upper mordent":
        assert "inverted mordent" in names


def test_slips_of_the_catalogue() -> None:
    """The turn begun on the wrong note: worked by hand, F E G for G F E F."""
    turn = OrnamentRealised("F4", "crotchet", 0, "treble", "turn")
    assert slip_texts("ornament-realised", turn)["started on the wrong note"] == ("E, F, G, F (semiquavers)")
    mordent = OrnamentRealised("C5", "crotchet", 0, "treble", "mordent")
    assert slip_texts("ornament-realised", mordent)["upper and lower mordent swapped"] == (
        "C, D, C (demisemiquaver, demisemiquaver, dotted quaver)"
    )
    leaning = OrnamentRealised("E4", "crotchet", 0, "treble", "appoggiatura", "F4")
    assert slip_texts("ornament-realised", leaning)["crushed the small note"] == (
        "F, E (demisemiquaver, double-dotted quaver)"
    )
    played = OrnamentRealised("F4", "crotchet", 0, "treble", played=wrote("G4/s F4/s E4/s F4/s"))
    assert slip_texts("ornament-realised", played)["started on the wrong note"] == "inverted turn"


def test_no_slip_is_an_accepted_way() -> None:
    """A trill from the written note is right too (D16), so it is never a wrong option."""
    for kind, draft, _ in asked("ornament-realised", 150):
        for one in kind.slips(draft.facts):
            assert not is_right(one.value[0], kind.solve(draft.facts), kind), (draft.facts, one.name)


def test_written_out_notes_fill_the_written_note() -> None:
    """music21 adds the values up: every right way is exactly as long as the note."""
    lengths = {"crotchet": 1.0, "minim": 2.0, "dotted crotchet": 1.5, "dotted minim": 3.0}
    types = {
        "hemidemisemiquaver": "64th",
        "demisemiquaver": "32nd",
        "semiquaver": "16th",
        "quaver": "eighth",
        "crotchet": "quarter",
    }
    for seed in range(200):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        if draft is None or draft.facts.played:
            continue
        for one in KIND.solve(draft.facts):
            total = 0.0
            for note in one.value[0].notes or ():
                kind = types.get(str(note.type), "half")
                total += music21.duration.Duration(type=kind, dots=note.dots).quarterLength
            assert total == lengths[draft.facts.value]


def test_music21_writes_turns_and_mordents_out_alike() -> None:
    """music21, as a second opinion on turn, inverted turn and both mordents on natural notes in C major."""
    for name, sign in (
        ("turn", music21.expressions.Turn()),
        ("inverted turn", music21.expressions.InvertedTurn()),
        ("mordent", music21.expressions.Mordent()),
        ("upper mordent", music21.expressions.InvertedMordent()),
    ):
        for main in ("C5", "F4", "A4", "E5"):
            note = music21.note.Note(main)
            stream = music21.stream.Measure()
            stream.insert(0, music21.key.KeySignature(0))
            stream.append(note)
            before, middle, after = sign.realize(note)
            theirs = [one.name for one in (*before, *([middle] if middle else []), *after)]
            model = KIND.solve(OrnamentRealised(main, "crotchet", 0, "treble", name))[0].value[0].notes or ()
            assert [one.step for one in model] == theirs, (name, main)


def test_an_acciaccatura_is_recognised() -> None:
    """Gehrkens, Music Notation and Terminology (1914) §75: as quick as possible."""
    facts = OrnamentRealised("E4", "crotchet", 0, "treble", played=wrote("F4/d E4/q.."))
    assert texts("ornament-realised", facts)[0] == "acciaccatura"


def test_facts_that_ask_nothing_are_refused() -> None:
    with pytest.raises(BadDocument, match="either the ornament is printed"):
        OrnamentRealised("F4", "crotchet", 0, "treble")
    with pytest.raises(BadDocument, match="is no ornament"):
        OrnamentRealised("F4", "crotchet", 0, "treble", "wobble")
    with pytest.raises(BadDocument, match="those of no ornament"):
        KIND.solve(OrnamentRealised("F4", "crotchet", 0, "treble", played=wrote("G4/s A4/s B4/s F4/s")))


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("ornament-realised")
