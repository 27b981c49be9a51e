"""Judging statements about an extract by a known wrong rule: what a pupil with that habit would call true."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from stavewright.questions.properties import Property
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.solving.finders import FINDERS, dotted, numbered, struck
from stavewright.questions.solving.judging import HOW_LOUD, judge
from stavewright.questions.solving.line import line_of
from stavewright.theory.interval import ordinal

WrongRule = Callable[[ScoreDocument, Property], bool | None]


def _by_gap(extract: ScoreDocument, said: Property) -> bool | None:
    """The pupil counts the gap, so that a 5th is called a 4th."""
    if said.about not in ("interval", "largest-leap"):
        return None
    figures = "".join(c for c in said.word if c.isdigit())
    return judge(extract, replace(said, word=ordinal(int(figures) + 1)))[0] if figures else None


def _letters_only(extract: ScoreDocument, said: Property) -> bool | None:
    """The pupil reads the letter of a note and forgets the signature."""
    if said.about not in ("highest", "lowest"):
        return None
    line = line_of(extract)
    places = FINDERS[said.about](line, Property(said.about))
    return any(note.pitch.step == said.word for note in struck(line) if note.place in places)


def _upbeat_counted(extract: ScoreDocument, said: Property) -> bool | None:
    """The pupil counts the upbeat as bar 1."""
    if not said.bar or line_of(extract)[0].number:
        return None
    if said.bar < 2 or said.other == 1:
        return False
    return judge(extract, replace(said, bar=said.bar - 1, other=said.other - 1 if said.other else 0))[0]


def _dots_for_syncopation(extract: ScoreDocument, said: Property) -> bool | None:
    """The pupil takes a dotted rhythm for syncopation."""
    bar = numbered(line_of(extract), said.bar)
    return None if said.about != "syncopation" or bar is None else dotted(bar)


def _look_alike(extract: ScoreDocument, said: Property) -> bool | None:
    """The pupil compares less than is asked: the number of notes for the rhythm, the rhythm for the notes."""
    line = line_of(extract)
    one, other = numbered(line, said.bar), numbered(line, said.other)
    if one is None or other is None:
        return None
    if said.about == "same-rhythm":
        return len(one.notes) == len(other.notes)
    return judge(extract, replace(said, about="same-rhythm"))[0]


_SWAPPED = {"highest": "lowest", "lowest": "highest", "longest": "shortest", "shortest": "longest"}


def _opposites(extract: ScoreDocument, said: Property) -> bool | None:
    """The pupil mixes opposites: highest and lowest, louder and quieter."""
    if said.about in _SWAPPED:
        return judge(extract, replace(said, about=_SWAPPED[said.about]))[0]
    if said.about == "hairpin":
        word = "diminuendo" if said.word == "crescendo" else "crescendo"
        return judge(extract, replace(said, word=word))[0]
    if said.about == "begins" and said.word in HOW_LOUD.values():
        words = list(HOW_LOUD.values())
        return judge(extract, replace(said, word=words[-1 - words.index(said.word)]))[0]
    return None


WRONG_RULES: dict[str, tuple[WrongRule, str]] = {
    "counted the gap": (_by_gap, "Count both notes of an interval: the first one is 1."),
    "signature forgotten": (_letters_only, "A note has the sharp or flat of the key signature in its name."),
    "upbeat counted as bar 1": (_upbeat_counted, "Bar 1 is the first whole bar."),
    "dotted rhythm for syncopation": (_dots_for_syncopation, "Ask where the note begins: on the beat or off it?"),
    "looked at too little": (_look_alike, "Compare both bars note by note: first the values, then the places."),
    "opposites mixed": (_opposites, "Read the word again: is it the high or the low, the loud or the soft one?"),
}
"""Each known wrong rule (None where it says nothing about a statement) and what to tell the pupil."""


def judged_wrongly(extract: ScoreDocument, said: tuple[Property, ...], rule: WrongRule) -> tuple[bool, ...]:
    """What a pupil with the wrong rule calls true; where the rule says nothing, the right verdict."""
    found: list[bool] = []
    for one in said:
        wrong = rule(extract, one)
        found.append(judge(extract, one)[0] if wrong is None else wrong)
    return tuple(found)
