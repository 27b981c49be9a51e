"""Stems up and down: the middle line, either way on it, and the rules that pupils get wrong."""

from __future__ import annotations

import music21
import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.stem_direction import KIND, StemDirection, Stemmed
from stavewright.questions.values import Place, Value

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914) §2"


def row(text: str, pick: str = "wrong") -> StemDirection:
    """Places with their stems, as "0u 6d"; all crotchets."""
    ways = {"u": "up", "d": "down"}
    notes = tuple(Stemmed(int(word[:-1]), "crotchet", ways[word[-1]]) for word in text.split())
    return StemDirection("treble", notes, pick)


@pytest.mark.parametrize(
    "facts, answers, source",
    [
        (row("0u 6u 8d"), ["note 2"], f"{GEHRKENS}: down above the middle line"),
        (row("0d 6d 3u"), ["note 1"], f"{GEHRKENS}: up below the middle line"),
        (row("3u 5d 3d 5u"), ["notes 3 and 4"], f"{GEHRKENS}: the spaces next to the middle line"),
        (row("3u 5d 3d 5u", "right"), ["notes 1 and 2"], GEHRKENS),
        (row("-2u 10d -1d"), ["note 3"], f"{GEHRKENS}; ledger lines from memory"),
        (row("4d 0u 6u"), ["note 3"], f"{GEHRKENS}: on the middle line either way"),
        (row("4u 0u 6u"), ["note 3", "notes 1 and 3"], f"{GEHRKENS}: either way; down always, from memory"),
        (row("4u 0u 6u", "right"), ["notes 1 and 2", "note 2"], f"{GEHRKENS}: either way; down always, from memory"),
    ],
)
def test_published_rule(facts: StemDirection, answers: list[str], source: str) -> None:
    assert texts("stem-direction", facts) == answers, source


def test_slips() -> None:
    """Worked by hand: places 0 3 4 5 8 with stems up, up, down, up, down, then a low ledger note."""
    found = slip_texts("stem-direction", row("0u 3u 4d 5u 8d -2u"))
    assert found == {
        "high and low turned round": "notes 1, 2, 3, 5 and 6",
        "middle line always up": "notes 3 and 4",
        "turned at the 2nd line": "notes 2 and 4",
        "turned at the 4th line": "note 3",
        "stems always up": "notes 3 and 5",
        "stems always down": "notes 1, 2, 4 and 6",
        "stems away from the stave": "notes 4 and 6",
    }


def test_two_notes_found_earn_half_each() -> None:
    """Per item; a note too many costs as much as one missing (common practice)."""
    facts = row("0d 3u 8u 6d")
    question = ask(KIND, Draft(facts, KIND.solve(facts)[0].value[0]), id="q", grade=1, edition="written", seed=1)
    assert question is not None

    def marks(*numbers: int) -> int:
        return mark_question(question, (Value(places=tuple(Place(1, number) for number in numbers)),)).marks

    assert [marks(1, 3), marks(3, 1), marks(1), marks(1, 3, 4), marks(2, 4)] == [2, 2, 1, 1, 0]


def test_all_right_or_all_wrong_is_refused() -> None:
    for text in ("0u 3u 8d", "0d 3d 8u", "0u 4u 1u"):
        with pytest.raises(BadDocument, match="some stems"):
            row(text)


def test_an_outside_library_turns_stems_alike() -> None:
    """music21 turns the middle line down, the usual way; so does our stricter reading."""
    bass = music21.clef.TrebleClef()
    for place in range(-3, 12):
        if place == 4:
            continue
        pitch = music21.pitch.Pitch()
        pitch.diatonicNoteNum = bass.lowestLine + place
        way = bass.getStemDirectionForPitches(pitch)
        facts = row(f"{place}{way[0]} 0d 8d 1u")
        assert texts("stem-direction", facts) == ["note 2"]


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("stem-direction")
