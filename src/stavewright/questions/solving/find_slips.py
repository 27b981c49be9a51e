"""What pupils take for the thing they are to find, each as a rule of its own, and how to look for it."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from stavewright.questions.properties import Property
from stavewright.questions.solving.finders import FINDERS, Line, dotted, moved_by, numbered, rhythm_of
from stavewright.questions.solving.line import SungBar
from stavewright.questions.values import Place
from stavewright.score.event import Note
from stavewright.theory.duration import Duration
from stavewright.theory.interval import Interval, ordinal

Wrong = tuple[str, tuple[Place, ...]]

UPBEAT = "upbeat counted as bar 1"
HOW = {
    "highest": "Look for the note that stands highest on the stave.",
    "lowest": "Look for the note that stands lowest on the stave.",
    "longest": "Compare the values: open notes and dots are long, and a tie adds two together.",
    "shortest": "Compare the values: the most tails or beams is the shortest.",
    "same-rhythm": "Tap the rhythm of the bar and leave the notes aside.",
    "same-notes": "Compare note by note: places on the stave and values must both be the same.",
    "sequence": "Look for the same shape and rhythm, higher or lower on the stave.",
    "run-up": "Every note must be on the next line or space up.",
    "run-down": "Every note must be on the next line or space down.",
    "interval": "Count lines and spaces from one note to the next, and call the first one 1.",
    "largest-leap": "Look for the widest gap between two notes side by side.",
    "syncopation": "Look for a note that begins off the beat and lasts past the next beat.",
    "tuplet": "Look for the small number over or under the notes.",
    "value": "Look at note heads, stems, tails and dots.",
    "held-over": "Look for a curve over the bar line that joins two notes of one pitch.",
    "accidental": "Look for a sharp, flat or natural printed just before a note.",
    "rest": "Look for a sign of silence between the notes.",
    "hairpin": "A crescendo opens out, a diminuendo closes.",
    "loudest": "f is loud and p is soft; more letters mean more of it.",
    "quietest": "p is soft and f is loud; more letters mean more of it.",
    "marked": "Look above and below the note heads.",
}


def how_to_find(search: Property) -> str:
    """How to look for a thing; for an interval of a kind, how many semitones tell it from its neighbours.

    >>> how_to_find(Property("interval", word="minor 3rd"))
    'Count lines and spaces from one note to the next, and call the first one 1. A minor 3rd has 3 semitones.'
    """
    said = HOW[search.about]
    if search.about == "interval" and " " in search.word:
        size = Interval.parse(search.word).semitones
        article = "An" if search.word[0] in "aeiou" else "A"
        said += f" {article} {search.word} has {size} semitone{'' if size == 1 else 's'}."
    return said


_OPPOSITE = {
    "highest": "lowest", "lowest": "highest", "longest": "shortest", "shortest": "longest", "run-up": "run-down",
    "run-down": "run-up", "loudest": "quietest", "quietest": "loudest",
}  # fmt: skip
_NEXT_VALUE = {"semibreve": "minim", "minim": "crotchet", "crotchet": "quaver", "quaver": "semiquaver"}


def wrong_finds(line: Line, search: Property, right: tuple[Place, ...]) -> list[Wrong]:
    """The bars or notes that known mistakes point at: as many as are asked for, the first that the wrong rule gives."""
    found: list[Wrong] = []
    other = _OPPOSITE.get(search.about)
    if other is not None:
        found.append((f"{_said(other)} for {_said(search.about)}", FINDERS[other](line, search)))
    if search.about == "hairpin":
        word = "diminuendo" if search.word == "crescendo" else "crescendo"
        found.append(("hairpins mixed", FINDERS["hairpin"](line, Property("hairpin", word=word))))
    for name, holds in _RULES.get(search.about, ()):
        bars = tuple(Place(bar.number) for bar in line if bar.number != search.bar and holds(line, bar, search))
        found.append((name, bars))
    found = [(name, _first(places, right)) for name, places in found]
    if line and line[0].number == 0:
        found.append((UPBEAT, tuple(Place(place.bar + 1, place.note) for place in right)))
    return [(name, places) for name, places in found if places]


def _first(places: tuple[Place, ...], right: tuple[Place, ...]) -> tuple[Place, ...]:
    """The first of the wrong places, as many as the question asks for; an upbeat has no number to give."""
    return tuple(place for place in sorted(places) if place.bar and place not in right)[: len(right)]


def _said(about: str) -> str:
    return about.replace("-", " ")


def _model(line: Line, search: Property) -> SungBar | None:
    return numbered(line, search.bar)


def _as_many_notes(line: Line, bar: SungBar, search: Property) -> bool:
    model = _model(line, search)
    return model is not None and len(bar.notes) == len(model.notes)


def _same_rhythm(line: Line, bar: SungBar, search: Property) -> bool:
    model = _model(line, search)
    return model is not None and rhythm_of(bar) == rhythm_of(model)


def _same_start(line: Line, bar: SungBar, search: Property) -> bool:
    model = _model(line, search)
    return bool(model and model.notes and bar.notes and model.notes[0].pitch == bar.notes[0].pitch)


def _exact_repeat(line: Line, bar: SungBar, search: Property) -> bool:
    model = _model(line, search)
    return model is not None and moved_by(model, bar) == 0


def _moved(line: Line, bar: SungBar, search: Property) -> bool:
    model = _model(line, search)
    return model is not None and bool(moved_by(model, bar))


def _one_too_wide(line: Line, bar: SungBar, search: Property) -> bool:
    number = search.word.rsplit(" ", 1)[-1]
    size = int("".join(c for c in number if c.isdigit()) or 0)
    return _holds(line, bar, Property("interval", word=ordinal(size + 1)))


def _number_only(line: Line, bar: SungBar, search: Property) -> bool:
    return _holds(line, bar, Property("interval", word=search.word.rsplit(" ", 1)[-1]))


def _holds(line: Line, bar: SungBar, search: Property) -> bool:
    return Place(bar.number) in FINDERS[search.about](line, search)


def _three_beamed(line: Line, bar: SungBar, search: Property) -> bool:
    groups: dict[int, int] = {}
    for note in bar.notes:
        event = note.note
        if isinstance(event, Note) and event.beam is not None and event.duration.tuplet is None:
            groups[event.beam] = groups.get(event.beam, 0) + 1
    return search.number in groups.values()


def _neighbour_value(line: Line, bar: SungBar, search: Property) -> bool:
    plain = search.word.rsplit(" ", 1)[-1]
    other = _NEXT_VALUE.get(plain, "quaver")
    return any(note.note.duration == Duration(other) for note in bar.notes)


def _without_dot(line: Line, bar: SungBar, search: Property) -> bool:
    plain = search.word.rsplit(" ", 1)[-1]
    return any(note.note.duration.type == plain for note in bar.notes)


def _tie_inside(line: Line, bar: SungBar, search: Property) -> bool:
    return any(note.note.tie for note in bar.notes)


def _highest_bar(line: Line, bar: SungBar, search: Property) -> bool:
    return any(place.bar == bar.number for place in FINDERS["highest"](line, search))


def _signed_by_key(line: Line, bar: SungBar, search: Property) -> bool:
    return any(note.pitch.alter and not any(note.note.accidentals) for note in bar.notes)


def _repeated_note(line: Line, bar: SungBar, search: Property) -> bool:
    return any(a.pitch == b.pitch for a, b in pairwise(bar.notes))


def _rises(line: Line, bar: SungBar, search: Property) -> bool:
    return len(bar.notes) > 1 and bar.notes[-1].pitch.diatonic > bar.notes[0].pitch.diatonic


def _falls(line: Line, bar: SungBar, search: Property) -> bool:
    return len(bar.notes) > 1 and bar.notes[-1].pitch.diatonic < bar.notes[0].pitch.diatonic


_RULES: dict[str, tuple[tuple[str, Callable[[Line, SungBar, Property], bool]], ...]] = {
    "same-rhythm": (("counted the notes only", _as_many_notes), ("same notes for same rhythm", _same_start)),
    "same-notes": (
        ("same rhythm for same notes", _same_rhythm),
        ("same shape for same notes", _moved),
        ("looked at the first note only", _same_start),
    ),
    "sequence": (("same rhythm for a sequence", _same_rhythm), ("exact repeat for a sequence", _exact_repeat)),
    "run-up": (("ends higher than it begins", _rises),),
    "run-down": (("ends lower than it begins", _falls),),
    "interval": (("counted the gap", _one_too_wide), ("number only, not the kind", _number_only)),
    "largest-leap": (("the bar with the highest note", _highest_bar),),
    "syncopation": (
        ("dotted rhythm for syncopation", lambda line, bar, search: dotted(bar)),
        ("repeated note for syncopation", _repeated_note),
    ),
    "tuplet": (("beamed notes for a tuplet", _three_beamed),),
    "value": (("neighbouring value", _neighbour_value), ("dot not looked at", _without_dot)),
    "held-over": (("any tie", _tie_inside),),
    "accidental": (("sharps and flats of the signature", _signed_by_key),),
    "rest": (("dotted note for a rest", lambda line, bar, search: dotted(bar)),),
    "marked": (("dot after the note", lambda line, bar, search: dotted(bar)),),
}
"""Wrong rules for bars, by what is looked for; the bar that is named itself never counts."""
