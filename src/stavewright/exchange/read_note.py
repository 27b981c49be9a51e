"""One ``note`` element of MusicXML read into plain facts, or refused by name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final

from lxml.etree import _Element as Element

from stavewright.exchange.errors import NotUnderstood
from stavewright.exchange.musicxml_names import ACCIDENTAL_NAMES, MARK_NAMES
from stavewright.exchange.read_value import duration_of, pitch_of, whole_number
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

__all__ = ["NoteFacts"]


@dataclass(slots=True)
class NoteFacts:
    """What one ``note`` element says. ``length`` is in divisions; ``beam`` the sign of its first beam."""

    id: str = ""
    pitch: Pitch | None = None
    rest: bool = False
    whole_bar: bool = False
    chord: bool = False
    grace: str | None = None
    hidden: bool = False
    length: int = 0
    type: str = ""
    dots: int = 0
    actual: int = 0
    normal: int = 0
    voice: str = "1"
    staff: int = 1
    accidental: str | None = None
    tie: bool = False
    beam: str = ""
    stem: str | None = None
    marks: tuple[str, ...] = ()
    slur_start: str = ""
    slur_stop: str = ""
    lyric: str | None = None
    label: str | None = None
    left_out: set[str] = field(default_factory=set)

    @classmethod
    def read(cls, element: Element) -> NoteFacts:
        """The facts of a ``note`` element.

        Raises:
            BadMusicXML: a number that is none, a pitch without a letter.
            NotUnderstood: a sign that the score model has no place for.
        """
        facts = cls()
        if element.attrib:
            facts.id = element.get("id", "")
            facts.hidden = element.get("print-object") == "no"
        for child in element:
            reader = _READERS.get(child.tag)
            if reader is None:
                raise NotUnderstood(f"a note with {str(child.tag)[:40]!r}")
            reader(facts, child)
        return facts

    @property
    def duration(self) -> Duration | None:
        """The written value, or None when the element names none."""
        if not self.type:
            return None
        return duration_of(self.type, self.dots, self.actual, self.normal)


_PITCHES: Final[dict[tuple[str | None, str | None, str | None], Pitch]] = {}


def _pitch(facts: NoteFacts, element: Element) -> None:
    step = alter = octave = None
    for child in element:
        if child.tag == "step":
            step = child.text
        elif child.tag == "octave":
            octave = child.text
        elif child.tag == "alter":
            alter = child.text
    key = (step, alter, octave)
    found = _PITCHES.get(key)
    if found is None:
        found = _PITCHES[key] = pitch_of(element, step, alter, octave)
    facts.pitch = found


def _rest(facts: NoteFacts, element: Element) -> None:
    facts.rest = True
    facts.whole_bar = element.get("measure") == "yes"


def _grace(facts: NoteFacts, element: Element) -> None:
    facts.grace = "acciaccatura" if element.get("slash") == "yes" else "appoggiatura"


def _chord(facts: NoteFacts, _element: Element) -> None:
    facts.chord = True


def _duration(facts: NoteFacts, element: Element) -> None:
    text = element.text or ""
    facts.length = int(text) if text.isdecimal() and len(text) < 10 else whole_number(element, 0, 10**9)


def _type(facts: NoteFacts, element: Element) -> None:
    facts.type = (element.text or "").strip()


def _dot(facts: NoteFacts, _element: Element) -> None:
    facts.dots += 1


def _time_modification(facts: NoteFacts, element: Element) -> None:
    for child in element:
        if child.tag == "actual-notes":
            facts.actual = whole_number(child, 1, 999)
        elif child.tag == "normal-notes":
            facts.normal = whole_number(child, 1, 999)


def _voice(facts: NoteFacts, element: Element) -> None:
    facts.voice = element.text or "1"


def _staff(facts: NoteFacts, element: Element) -> None:
    facts.staff = whole_number(element, 1, 9)


def _accidental(facts: NoteFacts, element: Element) -> None:
    name = (element.text or "").strip()
    sign = ACCIDENTAL_NAMES.get(name)
    if sign is None:
        raise NotUnderstood(f"the accidental {name[:20]!r}")
    facts.accidental = sign


def _tie(facts: NoteFacts, element: Element) -> None:
    if element.get("type") == "start":
        facts.tie = True


def _stem(facts: NoteFacts, element: Element) -> None:
    if element.text in ("up", "down"):
        facts.stem = element.text


def _beam(facts: NoteFacts, element: Element) -> None:
    if element.get("number", "1") == "1":
        facts.beam = (element.text or "").strip()


def _notehead(_facts: NoteFacts, element: Element) -> None:
    if (element.text or "").strip() not in ("normal", ""):
        raise NotUnderstood(f"a notehead {(element.text or '').strip()[:20]!r}")


def _refused(_facts: NoteFacts, element: Element) -> None:
    raise NotUnderstood(f"a note with {str(element.tag)[:40]!r}")


def _passed(_facts: NoteFacts, _element: Element) -> None:
    return


def _notations(facts: NoteFacts, element: Element) -> None:
    if element.get("print-object") == "no":
        return
    for child in element:
        tag = child.tag
        if tag == "slur":
            _slur(facts, child)
        elif tag in _FAMILIES:
            for mark in child:
                _mark(facts, mark)
        elif tag == "tied":
            if child.get("type") == "let-ring":
                raise NotUnderstood("a tie that leads to no note")
            _tie(facts, child)
        elif tag in ("fermata", "arpeggiate"):
            facts.marks += (MARK_NAMES[tag],)
        elif tag not in _UNSEEN_NOTATIONS:
            raise NotUnderstood(f"a note with {str(tag)[:40]!r}")


def _slur(facts: NoteFacts, element: Element) -> None:
    number = element.get("number", "1")
    kind = element.get("type")
    if kind == "start":
        facts.slur_start = facts.slur_start or number
    elif kind == "stop":
        facts.slur_stop = facts.slur_stop or number


def _mark(facts: NoteFacts, element: Element) -> None:
    tag = element.tag
    name = MARK_NAMES.get(tag)
    if name is not None:
        if name not in facts.marks:
            facts.marks += (name,)
    elif tag in _UNKEPT_MARKS:
        facts.left_out.add(_UNKEPT_MARKS[tag])
    else:
        raise NotUnderstood(f"a note with {str(tag)[:40]!r}")


def _lyric(facts: NoteFacts, element: Element) -> None:
    named_label = element.get("name") == "label"
    if not named_label and facts.lyric is not None:
        facts.left_out.add("a second verse")
        return
    text = ""
    syllabic = "single"
    for child in element:
        if child.tag in ("text", "elision"):
            text += child.text or ""
        elif child.tag == "syllabic":
            syllabic = (child.text or "").strip()
    if named_label:
        facts.label = text or None
    elif text:
        facts.lyric = f"{text}-" if syllabic in ("begin", "middle") else text


_FAMILIES: Final = ("articulations", "ornaments", "technical")
_UNSEEN_NOTATIONS: Final = ("tuplet", "footnote", "level")
_UNKEPT_MARKS: Final = {
    "wavy-line": "the wavy line of a trill",
    "fingering": "fingering",
    "string": "string numbers",
    "open-string": "string signs",
    "pluck": "fingering",
}

_READERS: Final[dict[object, Callable[[NoteFacts, Element], None]]] = {
    "pitch": _pitch,
    "rest": _rest,
    "grace": _grace,
    "chord": _chord,
    "duration": _duration,
    "type": _type,
    "dot": _dot,
    "time-modification": _time_modification,
    "voice": _voice,
    "staff": _staff,
    "accidental": _accidental,
    "tie": _tie,
    "stem": _stem,
    "beam": _beam,
    "notehead": _notehead,
    "notations": _notations,
    "lyric": _lyric,
    "cue": _refused,
    "unpitched": _refused,
    "instrument": _passed,
    "footnote": _passed,
    "level": _passed,
    "play": _passed,
    "listen": _passed,
}
