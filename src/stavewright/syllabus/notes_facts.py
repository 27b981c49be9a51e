"""Facts in the sentences of the notes, worked out by theory: what stands in braces is computed, never typed."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.terms import term_of
from stavewright.theory.accidental import sign_name, sign_text
from stavewright.theory.cadence import cadence
from stavewright.theory.chord import ChordLabel, chord_notes
from stavewright.theory.clef import CLEFS
from stavewright.theory.degree import degree_name, note_of_degree
from stavewright.theory.duration import Duration
from stavewright.theory.enharmonic import twin_names
from stavewright.theory.errors import StavewrightError
from stavewright.theory.instrument import instrument
from stavewright.theory.interval import Interval, between
from stavewright.theory.key import Key, signature_text
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import scale_names, semitones
from stavewright.theory.transposition import transpose_key, transpose_name

_FACT: Final = re.compile(r"\{([^{}]*)\}")


def _listed(names: tuple[NoteName, ...]) -> str:
    return ", ".join(name.text for name in names)


def _signature(key: str) -> str:
    signs = Key.parse(key).signature
    return _joined([one.text for one in signs]) if signs else "no sharps or flats"


def _joined(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _count(small: str, large: str) -> str:
    one, other = Duration.parse(small).ticks, Duration.parse(large).ticks
    if other % one:
        raise BadSyllabus(f"a {large} is no whole number of {small}s")
    return str(other // one)


def _beat(time: str) -> str:
    return TimeSignature.parse(time).beat.text


def _scale(tonic: str, form: str, way: str = "up") -> str:
    return _listed(scale_names(NoteName.parse(tonic), form, ascending=way != "down"))


def _semitones(form: str, way: str = "up") -> str:
    return ", and ".join(f"{low} and {high}" for low, high in sorted(semitones(form, ascending=way != "down")))


def _places(clef: str, first: int) -> str:
    return ", ".join(CLEFS[clef].pitch_at(place).step for place in range(first, 9, 2))


def _sounds(name: str, written: str) -> str:
    return instrument(name).sounding(Pitch.parse(written)).name.text


def _part(name: str, concert: str) -> str:
    return instrument(name).key_of_part(Key.parse(concert)).text


FACTS: Final[dict[str, Callable[..., str]]] = {
    "signature": _signature,
    "signs": lambda key: signature_text(Key.parse(key).fifths),
    "relative": lambda key: Key.parse(key).relative.text,
    "leading": lambda key: Key.parse(key).leading_note.text,
    "last-sign": lambda key: Key.parse(key).signature[-1].text,
    "scale": _scale,
    "semitones": _semitones,
    "degree": lambda key, number: note_of_degree(Key.parse(key), int(number)).text,
    "degree-name": lambda number: degree_name(int(number)),
    "chord": lambda label, key: _listed(chord_notes(Key.parse(key), ChordLabel.parse(label))),
    "cadence": lambda first, last: str(cadence(ChordLabel.parse(first), ChordLabel.parse(last))),
    "interval": lambda low, high: between(Pitch.parse(low), Pitch.parse(high)).text,
    "number": lambda low, high: between(Pitch.parse(low), Pitch.parse(high)).number_text,
    "size": lambda name: str(Interval.parse(name).semitones),
    "inversion": lambda name: Interval.parse(name).inversion.text,
    "simple": lambda name: Interval.parse(name).simple.text,
    "above": lambda name, interval: transpose_name(NoteName.parse(name), Interval.parse(interval)).text,
    "below": lambda name, interval: transpose_name(NoteName.parse(name), Interval.parse(interval), up=False).text,
    "key-above": lambda key, interval: transpose_key(Key.parse(key), Interval.parse(interval)).text,
    "twins": lambda name: " or ".join(one.text for one in twin_names(NoteName.parse(name))),
    "lines": lambda clef: _places(clef, 0),
    "spaces": lambda clef: _places(clef, 1),
    "count": _count,
    "beats": lambda time: str(TimeSignature.parse(time).count),
    "beat": _beat,
    "metre": lambda time: TimeSignature.parse(time).description,
    "sign": lambda alter: sign_text(sign_name(int(alter))),
    "term": lambda name: term_of(f"{name}|Italian").meaning,
    "sounds": _sounds,
    "part": _part,
}
"""What may stand first in braces; what follows it are its arguments, with commas between them."""


def with_facts(text: str) -> str:
    """A sentence with every fact in braces worked out.

    Raises:
        BadSyllabus: an unknown fact, or one that theory cannot work out; the message says which.

    >>> with_facts("D major has {signature D major}: its relative is {relative D major}.")
    'D major has F sharp and C sharp: its relative is B minor.'
    """
    return _FACT.sub(lambda found: _worked(found.group(1)), text)


def _worked(said: str) -> str:
    verb, _, rest = said.strip().partition(" ")
    find = FACTS.get(verb)
    if find is None:
        raise BadSyllabus(f"{{{said}}}: there is no fact {verb!r}; the facts are {', '.join(FACTS)}")
    try:
        return find(*(one.strip() for one in rest.split(",") if one.strip()))
    except (StavewrightError, KeyError, IndexError, ValueError, TypeError) as error:
        raise BadSyllabus(f"{{{said}}}: {error}") from error
