"""One event of music text: `F#4:8.~+staccato`, `<C4 E4 G4>:2`, `r:4`, `R`, `_`."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Final

from stavewright.score.compact.scanning import QUOTED, quoted, unquoted
from stavewright.score.event import ACCIDENTALS, GRACES, MARKS, Chord, Event, Gap, Note, Rest
from stavewright.theory.duration import VALUES, Duration, DurationError, Tuplet
from stavewright.theory.errors import StavewrightError, UnknownNoteError
from stavewright.theory.pitch import Pitch

FIGURES: Final = dict(zip(("breve", "1", "2", "4", "8", "16", "32", "64"), VALUES, strict=True))
"""How each value is typed: the figure that stands for it in a time signature."""

_FIGURE: Final = {value: figure for figure, value in FIGURES.items()}
_ONE_SUFFIX: Final = rf":[A-Za-z0-9-]*\.*|~|![a-z,-]*|\+[a-z-]+(?:=(?:{QUOTED}|[^\s+~!:\"]*))?"
_EVENT: Final = re.compile(rf"(?P<head><[^<>]*>|[^:~!+<>]+)(?P<rest>(?:{_ONE_SUFFIX})*)")
_SUFFIX: Final = re.compile(_ONE_SUFFIX)
_PITCH: Final = re.compile(r"([A-Ga-g])(##|#|x|bb|b|♯|♭|𝄪|𝄫|n|♮)?(-?\d)")
_ALTER: Final = {"##": 2, "x": 2, "𝄪": 2, "#": 1, "♯": 1, "n": 0, "♮": 0, "b": -1, "♭": -1, "bb": -2, "𝄫": -2}
_STEMS: Final = ("up", "down")
_SLURS: Final = {"slur": "start", "endslur": "stop"}


class EventFault(StavewrightError):
    """One event of music text that cannot be read."""


@dataclass(frozen=True, slots=True)
class Typed:
    """An event as it was typed, and what was said outright: its beam, its printed signs.

    `beam` is "" where nothing was said of it; `signs` is None where the signs that the notes need are printed.
    """

    event: Event
    beam: str = ""
    signs: tuple[str | None, ...] | None = None
    named: bool = False


def read_pitch(text: str) -> Pitch:
    """The pitch typed as a letter, its sign and its octave; middle C is C4.

    Raises:
        UnknownNoteError: it is not a pitch; the message says what would be.

    >>> read_pitch("F#4").text, read_pitch("Bn3").text
    ('F sharp 4', 'B 3')
    """
    found = _PITCH.fullmatch(text)
    if found is None:
        if re.fullmatch(r"[A-Ga-g](##|#|x|bb|b|n)?", text):
            raise UnknownNoteError(f"{text!r} has no octave number", right=f"add one, as in {text}4 (middle C is C4)")
        if text[:1] in ("H", "h"):
            raise UnknownNoteError(f"{text!r} is no English note name", right="write B for H and Bb for the German B")
        raise UnknownNoteError(f"{text!r} is not a note", right="write letter, sign and octave, as in F#4 or Bb3")
    return Pitch(found[1].upper(), _ALTER[found[2]] if found[2] else 0, int(found[3]))


def read_value(text: str) -> Duration:
    """The value typed as a figure or a name, with its dots.

    Raises:
        DurationError: there is no such value.

    >>> read_value("8.").text, read_value("minim").text, read_value("quarter").text
    ('dotted quaver', 'minim', 'crotchet')
    """
    name = text.rstrip(".")
    if name.isdigit() and name not in FIGURES:
        raise DurationError(f"{text!r} is no value: use 1, 2, 4, 8, 16, 32, 64 or a name such as crotchet")
    return Duration.parse(FIGURES.get(name, name) + text[len(name) :])


def value_text(duration: Duration) -> str:
    """A value as it is typed, without its tuplet.

    >>> value_text(Duration("quaver", 1))
    '8.'
    """
    return _FIGURE[duration.type] + "." * duration.dots


def read_event(text: str, value: Duration, tuplet: Tuplet | None) -> tuple[Typed, Duration]:
    """An event and the value that holds for the next one; `value` holds where the event names none.

    Raises:
        EventFault, UnknownNoteError, DurationError: what is wrong and what would be right.

    >>> typed, held = read_event("F#4:8.~", Duration("crotchet"), None)
    >>> typed.event.pitch.short, typed.event.tie, held.text
    ('F#4', True, 'dotted quaver')
    """
    found = _EVENT.fullmatch(text)
    if found is None:
        raise EventFault(f"{text!r} cannot be read", right="write a note as F#4:8 (pitch, colon, value)")
    head = found["head"]
    suffixes = _SUFFIX.findall(found["rest"])
    values = [one[1:] for one in suffixes if one.startswith(":")]
    if "" in values:
        raise EventFault(f"{text!r} has no value after the colon", right="write one, as in F#4:8")
    if len(values) > 1:
        raise EventFault(f"{text!r} has two values", right="give each note one")
    own = read_value(values[0]) if values else Duration("semibreve") if head == "R" else value
    timed = replace(own, tuplet=tuplet)
    event: Event
    if head in ("r", "R"):
        event = Rest(timed, whole_bar=head == "R")
    elif head == "_":
        event = Gap(timed)
    elif head.startswith("<"):
        pitches = tuple(read_pitch(one) for one in head[1:-1].split())
        if not pitches:
            raise EventFault("a chord without notes", right="write its notes, lowest first, as in <C4 E4 G4>")
        event = Chord(tuple(sorted(pitches, key=lambda pitch: pitch.diatonic)), timed)
    else:
        event = Note(read_pitch(head), timed)
    typed = Typed(event)
    for suffix in suffixes:
        if not suffix.startswith(":"):
            typed = _suffixed(typed, suffix)
    return typed, (value if head == "R" and not values else own)


def _suffixed(typed: Typed, suffix: str) -> Typed:
    event = typed.event
    if suffix.startswith("!"):
        return replace(typed, signs=_signs(event, suffix[1:]))
    if suffix == "~":
        if not isinstance(event, Note | Chord):
            raise EventFault("a tie after a rest", right="ties join notes: leave ~ out")
        return replace(typed, event=replace(event, tie=True))
    name, equals, said = suffix[1:].partition("=")
    said = unquoted(said)
    if name == "beam" and equals:
        if said != "none" and not said.isdigit():
            raise EventFault(f"beam={said}", right="give a number for each beam of the bar, or none")
        return replace(typed, beam=said)
    changes: dict[str, object] = {}
    if name == "id" and equals:
        return replace(typed, event=replace(event, id=said), named=True)
    if name == "label" and equals:
        changes = {"label": said}
    elif isinstance(event, Note | Chord) and name in MARKS and not equals:
        changes = {"marks": (*event.marks, name)}
    elif isinstance(event, Note | Chord) and name in _STEMS and not equals:
        changes = {"stem": name}
    elif isinstance(event, Note | Chord) and name in _SLURS:
        changes = {"slur": said if equals else _SLURS[name]}
    elif isinstance(event, Note) and name in GRACES and not equals:
        changes = {"grace": name}
    elif isinstance(event, Note) and name == "lyric" and equals:
        changes = {"lyric": said}
    if not changes:
        known = (*MARKS, *GRACES, *_SLURS, *_STEMS, "label=", "lyric=")
        raise EventFault(f"+{name} says nothing of this", right=f"notes take {', '.join(known)}")
    return replace(typed, event=replace(event, **changes))  # type: ignore[arg-type]


def _signs(event: Event, said: str) -> tuple[str | None, ...]:
    if not isinstance(event, Note | Chord):
        raise EventFault("a sign before a rest", right="leave ! out")
    names = said.split(",") if said else []
    if len(names) not in (0, len(event.pitches)) or any(one not in (*ACCIDENTALS, "none") for one in names):
        raise EventFault(f"!{said}", right=f"write ! alone, or !none, or one of {', '.join(ACCIDENTALS)} for each note")
    if names:
        return tuple(None if one == "none" else one for one in names)
    return tuple(SIGN_OF[pitch.alter] for pitch in event.pitches)


def _said(text: str) -> str:
    """A word after an equals sign, in quotes where it is more than letters and figures."""
    return text if re.fullmatch(r"[A-Za-z0-9?-]+", text) else quoted(text)


SIGN_OF: Final = {-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}


def write_event(
    event: Event, value: Duration | None, signs: tuple[str | None, ...] | None, extra: str = "", *, stem: bool = True
) -> str:
    """An event as it is typed; `value` is the one that holds already, `signs` those printed otherwise than by rule.

    `stem` False leaves out the way of the stem.

    >>> write_event(Note(Pitch("F", 1, 4), Duration("quaver"), tie=True), Duration("crotchet"), None)
    'F#4:8~'
    """
    if isinstance(event, Note):
        head = event.pitch.short
    elif isinstance(event, Chord):
        head = "<" + " ".join(pitch.short for pitch in event.pitches) + ">"
    elif isinstance(event, Gap):
        head = "_"
    else:
        head = "R" if event.whole_bar else "r"
    held = Duration("semibreve") if head == "R" else value
    parts = [head]
    if event.duration.plain != held:
        parts.append(":" + value_text(event.duration))
    if isinstance(event, Note | Chord):
        parts.append("~" if event.tie else "")
        if signs is not None:
            own = tuple(SIGN_OF.get(pitch.alter) for pitch in event.pitches)
            parts.append("!" if signs == own else "!" + ",".join(one or "none" for one in signs))
        parts += [f"+{mark}" for mark in event.marks]
        parts.append(f"+{event.stem}" if stem and event.stem else "")
        if event.slur is not None:
            plain = {name: word for word, name in _SLURS.items()}
            parts.append(f"+{plain[event.slur]}" if event.slur in plain else f"+slur={_said(event.slur)}")
    if isinstance(event, Note):
        parts.append(f"+{event.grace}" if event.grace else "")
        parts.append("" if event.lyric is None else f"+lyric={_said(event.lyric)}")
    parts.append("" if event.label is None else f"+label={_said(event.label)}")
    return "".join(parts) + extra
