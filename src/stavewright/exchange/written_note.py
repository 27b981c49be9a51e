"""Notes, chords, rests and gaps as MusicXML elements, voice by voice."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import count, groupby
from typing import Final

from stavewright.exchange.beaming import beam_signs
from stavewright.exchange.errors import CannotWrite
from stavewright.exchange.musicxml_names import ACCIDENTAL_SIGNS, MARK_ELEMENTS, TYPE_NAMES
from stavewright.exchange.tuplet_ends import tuplet_ends
from stavewright.score.event import Chord, Event, Gap, Note, Rest
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

__all__ = ["SLUR_ENDS", "Pen", "escaped", "voice_elements"]

SLUR_ENDS: Final = {"start": ("start",), "stop": ("stop",), "both": ("stop", "start")}
_ID: Final = re.compile(r"[A-Za-z_][A-Za-z0-9_.-]*", re.ASCII)
_FORBIDDEN: Final = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_ESCAPES: Final = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;"})


def escaped(text: str) -> str:
    """Text made safe to stand in an XML document, in an element or a quoted attribute.

    Raises:
        CannotWrite: a control character, which no XML document can hold.

    >>> escaped('"Largo" & <piano>')
    '&quot;Largo&quot; &amp; &lt;piano&gt;'
    """
    if text.isascii() and text.isalnum():
        return text
    bad = _FORBIDDEN.search(text)
    if bad:
        raise CannotWrite(f"the character {bad.group()!r} cannot stand in a document", where=repr(text[:40]))
    return text.translate(_ESCAPES)


@dataclass(slots=True)
class Pen:
    """What the writer of one part must remember between notes: ties that are open, ids used, a word half sung.

    ``named_slurs`` counts the notes of each slur that has a name of its own and are still to come.
    """

    scale: int
    ids: set[str] = field(default_factory=set)
    named_slurs: Counter[str] = field(default_factory=Counter)
    begun_slurs: list[str] = field(default_factory=list)
    tied: set[Pitch] = field(default_factory=set)
    tied_by_voice: dict[int, set[Pitch]] = field(default_factory=dict)
    in_word: bool = False

    def id_of(self, event: Event) -> str:
        """The ``id`` attribute of an event, when its id can be one and has not been used."""
        name = event.id
        if not name or name in self.ids or not _ID.fullmatch(name):
            return ""
        self.ids.add(name)
        return f' id="{name}"'


@lru_cache(maxsize=4096)
def _pitch(pitch: Pitch) -> str:
    if not 0 <= pitch.octave <= 9:
        raise CannotWrite(f"{pitch.short} is outside the octaves 0 to 9 of MusicXML")
    alter = f"<alter>{pitch.alter}</alter>" if pitch.alter else ""
    return f"<pitch><step>{pitch.step}</step>{alter}<octave>{pitch.octave}</octave></pitch>"


@lru_cache(maxsize=1024)
def _value(duration: Duration) -> tuple[str, str]:
    kind = f"<type>{TYPE_NAMES[duration.type]}</type>" + "<dot/>" * duration.dots
    tuplet = duration.tuplet
    if tuplet is None:
        return kind, ""
    inside = f"<actual-notes>{tuplet.actual}</actual-notes><normal-notes>{tuplet.normal}</normal-notes>"
    return kind, f"<time-modification>{inside}</time-modification>"


@lru_cache(maxsize=1024)
def _marks(marks: tuple[str, ...]) -> str:
    parts: list[str] = []
    for family, members in groupby(marks, key=lambda mark: MARK_ELEMENTS[mark][0]):
        inside = "".join(f"<{MARK_ELEMENTS[mark][1]}/>" for mark in members)
        parts.append(f"<{family}>{inside}</{family}>" if family else inside)
    return "".join(parts)


def voice_elements(
    events: tuple[Event, ...],
    voice: int,
    bar_ticks: int,
    beat_ticks: int,
    pen: Pen,
    shifted: frozenset[int] = frozenset(),
) -> list[str]:
    """One string of MusicXML for each event of a voice.

    ``bar_ticks`` is the length of a whole-bar rest (0 when the bar has no metre), ``beat_ticks`` parts tuplets from
    each other; ``shifted`` holds the indices that stand under an octave sign, which MusicXML names as they sound.

    Raises:
        CannotWrite: a pitch outside octaves 0 to 9, or a control character in a word.
    """
    pen.tied = pen.tied_by_voice.get(voice, set())
    beams = beam_signs(events)
    tuplets = tuplet_ends(events, beat_ticks)
    head = f"<voice>{voice}</voice>"
    rows: list[str] = []
    for index, event in enumerate(events):
        if isinstance(event, Gap):
            rows.append(_gap(event, head, pen))
        elif isinstance(event, Rest):
            rows.append(_rest(event, head, bar_ticks, tuplets.get(index, ""), pen))
        else:
            shift = 1 if index in shifted else 0
            rows.append(_sounding(event, head, beams.get(index, ""), tuplets.get(index, ""), pen, shift))
    pen.tied_by_voice[voice] = pen.tied
    return rows


def _gap(event: Gap, head: str, pen: Pen) -> str:
    word = ""
    if event.label:
        words = f"<direction-type><words>{escaped(event.label)}</words></direction-type>"
        word = f'<direction placement="below">{words}</direction>'
    return f"{word}<forward><duration>{event.ticks // pen.scale}</duration>{head}</forward>"


def _rest(event: Rest, head: str, bar_ticks: int, tuplet: str, pen: Pen) -> str:
    label = _label(event.label)
    if event.whole_bar:
        length = (bar_ticks or event.ticks) // pen.scale
        kind = "" if event.duration == _SEMIBREVE else _value(event.duration)[0]
        return f'<note{pen.id_of(event)}><rest measure="yes"/><duration>{length}</duration>{head}{kind}{label}</note>'
    kind, group = _value(event.duration)
    notations = f"<notations>{tuplet}</notations>" if tuplet else ""
    length = event.ticks // pen.scale
    return f"<note{pen.id_of(event)}><rest/><duration>{length}</duration>{head}{kind}{group}{notations}{label}</note>"


_SEMIBREVE: Final = Duration("semibreve")


def _sounding(event: Note | Chord, head: str, beam: str, tuplet: str, pen: Pen, shift: int) -> str:
    kind, group = _value(event.duration)
    grace = event.grace if isinstance(event, Note) else None
    if grace:
        before, length = ('<grace slash="yes"/>' if grace == "acciaccatura" else "<grace/>"), ""
    else:
        before, length = "", f"<duration>{event.ticks // pen.scale}</duration>"
    stem = f"<stem>{event.stem}</stem>" if event.stem else ""
    slurs = _slur(event, pen)
    marks = _marks(event.marks) if event.marks else ""
    open_ties = pen.tied
    tie_on = '<tied type="start"/>' if event.tie else ""
    tail = _words(event, pen)
    name = pen.id_of(event)
    rows: list[str] = []
    for place, pitch, sign in zip(count(), event.pitches, event.accidentals, strict=False):
        stops = bool(open_ties) and not grace and pitch in open_ties
        sounding = ('<tie type="stop"/>' if stops else "") + ('<tie type="start"/>' if event.tie else "")
        printed = f"<accidental>{ACCIDENTAL_SIGNS[sign]}</accidental>" if sign else ""
        notations = ('<tied type="stop"/>' if stops else "") + tie_on
        if not place:
            notations += slurs + tuplet + marks
        rows.append(
            f"<note{name if not place else ''}>{before}{'<chord/>' if place else ''}"
            f"{_pitch(pitch.shifted(shift) if shift else pitch)}{length}{sounding}{head}{kind}{printed}{group}{stem}"
            f"{beam if not place else ''}{f'<notations>{notations}</notations>' if notations else ''}"
            f"{tail if not place else ''}</note>"
        )
    if not grace:
        pen.tied = set(event.pitches) if event.tie else set()
    return "\n".join(rows)


def _slur(event: Note | Chord, pen: Pen) -> str:
    name = event.slur
    if name is None:
        return ""
    if name in SLUR_ENDS:
        return "".join(f'<slur type="{end}" number="1"/>' for end in SLUR_ENDS[name])
    ends = "" if name in pen.begun_slurs else "start"
    if ends:
        pen.begun_slurs.append(name)
    pen.named_slurs[name] -= 1
    if not pen.named_slurs[name]:
        ends = "" if ends else "stop"
    return f'<slur type="{ends}" number="{pen.begun_slurs.index(name) % 15 + 2}"/>' if ends else ""


def _label(label: str | None, number: int = 1) -> str:
    if not label:
        return ""
    return f'<lyric number="{number}" name="label"><text>{escaped(label)}</text></lyric>'


def _words(event: Note | Chord, pen: Pen) -> str:
    lyric = event.lyric if isinstance(event, Note) else None
    if not lyric:
        return _label(event.label) if event.label else ""
    goes_on = lyric.endswith("-") and len(lyric) > 1
    syllabic = ("middle" if pen.in_word else "begin") if goes_on else ("end" if pen.in_word else "single")
    pen.in_word = goes_on
    text = escaped(lyric[:-1] if goes_on else lyric)
    sung = f'<lyric number="1"><syllabic>{syllabic}</syllabic><text>{text}</text></lyric>'
    return sung + _label(event.label, 2)
