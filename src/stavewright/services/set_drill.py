"""Set a drill: many short questions of a few kinds, none twice, as a paper of its own that can be marked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches

from stavewright.papers.blueprint import TITLES
from stavewright.papers.documents import Paper, Section
from stavewright.papers.errors import CannotSet
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.catalogue import kinds as all_kinds
from stavewright.questions.documents import FullQuestion, Group, Question
from stavewright.questions.kind import Kind
from stavewright.questions.melodies import Melodies
from stavewright.questions.values import Value
from stavewright.services.draw_question import Drawer
from stavewright.services.ports import Progress, WriteMusic, silent
from stavewright.syllabus.edition import edition as edition_of
from stavewright.syllabus.scope import scope_for

SHORT_SECONDS = 45
"""What a ready pupil needs at most for an item that a drill takes by topic; longer ones, and those on an extract, are
asked for by kind (or make the drill where the topic has no others)."""
MOST_ITEMS = 60
TRIES = 120
SAME = 12
"""After so many tries each, an answer may come once more."""

Meant = str | Value | tuple[Value, ...]
"""What a setter meant as the answer."""


@dataclass(slots=True)
class Dealt:
    """What the versions of a drill have asked so far, by kind and facts: nothing comes again before all has come."""

    times: Counter[tuple[str, bytes]] = field(default_factory=Counter)
    rounds: Counter[str] = field(default_factory=Counter)

    def fresh(self, kind: str, facts: bytes) -> bool:
        """Whether it may be asked in the kind's present round."""
        return self.times[kind, facts] <= self.rounds[kind]


def _place(kind: Kind) -> int:
    """Topics in the order of a paper; those that papers do not print come last."""
    return list(TITLES).index(kind.topic) if kind.topic in TITLES else len(TITLES)


def drill_kinds(grade: int, edition: str, topics: Sequence[str] = (), kinds: Sequence[str] = ()) -> list[Kind]:
    """The kinds a drill is made of: those named, and the short ones of the topics named, that the grade may ask.

    Raises:
        CannotSet: nothing is named, an unknown topic, or a kind that the grade or the edition does not ask.
        UnknownKind: no such kind.
    """
    edition_of(edition, grade)
    scope_for(grade)
    if not topics and not kinds:
        raise CannotSet("a drill is of something: name --kinds or --topics")
    found: list[Kind] = []
    for name in kinds:
        kind = kind_of(name)
        if grade < kind.since:
            raise CannotSet(f"{name} is asked from grade {kind.since}, not at grade {grade}")
        if edition not in kind.forms:
            raise CannotSet(f"{name} has no {edition} form; it has {', '.join(kind.forms)}")
        found.append(kind)
    usable = [one for one in all_kinds().values() if one.since <= grade and edition in one.forms]
    known = sorted({one.topic for one in all_kinds().values()})
    for topic in topics:
        if topic not in known:
            near = get_close_matches(topic, known, 1)
            hint = f"did you mean {near[0]}? " if near else ""
            raise CannotSet(f"no topic {topic!r}: {hint}the topics are {', '.join(known)}")
        here = [one for one in usable if one.topic == topic]
        if not here:
            first = min(one.since for one in all_kinds().values() if one.topic == topic)
            raise CannotSet(f"grade {grade}, {edition}: nothing of {topic} is asked before grade {first}")
        short = [one for one in here if one.seconds <= SHORT_SECONDS and not one.extract] or here
        found += [one for one in short if one not in found]
    return found


def title_of(topics: Sequence[str], kinds: Sequence[str]) -> str:
    """What a drill is on, in the words of its head.

    >>> title_of(("values", "keys"), ("name-the-note",))
    'Note values and rests; keys and key signatures; name the note'
    """
    said = [TITLES.get(topic, topic) for topic in topics] + [kind_of(name).title for name in kinds]
    small = [one[:1].lower() + one[1:] for one in said]
    text = "; ".join(small)
    return text[:1].upper() + text[1:]


def set_drill(
    *,
    kinds: Sequence[Kind],
    grade: int,
    edition: str,
    count: int,
    seed: int,
    melodies: Melodies,
    write_music: WriteMusic,
    words: str = "uk",
    dealt: Dealt | None = None,
    id: str = "",
    mark: str = "",
    progress: Progress = silent,
) -> Paper:
    """`count` items shared evenly over the kinds: fewer where a kind has not so many different questions.

    `dealt` holds what other versions have asked: their questions come again only when nothing else is left. `mark`
    begins the id of every question, for drills that are put together. Same arguments, same drill.

    Raises:
        CannotSet: too many or too few items, or a kind with nothing fair to ask.
    """
    if not len(kinds) <= count <= MOST_ITEMS:
        some = "1 kind" if len(kinds) == 1 else f"{len(kinds)} kinds"
        raise CannotSet(f"a drill of {some} takes {len(kinds)} to {MOST_ITEMS} items, not {count}")
    drawer = Drawer("drill", grade, edition, seed, words, melodies, write_music)
    dealer = _Dealer(drawer, Dealt() if dealt is None else dealt, mark)
    sections: list[Section] = []
    done = 0
    for place, kind in enumerate(sorted(kinds, key=_place), 1):
        items = count // len(kinds) + (place <= count % len(kinds))
        asked = dealer.battery(kind, place, items)
        done += items
        progress(done, count)
        title = TITLES.get(kind.topic, kind.topic.capitalize())
        if sections and sections[-1].topic == kind.topic:
            asked = (*sections.pop().questions, *asked)
        sections.append(Section(kind.topic, title, asked))
    questions = [one for section in sections for one in section.questions]
    return Paper(
        id=id or f"drill-grade-{grade}-{edition}-{seed}",
        grade=grade,
        edition=edition,
        seed=seed,
        words=words,
        total=sum(one.marks for one in questions),
        time_minutes=max(1, round(sum(kind_of(one.kind).seconds for one in questions) / 60)),
        sections=tuple(sections),
        credits=tuple(dict.fromkeys(dealer.credits)),
    )


@dataclass(slots=True)
class _Dealer:
    """Deals questions of one kind after another, none twice."""

    drawer: Drawer
    dealt: Dealt
    mark: str = ""
    credits: list[str] = field(default_factory=list)

    def battery(self, kind: Kind, place: int, items: int) -> tuple[FullQuestion, ...]:
        """So many items of a kind, or all that there are, as the parts of one printed question."""
        asked: list[Question] = []
        here: set[bytes] = set()
        meant: list[Meant] = []
        for item in range(1, items + 1):
            group = Group(f"{self.mark}q{place}", str(item)) if items > 1 else None
            found = self._item(kind, f"{self.mark}q{place}-{item}", group, here, meant)
            if found is None:
                self.dealt.rounds[kind.id] += 1  # all has come once: other versions' questions may come again
                found = self._item(kind, f"{self.mark}q{place}-{item}", group, here, meant)
            if found is None:
                break
            asked.append(found)
        if not asked:
            where = f"grade {self.drawer.grade}, {self.drawer.edition}"
            raise CannotSet(f"{kind.id}, {where}: nothing fair to ask, seed {self.drawer.seed}")
        for one in asked:
            self.dealt.times[kind.id, bytes(one.facts)] += 1
        return tuple(self.drawer.worked(one) for one in asked)

    def _item(self, kind: Kind, id_: str, group: Group | None, here: set[bytes], meant: list[Meant]) -> Question | None:
        for attempt in range(TRIES):
            drawn = self.drawer.draw(kind, id_, attempt, group)
            if drawn is None or meant.count(drawn.draft.expected) > attempt // SAME:
                continue
            facts = bytes(drawn.question.facts)
            if facts in here or not self.dealt.fresh(kind.id, facts):
                continue
            here.add(facts)
            meant.append(drawn.draft.expected)
            self.credits += [drawn.credit] if drawn.credit else []
            return drawn.question
        return None


def set_group(
    *,
    kinds: Sequence[Kind],
    grades: Sequence[int],
    edition: str,
    count: int,
    seed: int,
    melodies: Melodies,
    write_music: WriteMusic,
    words: str = "uk",
    dealt: Dealt | None = None,
    id: str = "",
) -> Paper:
    """One topic for pupils of several grades together: a block of `count` items for each grade, easiest first.

    Kinds that all the grades ask come first, so that the group can talk about the same thing.

    Raises:
        CannotSet: a grade that asks none of the kinds.
    """
    ladder = sorted(set(grades))
    shared = [one for one in kinds if one.since <= ladder[0]]
    sections: list[Section] = []
    blocks: list[Paper] = []
    for grade in ladder:
        own = [one for one in kinds if one.since <= grade and one not in shared]
        fit = [*shared, *sorted(own, key=lambda one: -one.since)]
        if not fit:
            first = min(one.since for one in kinds)
            raise CannotSet(f"grade {grade}, {edition}: nothing of that is asked before grade {first}")
        few = fit[: max(1, count // 2)]
        block = set_drill(
            kinds=few, grade=grade, edition=edition, count=max(count, len(few)), seed=seed, melodies=melodies,
            write_music=write_music, words=words, dealt=dealt, mark=f"g{grade}",
        )  # fmt: skip
        blocks.append(block)
        questions = tuple(one for section in block.sections for one in section.questions)
        sections.append(Section(None, f"Grade {grade}", questions))
    return Paper(
        id=id or f"group-{edition}-{seed}",
        grade=ladder[-1],
        edition=edition,
        seed=seed,
        words=words,
        total=sum(one.total for one in blocks),
        time_minutes=max(one.time_minutes for one in blocks),
        sections=tuple(sections),
        credits=tuple(dict.fromkeys(credit for one in blocks for credit in one.credits)),
    )
