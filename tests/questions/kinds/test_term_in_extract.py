"""Directions of an extract: what they mean, and which bar has the one with a meaning."""

from __future__ import annotations

import pytest

from questions.asking_many import asked
from questions.hand_written import extract
from questions.rules_of_kinds import slip_texts, texts
from questions.tiny_melodies import stimulus
from stavewright.questions.comparing import compare
from stavewright.questions.documents import ChoiceForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.term_in_extract import KIND, TermInExtract, _over_bar_lines
from stavewright.questions.score_mirror import document_of
from stavewright.questions.values import Value
from stavewright.score.stave import Direction
from stavewright.syllabus.scope import scope_for
from stavewright.wiring import composed_melodies

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
# By hand: an upbeat, then bars 1 to 4; tempo, p, a swell, ff and a word.
MUSIC = document_of(
    extract(
        "D4/1 | G4/1 A4/1 B4/2 | C5/1 B4/1 A4/2 | D5/2 D5/2 | G4/2 r/1",
        "4/4",
        1,
        anacrusis=True,
        signs={
            0: (("tempo", 0, "Andante"),),
            1: (("dynamic", 0, "p"),),
            2: (("crescendo", 0, "", 2),),
            3: (("dynamic", 0, "ff"), ("text", 1, "dolce")),
        },
    )
)

# fmt: off
# what, bar, what a pupil writes, right or wrong, source
MEANINGS = [
    ("tempo", 0, "at a walking pace", True, f"{GEHRKENS} §109"),
    ("tempo", 0, "fast", False, f"{GEHRKENS} §109"),
    ("letters", 1, "quiet", True, f"{GEHRKENS} §120"),
    ("letters", 1, "very soft", False, f"{GEHRKENS} §120: that is pp"),
    ("lines", 2, "getting louder", True, f"{GEHRKENS} §124"),
    ("lines", 2, "getting softer", False, f"{GEHRKENS} §126"),
    ("letters", 3, "very loud", True, f"{GEHRKENS} §120"),
    ("word", 3, "sweetly", True, f"{GEHRKENS} §130"),
]
# fmt: on


@pytest.mark.parametrize("what, bar, said, right, source", MEANINGS)
def test_what_a_direction_means(what: str, bar: int, said: str, right: bool, source: str) -> None:
    answers = KIND.solve(TermInExtract(MUSIC, what, bar, 1))
    assert any(compare(Value(words=said), one.value[0], KIND.marking).same for one in answers) is right, source


@pytest.mark.parametrize("what, meaning, bar", [("letters", "soft", 1), ("letters", "very loud", 3), ("lines", "", 2)])
def test_which_bar_has_it(what: str, meaning: str, bar: int) -> None:
    """By hand; the upbeat is not counted."""
    facts = TermInExtract(MUSIC, what, 0, 1, meaning or "gradually getting louder")
    number = {1: "1st", 2: "2nd", 3: "3rd"}[bar]
    assert texts("term-in-extract", facts) == [f"bar {bar}", str(bar), f"{number} bar"]


def test_slips_by_hand() -> None:
    assert slip_texts("term-in-extract", TermInExtract(MUSIC, "letters", 0, 1, "soft")) == {
        "took another sign for it": "bar 3",
        "counted the upbeat as a bar": "bar 2",
    }
    assert slip_texts("term-in-extract", TermInExtract(MUSIC, "letters", 0, 1, "very loud")) == {
        "took another sign for it": "bar 1",
        "counted the upbeat as a bar": "bar 4",
        "one bar too early": "bar 2",
    }
    assert slip_texts("term-in-extract", TermInExtract(MUSIC, "lines", 2, 1)) == {
        "took it for its opposite": "gradually getting softer",
        "took it for a neighbour": "very loud",
    }


def test_the_working_points_at_the_note() -> None:
    steps = KIND.work(TermInExtract(MUSIC, "word", 3, 1), "usual")
    assert steps[0].points_at == ("n9",)
    assert "dolce" in steps[0].text


def test_what_is_not_there_is_refused() -> None:
    with pytest.raises(BadDocument, match="0 directions"):
        KIND.solve(TermInExtract(MUSIC, "letters", 4, 1))
    with pytest.raises(BadDocument, match="no direction of the sort"):
        TermInExtract(MUSIC, "smell", 1, 1)


def test_a_shared_extract_is_asked_about() -> None:
    """Setter and solver agree on the directions of other melodies too, and the block is the shared one."""
    seen = set()
    for seed in range(60):
        shared = stimulus(scope_for(2), seed)
        for _, draft, question in asked("term-in-extract", 1, grades=(2,), stimulus=shared):
            seen.add(draft.facts.what)
            assert question.prompt[1].id == "extract"
            if isinstance(question.response[0], ChoiceForm):
                assert len(question.response[0].options) >= 3
    assert {"tempo", "letters", "lines"} <= seen


def test_composed_melodies_are_asked_about() -> None:
    assert len(list(asked("term-in-extract", 10, melodies=composed_melodies()))) == 100


def test_long_lines_over_a_bar_line_are_not_looked_for_by_bar() -> None:
    """Where they begin in one bar and end in the next, no one bar is the bar that has them."""
    tune = "G4/1 A4/1 | B4/1 C5/1 | D5/1 B4/1 | G4/2"
    over, within = (
        extract(tune, "2/4", 1, signs={1: (Direction("crescendo", 0, "", 1, bars),)}) for bars in (1, 0)
    )
    assert (_over_bar_lines(over), _over_bar_lines(within)) == (frozenset({2}), frozenset())
