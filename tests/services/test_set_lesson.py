"""A lesson: warm-ups on the slips of a report, the rule that cost most, homework on that rule."""

from __future__ import annotations

import pytest

from stavewright.marking.documents import Marked, Report, TopicMarks
from stavewright.papers.errors import CannotSet
from stavewright.questions.catalogue import kinds
from stavewright.services.documents import as_json, read_paper
from stavewright.services.set_lesson import CANDIDATES, Lesson, set_lesson
from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.notes import TOPICS, rules_for
from stavewright.wiring import composed_melodies, music_writer


def lesson(grade: int = 3, **how: object) -> Lesson:
    given = {"edition": "written", "seed": 1, "melodies": composed_melodies(), "write_music": music_writer(), **how}
    return set_lesson(grade=grade, **given)  # type: ignore[arg-type]


def missed(kind: str, of: int, marks: int = 0, slip: str | None = None) -> Marked:
    return Marked(id=f"q-{kind}", kind=kind, topic=kinds()[kind].topic, marks=marks, of=of, slip=slip)


def report(*questions: Marked) -> Report:
    return Report(
        paper="p", total=0, of=10, band="below pass", by_topic={"keys": TopicMarks(0, 10)}, questions=questions
    )


def test_warm_ups_take_up_the_slips_of_the_report() -> None:
    """On each warm-up the pupil's own slip can be made again; what has a slip comes before what has none."""
    made = lesson(
        weak=report(
            missed("name-the-note", 1, slip="sign left out"),
            missed("value-name", 3),
            missed("interval-number", 2, slip="counted the gap"),
            missed("degree-number", 1, marks=1),
        )
    )
    assert [(one.question.kind, one.slip) for one in made.warm_ups][:3] == [
        ("interval-number", "counted the gap"),
        ("name-the-note", "sign left out"),
        ("value-name", ""),
    ]
    for one in made.warm_ups[:2]:
        assert one.slip in {known.name for known in one.question.slips}


def test_what_cost_most_makes_the_lesson() -> None:
    made = lesson(weak=report(missed("relative-key", 4), missed("name-the-note", 2), missed("name-the-signature", 3)))
    assert (made.topic, made.rule.rule.id) == ("keys", "relatives")
    assert {one.kind for one in made.homework} <= set(made.rule.rule.practised)


def test_without_a_report_it_is_one_of_the_newest_rules() -> None:
    """Another seed may take another rule, never one of an earlier grade."""
    for seed in range(4):
        made = lesson(4, seed=seed)
        assert made.rule.rule.since == 4
        assert len(made.warm_ups) == CANDIDATES
        assert all(kinds()[one.question.kind].seconds <= 15 for one in made.warm_ups)


@pytest.mark.parametrize(("topic", "rule"), [("notes", "alto"), ("values", "longer"), ("intervals", "compound")])
def test_a_rule_that_widens_others_is_practised_on_what_it_adds(topic: str, rule: str) -> None:
    """Homework on the alto clef is in the alto clef, on compound intervals wider than an octave."""
    made = lesson(5, topic=topic, rule=rule)
    assert made.homework
    for one in made.homework:
        assert made.rule.rule.is_on(bytes(one.facts), one.answers[0].text)


def test_nothing_stands_twice_on_the_sheet() -> None:
    made = lesson(2, topic="keys")
    every = [*(one.question for one in made.warm_ups), *made.homework, *(one.question for one in made.rule.examples)]
    facts = [(one.kind, bytes(one.facts)) for one in every]
    assert len(set(facts)) == len(facts)


def test_it_is_a_paper_that_can_be_read_back() -> None:
    made = lesson(1).with_warm_ups(lesson(1).warm_ups[:3])
    paper = made.paper()
    assert as_json(read_paper(as_json(paper))) == as_json(paper)
    assert [section.title for section in paper.sections] == ["Warm-up", "Homework"]
    assert [one.id for one in paper.sections[0].questions] == ["wa", "wb", "wc"]


def test_every_rule_with_something_to_practise_makes_a_lesson() -> None:
    """At the grade that adds it; composing is not set in a lesson of short items."""
    for topic in TOPICS:
        for rule in rules_for(5, topic):
            if topic == "composing":
                with pytest.raises(CannotSet):
                    lesson(rule.since, topic=topic, rule=rule.id)
            else:
                assert lesson(rule.since, topic=topic, rule=rule.id).homework, rule.id


@pytest.mark.parametrize(
    ("how", "error", "said"),
    [
        ({"topic": "scals"}, BadSyllabus, "the topics are"),
        ({"rule": "nope", "topic": "keys"}, BadSyllabus, "no rule 'nope' at grade 3 in keys: there are signatures"),
        ({"topic": "transposition"}, CannotSet, "nothing of transposition"),
    ],
)
def test_what_is_not_there_is_refused(how: dict[str, str], error: type[Exception], said: str) -> None:
    with pytest.raises(error, match=said):
        lesson(3, **how)


def test_the_same_seed_gives_the_same_lesson() -> None:
    assert lesson(3, topic="scales") == lesson(3, topic="scales")
    assert lesson(3, topic="scales").homework != lesson(3, topic="scales", seed=2).homework
