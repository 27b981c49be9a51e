"""Set a lesson: three warm-ups on what went wrong lately, one rule, and homework on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from string import ascii_lowercase

from msgspec import structs

from stavewright.marking.documents import Marked, Report
from stavewright.papers.documents import Paper, Section
from stavewright.papers.errors import CannotSet
from stavewright.questions.catalogue import kinds as all_kinds
from stavewright.questions.documents import FullQuestion, Group
from stavewright.questions.kind import Kind
from stavewright.questions.melodies import Melodies
from stavewright.services.draw_question import Drawer
from stavewright.services.ports import WriteMusic
from stavewright.services.revision_notes import RuleMaker, RuleNotes
from stavewright.services.set_drill import Dealt
from stavewright.syllabus.edition import edition as edition_of
from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.notes import TOPICS, Rule, rules_for, topic_notes
from stavewright.syllabus.scope import scope_for

WARM_UPS = 3
CANDIDATES = 6
"""So many warm-ups are set; those that one side has room for are printed."""
MOST_HOMEWORK = 6
HOMEWORK_KINDS = 2
SHORT_SECONDS = 60
WARM_UP_SECONDS = 15
"""What a ready pupil needs for a warm-up that no report asks for."""
TRIES = 200


@dataclass(frozen=True, slots=True)
class WarmUp:
    """A short question, and the slip of the pupil's that can be made on it again ("" where none is named)."""

    question: FullQuestion
    slip: str = ""


@dataclass(frozen=True, slots=True)
class Lesson:
    """What stands on one side of paper; `topic` is the topic of the rule.

    As it is set it holds more than that: six warm-ups, the costliest slips first, and more homework than a side holds.
    """

    id: str
    grade: int
    edition: str
    seed: int
    words: str
    warm_ups: tuple[WarmUp, ...]
    topic: str
    rule: RuleNotes
    homework: tuple[FullQuestion, ...]

    def with_warm_ups(self, chosen: Sequence[WarmUp]) -> Lesson:
        """The same lesson with these warm-ups, lettered a, b, c."""
        lettered = tuple(
            WarmUp(structs.replace(one.question, id=f"w{letter}", group=Group("w", letter)), one.slip)
            for letter, one in zip(ascii_lowercase, chosen, strict=False)
        )
        return replace(self, warm_ups=lettered)

    def paper(self) -> Paper:
        """The questions of the lesson as a paper that can be marked."""
        warm = tuple(one.question for one in self.warm_ups)
        sections = [Section(None, "Warm-up", warm)] if warm else []
        sections.append(Section(self.topic, "Homework", self.homework))
        questions = [*warm, *self.homework]
        seconds = sum(all_kinds()[one.kind].seconds for one in questions)
        return Paper(
            id=self.id,
            grade=self.grade,
            edition=self.edition,
            seed=self.seed,
            words=self.words,
            total=sum(one.marks for one in questions),
            time_minutes=max(1, round(seconds / 60)),
            sections=tuple(sections),
        )


def set_lesson(
    *,
    grade: int,
    edition: str,
    seed: int,
    melodies: Melodies,
    write_music: WriteMusic,
    words: str = "uk",
    topic: str | None = None,
    rule: str | None = None,
    weak: Report | None = None,
) -> Lesson:
    """A lesson on one rule: the one named, else the one that a report shows to have cost most, else one of the newest.

    Warm-ups take up the slips of the report, the costliest first; without a report, or where it has fewer than three,
    they are short questions of rules that come before this one.

    Raises:
        BadSyllabus: no such topic or rule.
        CannotSet: the grade does not ask it, or nothing fair is found.
    """
    scope_for(grade)
    edition_of(edition, grade)
    lost = _lost(weak)
    chosen_topic, chosen = _chosen(grade, edition, seed, topic, rule, lost)
    drawer = Drawer("lesson", grade, edition, seed, words, melodies, write_music)
    dealt = Dealt()
    maker = RuleMaker(drawer, dealt, short=False)
    warm = _warm_ups(drawer, dealt, lost, chosen)
    homework = _homework(drawer, dealt, chosen)
    made = maker.rule(chosen)
    id_ = f"lesson-{chosen_topic}-{chosen.id}-grade-{grade}-{edition}-{seed}"
    return Lesson(id_, grade, edition, seed, words, warm, chosen_topic, made, homework)


def _lost(report: Report | None) -> list[Marked]:
    """The questions of a report that lost marks, those with a named slip first, then by marks lost."""
    if report is None:
        return []
    missed = [one for one in report.questions if one.marks < one.of and one.kind in all_kinds()]
    return sorted(missed, key=lambda one: (one.slip is None, one.marks - one.of))


def _usable(kind: Kind, grade: int, edition: str) -> bool:
    return kind.since <= grade and edition in kind.forms and kind.topic != "composing"


def _kinds_of(rule: Rule, grade: int, edition: str) -> list[Kind]:
    known = all_kinds()
    return [known[name] for name in rule.practised if name in known and _usable(known[name], grade, edition)]


def _chosen(
    grade: int, edition: str, seed: int, topic: str | None, rule: str | None, lost: Sequence[Marked]
) -> tuple[str, Rule]:
    topics = TOPICS if topic is None else (topic_notes(topic).id,)
    here = [(name, one) for name in topics for one in rules_for(grade, name)]
    if rule is not None:
        for name, one in here:
            if one.id == rule:
                if not _kinds_of(one, grade, edition):
                    raise CannotSet(f"the rule {rule!r} has no {edition} question to set for homework")
                return name, one
        known = ", ".join(one.id for _, one in here)
        raise BadSyllabus(f"no rule {rule!r} at grade {grade}{f' in {topic}' if topic else ''}: there are {known}")
    fit = [(name, one) for name, one in here if _kinds_of(one, grade, edition)]
    if not fit:
        raise CannotSet(f"grade {grade}, {edition}: nothing of {topic} to make a lesson of")
    costs = {kind: sum(one.of - one.marks for one in lost if one.kind == kind) for kind in {one.kind for one in lost}}
    by_cost = max(fit, key=lambda pair: sum(costs.get(kind, 0) for kind in pair[1].practised))
    if any(kind in costs for kind in by_cost[1].practised):
        return by_cost
    newest = max(one.since for _, one in fit)
    fresh = [pair for pair in fit if pair[1].since == newest]
    return fresh[seed % len(fresh)]


def _warm_ups(drawer: Drawer, dealt: Dealt, lost: Sequence[Marked], chosen: Rule) -> tuple[WarmUp, ...]:
    found: list[WarmUp] = []
    known = all_kinds()
    used: set[str] = set()
    for one in lost:
        kind = known[one.kind]
        if len(found) == CANDIDATES or kind.id in used or not _usable(kind, drawer.grade, drawer.edition):
            continue
        if kind.seconds > SHORT_SECONDS or kind.extract:
            continue
        made = _warm_up(drawer, dealt, kind, len(found), one.slip or "")
        if made is not None:
            used.add(kind.id)
            found.append(made)
    earlier = [rule for topic in TOPICS for rule in rules_for(drawer.grade, topic) if rule is not chosen]
    for rule in sorted(earlier, key=lambda one: (one.since, -len(one.kinds)), reverse=True):
        for kind in _kinds_of(rule, drawer.grade, drawer.edition)[:1]:
            if len(found) < CANDIDATES and kind.id not in used and kind.seconds <= WARM_UP_SECONDS and not kind.extract:
                made = _warm_up(drawer, dealt, kind, len(found), "")
                used.add(kind.id)
                found += [made] if made is not None else []
    return tuple(found)


def _warm_up(drawer: Drawer, dealt: Dealt, kind: Kind, place: int, slip: str) -> WarmUp | None:
    letter = ascii_lowercase[place]
    return _one(drawer, dealt, kind, f"w{letter}", slip, Group("w", letter))


def _one(
    drawer: Drawer, dealt: Dealt, kind: Kind, id_: str, slip: str, group: Group | None = None, rule: Rule | None = None
) -> WarmUp | None:
    """A question on which that slip can be made, or any of the kind where it cannot be."""
    spare: FullQuestion | None = None
    for attempt in range(TRIES):
        drawn = drawer.draw(kind, id_, attempt, group)
        if drawn is None or not dealt.fresh(kind.id, bytes(drawn.question.facts)):
            continue
        made = drawer.worked(drawn.question)
        if rule is not None and not rule.is_on(bytes(made.facts), made.answers[0].text):
            continue
        if slip in {"", *(one.name for one in made.slips)}:
            dealt.times[kind.id, bytes(made.facts)] += 1
            return WarmUp(made, slip)
        spare = spare or made
    if spare is None:
        return None
    dealt.times[kind.id, bytes(spare.facts)] += 1
    return WarmUp(spare)


def _homework(drawer: Drawer, dealt: Dealt, rule: Rule) -> tuple[FullQuestion, ...]:
    """Short questions of the rule's first kinds, a battery of each; longer ones only where it has no others."""
    fit = _kinds_of(rule, drawer.grade, drawer.edition)
    kinds = ([one for one in fit if one.seconds <= SHORT_SECONDS and not one.extract] or fit[:1])[:HOMEWORK_KINDS]
    found: list[FullQuestion] = []
    for place, kind in enumerate(kinds, 1):
        items = MOST_HOMEWORK // len(kinds)
        for letter in ascii_lowercase[:items]:
            group = Group(f"h{place}", letter) if items > 1 else None
            made = _one(drawer, dealt, kind, f"h{place}{letter}", "", group, rule)
            found += [made.question] if made is not None else []
    if not found:
        raise CannotSet(f"the rule {rule.title!r}: nothing fair to ask, seed {drawer.seed}")
    return tuple(found)
