"""Filling a blueprint: fair candidates for every slot, nothing twice, nothing given away, the predicted mark steady."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from random import Random
from string import ascii_lowercase
from typing import Any

from stavewright.papers.blueprint import TITLES, Blueprint, ExtractSlot, Slot
from stavewright.papers.credit import credited
from stavewright.papers.errors import CannotSet
from stavewright.papers.expected import THETAS, chance, guess_of, target
from stavewright.papers.pack import Pack
from stavewright.questions.asking import ask
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import Group, Question
from stavewright.questions.kind import Draft, Kind
from stavewright.questions.melodies import Extract, Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.values import Value
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import Key

CANDIDATES = 3
CLOSE = 0.6
"""A candidate that leaves the three predicted marks together so near their target is taken at once."""
TRIES = 160
AGAIN = 25
"""After so many tries one thing may be asked in two ways: small grades have few keys to ask."""
SAME = 8
"""After so many tries one answer may stand once more in a battery, so that no part is guessed from the others."""
EXTRACTS = 12
Meant = str | Value | tuple[Value, ...]


@dataclass(slots=True)
class _Heard:
    """A source of melodies that remembers the credit of the last one it gave."""

    source: Melodies
    credit: str = ""
    count: int = 0

    def melody(
        self,
        scope: Scope,
        rng: Random,
        *,
        bars: int = 4,
        clef: str | None = None,
        key: Key | None = None,
        provable: bool = True,
    ) -> Extract | None:
        found = self.source.melody(scope, rng, bars=bars, clef=clef, key=key, provable=provable)
        self.credit = found.credit if found else ""
        self.count += 1
        return found


@dataclass(frozen=True, slots=True)
class Asked:
    """One printed question: its parts, and the credit of the music it shows."""

    topic: str | None
    title: str
    questions: tuple[Question, ...]
    credits: tuple[str, ...]


@dataclass(slots=True)
class _Sheet:
    """What the paper holds so far: facts used, tokens asked and shown, expected marks against the target."""

    used: set[tuple[str, bytes]] = field(default_factory=set)
    asks: set[str] = field(default_factory=set)
    shows: set[str] = field(default_factory=set)
    drift: list[float] = field(default_factory=lambda: [0.0] * len(THETAS))


@dataclass(slots=True)
class Assembler:
    """Sets the printed questions of one paper. Chance is derived from the paper's seed, slot and kind, never shared."""

    plan: Blueprint
    scope: Scope
    seed: int
    words: str
    melodies: Melodies
    progress: Callable[[int, int], None] = lambda done, of: None
    pack: Pack = field(default_factory=Pack)
    sheet: _Sheet = field(default_factory=_Sheet)

    def assemble(self) -> list[Asked]:
        """Every printed question in order.

        Raises:
            CannotSet: a slot has nothing fair left to ask.
        """
        found: list[Asked] = []
        for number, slot in enumerate(self.plan.slots, 1):
            found.append(self._extract(number, slot) if isinstance(slot, ExtractSlot) else self._battery(number, slot))
            self.progress(number, len(self.plan.slots))
        for kind, facts in self.sheet.used:
            self.pack.deal(kind, facts)
        return found

    def _battery(self, number: int, slot: Slot) -> Asked:
        kind = kind_of(slot.kind)
        heard = _Heard(self.melodies)
        parts: list[Question] = []
        credits_: list[str] = []
        meant: list[Meant] = []
        for item in range(slot.items):
            group = Group(f"q{number}", ascii_lowercase[item]) if slot.items > 1 else None
            id_ = f"q{number}{ascii_lowercase[item] if slot.items > 1 else ''}"
            question, credit = self._best(kind, id_, slot.marks, heard, group, meant)
            parts.append(question)
            credits_ += [credit] if credit else []
        return Asked(slot.topic, TITLES[slot.topic], tuple(parts), tuple(credits_))

    def _best(
        self, kind: Kind, id_: str, marks: int, heard: _Heard, group: Group | None, meant: list[Meant]
    ) -> tuple[Question, str]:
        """Of a few fair candidates, the one that keeps the predicted mark nearest its target.

        `meant` are the answers of the parts before it, this one is added: an answer comes again only after tries.
        Candidates are facts only; just the chosen one is posed and solved (the next one if it cannot be put fairly).
        Where a melody has to be found for it, the first fair candidate is taken: the other slots keep the balance.
        """
        for attempt in (0, TRIES):
            found = self._try(kind, id_, marks, heard, group, meant, attempt)
            if found is not None:
                return found
            self.pack.next_round(kind.id)
        raise CannotSet(
            f"grade {self.plan.grade} {self.plan.edition}, question {id_}: {kind.id} has nothing fair left to ask"
        )

    def _try(
        self, kind: Kind, id_: str, marks: int, heard: _Heard, group: Group | None, meant: list[Meant], start: int
    ) -> tuple[Question, str] | None:
        likely_guess = 0.25 if kind.forms[self.plan.edition] == "choice" else 0.0
        drawn: list[tuple[float, int, Draft, str]] = []
        for attempt in range(start, start + TRIES):
            rng = Random(f"{self.seed}/{id_}/{kind.id}/{attempt}")
            heard.credit, heard.count = "", 0
            draft = kind.set(self.scope, rng, None, heard)
            if draft is None or self._spoils(kind, draft, again=attempt >= AGAIN):
                continue
            if meant.count(draft.expected) > attempt // SAME:
                continue
            size = sum(abs(value) for value in self._drift(kind, draft, marks, likely_guess))
            drawn.append((size, attempt, draft, heard.credit))
            if len(drawn) < CANDIDATES and size > CLOSE and not heard.count:
                continue
            for _, _, one, credit in sorted(drawn, key=lambda row: row[:2]):
                question = self._ask(kind, one, id_, marks, group, None)
                if question is not None and self._unused(question):
                    self._keep(kind, one, question)
                    meant.append(one.expected)
                    return question, credit
            drawn.clear()
        return None

    def _unused(self, question: Question) -> bool:
        """Whether the question stands neither in this paper nor in the series' present round."""
        facts = bytes(question.facts)
        return (question.kind, facts) not in self.sheet.used and self.pack.fresh(question.kind, facts)

    def _ask(
        self, kind: Kind, draft: Draft, id_: str, marks: int, group: Group | None, follows: str | None
    ) -> Question | None:
        return ask(
            kind,
            draft,
            id=id_,
            grade=self.plan.grade,
            edition=self.plan.edition,
            seed=self.seed,
            words=self.words,
            marks=marks,
            group=group,
            follows=follows,
        )

    def _spoils(self, kind: Kind, draft: Draft, *, again: bool) -> bool:
        """Whether the question would answer another of the paper, or be answered by it.

        Unless `again`, asking one thing twice (in two ways) is avoided too: small grades have few keys to ask.
        """
        asks, shows = kind.asks(draft.facts), kind.shows(draft.facts)
        if asks & self.sheet.shows or shows & self.sheet.asks:
            return True
        return not again and bool(asks & self.sheet.asks)

    def _drift(self, kind: Kind, draft: Draft, marks: int, guess: float) -> list[float]:
        mean = target(kind, self.plan.grade, self.plan.edition)
        likely = chance(kind.difficulty(draft.facts), guess)
        return [now + marks * (one - aim) for now, one, aim in zip(self.sheet.drift, likely, mean, strict=True)]

    def _keep(self, kind: Kind, draft: Draft, question: Question) -> None:
        self.sheet.drift = self._drift(kind, draft, question.marks, guess_of(question))
        self.sheet.used.add((kind.id, bytes(question.facts)))
        self.sheet.asks |= kind.asks(draft.facts)
        self.sheet.shows |= kind.shows(draft.facts)

    def _extract(self, number: int, slot: ExtractSlot) -> Asked:
        for attempt in range(EXTRACTS):
            rng = Random(f"{self.seed}/q{number}/extract/{attempt}")
            heard = _Heard(self.melodies)
            extract = heard.melody(self.scope, rng, bars=8)
            if extract is None:
                continue
            kept = self.sheet
            self.sheet = _Sheet(set(kept.used), set(kept.asks), set(kept.shows), list(kept.drift))
            parts = self._parts(number, slot.parts, extract, attempt)
            if parts is not None:
                return Asked(None, "Reading music", tuple(parts), (extract.credit,))
            self.sheet = kept
        raise CannotSet(
            f"grade {self.plan.grade}, question {number}: none of {EXTRACTS} extracts can carry {len(slot.parts)} parts"
        )

    def _parts(self, number: int, slots: Sequence[Slot], extract: Extract, extract_try: int) -> list[Question] | None:
        document = document_of(extract.score)
        has_key = any(slot.kind == "key-of-a-melody" for slot in slots)
        parts: list[Question] = []
        memo: dict[str, Any] = {}
        key_id: str | None = None
        for index, slot in enumerate(slots):
            kind = kind_of(slot.kind)
            letter = ascii_lowercase[index]
            stimulus = Stimulus(extract, document, key_part="a" if has_key and index else None, memo=memo)
            question = None
            for attempt in range(TRIES):
                rng = Random(f"{self.seed}/q{number}{letter}/{kind.id}/{extract_try}/{attempt}")
                draft = kind.set(self.scope, rng, stimulus, None)
                if draft is None or self._spoils(kind, draft, again=attempt >= AGAIN):
                    continue
                question = self._ask(kind, draft, f"q{number}{letter}", slot.marks, Group(f"q{number}", letter), key_id)
                if question is not None and self._unused(question):
                    self._keep(kind, draft, question)
                    question = credited(question, stimulus)
                    break
                question = None
            if question is None:
                return None
            parts.append(question)
            key_id = key_id or (question.id if kind.id == "key-of-a-melody" else None)
        return parts
