"""Judging statements about an extract: true or false by one rule each, with the reason in words."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from stavewright.questions.properties import Property
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.solving.finders import (
    FINDERS,
    LOUDNESS,
    dotted,
    leap,
    moved_by,
    neighbours,
    numbered,
    struck,
)
from stavewright.questions.solving.line import Sung, SungBar, line_of
from stavewright.questions.values import Place
from stavewright.theory.degree import degree_name, degree_of
from stavewright.theory.duration import Duration
from stavewright.theory.interval import between, ordinal
from stavewright.theory.key_proof import prove_key

Line = tuple[SungBar, ...]
Verdict = tuple[bool, str]
HOW_LOUD = {
    "ppp": "as quietly as possible", "pp": "very quietly", "p": "quietly", "mp": "moderately quietly",
    "mf": "moderately loudly", "f": "loudly", "ff": "very loudly", "fff": "as loudly as possible",
}  # fmt: skip
_FEWEST = 3


def judge(extract: ScoreDocument, said: Property) -> Verdict:
    """Whether a statement is true of the extract, and why.

    >>> from stavewright.questions.score_mirror import document_of
    >>> from stavewright.score.stave import single
    >>> from stavewright.score.writing import row_of
    >>> from stavewright.theory.pitch import Pitch
    >>> music = document_of(single("treble", row_of([Pitch("C", 0, 5), Pitch("A", 0, 4)])))
    >>> judge(music, Property("highest", word="A"))
    (False, 'the highest note is C')
    """
    line = line_of(extract)
    rule = JUDGES.get(said.about)
    if rule is not None:
        return rule(line, said)
    if said.about in ("first-note", "last-note"):
        return _degree(line, said, extract.staves[0].fifths or 0)
    if said.about in _IN_A_BAR:
        holds = Place(said.bar) in FINDERS[said.about](line, said)
        return holds, f"bar {said.bar} {_IN_A_BAR[said.about][0 if holds else 1]}"
    return False, "nothing in the music says so"


_IN_A_BAR = {
    "syncopation": (
        "holds a note from off the beat through a beat",
        "has no note held from off the beat through a beat",
    ),
    "tuplet": ("has the small number over its notes", "has no such number over its notes"),
    "held-over": ("begins with a tied note", "begins with a new note"),
    "accidental": ("has a sign before a note", "has no sign before a note"),
    "rest": ("has a rest", "has notes only"),
    "hairpin": ("is where that hairpin begins", "has no such hairpin that begins there"),
}


def _name(line: Line, about: str) -> str:
    place = FINDERS[about](line, Property(about))[0]
    return next(note.pitch.name.text for note in struck(line) if note.place == place)


def _extreme(line: Line, said: Property) -> Verdict:
    name = _name(line, said.about)
    return name == said.word, f"the {said.about} note is {name}"


def _length(line: Line, said: Property) -> Verdict:
    place = FINDERS[said.about](line, Property(said.about))[0]
    found = next(note for note in struck(line) if note.place == place)
    value = "made of tied notes" if found.note.tie else f"a {found.note.duration.text}"
    return found.sounding == Duration.parse(said.word).ticks, f"the {said.about} note is {value}"


def _pair(line: Line, said: Property) -> tuple[SungBar, SungBar] | None:
    one, other = numbered(line, said.bar), numbered(line, said.other)
    return None if one is None or other is None else (one, other)


def _same_rhythm(line: Line, said: Property) -> Verdict:
    holds = Place(said.other) in FINDERS["same-rhythm"](line, said)
    return holds, f"the values of bars {said.bar} and {said.other} are {'the same' if holds else 'not the same'}"


def _same_notes(line: Line, said: Property) -> Verdict:
    pair = _pair(line, said)
    holds = pair is not None and moved_by(*pair) == 0
    return (
        holds,
        f"bars {said.bar} and {said.other} are {'alike note for note' if holds else 'not alike note for note'}",
    )


def _sequence(line: Line, said: Property) -> Verdict:
    pair = _pair(line, said)
    moved = moved_by(*pair) if pair is not None and len(pair[0].notes) >= _FEWEST else None
    if moved:
        size, way = ordinal(abs(moved) + 1), "higher" if moved > 0 else "lower"
        return True, f"every note of bar {said.other} is {_article(size)} {way}"
    return False, f"bar {said.other} does not move the same pattern"


def _interval(line: Line, said: Property) -> Verdict:
    bar = numbered(line, said.bar)
    if bar is None or len(bar.notes) < 2:
        return False, f"bar {said.bar} has no two notes"
    found = between(bar.notes[0].pitch, bar.notes[1].pitch)
    names = (*found.names, ordinal(found.number), f"{found.quality_text} {ordinal(found.number)}")
    return (
        said.word in names,
        f"they are {_article(found.text)} apart" if " " in said.word else f"they span {found.number} letters",
    )


def _article(name: str) -> str:
    """The name of an interval with its article: an octave, an augmented 4th, a 5th."""
    said = "octave" if name == "8th" else name
    return f"{'an' if said[0] in 'aeiou' or said.startswith('11') else 'a'} {said}"


def _leaps(line: Line) -> list[tuple[int, Sung, Sung]]:
    return [(leap(a, b), a, b) for bar in line for a, b in neighbours(bar)]


def _largest_leap(line: Line, said: Property) -> Verdict:
    most = max((size for size, _, _ in _leaps(line)), default=0)
    return ordinal(most + 1) == said.word, f"the largest leap is {_article(ordinal(most + 1))}"


def _step(line: Line, said: Property) -> Verdict:
    bar = numbered(line, said.bar)
    holds = bar is not None and len(bar.notes) >= _FEWEST and all(leap(a, b) == 1 for a, b in pairwise(bar.notes))
    return holds, f"the notes of bar {said.bar} are {'all neighbours' if holds else 'not all neighbours'}"


def _dotted(line: Line, said: Property) -> Verdict:
    bar = numbered(line, said.bar)
    holds = bar is not None and dotted(bar)
    return holds, f"bar {said.bar} has {'a' if holds else 'no'} dot after a note"


def _beats(line: Line, said: Property) -> Verdict:
    time = line[0].time
    if time is None:
        return False, "there is no time signature"
    why = f"{time.text} means {time.count} {time.beat.text} beats in a bar"
    return (time.count, time.beat.text) == (said.number, said.word), why


def _metre(line: Line, said: Property) -> Verdict:
    time = line[0].time
    return (time is not None and time.description == said.word), f"{time.text if time else 'it'} is " + (
        time.description if time else "without metre"
    )


def _begins(line: Line, said: Property) -> Verdict:
    first = line[0].bar.directions
    marks = [d.text for d in first if d.kind == "dynamic" and d.at == 0 and d.text in LOUDNESS]
    word = HOW_LOUD[marks[0]] if marks else "without a dynamic mark"
    return word == said.word, f"it begins {marks[0]}, {word}" if marks else f"it begins {word}"


def _upbeat(line: Line, said: Property) -> Verdict:
    holds = line[0].number == 0
    return holds, f"the first bar is {'not whole' if holds else 'a whole bar'}"


def _octave(line: Line, said: Property) -> Verdict:
    places = [note.pitch.diatonic for note in struck(line)]
    span = max(places) - min(places) + 1
    return span <= 8, f"from the lowest note to the highest it spans {span} letters"


def _degree(line: Line, said: Property, fifths: int) -> Verdict:
    notes = list(struck(line))
    proof = prove_key([note.pitch for note in notes], fifths)
    if proof.key is None:
        return False, "the key cannot be proved"
    note = notes[0] if said.about == "first-note" else notes[-1]
    degree = degree_of(note.pitch, proof.key)
    lowered = degree.number == 7 and degree.alter < (1 if proof.key.is_minor else 0)
    name = degree_name(degree.number, lowered=lowered)
    return name == said.word, f"{note.pitch.name.text} is the {name} of {proof.key.text}"


JUDGES: dict[str, Callable[[Line, Property], Verdict]] = {
    "highest": _extreme,
    "lowest": _extreme,
    "longest": _length,
    "shortest": _length,
    "same-rhythm": _same_rhythm,
    "same-notes": _same_notes,
    "sequence": _sequence,
    "interval": _interval,
    "largest-leap": _largest_leap,
    "step": _step,
    "dotted": _dotted,
    "beats": _beats,
    "metre": _metre,
    "begins": _begins,
    "upbeat": _upbeat,
    "octave": _octave,
}
"""Every statement with a rule of its own; those about one bar go by the finder of the same name."""

STATEMENTS = (*JUDGES, *_IN_A_BAR, "first-note", "last-note")
"""Every kind of statement that can be judged."""


def points(extract: ScoreDocument, said: Property) -> tuple[str, ...]:
    """The ids of the notes to look at for a statement."""
    line = line_of(extract)
    asked = {number for number in (said.bar, said.other) if number}
    if asked:
        most = 2 if said.about == "interval" else None
        return tuple(n.note.id for bar in line if bar.number in asked for n in bar.notes[:most] if n.note.id)
    if said.about in ("highest", "lowest", "longest", "shortest"):
        places = FINDERS[said.about](line, Property(said.about))
        return tuple(n.note.id for n in struck(line) if n.place in places and n.note.id)
    notes = [note.note.id for note in struck(line) if note.note.id]
    return {"first-note": tuple(notes[:1]), "last-note": tuple(notes[-1:])}.get(said.about, ())
