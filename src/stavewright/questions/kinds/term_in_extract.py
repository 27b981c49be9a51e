"""The directions of an extract: what one of them means, or which bar has the one with a meaning."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import score_of
from stavewright.questions.setting.in_hand import in_hand
from stavewright.questions.showing.extract import extract_blocks
from stavewright.questions.solving.mixed_terms import further_meanings, mixed_up
from stavewright.questions.solving.terms import neighbours, opposites
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.stave import Direction, Score
from stavewright.syllabus.meanings import fold, same_meaning
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.signs import signs_known
from stavewright.syllabus.terms import Term, all_terms, core_terms, term_of
from stavewright.theory.interval import ordinal

_BARS = 8
_WHAT = {"tempo": "tempo", "text": "word", "dynamic": "letters", "crescendo": "lines", "diminuendo": "lines"}
_LOOK = {
    "tempo": "the tempo word at the beginning of the music",
    "word": "the word printed in bar {bar}",
    "letters": "the dynamic sign in bar {bar}",
    "lines": "the two long lines below bar {bar}",
}
# The term each sign of loudness stands for, by its key. Source: Gehrkens, Music Notation and Terminology (1914) §120.
_STANDS_FOR = {
    "pp": "Pianissimo|Italian", "p": "Piano|Italian", "mp": "Mezzo piano|Italian", "mf": "Mezzo forte|Italian",
    "f": "Forte|Italian", "ff": "Fortissimo|Italian", "fp": "Fortepiano|Italian", "sfz": "Sforzando|Italian",
    "sf": "Sforzando|Italian", "crescendo": "Crescendo|Italian", "diminuendo": "Diminuendo|Italian",
}  # fmt: skip


class TermInExtract(Facts, frozen=True, forbid_unknown_fields=True):
    """The extract as it is printed, and what is asked of it.

    Either what the direction of one sort ("tempo", "word", "letters" or "lines") in a bar means, or, where `meaning`
    is given, which bar has the letters or lines with that meaning. `level` is the level of terms the pupil has met.

    Raises:
        BadDocument: no such sort of direction.
    """

    extract: ScoreDocument
    what: str
    bar: Annotated[int, Meta(ge=0, le=2000)]
    level: int
    meaning: Annotated[str, Meta(max_length=200)] = ""
    block: str = "extract"
    credit: str = ""

    def __post_init__(self) -> None:
        if self.what not in _LOOK:
            raise BadDocument(f"there is no direction of the sort {self.what!r}: use one of {', '.join(_LOOK)}")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    found = in_hand(scope, rng, stimulus, melodies, _BARS)
    if found is None:
        return None
    printed = _printed(found.extract.score, scope.terms)
    alone = [
        one for one in printed if (one[0] or one[1] == "tempo") and sum(one[:2] == other[:2] for other in printed) == 1
    ]
    finds = [
        one
        for one in alone
        if one[1] != "tempo" and one[0] not in _over_bar_lines(found.extract.score)
        if sum(one[2] == other[2] for other in printed) == 1
    ]
    if not alone:
        return None
    if finds and rng.random() < 0.4:
        bar, what, meaning = rng.choice(finds)
        facts = TermInExtract(found.document, what, 0, scope.terms, meaning, found.block, found.credit)
        return Draft(facts, f"bar {bar}")
    bar, what, meaning = rng.choice(alone)
    return Draft(TermInExtract(found.document, what, bar, scope.terms, "", found.block, found.credit), meaning)


def _over_bar_lines(score: Score) -> frozenset[int]:
    """The bars where long lines begin that go on in the next: of two bars no one is the bar that has them."""
    bars = enumerate(score.staves[0].bars)
    return frozenset(score.bar_number(index) for index, bar in bars for one in bar.directions if one.until_bar)


def _printed(score: Score, level: int) -> list[tuple[int, str, str]]:
    """Every direction that can be asked: the number of its bar, its sort, and what it means."""
    signs = {sign.shown: sign.meaning for sign in signs_known(level)}
    words = {fold(term.term): term.meaning for term in core_terms(level)}
    found = []
    for index, bar in enumerate(score.staves[0].bars):
        for one in bar.directions:
            meaning = {
                "tempo": words.get(fold(one.text)) if index == 0 else None,
                "text": words.get(fold(one.text)),
                "dynamic": signs.get(("dynamic", one.text)),
            }.get(one.kind, signs.get(("hairpin", one.kind)))
            if meaning is not None:
                found.append((score.bar_number(index), _WHAT[one.kind], meaning))
    return found


def _pose(facts: TermInExtract, wording: Wording) -> Posed:
    if facts.meaning:
        end = "Choose its number." if wording.choosing else "Write its number."
        text = f"One bar has {_sign(facts.what)} for “{facts.meaning}”. Which bar is it? {end}"
    else:
        ask = "Which is the meaning?" if wording.choosing else "Write the meaning."
        text = f"Look at {_LOOK[facts.what].format(bar=facts.bar)}. {ask}"
    blocks = extract_blocks(facts.extract, wording, block=facts.block, credit=facts.credit)
    return Posed((TextBlock(wording.say(text)), *blocks), None if wording.choosing else WordsForm("phrase"))


def _sign(what: str) -> str:
    return {"letters": "the sign", "lines": "the long lines"}.get(what, "the word")


def _known(direction: Direction) -> Term | None:
    """The term a direction stands for, in letters, lines or words."""
    key = _STANDS_FOR.get(direction.text if direction.kind == "dynamic" else direction.kind)
    if key is not None:
        return term_of(key)
    said = fold(direction.text)
    return next((term for term in all_terms() if said in (fold(name) for name in (term.term, *term.other))), None)


def _directions(facts: TermInExtract) -> Iterator[tuple[int, Term, str]]:
    """The bar number of each direction of the sort asked, its term, and the id of the note it stands at."""
    score = score_of(facts.extract)
    for index, bar in enumerate(score.staves[0].bars):
        for one in bar.directions:
            term = _known(one) if _WHAT.get(one.kind) == facts.what else None
            if term is not None:
                at = bar.events[one.at].id if one.at < len(bar.events) else ""
                yield score.bar_number(index), term, at


def _found(facts: TermInExtract) -> tuple[int, Term, str]:
    """The one direction that is asked.

    Raises:
        BadDocument: there is none, or more than one.
    """
    if facts.meaning:
        found = [one for one in _directions(facts) if any(same_meaning(facts.meaning, m) for m in one[1].meanings)]
    else:
        found = [one for one in _directions(facts) if one[0] == facts.bar]
    if len(found) != 1:
        raise BadDocument(f"{len(found)} directions of the extract are what is asked; there must be one")
    return found[0]


def _solve(facts: TermInExtract) -> tuple[Answer, ...]:
    number, term, _ = _found(facts)
    if facts.meaning:
        reason = f"The sign for “{facts.meaning}”, {term.term.lower()}, stands in bar {number}."
        return (
            answer(Value(words=f"bar {number}"), f"bar {number}", reason),
            answer(Value(words=str(number)), str(number), f"{reason} The number alone says it."),
            answer(Value(words=f"{ordinal(number)} bar"), f"{ordinal(number)} bar", reason),
        )
    first = f"{term.term} is {term.language} for “{term.meaning}”."
    found = [answer(Value(words=term.meaning), term.meaning, first)]
    for other in term.accepted:
        found.append(answer(Value(words=other), other, f"“{other}” is another way to say what {term.term} means."))
    return tuple(found)


def _slips(facts: TermInExtract) -> tuple[Slip, ...]:
    number, term, _ = _found(facts)
    return _wrong_bars(facts, number, term) if facts.meaning else _wrong_meanings(facts, term)


def _wrong_meanings(facts: TermInExtract, term: Term) -> tuple[Slip, ...]:
    found: list[Slip] = []
    for name, other in mixed_up(term, facts.level, near=3):
        remedy = f"That is {other.term}. Find the sign again, and say its name before its meaning."
        found.append(slip(name, Value(words=other.meaning), other.meaning, remedy))
    return tuple(found)


def _wrong_bars(facts: TermInExtract, number: int, term: Term) -> tuple[Slip, ...]:
    score = score_of(facts.extract)
    found: list[Slip] = []

    def add(name: str, bar: int, remedy: str) -> None:
        if bar != number and 1 <= bar <= score.bar_number(len(score.staves[0].bars) - 1):
            text = f"bar {bar}"
            if all(text != one.text for one in found):
                found.append(slip(name, Value(words=text), text, remedy))

    for bar, other, _ in _directions(facts):
        if other.key != term.key:
            add("took another sign for it", bar, f"In bar {bar} stands {other.term.lower()}: “{other.meaning}”.")
    add("counted the upbeat as a bar", number + 1 if score.anacrusis else 0, "Bar 1 is the first whole bar.")
    add("one bar too early", number - 1, "Count the bars again: each ends at a bar line.")
    add("one bar too late", number + 1, "Count the bars again: each ends at a bar line.")
    add("took the first bar", 1, "Go through the music to its end.")
    return tuple(found)


def _neighbours(facts: TermInExtract) -> tuple[Value, ...]:
    number, term, _ = _found(facts)
    if facts.meaning:
        last = score_of(facts.extract).bar_number(len(facts.extract.staves[0].bars) - 1)
        return tuple(Value(words=f"bar {bar}") for bar in range(1, last + 1) if bar != number)
    said = [one.text for one in _wrong_meanings(facts, term)]
    return tuple(Value(words=one) for one in further_meanings(term, facts.level, said))


def _work(facts: TermInExtract, method: str) -> tuple[Step, ...]:
    number, term, at = _found(facts)
    ids = (at,) if at else ()
    far = next(iter((*opposites(term, facts.level), *neighbours(term, facts.level))), None)
    check = Step(f"Check: it is not {far.term}, which means “{far.meaning}”." if far else "Check: look at it again.")
    if facts.meaning:
        return (
            Step(f"The sign for “{facts.meaning}” is {term.term.lower()}.", (), term.term.lower()),
            Step("Go through the music bar by bar and look below the stave."),
            Step(f"It stands in bar {number}.", ids, "tick"),
            Step("Check: count the bars again from the first whole bar."),
        )
    where = "at the beginning" if facts.what == "tempo" else f"in bar {number}"
    return (
        Step(f"Find it {where} and say its name: {term.term.lower()}.", ids, term.term.lower()),
        Step(f"It means “{term.meaning}”.", ids, term.meaning),
        check,
    )


def _difficulty(facts: TermInExtract) -> float:
    """Letters and lines are easier than words; finding one takes a little longer (common practice)."""
    return -1.4 + {"tempo": 0.3, "word": 0.4}.get(facts.what, 0.0) + (0.2 if facts.meaning else 0.0)


def _tokens(facts: TermInExtract) -> frozenset[str]:
    return frozenset({f"term:{_found(facts)[1].term.casefold()}"})


KIND = Kind(
    id="term-in-extract",
    topic="terms",
    since=1,
    title="Directions in the music",
    facts=TermInExtract,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"term-in-extract/{'find' if facts.meaning else facts.what}",
    pool=lambda scope: None,
    seconds=20,
    marking=Marking("all-or-nothing", meaning=True),
    extract=True,
    neighbours=_neighbours,
    asks=_tokens,
    shows=_tokens,
)
