"""Marking whole scripts: one cause once, follow-through, totals, wrong papers."""

from __future__ import annotations

import pytest

from papers.small_papers import battery, drawn, paper_of, posed, script_of
from stavewright.marking.errors import BadScript, WrongPaper
from stavewright.marking.plausible import fill
from stavewright.marking.whole_script import mark_script, mark_scripts
from stavewright.papers.documents import Script
from stavewright.questions.asking import answers_of, slips_of
from stavewright.questions.kinds.name_the_note import NameTheNote
from stavewright.questions.values import Value

BASS = [NameTheNote("bass", place, None) for place in (0, 2, 3, 5, 6, 8)]


def test_one_cause_costs_at_most_half() -> None:
    """A battery read throughout in another clef has one cause: it loses at most half its marks."""
    questions = battery("name-the-note", BASS)
    answers = {}
    for question in questions:
        wrong = next(slip for slip in slips_of(question) if slip.name == "read in the treble clef")
        answers[question.id] = wrong.value
    report = mark_script(paper_of(questions), Script("small", answers))
    assert report.total == 3
    assert sum(one.marks for one in report.questions) == report.total
    assert any("one cause" in one.note for one in report.questions)


def test_different_causes_each_cost() -> None:
    """Unrelated mistakes in a battery each cost their mark."""
    questions = battery("name-the-note", BASS)
    report = mark_script(paper_of(questions), script_of(**{one.id: Value(words="zebra") for one in questions}))
    assert report.total == 0


def test_one_slip_in_a_battery_costs_one() -> None:
    """A slip that happens once costs its own mark and no more."""
    questions = battery("name-the-note", BASS)
    answers = {one.id: answers_of(one)[0].value for one in questions}
    answers["q1b"] = next(slip for slip in slips_of(questions[1]) if slip.steady).value
    assert mark_script(paper_of(questions), Script("small", answers)).total == 5


def test_a_script_for_another_paper_is_refused() -> None:
    """A script names its paper."""
    paper = paper_of(battery("name-the-note", BASS))
    with pytest.raises(WrongPaper, match="'other'"):
        mark_script(paper, Script("other", {}))


def test_every_fault_of_a_script_is_told() -> None:
    """All faults of one script are reported together: unknown questions and wrong forms."""
    paper = paper_of(battery("name-the-note", BASS))
    with pytest.raises(BadScript) as told:
        mark_script(paper, script_of(q9=Value(words="F"), q1a=Value(number=3)))
    assert "'q9'" in str(told.value)
    assert "asks for words" in str(told.value)


def test_an_empty_script_is_marked_and_gets_nothing() -> None:
    """A script left blank gets 0, not an error."""
    report = mark_script(paper_of(battery("name-the-note", BASS)), Script("small", {}))
    assert (report.total, report.band) == (0, "below pass")


def test_topics_add_up() -> None:
    """Marks by topic add up to the total."""
    paper = paper_of([*battery("name-the-note", BASS), posed("name-the-note", BASS[0], id="q2")])
    report = mark_script(paper, fill(paper, ability=0.0, seed=4))
    assert sum(topic.marks for topic in report.by_topic.values()) == report.total
    assert sum(topic.of for topic in report.by_topic.values()) == report.of == paper.total


def test_an_abler_pupil_gets_more() -> None:
    """A plausible script gets better with ability: far off gets less than sure, over ten scripts each."""
    paper = paper_of(battery("name-the-note", BASS))

    def mean(ability: float) -> float:
        return sum(mark_script(paper, fill(paper, ability=ability, seed=s)).total for s in range(10)) / 10

    assert mean(-3) < mean(0) < mean(3)


def test_a_class_is_marked_as_each_pupil_alone() -> None:
    """The scripts of a class, marked by one scheme a question, get the same reports as each script by itself."""
    questions = [*battery("name-the-note", BASS), posed("write-the-scale", drawn("write-the-scale", grade=3), id="q2")]
    paper = paper_of(questions)
    scripts = [fill(paper, ability=seed - 2.0, seed=seed) for seed in range(6)]
    reports = list(mark_scripts(paper, scripts))
    assert reports == [mark_script(paper, script) for script in scripts]
    assert len({report.total for report in reports}) > 1


def test_a_class_with_a_strange_script_says_whose_turn_it_is() -> None:
    """A script of another paper is refused when its turn comes; those before it have their reports."""
    paper = paper_of(battery("name-the-note", BASS))
    found = mark_scripts(paper, [Script("small", {}), Script("other", {})])
    assert next(found).total == 0
    with pytest.raises(WrongPaper, match="'other'"):
        next(found)
