"""Finding the clef that makes a note the named one."""

from __future__ import annotations

from collections import Counter
from random import Random

import music21
import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.documents import StaveBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.which_clef import KIND, WhichClef
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import scope_for

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
ALL = ("treble", "bass", "alto", "tenor")


@pytest.mark.parametrize(
    "place, step, clef, source",
    [
        (2, "G", "treble", f"{GEHRKENS} §15: the G clef names the second line"),
        (6, "F", "bass", f"{GEHRKENS} §16: the F clef names the fourth line"),
        (4, "C", "alto", f"{GEHRKENS} §17: the C clef on the third line"),
        (6, "C", "tenor", f"{GEHRKENS} §17: the C clef on the fourth line"),
        (0, "G", "bass", f"{GEHRKENS} §48: bottom bass line G2"),
        (-2, "C", "treble", f"{GEHRKENS} §48: middle C below the treble stave"),
        (10, "C", "bass", f"{GEHRKENS} §48: middle C above the bass stave"),
    ],
)
def test_published_places(place: int, step: str, clef: str, source: str) -> None:
    assert texts("which-clef", WhichClef(place, step, ALL)) == [f"{clef} clef"], source


def test_no_place_reads_alike_under_two_of_the_four_clefs() -> None:
    """So a question has one answer: the bottom lines are E, G, F and D (Gehrkens §15-17)."""
    for place in range(-6, 15):
        for step in "CDEFGAB":
            try:
                facts = WhichClef(place, step, ALL)
            except BadDocument:
                continue
            assert len(KIND.solve(facts)) == 1


def test_a_letter_that_no_clef_gives_is_refused() -> None:
    with pytest.raises(BadDocument, match="with treble, bass it is E, G"):
        WhichClef(0, "C", ("treble", "bass"))


def test_slips() -> None:
    """Worked by hand: the middle line is C in the alto clef, A in the tenor clef, B in the treble (one place out)."""
    assert slip_texts("which-clef", WhichClef(4, "C", ALL)) == {
        "guessed the common clef": "treble clef",
        "mixed up the C clefs": "tenor clef",
        "one place out": "treble clef",
    }
    assert slip_texts("which-clef", WhichClef(2, "G", ("treble", "bass"))) == {"guessed the common clef": "bass clef"}


def test_the_picture_is_the_same_whatever_the_answer() -> None:
    """The stave shows no clef, and the note is stored as if under one clef, so the data gives nothing away either."""
    pictures = []
    for step in ("E", "G", "F", "D"):
        stave = KIND.pose(WhichClef(0, step, ALL), Wording("choice")).blocks[1]
        assert isinstance(stave, StaveBlock)
        assert not stave.score.staves[0].show_clef
        pictures.append(stave)
    assert all(one == pictures[0] for one in pictures)


def test_an_outside_library_reads_the_same_letters() -> None:
    clefs = {
        "treble": music21.clef.TrebleClef,
        "bass": music21.clef.BassClef,
        "alto": music21.clef.AltoClef,
        "tenor": music21.clef.TenorClef,
    }
    for seed in range(200):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        assert draft is not None
        facts = draft.facts
        fitting = []
        for name, clef in clefs.items():
            pitch = music21.pitch.Pitch()
            pitch.diatonicNoteNum = clef().lowestLine + facts.place
            if pitch.step == facts.step:
                fitting.append(f"{name} clef")
        assert texts("which-clef", facts) == fitting


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("which-clef")


@pytest.mark.parametrize("grade", [1, 4, 5])
def test_no_clef_is_a_better_guess_than_another(grade: int) -> None:
    """Found in review: the newest clef was right in half of the questions, whatever the note."""
    scope = scope_for(grade)
    counts = Counter(
        draft.expected for seed in range(400) if (draft := KIND.set(scope, Random(seed), None, None)) is not None
    )
    assert set(counts) == {f"{clef} clef" for clef in scope.clefs}
    assert max(counts.values()) < 1.35 * 400 / len(scope.clefs)
