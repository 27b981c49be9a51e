"""Writing a named note at a given octave."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.asking import agree
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import TextBlock
from stavewright.questions.errors import BadDocument, Disagreement
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.write_the_note import KIND, WriteTheNote
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import scope_for

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"

# fmt: off
# clef, letter, alteration, so many above (below) middle C, the note in octave numbers, its place in words, source
CASES = [
    ("treble", "C", 0, 0, "C4", "C, on the 1st ledger line below the stave", f"{GEHRKENS} §48: middle C"),
    ("bass", "C", 0, 0, "C4", "C, on the 1st ledger line above the stave", f"{GEHRKENS} §48: middle C"),
    ("bass", "G", 0, -2, "G2", "G, on the 1st line", f"{GEHRKENS} §48: bottom bass line G2"),
    ("bass", "A", 0, -1, "A3", "A, on the 5th line", f"{GEHRKENS} §48: top bass line A3"),
    ("treble", "G", 0, 2, "G5", "G, in the space above the top line", f"{GEHRKENS} §48: above the treble stave G5"),
    ("treble", "C", 0, 2, "C6", "C, on the 2nd ledger line above the stave", f"{GEHRKENS} §48: C6"),
    ("treble", "G", 1, 1, "G#4", "G sharp, on the 2nd line", f"{GEHRKENS} §15"),
    ("bass", "F", -1, -1, "F-3", "F flat, on the 4th line", f"{GEHRKENS} §16; music21's F- is F flat"),
    ("alto", "C", 0, 0, "C4", "C, on the 3rd line", f"{GEHRKENS} §17"),
    ("tenor", "C", 1, 0, "C#4", "C sharp, on the 4th line", f"{GEHRKENS} §17"),
]
# fmt: on


@pytest.mark.parametrize("clef, step, alter, reach, pitch, words, source", CASES)
def test_published_places(clef: str, step: str, alter: int, reach: int, pitch: str, words: str, source: str) -> None:
    facts = WriteTheNote(clef, step, alter, reach)
    assert texts("write-the-note", facts) == [words], source
    note = KIND.solve(facts)[0].value[0].notes[0]
    other = music21.pitch.Pitch(pitch)
    assert (note.step, note.alter, note.octave) == (other.step, int(other.alter), other.octave), source


def test_what_is_written_is_marked_by_sign_and_place() -> None:
    """A reminder natural is free (theory of accidentals, common practice); another octave or no sign is wrong."""
    plain, sharp = WriteTheNote("treble", "F", 0, 1), WriteTheNote("treble", "F", 1, 1)
    natural = Value(notes=(WrittenNote("F", octave=4, type="semibreve", accidental="natural"),))
    signed = Value(notes=(WrittenNote("F", octave=4, type="semibreve", accidental="sharp"),))
    high = Value(notes=(WrittenNote("F", octave=5, type="semibreve", accidental="sharp"),))
    assert is_right(natural, KIND.solve(plain), KIND)
    assert is_right(signed, KIND.solve(sharp), KIND)
    assert not is_right(high, KIND.solve(sharp), KIND)
    assert not is_right(natural, KIND.solve(sharp), KIND)


def test_slips_are_what_the_wrong_rule_gives() -> None:
    """Worked by hand: B flat 3 stands in the space above the bass stave; under the treble clef two places below C."""
    assert slip_texts("write-the-note", WriteTheNote("bass", "B", -1, -1)) == {
        "written for the treble clef": "D flat, in the space below the 1st ledger line below the stave",
        "an octave too high": "B flat, on the 4th ledger line above the stave",
        "an octave too low": "B flat, on the 2nd line",
        "sign left out": "B, in the space above the top line",
        "sharp and flat mixed up": "B sharp, in the space above the top line",
        "one place too high": "C flat, on the 1st ledger line above the stave",
        "one place too low": "A flat, on the 5th line",
    }


def test_the_sentence_names_the_octave() -> None:
    def sentence(facts: WriteTheNote, words: str = "uk") -> str:
        block = KIND.pose(facts, Wording("notes", words)).blocks[0]
        assert isinstance(block, TextBlock)
        return block.text

    assert sentence(WriteTheNote("bass", "B", -2, -2)) == (
        "Write B double flat as a semibreve under the bass clef. Use the second B below middle C."
    )
    assert sentence(WriteTheNote("treble", "C", 0, 0), "us") == (
        "Write C as a whole note under the treble clef. It is middle C."
    )


def test_only_c_can_stand_where_middle_c_does() -> None:
    with pytest.raises(BadDocument, match="reach 0 is middle C"):
        WriteTheNote("treble", "D", 0, 0)


def test_a_setter_that_means_another_octave_is_caught() -> None:
    """Double entry: the solver counts octaves its own way, so a planted fault in the draft is refused."""
    facts = WriteTheNote("treble", "A", 0, 1)
    meant = Value(notes=(WrittenNote("A", octave=5, type="semibreve"),))
    with pytest.raises(Disagreement):
        agree(KIND, Draft(facts, meant), KIND.solve(facts))


def test_the_pool_is_counted() -> None:
    seen = set()
    for seed in range(3000):
        draft = KIND.set(scope_for(1), Random(seed), None, None)
        assert draft is not None
        seen.add((draft.facts.clef, draft.facts.step, draft.facts.alter, draft.facts.reach))
    assert len(seen) == KIND.pool(scope_for(1))


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("write-the-note")


@pytest.mark.parametrize("alter, looks", [(1, "grid"), (-1, "grid"), (2, "x"), (-2, "x")])
def test_the_remedy_shows_the_sign_that_is_asked(alter: int, looks: str) -> None:
    """Gehrkens, Music Notation and Terminology (1914) §21-23; double signs were told by single ones."""
    remedies = {one.name: one.remedy for one in KIND.slips(WriteTheNote("alto", "D", alter, 1))}
    assert f"small {looks}" in remedies["sharp and flat mixed up"]
