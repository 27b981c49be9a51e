"""Making one choice out of an answer, its slips and its neighbours; two right options never stand together."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from string import ascii_lowercase
from typing import Any

from stavewright.questions.balancing import LOOKED_AT, beside
from stavewright.questions.comparing import compare_all, same
from stavewright.questions.documents import Answer, ChoiceForm, Option, Slip
from stavewright.questions.kind import Kind
from stavewright.questions.score_mirror import document_of
from stavewright.questions.showing.extract import spoken_extract
from stavewright.questions.showing.pictures import picture
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording


def is_right(value: Value | tuple[Value, ...], answers: Sequence[Answer], kind: Kind) -> bool:
    """Whether a value of the kind's own form (or one for each form asked for) is one of the accepted answers."""
    values = value if isinstance(value, tuple) else (value,)
    if len(values) == 1:
        return any(same(values[0], one.value[0], kind.marking) for one in answers)
    return any(compare_all(values, one.value, kind.marking).same for one in answers)


def choice(
    kind: Kind,
    facts: Any,
    answers: Sequence[Answer],
    slips: Sequence[Slip],
    rng: Random,
    wording: Wording,
) -> ChoiceForm | None:
    """Offer four options, exactly one of them right, or None where fewer than three fair ones exist.

    A kind's own closed set keeps its order; otherwise the slips come first as wrong options, then near neighbours.
    The first slip is the likeliest; the next three change places by chance, and likeness decides which of all stand
    beside the right one, so that no pattern of options (one less and one more beside the right number, three that each
    change one thing about a fourth) tells which is right.
    """
    if kind.options is not None:
        fixed = list(kind.options(facts))
        if sum(is_right(value, answers, kind) for value in fixed) != 1 or len(fixed) < 2:
            return None
        return ChoiceForm(tuple(_option(kind, facts, i, value, wording) for i, value in enumerate(fixed)))
    chosen = [answers[0].value[0]]
    pool = [one.value[0] for one in slips]
    pool[1:4] = rng.sample(pool[1:4], len(pool[1:4]))
    near = list(kind.neighbours(facts))
    rng.shuffle(near)
    wrong: list[Value] = []
    for value in [*pool, *near]:
        if len(wrong) == LOOKED_AT:
            break
        if not is_right(value, answers, kind) and not _alike(value, chosen[0], wrong, kind):
            wrong.append(value)
    chosen += beside(chosen[0], wrong, rng)
    if len(chosen) < 3:
        return None
    rng.shuffle(chosen)
    return ChoiceForm(tuple(_option(kind, facts, i, value, wording) for i, value in enumerate(chosen)))


def _alike(value: Value, right: Value, wrong: Sequence[Value], kind: Kind) -> bool:
    """Whether an option passes for another; a meaning that says more may pass for one that says less."""
    if any(same(value, one, kind.marking) for one in wrong):
        return True
    return kind.marking.meaning and any(same(one, value, kind.marking) for one in (right, *wrong))


def _option(kind: Kind, facts: Any, index: int, value: Value, wording: Wording) -> Option:
    letter = ascii_lowercase[index]
    if value.form == "words":
        return Option(letter, text=wording.say(value.content), value=value)
    if value.form == "number":
        return Option(letter, text=str(value.content), value=value)
    if value.form == "chords":
        return Option(letter, text=" - ".join(value.content), value=value)
    if kind.tell is not None:
        return Option(letter, text=wording.say(kind.tell(facts, value)), value=value)
    if kind.draw is None:
        raise TypeError(f"kind {kind.id} offers {value.form} to choose from, so it needs `draw` or `tell`")
    score = kind.draw(facts, value)
    # Several bars are said as an extract is, note by note, so that all options are said to their end.
    long = value.form == "notes" and len(score.staves[0].bars) > 1
    said = spoken_extract(score) if long else picture(score, shapes=value.form == "rhythm")
    return Option(letter, score=document_of(score), alt=wording.say(f"Music, answer {letter}. {said}"), value=value)
