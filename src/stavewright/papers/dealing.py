"""One question for an item of a slot: fair, not asked before, and keeping the predicted mark near its aim."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache
from random import Random

import msgspec

from stavewright.papers.blueprint import Slot
from stavewright.papers.desk import Desk, size_of
from stavewright.papers.pack import Family, Pack, key_of
from stavewright.questions.asking import Workings, ask
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import Group, Question
from stavewright.questions.kind import Draft, Kind
from stavewright.questions.melodies import Choirs, Extract, Melodies, Stimulus
from stavewright.questions.values import Value
from stavewright.syllabus.scope import Scope, scope_for
from stavewright.theory.key import Key

CANDIDATES = 2
CLOSE = 0.4
"""A candidate that leaves the predicted mark so near its aim is taken at once."""
FAR = 0.5
"""So far from the aim three times as many candidates are weighed."""
LARGE = 3
"""Questions worth so many marks are taken as they come (they are long to set); the small ones keep the balance."""
SLOW = 25
"""What takes a pupil so many seconds takes long to set, too: fewer candidates are weighed."""
TRIES = 160
PART_TRIES = 50
"""An extract that gives a part nothing to ask in so many tries is left for another."""
FEW_TRIES = 40
"""After so many tries a small family is laid out and dealt card by card."""
AGAIN = 25
"""After so many tries one thing may be asked in two ways: small grades have few keys to ask."""
SAME = 8
"""After so many tries one answer may stand once more in a battery, so that no part is guessed from the others."""
MOST_CARDS = 3000
Meant = str | Value | tuple[Value, ...]
_Drawn = tuple[Draft | None, str, bool]


@dataclass(slots=True)
class Heard:
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
        """A melody of the source."""
        found = self.source.melody(scope, rng, bars=bars, clef=clef, key=key, provable=provable)
        self.credit = found.credit if found else ""
        self.count += 1
        return found

    def choir(self, scope: Scope, rng: Random, *, cadence: str | None = None) -> Extract | None:
        """A passage in four parts of the source, where it has any."""
        found = self.source.choir(scope, rng, cadence=cadence) if isinstance(self.source, Choirs) else None
        if found is not None:
            self.credit = found.credit
            self.count += 1
        return found


def _credit(draft: Draft | None, heard: str = "") -> str:
    """The credit that a question prints with its music or words, else that of what was heard while it was set."""
    return "" if draft is None else str(getattr(draft.facts, "credit", heard))


@dataclass(slots=True)
class Dealer:
    """Finds the questions of one paper: all chance is derived from `chance` (the paper's seed), item and kind."""

    grade: int
    chance: int
    seed: int
    words: str
    scope: Scope
    melodies: Melodies
    pack: Pack
    desk: Desk
    workings: Workings
    fine: bool = False
    """Whether to weigh more candidates: the last items of a paper bring it to its aim."""
    heard: Heard = field(init=False)

    def __post_init__(self) -> None:
        self.heard = Heard(self.melodies)

    def item(self, slot: Slot, id_: str, group: Group | None, meant: list[Meant]) -> tuple[Question, str] | None:
        """A question for one item, with the credit of its music; None where the family has nothing fair left.

        `meant` are the answers of the parts before it; this one is added. A small family is dealt like a shuffled pack:
        its next round begins only when every question of it has been dealt.
        """
        kind = kind_of(slot.kind)
        family = (kind.id, kind.forms[slot.edition])
        pool = pool_of(kind.id, self.grade)
        small = pool is not None and pool <= MOST_CARDS
        if (family, self.grade) not in self.pack.decks:
            stale = [0]
            tries = FEW_TRIES if small else TRIES
            found = self._chosen(kind, family, slot, id_, group, meant, self._draws(kind, id_, tries), stale)
            if found is not None:
                return found
            if not small:
                if stale[0] < TRIES // 2:
                    return None
                self.pack.next_round(family)
                return self._chosen(kind, family, slot, id_, group, meant, self._draws(kind, id_, TRIES), [0])
            self.pack.lay(family, self.grade, self._laid_out(kind, family, pool or 0))
        return self._from_deck(kind, family, slot, id_, group, meant)

    def _from_deck(
        self, kind: Kind, family: Family, slot: Slot, id_: str, group: Group | None, meant: list[Meant]
    ) -> tuple[Question, str] | None:
        deck = self.pack.decks[family, self.grade]
        if deck is None:
            return None
        here = {key for _, key in self.desk.used.values()}
        if here.issuperset(deck.left):
            self.pack.next_round(family)
        cards = deck.drawn(Random(f"{self.chance}/{id_}/{kind.id}/deck"), FEW_TRIES)
        # twice over: at the second time one thing may be asked in two ways, and one answer stand twice in a battery
        draws: Iterator[_Drawn] = ((draft, _credit(draft), False) for _, draft in (*cards, *cards))
        return self._chosen(kind, family, slot, id_, group, meant, draws, [0], again=len(cards))

    def _draws(self, kind: Kind, id_: str, tries: int) -> Iterator[_Drawn]:
        heard = self.heard
        for attempt in range(tries):
            heard.credit, heard.count = "", 0
            draft = kind.set(self.scope, Random(f"{self.chance}/{id_}/{kind.id}/{attempt}"), None, heard)
            yield draft, _credit(draft, heard.credit), bool(heard.count)

    def _chosen(
        self,
        kind: Kind,
        family: Family,
        slot: Slot,
        id_: str,
        group: Group | None,
        meant: list[Meant],
        draws: Iterable[_Drawn],
        stale: list[int],
        again: int = AGAIN,
    ) -> tuple[Question, str] | None:
        """Of a few fair candidates, the one that keeps the predicted mark nearest its aim.

        Candidates are facts only; just the chosen one is posed and solved (the next one if it cannot be put fairly).
        Where a melody has to be found for it, the first fair candidate is taken: the other slots keep the balance.
        """
        wanted = 1 if slot.marks >= LARGE or kind.seconds >= SLOW else CANDIDATES
        if self.fine or size_of(self.desk.drift) > FAR:
            wanted *= 3
        close = CLOSE / 4 if self.fine else CLOSE
        drawn: list[tuple[float, int, Draft, bytes, str]] = []
        for attempt, (draft, credit, slow) in enumerate(draws):
            if draft is None:
                continue
            facts = msgspec.json.encode(draft.facts)
            key = key_of(family, facts)
            if (kind.id, facts) in self.desk.used or not self.pack.fresh(family, key):
                stale[0] += 1
                continue
            if self.desk.spoils(kind, draft.facts, again=attempt >= again):
                continue
            if meant.count(draft.expected) > (attempt >= min(SAME, again)):
                continue
            size = size_of(self.desk.drift_with(kind, draft.facts, slot))
            drawn.append((size, attempt, draft, key, credit))
            if len(drawn) >= wanted or size <= close or slow:
                found = self._best(kind, family, slot, id_, group, meant, drawn)
                if found is not None:
                    return found
                drawn.clear()
        return self._best(kind, family, slot, id_, group, meant, drawn)

    def _best(
        self,
        kind: Kind,
        family: Family,
        slot: Slot,
        id_: str,
        group: Group | None,
        meant: list[Meant],
        drawn: list[tuple[float, int, Draft, bytes, str]],
    ) -> tuple[Question, str] | None:
        for _, _, draft, key, credit in sorted(drawn, key=lambda row: row[:2]):
            question = self.ask(kind, draft, slot, id_, group, None)
            if question is not None:
                self.desk.keep(kind, draft.facts, slot, question, family, key)
                meant.append(draft.expected)
                return question, credit
        return None

    def ask(
        self, kind: Kind, draft: Draft, slot: Slot, id_: str, group: Group | None, follows: str | None
    ) -> Question | None:
        """The drafted question as this paper puts it; None where it cannot be put fairly."""
        return ask(
            kind,
            draft,
            id=id_,
            grade=self.grade,
            edition=slot.edition,
            seed=self.seed,
            words=self.words,
            marks=slot.marks,
            group=group,
            follows=follows,
            workings=self.workings,
        )

    def part(
        self, slot: Slot, id_: str, group: Group, stimulus: Stimulus, follows: str | None, turn: int
    ) -> Question | None:
        """A part asked of an extract, or None where the extract gives nothing fair to ask."""
        kind = kind_of(slot.kind)
        family = (kind.id, kind.forms[slot.edition])
        for attempt in range(PART_TRIES):
            rng = Random(f"{self.chance}/{id_}/{kind.id}/{turn}/{attempt}")
            draft = kind.set(self.scope, rng, stimulus, None)
            if draft is None or self.desk.spoils(kind, draft.facts, again=attempt >= AGAIN):
                continue
            facts = msgspec.json.encode(draft.facts)
            key = key_of(family, facts)
            if (kind.id, facts) in self.desk.used or not self.pack.fresh(family, key):
                continue
            question = self.ask(kind, draft, slot, id_, group, follows)
            if question is not None:
                self.desk.keep(kind, draft.facts, slot, question, family, key)
                return question
        return None

    def _laid_out(self, kind: Kind, family: Family, pool: int) -> dict[bytes, Draft] | None:
        """Every question of a small family, found by drawing until long nothing new has come."""
        found: dict[bytes, Draft] = {}
        since_new = number = 0
        thorough = 10 if pool <= 400 else 3
        while since_new < thorough * max(len(found), 20) or (len(found) < pool <= 400 and since_new < 40 * pool):
            draft = kind.set(self.scope, Random(f"deck/{kind.id}/{self.grade}/{number}"), None, self.heard)
            number += 1
            since_new += 1
            if draft is None:
                continue
            key = key_of(family, msgspec.json.encode(draft.facts))
            if key not in found:
                found[key] = draft
                since_new = 0
                if len(found) > 2 * MOST_CARDS:
                    return None
        return found


@lru_cache(maxsize=1024)
def pool_of(kind: str, grade: int) -> int | None:
    """How many different questions a kind has at a grade, None where practically endless."""
    return kind_of(kind).pool(scope_for(grade))


def stand_in(slot: Slot, index: int) -> Slot:
    """The slot with another family of its topic in place of its own."""
    one = slot.instead[index]
    return replace(slot, kind=one.kind, edition=one.edition, expected=one.expected)
