"""The notes of a grade: every kind has its rule, every picture is in scope, every slip is wrong, the test is new."""

from __future__ import annotations

import pytest

from stavewright.marking.one_question import mark_question
from stavewright.questions.catalogue import kinds
from stavewright.score.check import faults
from stavewright.services.notes_figures import figures
from stavewright.services.notes_tables import TABLES, tables
from stavewright.services.revision_notes import EDITION, MOST_SLIPS, Notes, kinds_to_test, revision_notes
from stavewright.syllabus.edition import recipes, training
from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.notes import TOPICS, rules_for, topic_notes
from stavewright.syllabus.scope import GRADES, scope_for
from stavewright.syllabus.terms import core_terms
from stavewright.theory.errors import StavewrightError
from stavewright.wiring import composed_melodies, music_writer

RULES = [rule for topic in TOPICS for rule in topic_notes(topic).rule]


def made(grade: int, **how: object) -> Notes:
    return revision_notes(grade=grade, melodies=composed_melodies(), write_music=music_writer(), **how)  # type: ignore[arg-type]


@pytest.mark.parametrize("grade", GRADES)
def test_every_kind_of_the_grade_has_its_rule(grade: int) -> None:
    """Whatever a grade's papers and training may ask, its notes hold the rule for it, in whichever topic."""
    covered = {name for topic in TOPICS for rule in rules_for(grade, topic) for name in rule.kinds}
    asked = {one.kind for one in recipes()} | set(training())
    assert len(asked) > 90
    assert {id_ for id_ in asked if kinds()[id_].since <= grade} <= covered


def test_no_rule_comes_before_its_kinds_are_needed() -> None:
    """A rule is of the first grade that asks one of its kinds, or later where a kind grows."""
    known = kinds()
    for rule in RULES:
        here = [known[name].since for name in rule.kinds if name in known]
        assert not here or rule.since == min(here), rule.id


@pytest.mark.parametrize("rule", RULES, ids=[rule.id for rule in RULES])
def test_pictures_are_well_written_and_in_scope(rule: object) -> None:
    """Every picture of a rule adds up, and uses only clefs and times of the grade that brings the rule."""
    scope = scope_for(rule.since)  # type: ignore[attr-defined]
    for asked in rule.figures:  # type: ignore[attr-defined]
        for one in figures(asked, scope):
            assert faults(one.score) == [], asked
            assert one.score.staves[0].clef in scope.clefs, asked
            time = one.score.staves[0].time
            assert time is None or time.text in {known.text for known in scope.time_signatures}, asked
            for note in one.score.notes():
                assert note.duration.type in scope.values, asked


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ("portrait Bach", "begins with one of"),
        ("scale H, major, treble", "H"),
        ("scale D, major", "scale D, major"),
        ("bar 4/4, quaver", "does not add up"),
        ("signatures lydian", "major or minor"),
    ],
)
def test_a_picture_that_cannot_be_made_is_refused(asked: str, said: str) -> None:
    with pytest.raises(BadSyllabus, match=said):
        figures(asked, scope_for(3))


def test_an_unknown_table_is_refused() -> None:
    with pytest.raises(BadSyllabus, match="the tables are"):
        tables("multiplication", scope_for(1))


@pytest.mark.parametrize("grade", GRADES)
def test_tables_are_whole(grade: int) -> None:
    """Each row has a cell a column, or one that goes across; the terms are all the core terms of the grade."""
    for name in TABLES:
        for one in tables(name, scope_for(grade)):
            assert all(len(row) in (1, len(one.head)) for row in one.rows)
    cells = {cell for row in tables("terms", scope_for(grade))[0].rows for cell in row if len(row) > 1}
    assert {term.term for term in core_terms(grade)} <= cells


@pytest.mark.parametrize("grade", GRADES)
def test_slips_are_wrong_and_stand_beside_what_is_right(grade: int) -> None:
    """By the marker's own word: the model answer of an example earns all its marks, and no slip does."""
    shown = 0
    for topic in made(grade).topics:
        for rule in topic.rules:
            for example in rule.examples:
                question = example.question
                assert question.kind in rule.rule.shown
                assert mark_question(question, question.answers[0].value).marks == question.marks
                assert len(example.slips) <= MOST_SLIPS
                assert len({slip.name for slip in example.slips}) == len(example.slips), question.kind
                assert len({slip.text for slip in example.slips}) == len(example.slips), question.kind
                for slip in example.slips:
                    assert slip.remedy
                    assert _marks(question, slip.value) < question.marks, (question.kind, slip.name)
                    shown += 1
    assert shown >= 20


def _marks(question: object, value: object) -> int:
    try:
        return mark_question(question, value).marks  # type: ignore[arg-type]
    except StavewrightError:
        return 0


@pytest.mark.parametrize("grade", [1, 5])
def test_the_self_test_asks_each_rule_and_repeats_no_example(grade: int) -> None:
    notes = made(grade)
    shown = {
        (one.question.kind, bytes(one.question.facts))
        for topic in notes.topics
        for rule in topic.rules
        for one in rule.examples
    }
    asked = [(one.kind, bytes(one.facts)) for one in notes.test.questions()]
    assert len(set(asked)) == len(asked)
    assert not shown & set(asked)
    rules = [rule for topic in TOPICS for rule in rules_for(grade, topic)]
    assert {kind for kind, _ in asked} == {one.id for one in kinds_to_test(grade, rules)}
    assert all(one.edition == EDITION for one in notes.test.questions())


def test_every_rule_with_kinds_has_an_example() -> None:
    for topic in made(5).topics:
        for rule in topic.rules:
            assert bool(rule.examples) == bool([one for one in rule.rule.shown if one in kinds()]), rule.rule.id


def test_another_seed_gives_other_examples_and_the_same_seed_the_same() -> None:
    one, other, again = (made(1, seed=seed, topics=("notes",)) for seed in (1, 2, 1))
    assert one == again
    assert one.topics[0].rules[0].sentences == other.topics[0].rules[0].sentences
    assert one.topics[0].rules[0].examples != other.topics[0].rules[0].examples


def test_one_topic_short_and_new() -> None:
    """--topic keeps a topic, --short leaves out examples, --new leaves out earlier grades."""
    notes = made(4, topics=("intervals",), short=True, new=True)
    (topic,) = notes.topics
    assert [rule.rule.since for rule in topic.rules] == [4, 4]
    assert not any(rule.examples for rule in topic.rules)
    assert {one.kind for one in notes.test.questions()} == {"alter-the-interval", "invert-the-interval"}


@pytest.mark.parametrize(
    ("how", "said"),
    [
        ({"topics": ("scals",)}, "the topics are"),
        ({"topics": ("transposition",)}, "before grade 5"),
        ({"topics": ("transposition",), "new": True}, "before grade 5"),
    ],
)
def test_what_a_grade_does_not_ask_is_refused(how: dict[str, object], said: str) -> None:
    with pytest.raises(BadSyllabus, match=said):
        made(3, **how)


def test_a_grade_that_adds_nothing_says_so() -> None:
    with pytest.raises(BadSyllabus, match="grade 2 adds nothing to intervals"):
        made(2, topics=("intervals",), new=True)
