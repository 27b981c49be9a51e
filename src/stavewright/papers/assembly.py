"""Filling a blueprint: fair questions for every slot, nothing twice, nothing given away, the predicted mark steady."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from random import Random
from string import ascii_lowercase
from typing import Any

from stavewright.papers.blueprint import TITLES, Blueprint, ExtractSlot, Slot, predicted
from stavewright.papers.credit import credited
from stavewright.papers.dealing import LARGE, SLOW, Dealer, Heard, Meant, pool_of, stand_in
from stavewright.papers.desk import Desk, away
from stavewright.papers.errors import CannotSet
from stavewright.papers.pack import Pack
from stavewright.questions.asking import Workings
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import Group, Question
from stavewright.questions.melodies import Extract, Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.syllabus.scope import Scope

EXTRACTS = 24
TURNS = 12
ANEW = 4
"""So many times a paper is begun before it is given up; each time after ANEW its long questions too are set afresh."""
SHORT = 2
"""Rank from which on questions are short."""
NEXT_TURN = 2**53 + 1
SMALL_POOL = 400
FINE = 0.7
"""From here on (as a share of the slots) more candidates are weighed: the last ones bring the paper to its aim."""
LETTERS = (*ascii_lowercase, *(f"a{letter}" for letter in ascii_lowercase))


@dataclass(frozen=True, slots=True)
class Asked:
    """One printed question: its parts, and the credit of the music it shows."""

    topic: str | None
    title: str
    questions: tuple[Question, ...]
    credits: tuple[str, ...]


class _Stuck(CannotSet):
    """A slot has nothing fair left to ask, as the paper stands."""

    def __init__(self, said: str, index: int) -> None:
        super().__init__(said)
        self.index = index


@dataclass(slots=True)
class Assembler:
    """Sets the printed questions of one paper."""

    plan: Blueprint
    scope: Scope
    seed: int
    words: str
    melodies: Melodies
    progress: Callable[[int, int], None] = lambda done, of: None
    pack: Pack = field(default_factory=Pack)
    dealer: Dealer = field(init=False)
    workings: Workings = field(default_factory=dict)

    def assemble(self) -> list[Asked]:
        """Every printed question in order.

        Long questions are set first, then those of small packs (the fewer cards are left, the earlier), and last those
        whose difficulty varies most, to bring the paper to its aim. What cannot be set to the end is begun anew with
        other chances.

        Raises:
            CannotSet: a slot has nothing fair left to ask.
        """
        rounds = Counter(self.pack.rounds)
        stuck: list[int] = []
        long, kept = self._long_questions(0)
        for turn in range(TURNS):
            if turn and turn % ANEW == 0:
                long, kept = self._long_questions(turn)
            self.dealer = self._dealer(turn, kept.copy())
            try:
                order = [index for index in self._order(stuck) if index not in long]
                found = self._filled(order, long, turn == TURNS - 1)
            except _Stuck as fault:
                self.pack.back_to(rounds)
                stuck.insert(0, fault.index)
                if turn == TURNS - 1:
                    raise
                continue
            for family, key in self.dealer.desk.used.values():
                self.pack.deal(family, key)
            return [found[index] for index in range(len(found))]
        raise AssertionError("the last turn returns or raises")

    def _long_questions(self, turn: int) -> tuple[dict[int, Asked], Desk]:
        """The long questions set, and the desk as they leave it."""
        desk = Desk(away(predicted(self.plan.families()), self.plan.aim), len(self.scope.keys))
        self.dealer = self._dealer(turn, desk)
        found = self._filled([index for index in self._order(()) if self._rank(index)[0] < SHORT], {}, last=False)
        return found, self.dealer.desk

    def _dealer(self, turn: int, desk: Desk) -> Dealer:
        chance = self.seed + turn * NEXT_TURN
        return Dealer(
            self.plan.grade, chance, self.seed, self.words, self.scope, self.melodies, self.pack, desk,
            self.workings,
        )  # fmt: skip

    def _filled(self, order: Sequence[int], before: Mapping[int, Asked], last: bool) -> dict[int, Asked]:
        found = dict(before)
        whole = len(self.plan.slots)
        for index in order:
            slot = self.plan.slots[index]
            self.dealer.fine = len(found) > FINE * whole
            if isinstance(slot, ExtractSlot):
                found[index] = self._extract(index + 1, slot)
            else:
                found[index] = self._battery(index, slot, last)
            self.progress(len(found), whole)
        return found

    def _order(self, stuck: Sequence[int]) -> list[int]:
        """In which order the slots are filled: those that an earlier turn was stuck at first."""
        ranks = [self._rank(index) for index in range(len(self.plan.slots))]
        return [*dict.fromkeys((*stuck, *sorted(range(len(ranks)), key=lambda index: (ranks[index], index))))]

    def _rank(self, index: int) -> tuple[int, float]:
        slot = self.plan.slots[index]
        if isinstance(slot, ExtractSlot):
            return 0, 0.0
        pool = pool_of(slot.kind, self.plan.grade)
        if pool is None or pool > SMALL_POOL:
            seconds = kind_of(slot.kind).seconds
            if slot.marks >= LARGE and pool is None:
                return 1, 0.0
            return SHORT + 1 + (seconds >= SLOW), -slot.marks
        family = (slot.kind, kind_of(slot.kind).forms[slot.edition])
        return SHORT, self.pack.left(family, self.plan.grade, pool) / slot.items

    def _battery(self, index: int, slot: Slot, last: bool) -> Asked:
        number = index + 1
        parts: list[Question] = []
        credits_: list[str] = []
        meant: list[Meant] = []
        for item in range(slot.items):
            group = Group(f"q{number}", LETTERS[item]) if slot.items > 1 else None
            id_ = f"q{number}{LETTERS[item] if slot.items > 1 else ''}"
            question, credit = self._item(index, slot, id_, group, meant, last)
            parts.append(question)
            credits_ += [credit] if credit else []
        return Asked(slot.topic, TITLES[slot.topic], tuple(parts), tuple(credits_))

    def _item(
        self, index: int, slot: Slot, id_: str, group: Group | None, meant: list[Meant], last: bool
    ) -> tuple[Question, str]:
        """A question of the slot's family, else of one that may stand in for it while its pack has to wait.

        Where all else has failed a pack is taken up again before it is through: better than no paper at all.
        """
        found = self.dealer.item(slot, id_, group, meant)
        if found is not None:
            return found
        turns = list(range(len(slot.instead)))
        Random(f"{self.dealer.chance}/{id_}/instead").shuffle(turns)
        planned = {one.kind for one in self.plan.families()}
        for place in sorted(turns, key=lambda turn: slot.instead[turn].kind in planned):
            other = stand_in(slot, place)
            before = self.dealer.desk.drift
            self.dealer.desk.changed(slot, other)
            found = self.dealer.item(other, id_, group, meant)
            if found is not None:
                return found
            self.dealer.desk.drift = before
        if last:
            self.pack.early += 1
            self.pack.next_round((slot.kind, kind_of(slot.kind).forms[slot.edition]))
            found = self.dealer.item(slot, id_, group, meant)
            if found is not None:
                return found
        raise _Stuck(
            f"grade {self.plan.grade} {self.plan.edition}, question {id_}: {slot.kind} has nothing fair left to ask",
            index,
        )

    def _extract(self, number: int, slot: ExtractSlot) -> Asked:
        for turn in range(EXTRACTS):
            rng = Random(f"{self.dealer.chance}/q{number}/extract/{turn}")
            extract = Heard(self.melodies).melody(self.scope, rng, bars=8)
            if extract is None:
                continue
            kept = self.dealer.desk
            self.dealer.desk = kept.copy()
            parts = self._parts(number, slot, extract, turn)
            if parts is not None:
                return Asked(None, "An extract to read", tuple(parts), (extract.credit,))
            self.dealer.desk = kept
        raise CannotSet(
            f"grade {self.plan.grade}, question {number}: none of {EXTRACTS} extracts can carry {len(slot.parts)} parts"
        )

    def _parts(self, number: int, slot: ExtractSlot, extract: Extract, turn: int) -> list[Question] | None:
        document = document_of(extract.score)
        has_key = any(part.kind == "key-of-a-melody" for part in slot.parts)
        parts: list[Question] = []
        memo: dict[str, Any] = {}
        key_id: str | None = None
        for index, part in enumerate(slot.parts):
            letter = ascii_lowercase[index]
            stimulus = Stimulus(extract, document, key_part="a" if has_key and index else None, memo=memo)
            question = self._part(part, f"q{number}{letter}", Group(f"q{number}", letter), stimulus, key_id, turn)
            if question is None:
                return None
            parts.append(credited(question, stimulus))
            key_id = key_id or (question.id if part.kind == "key-of-a-melody" else None)
        return parts

    def _part(
        self, slot: Slot, id_: str, group: Group, stimulus: Stimulus, follows: str | None, turn: int
    ) -> Question | None:
        """A part of the slot's family, else of another that the extract has something to ask of."""
        others = range(len(slot.instead))
        for one in (slot, *(stand_in(slot, (turn + place) % len(others)) for place in others)):
            before = self.dealer.desk.drift
            self.dealer.desk.changed(slot, one)
            question = self.dealer.part(one, id_, group, stimulus, follows, turn)
            if question is not None:
                return question
            self.dealer.desk.drift = before
        return None
