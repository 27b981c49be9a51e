"""Marking a meaning as a pupil typed it: right, part right, wrong, or unsure and left to the teacher."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from stavewright.syllabus.meanings import fold
from stavewright.syllabus.said import Said, all_other_things, hear, is_known, same_mood, taken
from stavewright.syllabus.ways import beside, is_loose, near_to, opposite_of, root_of

Mark = Literal["right", "part", "unsure", "wrong"]
_BEST: tuple[Mark, ...] = ("right", "part", "unsure", "wrong")
_SUPERLATIVES = frozenset({"very", "extremely", "as possible"})
_POLAR = frozenset({"more", "less", "too"})


@dataclass(frozen=True, slots=True)
class Reading:
    """How a typed meaning was read: the mark, why in words, the senses it shares, and each spelling mended."""

    mark: Mark
    why: str
    senses: tuple[str, ...] = ()
    mended: tuple[tuple[str, str], ...] = ()


def read_typed(text: str, meanings: Sequence[str], itself: Iterable[str] = ()) -> Reading:
    """Read what a pupil typed against every meaning that is right; the best reading counts.

    `itself` are the spellings of the term, which say nothing about its meaning. Slips of spelling are forgiven where
    the word can only be one; an answer that holds words nobody knows is unsure, never guessed. A meaning that names
    two opposites is wrong unless the term does so too. Common practice.

    >>> read_typed("gradualy slower", ["gradually getting slower"]).mark
    'right'
    >>> read_typed("slow", ["gradually getting slower"]).mark, read_typed("fast and slow", ["fast"]).mark
    ('part', 'wrong')
    """
    words = fold(text)
    if not words:
        return Reading("wrong", "nothing is written")
    if words in {fold(one) for one in itself} and not any(fold(one) == words for one in meanings):
        return Reading("wrong", "that is the term itself, not its meaning")
    said = hear(text)
    allowed = frozenset(sense for one in meanings for sense in hear(one).core)
    judged = [_judge(said, hear(one), allowed) for one in meanings]
    mark, why, senses = min(judged, key=lambda one: (_BEST.index(one[0]), -len(one[2])))
    if mark == "unsure" and any(one[0] == "wrong" and "opposite" in one[1] for one in judged):
        mark, why, senses = next(one for one in judged if one[0] == "wrong" and "opposite" in one[1])
    if mark in ("part", "unsure") and any(opposite_of(one) & allowed for one in said.core - allowed):
        return Reading("wrong", "part of it is the opposite", (), said.mended)
    return Reading(mark, why, senses, said.mended)


@lru_cache(maxsize=16384)
def says(said: str, meant: str) -> bool:
    """Whether what was typed says all of one meaning: the same rules, for one pair.

    >>> says("smothly joined", "smoothly"), says("not smooth", "smoothly")
    (True, False)
    """
    return read_typed(said, (meant,)).mark == "right"


_Judged = tuple[Mark, str, tuple[str, ...]]


def _judge(said: Said, meant: Said, allowed: frozenset[str]) -> _Judged:
    if meant.follows and not said.follows and said.core >= meant.core:
        return "part", "it does not say that one follows the other", tuple(sorted(meant.core))
    if said.all == meant.all and said.turns == meant.turns and said.denied == meant.denied:
        return "right", "it says the same", tuple(sorted(meant.core or meant.all))
    said = _turned_to(said, meant)
    shared = said.core & meant.core
    told = tuple(sorted(shared))
    against = _against(said, meant)
    if against:
        return "wrong", against, ()
    if said.turns != meant.turns and meant.turns and said.core >= meant.core:
        return "wrong", "the opposite order", ()
    extra = frozenset(one for one in said.core - meant.core if not is_loose(one))
    strange = sorted(one for one in extra if not is_known(one))
    foreign = [one for one in extra - allowed if is_known(one) and not same_mood(one, meant.core)]
    foreign = [one for one in foreign if not beside(one, meant.core)]
    if meant.core and shared == meant.core and said.denied == meant.denied:
        if strange:
            return "unsure", f"it says the meaning, and more that is not known: {', '.join(strange)}", told
        if foreign:
            return "unsure", f"it says the meaning, and also {', '.join(sorted(foreign))}", told
        return _by_degree(said, meant, told)
    if shared:
        if strange:
            return "unsure", f"it says part of the meaning, and more that is not known: {', '.join(strange)}", told
        if foreign:
            return "wrong", f"it also says {', '.join(sorted(foreign))}", told
        return "part", f"it says {', '.join(told)}, which is a part of the meaning", told
    return _nothing_shared(said, meant, strange)


def _nothing_shared(said: Said, meant: Said, strange: Sequence[str]) -> _Judged:
    if not strange and (near := _on_the_way(said, meant)):
        return "part", near, ()
    if not said.core and not strange and said.degrees & meant.degrees - {"not", "too"} and meant.core:
        return "part", "it says how much, not what", ()
    if strange:
        return "unsure", f"not known: {', '.join(strange)}", ()
    if (other := taken(said.all)) is not None:
        return "wrong", f"that is the meaning of {other.lower()}", ()
    if all_other_things(said.core):
        return "wrong", "that is no musical meaning", ()
    return "unsure", "it says none of the words the meaning is known by", ()


def _turned_to(said: Said, meant: Said) -> Said:
    """What was said, with senses that are nearly those of the meaning put for them."""
    missing = meant.core - said.core
    swap = {one: other for one in said.core - meant.core for other in missing if near_to(one, other)}
    if said.all == frozenset({"moderately"}) and meant.all == frozenset({"medium speed"}):
        return meant
    if not swap:
        return said
    core = frozenset(swap.get(one, one) for one in said.core)
    return replace(said, core=core, all=core | said.degrees | said.denied)


def _against(said: Said, meant: Said) -> str:
    """Why an answer cannot be right whatever else it says; nothing where there is no such reason."""
    both = [one for one in said.core if opposite_of(one) & said.core]
    if both and not set(both) <= meant.core:
        return "it says two things that are opposite"
    for one in said.core - meant.core:
        if opposite_of(one) & (meant.core - said.core):
            return "it says the opposite"
    if said.denied - meant.denied and (said.denied - meant.denied) & (meant.core | _roots(meant.core)):
        return "it denies the meaning: the opposite"
    if meant.denied - said.denied and meant.denied & said.core and not said.core & meant.core:
        return "the word not is missing, so it says the opposite"
    if "too" in said.degrees - meant.degrees or ("too" in said.degrees and "not" in meant.degrees - said.degrees):
        return "too much says the opposite of not too much"
    if len({"more", "less"} & (said.degrees ^ meant.degrees)) == 2:
        return "more and less are opposite"
    return ""


def _roots(senses: Iterable[str]) -> frozenset[str]:
    return frozenset(root_of(one) for one in senses)


def _by_degree(said: Said, meant: Said, told: tuple[str, ...]) -> _Judged:
    if said.degrees == meant.degrees:
        return "right", "it says all of the meaning", told
    one, other = said.degrees & _SUPERLATIVES, meant.degrees & _SUPERLATIVES
    rest = said.degrees - _SUPERLATIVES == meant.degrees - _SUPERLATIVES
    if one and other and rest and not taken(said.all):
        return "right", "it says the meaning, very much so", told
    if said.degrees ^ meant.degrees == {"a little", "fairly"}:
        return "right", "it says the meaning, a little or fairly so", told
    if meant.degrees - said.degrees == {"not", "too"}:
        return "part", "it leaves out not too much", told
    if meant.degrees - said.degrees == {"more"} and said.degrees <= meant.degrees:
        return "part", "it says the state, not that it grows", told
    if (said.degrees ^ meant.degrees) & _POLAR:
        return "wrong", "more, less or too much changes the meaning", told
    return "part", "the right thing, to another degree", told


def _on_the_way(said: Said, meant: Said) -> str:
    """Where a change is meant and only its state is said, or the change comes in another manner."""
    changing = {one for one in meant.core if root_of(one) != one}
    roots = {root_of(one) for one in changing}
    if roots and roots & _roots(said.core) and not said.degrees & _POLAR:
        return "it says the speed or sound, not how it changes"
    return ""
