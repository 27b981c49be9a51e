"""Make the notes of a grade: every rule with its pictures, a worked example, the usual slips on it, and a self-test."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stavewright.papers.documents import Paper
from stavewright.questions.catalogue import kinds as all_kinds
from stavewright.questions.documents import FullQuestion, Slip
from stavewright.questions.kind import Kind
from stavewright.questions.melodies import Melodies
from stavewright.services.draw_question import Drawer
from stavewright.services.notes_figures import Figure, figures
from stavewright.services.notes_tables import Listing, tables
from stavewright.services.ports import Progress, WriteMusic, silent
from stavewright.services.set_drill import Dealt, set_drill
from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.notes import TOPICS, Rule, rules_for, topic_notes
from stavewright.syllabus.scope import scope_for

EDITION = "written"
"""The notes show answers as a pupil writes them."""
MOST_SLIPS = 2
"""So many slips are shown on a rule that the grade adds, and one on each earlier one."""
TRIES = 200
ENOUGH = 20
"""After so many tries the best example so far is taken."""
MOST_TESTED = 60
LONGEST_SECONDS = 90
"""A self-test has no question that takes a ready pupil longer."""


@dataclass(frozen=True, slots=True)
class Example:
    """A question set and worked, and the slips that go wrong on it: at most two, none that gives a right answer."""

    question: FullQuestion
    slips: tuple[Slip, ...]


@dataclass(frozen=True, slots=True)
class RuleNotes:
    """A rule with all that shows it. `fresh`: this very grade adds it."""

    rule: Rule
    sentences: tuple[str, ...]
    pictures: tuple[Figure, ...]
    listings: tuple[Listing, ...]
    examples: tuple[Example, ...]
    fresh: bool


@dataclass(frozen=True, slots=True)
class TopicPages:
    """The rules of one topic under its title."""

    topic: str
    title: str
    rules: tuple[RuleNotes, ...]


@dataclass(frozen=True, slots=True)
class Notes:
    """The notes of a grade: topics in order, and a self-test whose questions are none of the examples."""

    grade: int
    words: str
    topics: tuple[TopicPages, ...]
    test: Paper


def revision_notes(
    *,
    grade: int,
    melodies: Melodies,
    write_music: WriteMusic,
    seed: int = 1,
    words: str = "uk",
    topics: Sequence[str] = (),
    short: bool = False,
    new: bool = False,
    progress: Progress = silent,
) -> Notes:
    """The notes of a grade, all grades before it included; only some `topics` where they are named.

    `short` leaves out examples and slips; `new` leaves out what earlier grades have added.

    Raises:
        BadSyllabus: no such topic, none that the grade asks, or notes that name what is not there.
        UnknownGrade: the grade is not 1 to 5.
    """
    scope_for(grade)
    for topic in topics:
        topic_notes(topic)
        if not rules_for(grade, topic):
            first = topic_notes(topic).rule[0].since
            raise BadSyllabus(f"nothing of {topic} is asked before grade {first}")
    rules_of = {
        topic: tuple(rule for rule in rules_for(grade, topic) if rule.since == grade or not new)
        for topic in TOPICS
        if not topics or topic in topics
    }
    chosen = [topic for topic, rules in rules_of.items() if rules]
    if not chosen:
        raise BadSyllabus(f"grade {grade} adds nothing to {', '.join(topics)}")
    maker = RuleMaker(Drawer("notes", grade, EDITION, seed, words, melodies, write_music), Dealt(), short)
    pages: list[TopicPages] = []
    for place, topic in enumerate(chosen, 1):
        rules = tuple(maker.rule(rule) for rule in rules_of[topic])
        pages.append(TopicPages(topic, topic_notes(topic).title, rules))
        progress(place, len(chosen) + 1)
    test = maker.test([rule for topic in chosen for rule in rules_of[topic]])
    progress(len(chosen) + 1, len(chosen) + 1)
    return Notes(grade, words, tuple(pages), test)


def kinds_to_test(grade: int, rules: Sequence[Rule]) -> list[Kind]:
    """The kinds of the self-test: one a rule, the first of it that is written and not long, newest rules first kept.

    >>> [one.id for one in kinds_to_test(1, rules_for(1, "chords"))]
    ['name-the-tonic-triad']
    """
    known = all_kinds()
    found: dict[str, int] = {}
    longer: list[Kind] = []
    for rule in rules:
        here = [known[name] for name in rule.kinds if name in known]
        here = [one for one in here if one.since <= grade and EDITION in one.forms]
        fit = [one for one in here if one.seconds <= LONGEST_SECONDS]
        longer += here
        found |= {fit[0].id: rule.since} if fit else {}
    kept = set(sorted(found, key=lambda name: -found[name])[:MOST_TESTED])
    return [known[name] for name in found if name in kept] or longer[:1]


@dataclass(frozen=True, slots=True)
class RuleMaker:
    """Makes rules and the test of one grade with one seed; `short` leaves out the examples."""

    drawer: Drawer
    dealt: Dealt
    short: bool

    def rule(self, rule: Rule) -> RuleNotes:
        """The rule with its pictures, tables and worked examples at the maker's grade."""
        scope = scope_for(self.drawer.grade)
        known = all_kinds()
        most = MOST_SLIPS if rule.since == self.drawer.grade else 1
        shown = [known[name] for name in rule.shown if name in known]
        fit = [kind for kind in shown if kind.since <= self.drawer.grade and EDITION in kind.forms and not self.short]
        examples = [self._example(rule, kind, most) for kind in fit]
        return RuleNotes(
            rule,
            rule.sentences(),
            tuple(one for asked in rule.figures for one in figures(asked, scope)),
            tuple(one for name in rule.tables for one in tables(name, scope)),
            tuple(one for one in examples if one is not None),
            rule.since == self.drawer.grade,
        )

    def _example(self, rule: Rule, kind: Kind, most: int) -> Example | None:
        """A question on which so many slips go wrong, or the one on which most do."""
        best: Example | None = None
        for attempt in range(TRIES):
            drawn = self.drawer.draw(kind, f"x-{kind.id}", attempt)
            if drawn is None or not self.dealt.fresh(kind.id, bytes(drawn.question.facts)):
                continue
            found = self.drawer.worked(drawn.question)
            if not rule.is_on(bytes(found.facts), found.answers[0].text):
                continue
            kept = _different(found, most)
            if best is None or len(kept) > len(best.slips):
                best = Example(found, kept)
            if len(kept) == most or attempt > ENOUGH:
                break
        if best is not None:
            self.dealt.times[kind.id, bytes(best.question.facts)] += 1
        return best

    def test(self, rules: Sequence[Rule]) -> Paper:
        """One question of each rule, none of them an example."""
        kinds = kinds_to_test(self.drawer.grade, rules)
        return set_drill(
            kinds=kinds,
            grade=self.drawer.grade,
            edition=EDITION,
            count=len(kinds),
            seed=self.drawer.seed,
            melodies=self.drawer.melodies,
            write_music=self.drawer.write_music,
            words=self.drawer.words,
            dealt=self.dealt,
            id=f"notes-grade-{self.drawer.grade}-test-{self.drawer.seed}",
        )


def _different(question: FullQuestion, most: int) -> tuple[Slip, ...]:
    """The first few slips with names and answers of their own."""
    found: list[Slip] = []
    for slip in question.slips:
        same = any(slip.name == one.name or slip.text == one.text for one in found)
        if not same and slip.text != question.answers[0].text:
            found.append(slip)
    return tuple(found[:most])
