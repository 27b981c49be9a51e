"""Writing a bar again under beams: published ways, the marks of near misses, slips, and a second opinion."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from questions.music21_beams import by_music21
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.engraving.svg import engrave
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import agree, ask, slips_of
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import ChoiceForm, Question, RhythmForm, StaveBlock
from stavewright.questions.errors import BadDocument, Disagreement
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.beam_the_bar import KIND, BeamTheBar
from stavewright.questions.score_document import TupletDocument
from stavewright.questions.score_mirror import score_of
from stavewright.questions.showing.beams import drawable
from stavewright.questions.values import Value, WrittenValue
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for
from stavewright.theory.duration import total_ticks
from stavewright.theory.metre import ALL_TIMES, TimeSignature

OU = "The Open University, An introduction to music theory (2016)"
LILY = "LilyPond default beaming table"
LETTERS = {"m": "minim", "c": "crotchet", "q": "quaver", "s": "semiquaver"}


def bar(time: str, letters: str) -> BeamTheBar:
    """Short hand: q quaver, c. dotted crotchet, -q quaver rest, q3 in a triplet."""
    row = [
        WrittenValue(
            LETTERS[word.lstrip("-")[0]],
            word.count("."),
            word.startswith("-"),
            tuplet=TupletDocument(3, 2) if word.endswith("3") else None,
        )
        for word in letters.split()
    ]
    return BeamTheBar(time, tuple(row))


def written(facts: BeamTheBar, beams: str) -> Value:
    """The bar under beams, one mark a note: a digit for its beam, "-" for none."""
    return Value(
        rhythm=tuple(
            replace(one, beam=None if mark == "-" else int(mark)) for one, mark in zip(facts.row, beams, strict=True)
        )
    )


def asked(facts: BeamTheBar, edition: str = "written", seed: int = 1) -> Question:
    question = ask(KIND, Draft(facts, KIND.solve(facts)[0].value[0]), id="q", grade=5, edition=edition, seed=seed)
    assert question is not None
    return question


@pytest.mark.parametrize(
    ("time", "letters", "ways", "source"),
    [
        ("2/4", "q q q q", ["0000", "0011"], f"{OU} §3.6; {LILY}: by beat, or all four"),
        ("3/4", "q q q q q q", ["000000", "000011", "001111", "001122"], f"{OU} §3.6; {LILY}: all six, or by beat"),
        ("4/4", "q q q q q q q q", ["00001111", "00001122", "00112222", "00112233"], f"{OU} §3.6; Open Music Theory"),
        ("C", "c q q q q c", ["-0011-"], f"{OU} §3.6: a break at the middle"),
        ("6/8", "q q q q q q", ["000111"], f"{OU} §3.9; {LILY}"),
        ("9/8", "q q q c. q q q", ["000-111"], f"{OU} §3.9; {LILY}"),
        ("3/8", "q s s q", ["0000"], f"{OU} §3.6; {LILY}: all under one beam"),
        ("cut C", "q q q q q q q q", ["00001111"], "from memory: by minim"),
        ("2/4", "s s s s q q", ["000011"], f"{OU} §3.6: semiquavers by beat"),
        ("2/4", "q3 q3 q3 q q", ["00011"], "common practice: an irregular group has its own beam"),
        ("5/8", "q q q q q", ["00011", "00111"], f"{LILY}: 3+2; 2+3 common practice"),
        ("7/8", "q q q q q q q", ["0011222", "0001122", "0011122", "0000111", "0001111"], "from memory"),
        ("6/8", "q -q q q q q", ["---000"], "common practice: a rest stops the beam"),
    ],
)
def test_published_ways(time: str, letters: str, ways: list[str], source: str) -> None:
    facts = bar(time, letters)
    question = asked(facts)
    answers = KIND.solve(facts)
    assert len(answers) == len(ways), source
    assert is_right(written(facts, ways[0]), answers[:1], KIND), source
    for way in ways:
        assert mark_question(question, (written(facts, way),)).marks == KIND.marks, source


def test_alternatives_have_their_reasons() -> None:
    """3+2 and 2+3 in 5/8, pairs and fours in 4/4: each says why it is right."""
    reasons = [one.reason for one in KIND.solve(bar("5/8", "q q q q q"))]
    assert reasons == ["One beam for each beat, grouped 3+2.", "One beam for each beat, grouped 2+3."]
    halves, *_, pairs = KIND.solve(bar("4/4", "q q q q q q q q"))
    assert halves.reason == "Quavers of a half bar may share one beam."
    assert pairs.reason == "One beam for each beat."
    assert KIND.solve(bar("3/8", "q q q"))[0].reason == "The notes of a bar may share one beam."
    assert KIND.solve(bar("4/8", "q q q q"))[0].reason == "The notes of a half bar may share one beam."


def test_an_answer_says_which_notes_it_joins_without_counting_rests() -> None:
    assert texts("beam-the-bar", bar("4/4", "-q q q q s s s s c"))[0] == "beams over notes 2 and 3, 4 to 7"


@pytest.mark.parametrize(
    ("time", "letters", "beams", "marks"),
    [
        ("6/8", "q q q q q q", "000111", 2),
        ("6/8", "q q q q q q", "777333", 2),  # whatever numbers the writer gives
        ("6/8", "q q q q q q", "000---", 1),  # one beam of two is missing
        ("6/8", "q q q q q q", "001122", 0),
        ("6/8", "q q q q q q", "------", 0),
        ("2/4", "q q q q", "000-", 0),  # no beam is right
        ("2/4", "q q q q", "----", 0),
        ("4/4", "c q q q q c", "-0000-", 0),
        ("4/4", "q q q q q q q q", "00000000", 0),
    ],
)  # fmt: skip
def test_marks_go_down_by_one_for_each_fault(time: str, letters: str, beams: str, marks: int) -> None:
    """Minus one for each beam that is missing or wrong; nothing where no beam is right (common practice)."""
    facts = bar(time, letters)
    assert mark_question(asked(facts), (written(facts, beams),)).marks == marks


def test_another_rhythm_is_wrong_under_the_same_beams() -> None:
    facts = bar("6/8", "q q q q q q")
    value = written(facts, "000111")
    assert value.rhythm is not None
    longer = Value(rhythm=(*value.rhythm[:5], WrittenValue("crotchet")))
    assert mark_question(asked(facts), (longer,)).marks < KIND.marks


@pytest.mark.parametrize(
    ("time", "letters", "name", "said", "source"),
    [
        ("6/8", "q q q q q q", "compound as simple", "beams over notes 1 and 2, 3 and 4, 5 and 6", f"{OU} §3.9"),
        ("6/8", "q q q q q q", "beats run together", "beams over notes 1 to 6", f"{OU} §3.9"),
        ("6/8", "q q q q q q", "nothing beamed", "no beams at all", "common practice"),
        ("3/4", "q q q q q q", "simple as compound", "beams over notes 1 to 3, 4 to 6", f"{OU} §3.6"),
        ("4/4", "c q q q q c", "across the middle", "beams over notes 2 to 5", f"{OU} §3.6"),
        ("4/4", "q q q q q q q q", "across the beat", "beams over notes 2 and 3, 4 and 5, 6 and 7", f"{OU} §3.6"),
        ("2/2", "q q q q q q q q", "beat broken", "beams over notes 1 and 2, 3 and 4, 5 and 6, 7 and 8", "memory"),
        ("6/8", "q q q q q q", "one beam forgotten", "beams over notes 1 to 3", "common practice"),
        ("6/8", "q q q q q q", "note left off the beam", "beams over notes 1 and 2, 4 to 6", "common practice"),
    ],
)  # fmt: skip
def test_slips(time: str, letters: str, name: str, said: str, source: str) -> None:
    facts = bar(time, letters)
    assert slip_texts("beam-the-bar", facts)[name] == said, source
    found = next(one for one in slips_of(asked(facts)) if one.text == said)
    got = mark_question(asked(facts), found.value)
    assert (got.slip, got.marks < KIND.marks) == (name, True)
    assert got.remedy == found.remedy


def test_the_bar_as_it_was_printed_is_the_last_slip() -> None:
    assert KIND.slips(bar("6/8", "q q q q q q"))[-1].name == "nothing beamed"


def test_exactly_one_picture_is_right_where_many_ways_are() -> None:
    for letters, time in (("q q q q q", "5/8"), ("q q q q q q q", "7/8"), ("q q q q q q", "3/4")):
        facts = bar(time, letters)
        for seed in range(10):
            form = asked(facts, "on-screen", seed).response[0]
            assert isinstance(form, ChoiceForm)
            right = [one for one in form.options if one.value and is_right(one.value, KIND.solve(facts), KIND)]
            assert (len(form.options), len(right)) == (4, 1)


def test_the_written_question_shows_the_tails_and_an_empty_bar() -> None:
    question = asked(bar("6/8", "q q q c q"))
    shown, form = question.prompt[1], question.response[0]
    assert isinstance(shown, StaveBlock)
    assert isinstance(form, RhythmForm)
    assert form.given is not None
    assert all(note.beam is None for note in score_of(shown.score).notes())
    assert form.what == "beams"
    assert not list(score_of(form.given).notes())
    assert faults(score_of(form.given)) == []


@pytest.mark.parametrize(
    ("time", "row", "message"),
    [
        ("2/4", [WrittenValue("quaver", beam=1), WrittenValue("quaver", beam=1), WrittenValue("crotchet")], "already"),
        ("2/4", [WrittenValue("quaver", tie=True), WrittenValue("quaver"), WrittenValue("crotchet")], "already"),
        ("3/4", [WrittenValue("quaver"), WrittenValue("quaver"), WrittenValue("crotchet")], "3/4 asks for"),
        ("2/4", [WrittenValue("crotchet"), WrittenValue("quaver"), WrittenValue("quaver", rest=True)], "two of them"),
    ],
)  # fmt: skip
def test_bars_that_cannot_be_asked_are_refused(time: str, row: list[WrittenValue], message: str) -> None:
    with pytest.raises(BadDocument, match=message):
        BeamTheBar(time, tuple(row))


def test_a_setter_that_takes_compound_for_simple_is_caught() -> None:
    facts = bar("6/8", "q q q q q q")
    with pytest.raises(Disagreement):
        agree(KIND, Draft(facts, written(facts, "001122")), KIND.solve(facts))


VALUES = st.builds(
    WrittenValue,
    type=st.sampled_from(["minim", "crotchet", "quaver", "semiquaver", "sausage"]),
    dots=st.integers(0, 1),
    rest=st.booleans(),
    tie=st.booleans(),
    beam=st.one_of(st.none(), st.integers(1, 3)),
    tuplet=st.sampled_from([None, None, TupletDocument(3, 2), TupletDocument(9, 9)]),
)


@settings(max_examples=60, deadline=None)
@given(st.lists(VALUES, max_size=9))
def test_whatever_a_pupil_wrote_is_drawn(row: list[WrittenValue]) -> None:
    """Every well-formed answer can be drawn and printed, right or wrong, whole or not."""
    score = KIND.draw(bar("6/8", "q q q q q q"), Value(rhythm=tuple(row))) if KIND.draw else None
    assert score is not None
    assert faults(score) == []
    assert engrave(score, prefix="p").svg


def test_beams_that_no_pen_can_draw_are_left_out() -> None:
    """A beam reaches neither over a longer note nor into half a triplet; over a rest it may."""

    def beams(letters: str, marks: str) -> list[int | None]:
        row = [
            WrittenValue(
                LETTERS[word.lstrip("-")[0]],
                rest=word.startswith("-"),
                beam=None if mark == "-" else int(mark),
                tuplet=TupletDocument(3, 2) if word.endswith("3") else None,
            )
            for word, mark in zip(letters.split(), marks, strict=True)
        ]
        return [one.beam for one in drawable(row)]

    assert beams("q q c q q", "55555") == [1, 1, None, 2, 2]
    assert beams("q q q q", "1212") == [None] * 4
    assert beams("q -q q c", "4-4-") == [1, None, 1, None]
    assert beams("q q q3 q3 q3", "11112") == [1, 1, 2, 2, None]
    assert beams("q q q3 q3 q3", "11111") == [1] * 5


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.sampled_from((1, 2, 3, 4, 5)))
def test_the_bars_that_are_set_are_full_and_can_be_beamed(seed: int, grade: int) -> None:
    """A bar that is set is full, has something to beam, and few enough right ways to print in a mark scheme."""
    draft = KIND.set(scope_for(grade), Random(seed), None, None)
    if draft is None:
        return
    facts: BeamTheBar = draft.facts
    assert total_ticks([one.duration for one in facts.row]) == TimeSignature.parse(facts.time).ticks
    answers = KIND.solve(facts)
    assert 1 <= len(answers) <= 30
    assert any(one.beam is not None for one in answers[0].value[0].rhythm or ())
    assert len({one.text for one in answers}) == len(answers)


def test_every_metre_of_the_syllabus_is_set() -> None:
    seen = set()
    for seed in range(250):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        seen |= {draft.facts.time} if draft else set()
    assert seen == set(scope_for(5).times)
    assert seen - {"C", "cut C"} <= {time.figures for time in ALL_TIMES}


def test_an_outside_library_beams_in_one_of_the_right_ways() -> None:
    """music21's own beams are always among ours; it leaves 4/8 unbeamed and groups 5/4 and 7/4 in ways of its own."""
    counted = 0
    for seed in range(350):
        draft = KIND.set(scope_for(seed % 5 + 1), Random(seed), None, None)
        if draft is None or any(one.tuplet for one in draft.facts.row):
            continue
        figures = TimeSignature.parse(draft.facts.time).figures
        if figures in ("4/8", "5/4", "7/4"):
            continue
        counted += 1
        assert is_right(by_music21(draft.facts.row, figures), KIND.solve(draft.facts), KIND), draft.facts
    assert counted > 200



def test_every_rule_of_kinds() -> None:
    keeps_the_rules("beam-the-bar")
