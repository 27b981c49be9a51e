"""A sign on a stave among three plain notes, for questions on what it is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from stavewright.score.event import Chord, Note, Rest
from stavewright.score.stave import Bar, Direction, Score, Stave
from stavewright.syllabus.signs import Sign
from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

_CROTCHET = Duration("crotchet")
_ROW = ("n1", "n2", "n3")
_MARKED = 1


def sign_score(sign: Sign, clef: str, pitches: Sequence[Pitch]) -> Score:
    """Three notes with the sign; the note it belongs to is marked a where the sign is one note's own.

    >>> from stavewright.syllabus.signs import sign_of
    >>> row = tuple(Pitch.parse(text) for text in ("G4", "A4", "B4"))
    >>> [note.label for note in sign_score(sign_of("fermata"), "treble", row).notes()]
    [None, 'a', None]
    """
    notes = tuple(Note(pitch, _CROTCHET, id_) for pitch, id_ in zip(pitches, _ROW, strict=True))
    what, which = sign.shown
    bars, time = _PICTURES[what](notes, which)
    return Score((Stave(clef, bars, time=time),))


Picture = tuple[tuple[Bar, ...], TimeSignature | None]


def _free(events: Sequence[Note | Chord | Rest], line: str = "none", **more: object) -> tuple[Bar, ...]:
    return (replace(Bar((tuple(events),), line=line, free=True), **more),)  # type: ignore[arg-type]  # fields of a bar


def _marked(notes: tuple[Note, ...], marked: Note) -> tuple[Note, ...]:
    return (*notes[:_MARKED], replace(marked, label="a"), *notes[_MARKED + 1 :])


def _mark(notes: tuple[Note, ...], which: str) -> Picture:
    return _free(_marked(notes, replace(notes[_MARKED], marks=(which,)))), None


def _dot(notes: tuple[Note, ...], which: str) -> Picture:
    return _free(_marked(notes, replace(notes[_MARKED], duration=Duration("crotchet", 1)))), None


def _chord(notes: tuple[Note, ...], which: str) -> Picture:
    low = notes[0].pitch
    stack = tuple(Pitch.from_diatonic(low.diatonic + step) for step in (0, 2, 4))
    return _free((Chord(stack, Duration("minim"), "n1", marks=(which,)),)), None


def _dynamic(notes: tuple[Note, ...], which: str) -> Picture:
    return _free(notes, directions=(Direction("dynamic", 0, which),)), None


def _hairpin(notes: tuple[Note, ...], which: str) -> Picture:
    return _free(notes, directions=(Direction(which, 0, until=2),)), None


def _curve(notes: tuple[Note, ...], which: str) -> Picture:
    if which == "tie":
        return _free((replace(notes[0], tie=True), replace(notes[1], pitch=notes[0].pitch), notes[2])), None
    if which == "slur":
        return _free((replace(notes[0], slur="start"), replace(notes[1], slur="stop"), notes[2])), None
    slurs = ("start", None, "stop")
    return _free([replace(n, slur=s, marks=("staccato",)) for n, s in zip(notes, slurs, strict=True)]), None


def _line(notes: tuple[Note, ...], which: str) -> Picture:
    return _free(notes, which), None


def _ending(notes: tuple[Note, ...], which: str) -> Picture:
    first, second, third = ((note,) for note in notes)
    return (
        *_free(first, "single"),
        *_free(second, "repeat-end", ending=1),
        *_free(third, "final", ending=2),
    ), None


def _direction(notes: tuple[Note, ...], which: str) -> Picture:
    until = 2 if which == "octave-up" else None
    return _free(notes, directions=(Direction(which, 0, until=until, above=True),)), None


def _grace(notes: tuple[Note, ...], which: str) -> Picture:
    small = Note(Pitch.from_diatonic(notes[_MARKED].pitch.diatonic + 1), Duration("quaver"), "n4", grace=which)
    return _free((notes[0], small, replace(notes[_MARKED], label="a"), notes[2])), None


def _tuplet(notes: tuple[Note, ...], which: str) -> Picture:
    size = Tuplet(3, 2) if which == "3" else Tuplet(2, 3)
    quaver = Duration("quaver", 0, size)
    return _free([replace(note, duration=quaver, beam=1) for note in notes[: size.actual]]), None


def _time(notes: tuple[Note, ...], which: str) -> Picture:
    last = replace(notes[0], id="n4")
    return (Bar(((*notes, last),), line="none"),), TimeSignature.parse(which)


def _rest(notes: tuple[Note, ...], which: str) -> Picture:
    silent = Rest(Duration("semibreve"), "n4", whole_bar=True)
    return (*_free(notes, "single"), *_free((silent,), "single")), None


_PICTURES: dict[str, Callable[[tuple[Note, ...], str], Picture]] = {
    "mark": _mark,
    "dot": _dot,
    "chord": _chord,
    "dynamic": _dynamic,
    "hairpin": _hairpin,
    "curve": _curve,
    "line": _line,
    "ending": _ending,
    "direction": _direction,
    "grace": _grace,
    "tuplet": _tuplet,
    "time": _time,
    "rest": _rest,
}
