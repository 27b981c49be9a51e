"""Say how a bar is to be played: how fast, how loud it is by then, how the loudness changes, how notes are touched."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import BarDocument, NoteDocument, ScoreDocument
from stavewright.questions.setting.flat_line import FlatBar, flatten
from stavewright.questions.setting.in_hand import in_hand
from stavewright.questions.showing.extract import extract_blocks
from stavewright.questions.solving.mixed_terms import mixed_up
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.meanings import fold, too_near
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.signs import all_signs, signs_known
from stavewright.syllabus.terms import Term, all_terms, core_terms

_BARS = 8
_LEVELS = ("ppp", "pp", "p", "mp", "mf", "f", "ff", "fff")
_TOUCHES = ("staccato", "staccatissimo", "tenuto", "accent", "strong-accent")
_HAIRPINS = ("crescendo", "diminuendo")
_OPPOSITE = {"crescendo": "diminuendo", "diminuendo": "crescendo"}
_ASK = {
    "speed": "At what speed is this music to be played?",
    "loudness": "What does the dynamic sign that holds in bar {bar} tell the player?",
    "change": "How does the loudness change in bar {bar}?",
    "touch": "In bar {bar}, look at the notes that have a small sign above or below the head; leave curved lines "
    "aside. How are they to be played?",
}
_LOOK = {
    "speed": "Look at the word over the beginning of the music.",
    "loudness": "A dynamic sign holds until the next one: look at bar {bar}, and then back to the last sign before it.",
    "change": "Look at the two long lines below bar {bar}: do they open or close?",
    "touch": "Look at the signs above and below the note heads of bar {bar}.",
}


class PerformTheExtract(Facts, frozen=True, forbid_unknown_fields=True):
    """The extract as it is printed, the bar that is asked of, and what of it; `level` is that of the terms known."""

    extract: ScoreDocument
    aspect: Annotated[str, Meta(pattern="^(speed|loudness|change|touch)$", max_length=12)]
    bar: Annotated[int, Meta(ge=0, le=2000)]
    level: Annotated[int, Meta(ge=1, le=5)]
    block: str = "extract"
    credit: str = ""


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    found = in_hand(scope, rng, stimulus, melodies, _BARS)
    bars = None if found is None else flatten(found.extract.score)
    if found is None or bars is None:
        return None
    fair = list(_askable(bars, scope))
    if not fair:
        return None
    aspect = rng.choice(sorted({one[0] for one in fair}))
    _, bar, meaning = rng.choice([one for one in fair if one[0] == aspect])
    facts = PerformTheExtract(found.document, aspect, bar, scope.terms, found.block, found.credit)
    return Draft(facts, Value(words=meaning))


def _askable(bars: list[FlatBar], scope: Scope) -> Iterator[tuple[str, int, str]]:
    """What can be asked of which bar, and the meaning: only where nothing between the sign and the bar is in doubt."""
    signs = {sign.shown: sign.meaning for sign in signs_known(scope.terms)}
    words = {term.term: term.meaning for term in core_terms(scope.terms)}
    level, lasting = "", 0
    for index, bar in enumerate(bars):
        kinds = [one.kind for one in bar.directions]
        for one in bar.directions:
            if one.kind == "tempo" and index == 0 and one.text in words and kinds.count("tempo") == 1:
                yield "speed", bar.number, words[one.text]
        pins = [one for one in bar.directions if one.kind in _HAIRPINS]
        marks = [one for one in bar.directions if one.kind == "dynamic"]
        if any(one.kind == "text" for one in bar.directions):
            level = ""
        if marks:
            plain = len(marks) == 1 and marks[0].at == 0
            level = marks[0].text if plain else ""
        meaning = signs.get(("dynamic", level))
        if level and meaning and bar.number and not marks and not pins and not lasting:
            yield "loudness", bar.number, meaning
        if len(pins) == 1 and pins[0].at == 0 and not lasting and bar.number and ("hairpin", pins[0].kind) in signs:
            yield "change", bar.number, signs["hairpin", pins[0].kind]
        if pins or lasting:
            level = "" if not marks or pins else level
        lasting = max([lasting - 1, *(one.until_bar for one in pins), 0])
        touches = {mark for note in bar.notes for mark in note.marks}
        if len(touches) == 1 and bar.number:
            (touch,) = touches
            if touch in _TOUCHES and ("mark", touch) in signs:
                yield "touch", bar.number, signs["mark", touch]


def _pose(facts: PerformTheExtract, wording: Wording) -> Posed:
    say = "Choose what the music says." if wording.choosing else "Say it in plain words."
    ask = TextBlock(wording.say(f"{_ASK[facts.aspect].format(bar=facts.bar)} {say}"))
    blocks = extract_blocks(facts.extract, wording, block=facts.block, credit=facts.credit)
    return Posed((ask, *blocks), None if wording.choosing else WordsForm("phrase"))


def _bars(facts: PerformTheExtract) -> list[tuple[int, BarDocument]]:
    first = 0 if facts.extract.anacrusis else 1
    return list(enumerate(facts.extract.staves[0].bars, first))


def _signs(facts: PerformTheExtract) -> list[tuple[int, str]]:
    """The signs of the aspect by their ids (a tempo by its word), each with its bar, in the order they are printed."""
    ids = {sign.shown: sign.id for sign in all_signs().values()}
    found: list[tuple[int, str]] = []
    for number, bar in _bars(facts):
        if facts.aspect == "touch":
            notes = [event for event in bar.voices[0] if isinstance(event, NoteDocument)]
            found += [(number, ids["mark", mark]) for note in notes for mark in note.marks if mark in _TOUCHES]
        for one in bar.directions:
            if facts.aspect == "speed" and one.kind == "tempo":
                found.append((number, one.text))
            elif facts.aspect == "change" and one.kind in _HAIRPINS:
                found.append((number, ids["hairpin", one.kind]))
            elif facts.aspect == "loudness" and one.kind == "dynamic" and one.text in _LEVELS:
                found.append((number, ids["dynamic", one.text]))
    return found


def _found(facts: PerformTheExtract) -> tuple[int, str] | None:
    """The sign that holds in the bar, and the bar it stands in."""
    signs = _signs(facts)
    if facts.aspect == "speed":
        return signs[0] if signs else None
    if facts.aspect == "loudness":
        return next((one for one in reversed(signs) if one[0] <= facts.bar), None)
    return next((one for one in signs if one[0] == facts.bar), None)


def _term(word: str) -> Term | None:
    return next((term for term in all_terms() if fold(term.term) == fold(word)), None)


def _meanings(facts: PerformTheExtract, sign: str) -> tuple[str, ...]:
    """Every right way to say what a sign means, the usual one first."""
    if facts.aspect == "speed":
        term = _term(sign)
        return () if term is None else term.meanings
    known = all_signs().get(sign)
    return () if known is None else known.right("meaning")


def _solve(facts: PerformTheExtract) -> tuple[Answer, ...]:
    found = _found(facts)
    if found is None:
        return ()
    where, sign = found
    at = "at the beginning" if where == 0 or facts.aspect == "speed" else f"in bar {where}"
    reason = f"{_named(facts, sign)} {at} means “{next(iter(_meanings(facts, sign)), '')}”."
    if facts.aspect == "loudness" and where != facts.bar:
        reason += f" It still holds in bar {facts.bar}, for no other sign of loudness comes between."
    return tuple(answer(Value(words=said), said, reason) for said in _meanings(facts, sign))


def _named(facts: PerformTheExtract, sign: str) -> str:
    if facts.aspect == "speed":
        return sign
    name = all_signs()[sign].name
    return f"The sign {sign} ({name})" if facts.aspect == "loudness" else f"The sign for {name}"


def _wrong(facts: PerformTheExtract, sign: str) -> Iterator[tuple[str, str]]:
    """What known mistakes read instead: a name and the sign that is read."""
    if facts.aspect == "speed":
        return
    signs = [one for _, one in _signs(facts)]
    if facts.aspect == "loudness":
        later = [one for number, one in _signs(facts) if number > facts.bar]
        yield "took the next sign", later[0] if later else ""
        yield "took the first sign", signs[0]
        yield "mixed loud and soft", sign.translate(str.maketrans("pf", "fp"))
    elif facts.aspect == "change":
        turned = ("hairpin", _OPPOSITE[all_signs()[sign].shown[1]])
        yield "opening and closing mixed", next(one.id for one in all_signs().values() if one.shown == turned)
    for other in all_signs()[sign].confused:
        yield "took it for another sign", other


def _offered(facts: PerformTheExtract) -> list[tuple[str, str, str]]:
    """Wrong meanings, each with the name of the slip and the sign it belongs to; none near a right one or another."""
    found = _found(facts)
    if found is None:
        return []
    _, sign = found
    right = _meanings(facts, sign)
    kept: list[tuple[str, str, str]] = []
    ways = [(name, other, next(iter(_meanings(facts, other)), "")) for name, other in _wrong(facts, sign)]
    if facts.aspect == "speed":
        own = _term(sign)
        family = [] if own is None else mixed_up(own, facts.level, near=4, fair=lambda t: t.family == own.family)
        ways += [(name, term.term, term.meaning) for name, term in family]
    for name, other, meaning in ways:
        near = [*right, *(one for _, _, one in kept)]
        if meaning and not any(too_near(meaning, one) for one in near):
            kept.append((name, other, meaning))
    return kept


def _slips(facts: PerformTheExtract) -> tuple[Slip, ...]:
    look = _LOOK[facts.aspect].format(bar=facts.bar)
    found = []
    for name, other, meaning in _offered(facts)[:4]:
        hint = f"{look} That would be {other}: say both words with their meanings." if facts.aspect == "speed" else look
        found.append(slip(name, Value(words=meaning), meaning, hint))
    return tuple(found)


def _neighbours(facts: PerformTheExtract) -> tuple[Value, ...]:
    said = [one for _, _, one in _offered(facts)]
    found = _found(facts)
    right = () if found is None else _meanings(facts, found[1])
    family = {"loudness": "loudness", "change": "loudness", "touch": "touch"}.get(facts.aspect, "loudness")
    more: list[str] = []
    for sign in signs_known(max(facts.level, 2)):
        if sign.family == family and not any(too_near(sign.meaning, one) for one in (*right, *said, *more)):
            more.append(sign.meaning)
    return tuple(Value(words=one) for one in more)


def _work(facts: PerformTheExtract, method: str) -> tuple[Step, ...]:
    found = _found(facts)
    where, sign = found if found is not None else (facts.bar, "")
    bar = next((one for number, one in _bars(facts) if number == where), None)
    ids = () if bar is None or not bar.voices[0][0].id else (bar.voices[0][0].id,)
    meaning = next(iter(_meanings(facts, sign)), "")
    return (
        Step(_LOOK[facts.aspect].format(bar=facts.bar), (), ""),
        Step(f"It is {_named(facts, sign)[0].lower() + _named(facts, sign)[1:]}.", ids, sign),
        Step(f"That means “{meaning}”.", (), meaning),
        Step("Check: sing or tap the bar in that way.", (), ""),
    )


def _difficulty(facts: PerformTheExtract) -> float:
    """A sign that stands bars earlier is harder to find than one in the bar itself (common practice)."""
    found = _found(facts)
    away = 0 if found is None else min(facts.bar - found[0], 4)
    return {"speed": -0.8, "loudness": -1.0, "change": -1.1, "touch": -0.6}[facts.aspect] + 0.2 * away


def _tokens(facts: PerformTheExtract) -> frozenset[str]:
    found = _found(facts)
    sign = "" if found is None else found[1]
    return frozenset({f"term:{sign.casefold()}" if facts.aspect == "speed" else f"sign:{sign}"})


KIND = Kind(
    id="perform-the-extract",
    topic="terms",
    since=2,
    title="How is it played?",
    facts=PerformTheExtract,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"perform-the-extract/{facts.aspect}",
    pool=lambda scope: None,
    seconds=25,
    marking=Marking("all-or-nothing", meaning=True),
    extract=True,
    neighbours=_neighbours,
    asks=_tokens,
)
