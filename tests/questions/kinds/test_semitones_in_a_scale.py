"""Where the semitones of a scale lie."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from questions.scale_papers import sounds, written_row
from stavewright.questions.comparing import compare
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.semitones_in_a_scale import KIND, SemitonesInAScale
from stavewright.questions.values import Place, Value
from stavewright.syllabus.scope import scope_for


def paper(names: str, fifths: int | None = None) -> SemitonesInAScale:
    return SemitonesInAScale("treble", fifths, written_row(names, "treble", fifths))


# Gehrkens, Music Notation and Terminology (1914): major §81, natural minor §85, harmonic §86, melodic §88.
@pytest.mark.parametrize(
    "notes, fifths, pairs",
    [
        ("C4 D4 E4 F4 G4 A4 B4 C5", None, "notes 3 and 4, notes 7 and 8"),
        ("D4 E4 F#4 G4 A4 B4 C#5 D5", 2, "notes 3 and 4, notes 7 and 8"),
        ("D5 C#5 B4 A4 G4 F#4 E4 D4", 2, "notes 1 and 2, notes 5 and 6"),
        ("A4 B4 C5 D5 E5 F5 G5 A5", None, "notes 2 and 3, notes 5 and 6"),
        ("A4 B4 C5 D5 E5 F5 G#5 A5", None, "notes 2 and 3, notes 5 and 6, notes 7 and 8"),
        ("D5 C#5 Bb4 A4 G4 F4 E4 D4", -1, "notes 1 and 2, notes 3 and 4, notes 6 and 7"),
        ("A4 B4 C5 D5 E5 F#5 G#5 A5", None, "notes 2 and 3, notes 7 and 8"),
    ],
)
def test_published_patterns(notes: str, fifths: int | None, pairs: str) -> None:
    assert texts("semitones-in-a-scale", paper(notes, fifths)) == [pairs]


def test_slips() -> None:
    """Worked by hand on D harmonic minor coming down: D C# Bb A G F E D."""
    assert slip_texts("semitones-in-a-scale", paper("D5 C#5 Bb4 A4 G4 F4 E4 D4", -1)) == {
        "3-4 and 7-8 in minor too": "notes 1 and 2, notes 5 and 6",
        "signs left out": "notes 2 and 3, notes 6 and 7",
        "counted from the wrong end": "notes 2 and 3, notes 5 and 6, notes 7 and 8",
        "second note of each pair": "notes 2 and 3, notes 4 and 5, notes 7 and 8",
        "wide step taken for a semitone": "notes 1 and 2, notes 2 and 3, notes 3 and 4",
    }
    major = slip_texts("semitones-in-a-scale", paper("G4 A4 B4 C5 D5 E5 F#5 G5", 1))
    assert major["signs left out"] == "notes 3 and 4, notes 6 and 7"
    assert "3-4 and 7-8 in minor too" not in major


def test_each_pair_is_an_item() -> None:
    right = KIND.solve(paper("C4 D4 E4 F4 G4 A4 B4 C5"))[0].value[0]
    one = compare(Value(places=(Place(1, 3), Place(1, 6))), right, KIND.marking)
    assert (one.items, one.faults) == (2, 1)


def test_notes_that_are_no_scale_are_refused() -> None:
    with pytest.raises(BadDocument):
        KIND.solve(paper("C4 D4 E4 F#4 G#4 A#4 B#4 C5"))


def test_music21_counts_the_same_semitones() -> None:
    for _, draft in drafts("semitones-in-a-scale", 80):
        heard = [music21.pitch.Pitch(name) for name in sounds(draft.facts.clef, draft.facts.fifths, draft.facts.notes)]
        close = [
            number
            for number in range(1, 8)
            if abs(music21.interval.Interval(*heard[number - 1 : number + 1]).cents) == 100
        ]
        places = KIND.solve(draft.facts)[0].value[0].places
        assert [(place.bar, place.note) for place in places] == [(1, number) for number in close]


def test_the_pool_counts_what_can_be_set() -> None:
    found = {draft.facts for _, draft in drafts("semitones-in-a-scale", 4000, grades=(2,))}
    assert len(found) == KIND.pool(scope_for(2))


def test_the_rules_of_all_kinds() -> None:
    keeps_the_rules("semitones-in-a-scale")
