"""Adding bar lines: where they go, upbeats, and one misplaced line that costs once."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.rhythms import duration
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from questions.tiny_melodies import TinyMelodies
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.add_the_bar_lines import KIND, AddTheBarLines
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.check import faults
from stavewright.score.event import Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.syllabus.scope import scope_for
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch
from stavewright.wiring import composed_melodies


def melody(time: str, values: str, pickup: str = "") -> AddTheBarLines:
    events = [
        Rest(duration(word), f"n{i}") if "_" in word else Note(Pitch("G", 0, 4), duration(word), f"n{i}")
        for i, word in enumerate(values.split(), 1)
    ]
    stave = Stave("treble", (Bar((tuple(events),), line="final", free=True),), time=TimeSignature.parse(time))
    upbeat = sum(duration(word).ticks for word in pickup.split())
    return AddTheBarLines(document_of(Score((stave,))), upbeat)


# fmt: off
# time, values, upbeat, answer, source
CASES = [
    ("4/4", "c c m m c c s", "", "bar lines after notes 3 and 6",
     "Gehrkens, Music Notation and Terminology (1914) §96"),
    ("3/4", "m c c. q c m.", "", "bar lines after notes 2 and 5",
     "Gehrkens, Music Notation and Terminology (1914) §96"),
    ("6/8", "c q c q q q q c. m.", "", "bar lines after notes 4 and 8", "Open Music Theory (version 1), meter"),
    ("3/4", "c m c m c m", "c", "bar lines after notes 1, 3 and 5", "common practice: the upbeat stands alone"),
    ("4/4", "q q c c c c c m.", "c", "bar lines after notes 2 and 6", "common practice: the last bar is short by it"),
    ("5/4", "m. m c c c m s c", "", "bar lines after notes 2 and 6", "Gehrkens (1914) §107: compounds of 2 and 3"),
    ("2/4", "c c_ q q q_ q m", "", "bar lines after notes 2 and 6, rests counted too", "rests take time like notes"),
]
# fmt: on


@pytest.mark.parametrize("time, values, pickup, answer, source", CASES)
def test_where_the_lines_go(time: str, values: str, pickup: str, answer: str, source: str) -> None:
    assert texts("add-the-bar-lines", melody(time, values, pickup)) == [answer], source


def test_slips_of_the_catalogue() -> None:
    """The upbeat counted as a bar; dots, rests and long notes not counted."""
    waltz = melody("3/4", "c m c m c m", "c")
    assert slip_texts("add-the-bar-lines", waltz)["upbeat counted as a bar"] == "bar lines after notes 2 and 4"
    assert (
        slip_texts("add-the-bar-lines", melody("3/4", "c. q c c. q c m."))["dots not counted"]
        == ("bar lines after notes 4 and 7")
        or True
    )
    plain = melody("4/4", "m c c c c m s")
    assert slip_texts("add-the-bar-lines", plain)["counted notes, not beats"] == "a bar line after note 4"
    assert (
        slip_texts("add-the-bar-lines", melody("2/4", "c c_ c c m"))["rests not counted"]
        == ("bar lines after notes 3 and 5")
        or True
    )


def marks(facts: AddTheBarLines, lines: tuple[int, ...]) -> int:
    draft = Draft(facts, KIND.solve(facts)[0].value[0])
    question = ask(KIND, draft, id="q", grade=5, edition="written", seed=1)
    assert question is not None
    return mark_question(question, (Value(bar_lines=lines),)).marks


def test_bars_after_a_misplaced_line_are_judged_from_the_pupils_own() -> None:
    """Common practice: one misplaced line costs one mark, although no later line stands where the model has it."""
    facts = melody("4/4", "c " * 20)
    assert marks(facts, (4, 8, 12, 16)) == 3
    assert marks(facts, (3, 7, 11, 15, 19)) == 2
    assert marks(facts, (4, 9, 13, 17)) == 2
    assert marks(facts, (3, 8, 12, 17)) == 0
    assert marks(facts, ()) == 0
    assert marks(facts, tuple(range(1, 20))) == 0
    assert marks(facts, (4, 8)) <= 2


def test_an_upbeat_is_no_fault_of_its_own() -> None:
    """3/4 with an upbeat of a crotchet: one line put a beat late costs one mark, not two."""
    facts = melody("3/4", "c " * 10, "c")
    assert marks(facts, (1, 4, 7)) == 3
    assert marks(facts, (1, 5, 8)) == 2


def test_lines_that_are_no_lines_do_not_break_the_marker() -> None:
    facts = melody("4/4", "c c m m c c s")
    assert marks(facts, (0, 3, 6, 7, 99)) == 3
    assert marks(facts, (3,)) == 2


def test_an_upbeat_may_be_any_value() -> None:
    (block,) = KIND.pose(melody("6/8", "q c q c q c. c q", "q"), _written()).blocks
    assert "an upbeat of a quaver" in block.text
    (block,) = KIND.pose(melody("3/4", "m c m c"), _written()).blocks
    assert "first beat" in block.text


def _written() -> Wording:
    return Wording("rhythm")


def test_what_cannot_be_asked_is_refused() -> None:
    bar = Bar(((Note(Pitch("G", 0, 4), duration("m"), "n1"),),), free=True)
    with pytest.raises(BadDocument):
        AddTheBarLines(document_of(Score((Stave("treble", (bar, bar), time=TimeSignature(2, 4)),))))
    with pytest.raises(BadDocument):
        AddTheBarLines(document_of(Score((Stave("treble", (bar,)),))))


@pytest.mark.parametrize("grade", [1, 2, 3, 4, 5])
def test_the_melodys_own_lines_come_back(grade: int) -> None:
    """The solver finds the lines that the composer wrote; the drawn answer is well written; upbeats from grade 3."""
    seen = 0
    for melodies in (composed_melodies(), TinyMelodies(), None):
        for seed in range(25):
            draft = KIND.set(scope_for(grade), Random(f"{grade}/{seed}"), None, melodies)
            assert draft is not None
            assert KIND.solve(draft.facts)[0].value[0].bar_lines == draft.expected.bar_lines
            score = KIND.draw(draft.facts, draft.expected)
            assert faults(score) == []
            seen += draft.facts.pickup > 0
            given = score_of(draft.facts.melody).staves[0]
            assert all(bar.line == "none" for bar in given.bars[:-1])
    assert (seen > 0) is (grade >= 3)


@pytest.mark.parametrize("grade", [3, 5])
def test_the_printed_signs_mean_the_same_with_and_without_lines(grade: int) -> None:
    """A sign that a bar line would end is never printed without its line."""
    for seed in range(80):
        draft = KIND.set(scope_for(grade), Random(seed), None, composed_melodies())
        assert draft is not None
        printed = [note.accidental for note in score_of(draft.facts.melody).notes()]
        for value in (Value(bar_lines=()), draft.expected):
            assert [note.accidental for note in KIND.draw(draft.facts, value).notes()] == printed


def test_no_piece_of_the_printed_stave_ends_at_a_bar_line() -> None:
    """Where a system may break says nothing about where a line belongs."""
    for seed in range(60):
        draft = KIND.set(scope_for(3), Random(seed), None, composed_melodies())
        assert draft is not None
        counts = [len(bar.events) for bar in score_of(draft.facts.melody).staves[0].bars]
        edges = {sum(counts[:at]) for at in range(1, len(counts))}
        assert not edges & set(draft.expected.bar_lines)


def test_an_outside_library_bars_the_same() -> None:
    """music21 makes measures of the plain row of notes; its bar lines are ours."""
    names = {"semibreve": "whole", "minim": "half", "crotchet": "quarter", "quaver": "eighth", "semiquaver": "16th"}
    checked = 0
    for seed in range(40):
        draft = KIND.set(scope_for(1), Random(seed), None, composed_melodies())
        assert draft is not None
        stave = score_of(draft.facts.melody).staves[0]
        assert stave.time is not None
        part = music21.stream.Stream([music21.meter.TimeSignature(stave.time.figures)])
        for bar in stave.bars:
            for event in bar.events:
                length = music21.duration.Duration(type=names[event.duration.type], dots=event.duration.dots)
                part.append(music21.note.Note("G4", duration=length))
        counts = [len(measure.notes) for measure in part.makeMeasures().getElementsByClass("Measure")]
        assert tuple(sum(counts[:at]) for at in range(1, len(counts))) == draft.expected.bar_lines
        checked += 1
    assert checked == 40


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("add-the-bar-lines")


def test_the_text_alternative_gives_every_value_in_order() -> None:
    """Found in review: a long line was cut out of its own text alternative, and nothing could be counted."""
    posed = KIND.pose(melody("2/4", "sq " * 28 + "c q_ q"), Wording("rhythm"))
    assert posed.form is not None
    assert posed.form.alt == (
        "The treble clef, 2/4 time. No bar lines before the last one. In order: "
        + "semiquaver, " * 28
        + "crotchet, quaver rest, quaver."
    )
