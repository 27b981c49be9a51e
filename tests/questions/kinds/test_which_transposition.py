"""Picking the right transposition, and the one wrong note of a transposed melody: worked cases, the slips, music21."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import asked, drafts
from questions.hand_written import extract
from questions.rules_of_kinds import slip_texts, texts
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import ChoiceForm, PlacesForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.which_transposition import KIND, WhichTransposition
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.values import Place, Value
from stavewright.score.check import faults
from stavewright.tunes.composed import ComposedMelodies


def ask(
    old: str, fifths: int, interval: str, *, up: bool = True, shown: str = "", signs: int = 0
) -> WhichTransposition:
    melody = document_of(extract(old, "3/4", fifths))
    version = document_of(extract(shown, "3/4", signs)) if shown else None
    return WhichTransposition(melody, interval, up, version)


# Keys and notes moved: Schmidt-Jones, Understanding Basic Music Theory, m10668 (G up M2 is A; E flat down m3 is C; a
# raised note stays a raised note); the wrong notes are put in by hand.
@pytest.mark.parametrize(
    "facts, place",
    [
        (ask("G4/1 B4/1 D5/1 | G4/2.", 1, "M2", shown="A4/1 C#5/1 E5/1 | B4/2.", signs=3), "bar 2, 1st note"),
        (ask("G4/1 B4/1 D5/1 | G4/2.", 1, "M2", shown="A4/1 C5/1 E5/1 | A4/2.", signs=3), "bar 1, 2nd note"),
        (ask("Eb5/1 D5/1 B4/1 | Eb5/2.", -3, "m3", up=False, shown="C5/1 B4/1 G4/1 | C5/2."), "bar 1, 3rd note"),
        (ask("G4/1 C#5/1 D5/1 | G4/2.", 1, "P5", shown="D4/1 G4/1 A4/1 | D4/2.", signs=2, up=False), "bar 1, 1st note"),
    ],
)  # fmt: skip
def test_worked_faults(facts: WhichTransposition, place: str) -> None:
    if place == "bar 1, 1st note":
        with pytest.raises(BadDocument, match="signature"):
            KIND.solve(facts)
        return
    assert texts("which-transposition", facts) == [place]


def test_the_reason_measures_the_interval() -> None:
    facts = ask("G4/1 C#5/1 D5/1 | G4/2.", 1, "P5", shown="D5/1 G5/1 A5/1 | D5/2.", signs=2)
    assert texts("which-transposition", facts) == ["bar 1, 2nd note"]
    said = KIND.solve(facts)[0].reason
    assert said == "From C sharp to G is a diminished 5th up; moved up by a perfect 5th it is G sharp."


def test_a_version_without_a_fault_or_with_two_is_refused() -> None:
    for shown in ("A4/1 C#5/1 E5/1 | A4/2.", "A4/1 C5/1 E5/1 | B4/2."):
        with pytest.raises(BadDocument, match="notes of the shown version are wrong"):
            KIND.solve(ask("G4/1 B4/1 D5/1 | G4/2.", 1, "M2", shown=shown, signs=3))


def test_each_slip_points_by_its_wrong_rule() -> None:
    facts = ask("G4/1 C#5/1 D5/1 | G4/2.", 1, "M2", shown="A4/1 D#5/1 E5/1 | B4/2.", signs=3)
    found = [(one.name, one.text) for one in KIND.slips(facts)]
    assert ("any sign taken for a fault", "bar 1, 2nd note") in found
    assert ("counted one note off", "bar 1, 3rd note") in found
    picking = slip_texts("which-transposition", ask("G4/1 B4/1 D5/1 | G4/2.", 1, "M2"))
    assert picking["wrong direction"] == "1 flat: F, A, C, F"


def test_only_the_one_place_is_right() -> None:
    facts = ask("G4/1 B4/1 D5/1 | G4/2.", 1, "M2", shown="A4/1 C5/1 E5/1 | A4/2.", signs=3)
    answers = KIND.solve(facts)
    assert is_right(Value(places=(Place(1, 2),)), answers, KIND)
    assert not is_right(Value(places=(Place(1, 1),)), answers, KIND)
    assert not is_right(Value(places=(Place(1, 2), Place(1, 1))), answers, KIND)


def test_music21_finds_the_same_wrong_note() -> None:
    seen = 0
    for _, draft in drafts("which-transposition", 120, melodies=ComposedMelodies()):
        facts = draft.facts
        if facts.shown is None:
            continue
        size = music21.interval.Interval(facts.interval if facts.up else f"-{facts.interval}")
        wrong = []
        for old, new in zip(score_of(facts.melody).staves[0].bars, score_of(facts.shown).staves[0].bars, strict=True):
            pairs = [(a, b) for a, b in zip(old.events, new.events, strict=True) if hasattr(a, "pitch")]
            for number, (a, b) in enumerate(pairs, 1):
                theirs = music21.pitch.Pitch(a.pitch.short.replace("b", "-")).transpose(size)
                if theirs.nameWithOctave != b.pitch.short.replace("b", "-"):
                    wrong.append(number)
        place = KIND.solve(facts)[0].value[0].places[0]
        assert wrong == [place.note]
        seen += 1
    assert seen > 30


def test_questions_keep_the_rules() -> None:
    forms = set()
    for kind, draft, question in asked("which-transposition", 40, melodies=ComposedMelodies()):
        form = question.response[0]
        forms.add(type(form))
        if isinstance(form, ChoiceForm):
            assert draft.facts.shown is None
            assert len(form.options) == 4
        for one in (*kind.solve(draft.facts), *kind.slips(draft.facts)):
            assert faults(kind.draw(draft.facts, one.value[0])) == []
    assert forms == {ChoiceForm, PlacesForm}
