"""Notes in order of pitch."""

from __future__ import annotations

import re

import music21
import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.asking import ask
from stavewright.questions.comparing import compare
from stavewright.questions.documents import OrderForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.higher_or_lower import KIND, HigherOrLower, Placed
from stavewright.questions.sheet import sheet
from stavewright.questions.values import Value

SIGNS = {"#": "sharp", "b": "flat", "x": "double-sharp", "": None}


def notes(text: str, *, lowest_first: bool = True) -> HigherOrLower:
    """Notes as clef letter, place and sign: "t0#" is the treble's bottom line with a sharp."""
    clefs = {"t": "treble", "b": "bass", "a": "alto", "n": "tenor"}
    found = []
    for one in text.split():
        digits = one[1:].rstrip("#bx")
        found.append(Placed(clefs[one[0]], int(digits), SIGNS[one[1 + len(digits) :]]))
    return HigherOrLower(tuple(found), lowest_first)


# Gehrkens, Music Notation and Terminology (1914): clefs §15-17 (middle C is the 1st ledger line below the treble, above
# the bass, the alto's 3rd line, the tenor's 4th), signs §22-26.
@pytest.mark.parametrize(
    "shown, order",
    [
        ("t2 t0 t4", "b, a, c (E, G, B)"),
        ("t1 t1# t0", "c, a, b (E, F, F sharp)"),
        ("b10 t0", "a, b (C, E)"),
        ("t-2 b8 b11", "b, a, c (A, C, D)"),
        ("a5 n6 t0", "b, a, c (C, D, E)"),
    ],
)
def test_notes_by_the_places_of_middle_c(shown: str, order: str) -> None:
    assert texts("higher-or-lower", notes(shown)) == [order]


def test_a_sign_can_lift_a_note_over_its_neighbour() -> None:
    """Gehrkens §27: E double sharp is the key above F."""
    assert texts("higher-or-lower", notes("t0x t1")) == ["b, a (F, E double sharp)"]
    with pytest.raises(BadDocument, match="sound the same"):
        notes("t0x t2b")


def test_the_question_says_which_end_comes_first() -> None:
    down = notes("t2 t0 t4", lowest_first=False)
    assert texts("higher-or-lower", down) == ["c, a, b (B, G, E)"]
    question = ask(KIND, next(drafts("higher-or-lower", 1))[1], id="q", grade=1, edition="written", seed=1)
    assert isinstance(question.response[0], OrderForm)
    assert ("lowest to the highest" in question.prompt[0].text) != ("highest to the lowest" in question.prompt[0].text)


def test_what_the_signs_change_is_said_of_two_notes() -> None:
    """Two notes on one line, or the other way round than they stand; nothing else is said to have changed."""
    found = 0
    for _, draft in drafts("higher-or-lower", 60):
        shown = {letter: note.pitch for letter, note in zip("abcde", draft.facts.notes, strict=False)}
        turned = [
            (low, high)
            for low, below in shown.items()
            for high, above in shown.items()
            if below.midi < above.midi and below.diatonic >= above.diatonic
        ]
        said = [step.text for step in KIND.work(draft.facts, "usual") if step.text.startswith("A sharp lifts")]
        if not turned:
            assert all("the order stays the same" in text for text in said)
            continue
        found += 1
        pairs = re.findall(r"so ([a-e]) \(.+?\) is lower than ([a-e]) ", said[0])
        assert pairs[0] in turned
    assert found > 20


def test_every_slip() -> None:
    """Worked by hand: C4 (treble), B3 (bass, above the stave), F#4 (treble)."""
    found = slip_texts("higher-or-lower", notes("t1# t-2 b9"))
    assert found == {
        "reads by look across clefs": "b, a, c (C, F sharp, B)",
        "began at the wrong end": "a, b, c (F sharp, C, B)",
        "signs left out": "c, b, a (B, C, F sharp)",
        "last two the wrong way round": "c, a, b (B, F sharp, C)",
    }
    assert slip_texts("higher-or-lower", notes("t2 t5 t3"))["by the alphabet"] == "c, b, a (A, C, G)"


def test_each_place_in_the_row_is_an_item() -> None:
    right = KIND.solve(notes("t0 t2 t4"))[0].value[0]
    assert compare(Value(order=("a", "c", "b")), right, KIND.marking).faults == 2
    assert compare(Value(order=("a",)), right, KIND.marking).faults == 2


def test_clefs_are_mixed_only_where_the_scope_allows_it() -> None:
    def mixed(grade: int) -> int:
        return sum(
            len({n.clef for n in draft.facts.notes}) > 1 for _, draft in drafts("higher-or-lower", 60, grades=(grade,))
        )

    assert mixed(1) == mixed(2) == 0
    assert mixed(3) > 10


def test_the_sheet_shows_each_note_and_names_none() -> None:
    for _, draft in drafts("higher-or-lower", 20):
        question = ask(KIND, draft, id="q", grade=5, edition="on-screen", seed=1)
        options = sheet(question).response[0].options
        assert len(options) == len(draft.facts.notes)
        for option, note in zip(options, draft.facts.notes, strict=True):
            assert option.picture is not None
            assert note.clef in option.picture.alt
            assert note.pitch.name.text not in option.picture.alt.replace("A ", "").split(": ")[1].split()


def test_music21_hears_the_same_order() -> None:
    bottoms = {"treble": 31, "bass": 19, "alto": 25, "tenor": 23}
    alters = {None: 0, "natural": 0, "sharp": 1, "flat": -1, "double-sharp": 2, "flat-flat": -2}
    for _, draft in drafts("higher-or-lower", 80):
        heard = []
        for note in draft.facts.notes:
            pitch = music21.pitch.Pitch()
            pitch.diatonicNoteNum = bottoms[note.clef] + note.place
            pitch.accidental = music21.pitch.Accidental(alters[note.accidental])
            heard.append(pitch.ps)
        order = sorted(range(len(heard)), key=lambda at, heard=heard: heard[at], reverse=not draft.facts.lowest_first)
        assert KIND.solve(draft.facts)[0].value[0].order == tuple("abcde"[at] for at in order)


def test_the_rules_of_all_kinds() -> None:
    keeps_the_rules("higher-or-lower")
