"""Instruments: family, reeds, clefs, how the part is written, and what can be played on them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from stavewright.theory.errors import UnknownInstrumentError
from stavewright.theory.instrument_table import FAMILY_ORDER, TABLE
from stavewright.theory.interval import Interval
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch
from stavewright.theory.transposition import transpose, transpose_key

__all__ = [
    "FAMILIES",
    "FAMILY_ORDER",
    "INSTRUMENTS",
    "OPEN_STRINGS",
    "TECHNIQUES",
    "Instrument",
    "Range",
    "instrument",
]

FAMILIES: Final = ("strings", "woodwind", "brass", "percussion", "keyboard")

# Source: Gehrkens, Music Notation and Terminology (1914) Appendix B; the double bass as it sounds.
OPEN_STRINGS: Final = {
    name: tuple(Pitch.parse(note) for note in notes.split())
    for name, notes in {
        "violin": "G3 D4 A4 E5",
        "viola": "C3 G3 D4 A4",
        "cello": "C2 G2 D3 A3",
        "double bass": "E1 A1 D2 G2",
    }.items()
}
"""The open strings of the bowed instruments, lowest first, as they sound."""

_BOWED: Final = ("arco", "pizzicato", "con sordino", "senza sordino", "col legno", "sul ponticello", "double stopping")
_TECHNIQUES: Final = {
    ("strings", "bowed"): (*_BOWED, "sul G", "tremolo", "down bow", "up bow"),
    ("strings", "plucked"): ("arpeggio", "glissando"),
    ("woodwind", "blown"): ("tonguing", "flutter-tonguing", "a 2"),
    ("brass", "blown"): ("con sordino", "senza sordino", "tonguing", "flutter-tonguing", "a 2"),
    ("percussion", "struck"): ("roll",),
    ("percussion", "unpitched"): ("roll",),
    ("keyboard", "struck"): ("con pedale", "una corda", "tre corde", "mano destra", "mano sinistra"),
    ("keyboard", "plucked"): ("mano destra", "mano sinistra"),
    ("keyboard", "blown"): ("mano destra", "mano sinistra"),
}
TECHNIQUES: Final = tuple(sorted({technique for row in _TECHNIQUES.values() for technique in row}))
"""Every technique and direction that some instrument here can be given."""

_OTHER_NAMES: Final = {
    "english horn": "cor anglais",
    "violoncello": "cello",
    "contrabass": "double bass",
    "french horn": "horn in F",
    "horn": "horn in F",
    "clarinet": "clarinet in B flat",
    "trumpet": "trumpet in B flat",
    "cornet": "cornet in B flat",
    "recorder": "descant recorder",
    "double bassoon": "contrabassoon",
    "snare drum": "side drum",
    "tam-tam": "gong",
    "kettledrums": "timpani",
    "pianoforte": "piano",
    "soprano recorder": "descant recorder",
    "alto recorder": "treble recorder",
}


@dataclass(frozen=True, slots=True)
class Range:
    """A range of sounding pitches, both ends included."""

    low: Pitch
    high: Pitch

    def holds(self, pitch: Pitch) -> bool:
        """Whether a sounding pitch lies in the range."""
        return self.low.midi <= pitch.midi <= self.high.midi


@dataclass(frozen=True, slots=True)
class Instrument:
    """An instrument and how its part is written.

    ``reeds`` is ``"single"``, ``"double"`` or ``"none"`` for woodwind, None elsewhere. ``transposes`` is the interval
    from the written to the sounding note, None where they agree, and ``sounds_higher`` its direction. ``usual`` is a
    comfortable range and ``limits`` the widest any source gives, both sounding; None where no source was read.
    """

    name: str
    family: str
    sounded: str
    reeds: str | None
    clefs: tuple[str, ...]
    transposes: Interval | None
    sounds_higher: bool
    usual: Range | None
    limits: Range | None

    @property
    def is_pitched(self) -> bool:
        """Whether it plays notes of definite pitch."""
        return self.sounded != "unpitched"

    @property
    def is_transposing(self) -> bool:
        """Whether its part is written at another pitch than it sounds, octaves included."""
        return self.transposes is not None

    @property
    def techniques(self) -> tuple[str, ...]:
        """The directions and techniques it can be given."""
        own = _TECHNIQUES[self.family, self.sounded]
        if self.family != "keyboard" or self.name == "piano":
            return own
        return tuple(technique for technique in own if "mano" in technique)

    def has_technique(self, technique: str) -> bool:
        """Whether a direction makes sense on it; plural mutes count as the singular.

        >>> instrument("viola").has_technique("con sordini"), instrument("oboe").has_technique("pizzicato")
        (True, False)
        """
        return technique.replace("sordini", "sordino") in self.techniques

    @property
    def transposition_text(self) -> str:
        """How it sounds against its part: ``"sounds a perfect 5th lower than written"``.

        >>> instrument("horn").transposition_text
        'sounds a perfect 5th lower than written'
        """
        if self.transposes is None:
            return "sounds as written"
        text = self.transposes.text
        article = "an" if text[0] in "aeiou" else "a"
        return f"sounds {article} {text} {'higher' if self.sounds_higher else 'lower'} than written"

    def sounding(self, written: Pitch) -> Pitch:
        """Turn a written pitch into the pitch that sounds.

        >>> instrument("clarinet in B flat").sounding(Pitch("E", 0, 4)).short
        'D4'
        """
        return written if self.transposes is None else transpose(written, self.transposes, up=self.sounds_higher)

    def written(self, sounding: Pitch) -> Pitch:
        """Turn a pitch that sounds into the pitch its part must show.

        >>> instrument("alto saxophone").written(Pitch("B", -1, 4)).short
        'G5'
        """
        return sounding if self.transposes is None else transpose(sounding, self.transposes, up=not self.sounds_higher)

    def key_of_part(self, concert: Key) -> Key:
        """Find the key its part is written in for a concert key; past seven signs the enharmonic key.

        >>> instrument("clarinet in B flat").key_of_part(Key.parse("E flat major")).text
        'F major'
        """
        return (
            concert if self.transposes is None else transpose_key(concert, self.transposes, up=not self.sounds_higher)
        )

    def keys_of_part(self, concert: Key) -> tuple[Key, ...]:
        """List the keys a marker takes for its part: past five signs the enharmonic key as well.

        >>> [key.text for key in instrument("clarinet in A").keys_of_part(Key.parse("E flat major"))]
        ['G flat major', 'F sharp major']
        """
        key = self.key_of_part(concert)
        twin = key.enharmonic
        return (key,) if twin is None or abs(key.fifths) < 6 else (key, twin)

    def can_play(self, sounding: Pitch) -> bool | None:
        """Whether a sounding pitch lies within the limits of every source; None where no range is known.

        >>> instrument("violin").can_play(Pitch("F", 1, 3))
        False
        """
        return None if self.limits is None else self.limits.holds(sounding)


def _range(text: str) -> Range | None:
    if text == "-":
        return None
    low, high = (Pitch.parse(note) for note in text.split())
    return Range(low, high)


def _row(line: str) -> Instrument:
    name, family, sounded, reeds, clefs, sounds, usual, limits = (field.strip() for field in line.split("|"))
    direction, _, size = sounds.partition(" ")
    return Instrument(
        name=name,
        family=family,
        sounded=sounded,
        reeds=None if reeds == "-" else reeds,
        clefs=() if clefs == "-" else tuple(clefs.split()),
        transposes=Interval.parse(size) if size else None,
        sounds_higher=direction == "up",
        usual=_range(usual),
        limits=_range(limits),
    )


INSTRUMENTS: Final = {row.name: row for row in map(_row, TABLE.strip().splitlines())}
"""Every instrument by name, family by family."""


def instrument(name: str) -> Instrument:
    """Find an instrument by its name, or by another common name for it.

    Raises:
        UnknownInstrumentError: no such instrument.

    >>> instrument("English horn").name
    'cor anglais'
    """
    plain = " ".join(name.split())
    found = INSTRUMENTS.get(plain) or _BY_LOWER.get(plain.lower().replace("♭", " flat").replace("-flat", " flat"))
    if found is None:
        raise UnknownInstrumentError(
            f"{name!r} is not in the table of instruments", right=f"use one of {', '.join(INSTRUMENTS)}"
        )
    return found


_BY_LOWER: Final = {
    **{name.lower(): row for name, row in INSTRUMENTS.items()},
    **{other: INSTRUMENTS[name] for other, name in _OTHER_NAMES.items()},
}
