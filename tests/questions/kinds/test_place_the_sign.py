"""Where a named sign belongs: every rule, worked by hand on one piece."""

from __future__ import annotations

import pytest

from questions.asking_many import asked, drafts
from questions.hand_written import extract
from questions.rules_of_kinds import keeps_the_rules, slip_texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.place_the_sign import KIND, PlaceTheSign
from stavewright.questions.score_mirror import document_of
from stavewright.questions.solving.line import line_of
from stavewright.questions.values import Place, Value
from stavewright.theory.clef import CLEFS

MUSIC = document_of(extract("G4/1 A4/q B4/q C5/1 | C5/q D5/q B4/2 | A4/1 G4/1 A4/1", "3/4"))
STEMS = document_of(extract("G4/1 C5/1 D5/1 A4/1", "4/4"))
GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"

# fmt: off
# sign, rule, bar, value, where it goes, source
CASES = [
    ("tie", "tie", 0, "", "1.4 2.1", f"{GEHRKENS} §54: two notes of the same pitch"),
    ("slur", "slur", 1, "", "1.1 1.4", f"{GEHRKENS} §57: over the notes of the group"),
    ("fermata", "longest", 0, "", "2.3", "common practice: over its note"),
    ("staccato", "each", 1, "quaver", "1.2 1.3", f"{GEHRKENS} §43: at the head of each note"),
    ("tenuto", "each", 1, "crotchet", "1.1 1.4", f"{GEHRKENS} §130"),
    ("staccato", "above", 2, "", "2.1 2.2 2.3", "common practice: at the head, away from the stem"),
    ("accent", "first", 0, "", "1.1 2.1 3.1", f"{GEHRKENS} §122"),
    ("down-bow", "first", 0, "", "1.1 2.1 3.1", f"{GEHRKENS} §63"),
]
# fmt: on


def places(text: str) -> tuple[Place, ...]:
    return tuple(Place(int(bar), int(note)) for bar, note in (one.split(".") for one in text.split()))


@pytest.mark.parametrize("sign, rule, bar, value, right, source", CASES)
def test_where_signs_belong(sign: str, rule: str, bar: int, value: str, right: str, source: str) -> None:
    (found,) = KIND.solve(PlaceTheSign(MUSIC, sign, rule, bar, value))
    assert found.value[0].places == places(right), source


def test_slips_by_hand() -> None:
    """The catalogue's wrong notes; slur taken for tie joins notes a step apart."""
    assert slip_texts("place-the-sign", PlaceTheSign(MUSIC, "tie", "tie")) == {
        "took a slur for a tie": "bar 1, notes 1 and 2",
        "joined notes with another between": "bar 3, notes 1 and 3",
    }
    assert slip_texts("place-the-sign", PlaceTheSign(MUSIC, "staccato", "each", 1, "quaver")) == {
        "took the other value": "bar 1, notes 1 and 4",
        "marked the whole bar": "bar 1, notes 1, 2, 3 and 4",
        "marked the other bars too": "bar 1, notes 2 and 3; bar 2, notes 1 and 2",
        "marked one note only": "bar 1, note 2",
    }
    assert slip_texts("place-the-sign", PlaceTheSign(MUSIC, "slur", "slur", 2)) == {
        "stopped one note too soon": "bar 2, notes 1 and 2",
        "went on over the bar line": "bar 2, note 1; bar 3, note 1",
        "counted the bars wrongly": "bar 1, notes 1 and 4",
    }
    assert slip_texts("place-the-sign", PlaceTheSign(MUSIC, "fermata", "longest")) == {
        "took the last note": "bar 3, note 3",
        "took the first note": "bar 1, note 1",
        "took tails for length": "bar 1, note 2",
    }
    assert slip_texts("place-the-sign", PlaceTheSign(MUSIC, "accent", "first"))["took the last note of each bar"] == (
        "bar 1, note 4; bar 2, note 3; bar 3, note 3"
    )


def test_a_sign_stands_at_the_head() -> None:
    """Stems go up below the middle line and down above it; the sign is on the other side (common practice)."""
    facts = PlaceTheSign(STEMS, "tenuto", "above", 1)
    assert KIND.solve(facts)[0].value[0].places == places("1.2 1.3")
    assert slip_texts("place-the-sign", facts) == {
        "put it on the stem side": "bar 1, notes 1 and 4",
        "marked the whole bar": "bar 1, notes 1, 2, 3 and 4",
        "took the highest note alone": "bar 1, note 3",
    }
    bass = document_of(extract("G2/1 C3/1 E3/1 F3/1", "4/4", clef="bass"))
    assert KIND.solve(PlaceTheSign(bass, "staccato", "above", 1))[0].value[0].places == places("1.3 1.4")


def test_no_stem_is_left_open() -> None:
    """No note of the bar stands on the middle line, where a stem may go either way."""
    for _, draft in drafts("place-the-sign", 150):
        if draft.facts.rule == "above":
            (bar,) = [one for one in line_of(draft.facts.music) if one.number == draft.facts.bar]
            clef = CLEFS[draft.facts.music.staves[0].clef]
            assert 4 not in [clef.place(one.pitch) for one in bar.notes]
            assert 0 < len(draft.expected.places) < len(bar.notes)


def test_two_ties_or_two_longest_notes_are_left_open() -> None:
    twice = document_of(extract("G4/1 G4/1 | A4/1 A4/1", "2/4"))
    assert KIND.solve(PlaceTheSign(twice, "tie", "tie")) == ()
    assert KIND.solve(PlaceTheSign(twice, "fermata", "longest")) == ()


def test_notes_an_octave_apart_are_no_tie() -> None:
    wide = document_of(extract("G4/1 G5/1 | A4/1 A4/1", "2/4"))
    assert slip_texts("place-the-sign", PlaceTheSign(wide, "tie", "tie"))["joined notes an octave apart"] == (
        "bar 1, notes 1 and 2"
    )


def test_marks_are_given_note_by_note() -> None:
    """Half the places right is half the marks."""
    for _, draft, question in asked("place-the-sign", 40, grades=(2,)):
        right = draft.expected.places
        assert mark_question(question, (draft.expected,)).marks == 2
        if len(right) == 2:
            assert mark_question(question, (Value(places=right[:1]),)).marks == 1


def test_the_grade_asks_only_signs_it_knows() -> None:
    """Bow marks and tenuto come at level 2 with the others; every rule comes up."""
    found = {draft.facts.rule for _, draft in drafts("place-the-sign", 80, grades=(2,))}
    assert found == {"each", "above", "first", "longest", "tie", "slur"}


def test_signs_without_the_rule_are_refused() -> None:
    with pytest.raises(BadDocument, match="is not asked by the rule"):
        PlaceTheSign(MUSIC, "trill", "each", 1, "quaver")


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("place-the-sign")
