"""The music lines of an ABC tune, symbol by symbol."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache
from typing import Final

from stavewright.theory.duration import CROTCHET_TICKS
from stavewright.theory.key import signature_alter
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import STEPS, Pitch, pitch_at
from stavewright.tunes.abc_header import fifths_of, metre_of, unit_of
from stavewright.tunes.abc_values import Item, Measure, bars_of
from stavewright.tunes.errors import NotUnderstoodTune
from stavewright.tunes.tune import TuneBar

__all__ = ["Body"]

_NOTE: Final = r"(?:\^\^|\^|__|_|=)?[A-Ga-g][',]*\d*/*\d*"
_TOKENS: Final = re.compile(
    rf"""(?P<space>[ \t`\\y]+)
    |(?P<note>{_NOTE})
    |(?P<bar>:*\[\|\]:*|:*\|+\]?:*|:*\[\|:*|::+)(?P<ending>\s*\[[1-9](?![a-zA-Z:])|[1-9])?
    |(?P<inline>\[[A-Za-z]:[^\]]*\])
    |(?P<volta>\[[1-9](?:[,-][1-9])*)
    |(?P<chord>\[(?:{_NOTE}|[ .uv])+\](?P<span>\d*/*\d*))
    |(?P<rest>[zx](?P<silence>\d*/*\d*))
    |(?P<tuplet>\((?P<p>\d)(?::(?P<q>\d*)(?::(?P<r>\d*))?)?)
    |(?P<broken>>+|<+)
    |(?P<tie>-)
    |(?P<slur>[()])
    |(?P<grace>\{{[^}}]*\}})
    |(?P<words>"[^"]*")
    |(?P<sign_name>![^!\s|]{{1,15}}!|\+[A-Za-z.]{{2,12}}\+)
    |(?P<mark>[.~H-Wh-w])
    |(?P<newline>!)
    |(?P<other>.)""",
    re.VERBOSE,
)
_PARTS: Final = re.compile(r"(\^\^|\^|__|_|=)?([A-Ga-g])([',]*)(\d*/*\d*)")
_ALTER: Final = {"^^": 2, "^": 1, "=": 0, "_": -1, "__": -2}
_MARKS: Final = {
    ".": "staccato", "T": "trill", "H": "fermata", "L": "accent", "M": "mordent", "P": "upper-mordent", "u": "up-bow",
    "v": "down-bow",
}  # fmt: skip
_NAMED_MARKS: Final = {"!trill!": "trill", "!fermata!": "fermata", "!accent!": "accent", "!tenuto!": "tenuto"}
_COUNTS: Final = {2: 3, 3: 2, 4: 3, 6: 2, 8: 3}


@lru_cache(maxsize=4096)
def _spelled(text: str) -> tuple[int, int | None, str]:
    """The diatonic place, the sign (None for none) and the length of a note as it is spelled."""
    found = _PARTS.fullmatch(text)
    if found is None:
        raise NotUnderstoodTune(f"the note {text[:20]!r}")
    sign, letter, marks, length = found.groups()
    octave = (4 if letter.isupper() else 5) + marks.count("'") - marks.count(",")
    return 7 * octave + STEPS.index(letter.upper()), None if sign is None else _ALTER[sign], length


@lru_cache(maxsize=16)
def _signature(fifths: int) -> tuple[int, ...]:
    """What the key signature does to each letter from C to B."""
    return tuple(signature_alter(fifths, step) for step in STEPS)


class Body:
    """Takes in the music of a tune line by line; `finished` gives its bars."""

    def __init__(self, time: TimeSignature, fifths: int, unit: int) -> None:
        self.time = time
        self.fifths = fifths
        self.signature = _signature(fifths)
        self.unit = unit
        self.left_out: set[str] = set()
        self.measures: list[Measure] = []
        self.measure = Measure(time, fifths, strain=True)
        self.force: dict[int, int] = {}
        self.altered: dict[int, int] = {}
        self.marks: list[str] = []
        self.last: Item | None = None
        self.factor: tuple[int, int] | None = None
        self.tuplet: tuple[int, int] | None = None
        self.tuplet_left = 0
        self.slurs = 0

    def music(self, line: str) -> None:
        """Take in one line of music."""
        for found in _TOKENS.finditer(line):
            kind = found.lastgroup
            _READERS[_WHOLE.get(kind or "", kind or "")](self, found)

    def field(self, name: str, value: str) -> None:
        """Take in a field between the lines of music.

        Raises:
            NotUnderstoodTune: several voices, or a metre, key or unit length that is not read.
        """
        if name == "V":
            raise NotUnderstoodTune("several voices")
        if name == "L":
            self.unit = unit_of(value)
        elif name == "M":
            self._in_force(metre_of(value), self.fifths)
        elif name == "K":
            self._in_force(self.time, fifths_of(value))
        elif name == "P":
            self._close("single")
            self.measure.strain = True

    def finished(self) -> tuple[TuneBar, ...]:
        """The bars of the tune.

        Raises:
            NotUnderstoodTune: the tune has no music.
        """
        self._close("single")
        if not self.measures:
            raise NotUnderstoodTune("a tune without music")
        return bars_of(self.measures)

    def _in_force(self, time: TimeSignature, fifths: int) -> None:
        self.time, self.fifths = time, fifths
        self.signature = _signature(fifths)
        if self.measure.items:
            self.refuse("a change of key or metre in the middle of a bar")
        self.measure.time, self.measure.fifths = time, fifths

    def refuse(self, reason: str) -> None:
        """Mark the present bar as not understood."""
        self.measure.reason = self.measure.reason or reason

    def _close(self, line: str) -> None:
        """End the bar; where nothing stands since the last bar line, the two lines are one."""
        if self.factor is not None:
            self.refuse("a dotted pair across a bar line")
            self.factor = None
        if self.measure.items or self.measure.reason:
            self.measure.line = line
            self.measures.append(self.measure)
            self.measure = Measure(self.time, self.fifths)
        elif self.measures and line != "single":
            self.measures[-1].line = line
        self.force = {}
        self.altered = {}

    def bar(self, found: re.Match[str]) -> None:
        """A bar line of any kind, with the repeat dots and the ending that may stand by it."""
        text = found.group("bar")
        before = text.startswith(":")
        after = text.endswith(":")
        if before:
            line = "repeat-end"
        elif "]" in text and "[" not in text:
            line = "final"
        elif "||" in text or text.startswith("[|:"):
            line = "double"
        elif text in ("[|]", "[|"):
            line = "none" if text == "[|]" else "double"
        else:
            line = "single"
        self._close(line)
        if after:
            self.measure.repeat_start = True
        if after or line in ("repeat-end", "final", "double"):
            self.measure.strain = True
        ending = found.group("ending")
        if ending:
            self._ending(ending.strip(" \t["))

    def volta(self, found: re.Match[str]) -> None:
        """A first- or second-time bar that does not touch a bar line."""
        if self.measure.items:
            self._close("single")
        self._ending(found.group("volta").strip("["))

    def _ending(self, number: str) -> None:
        if len(number) == 1:
            self.measure.ending = int(number)
            self.measure.strain = self.measure.strain and number == "1"
        else:
            self.refuse("an ending for several times")

    def note(self, found: re.Match[str]) -> None:
        """One note."""
        place, alter, length = _spelled(found.group())
        self._add(Item((self._pitch(place, alter),), self._ticks(length) if length else self.unit))

    def chord(self, found: re.Match[str]) -> None:
        """Notes struck together; the first one's length is the chord's."""
        pitches: list[Pitch] = []
        inner = ""
        for one in _PARTS.finditer(found.group("chord")):
            place, alter, length = _spelled(one.group())
            inner = inner if pitches else length
            pitches.append(self._pitch(place, alter))
        if inner and found.group("span"):
            self.refuse("a chord with two lengths")
        ticks = self._ticks(inner or found.group("span"))
        ordered = sorted(set(pitches), key=lambda pitch: (pitch.diatonic, pitch.alter))
        self._add(Item(tuple(ordered), ticks))

    def rest(self, found: re.Match[str]) -> None:
        """A rest, seen or unseen."""
        if found.group("rest").startswith("x"):
            self.refuse("an unseen rest")
        self._add(Item((), self._ticks(found.group("silence"))))

    def _pitch(self, place: int, sign: int | None) -> Pitch:
        """The pitch at a diatonic place, by its sign, a sign before it in the bar, a tie, or the key signature."""
        if sign is not None:
            self.force[place] = self.altered[place % 7] = sign
            return pitch_at(place, sign)
        last = self.last
        if last is not None and last.tie and place not in self.force:
            for pitch in last.pitches:
                if pitch.diatonic == place:
                    return pitch
        alter = self.signature[place % 7]
        if self.force:
            if place in self.force:
                return pitch_at(place, self.force[place])
            if self.altered.get(place % 7, alter) != alter:
                self.refuse("a sign in another octave of the bar that may or may not hold")
        return pitch_at(place, alter)

    def _ticks(self, text: str) -> int:
        ticks = self.unit
        if text:
            upper, slash, lower = text.partition("/")
            ticks *= int(upper or 1)
            if slash:
                halves = 1 + lower.count("/")
                lower = lower.strip("/")
                divisor = int(lower) if lower else 2**halves
                if not divisor or ticks % divisor:
                    self.refuse("a length that no note has")
                    return self.unit
                ticks //= divisor
        return ticks

    def _add(self, item: Item) -> None:
        if self.factor is not None:
            item.ticks = item.ticks * self.factor[0] // self.factor[1]
            self.factor = None
        if self.tuplet_left:
            item.tuplet = self.tuplet
            self.tuplet_left -= 1
        if self.marks:
            item.marks = tuple(dict.fromkeys(self.marks))
            self.marks = []
        item.slurs_open, self.slurs = self.slurs, 0
        self.measure.items.append(item)
        self.last = item

    def broken(self, found: re.Match[str]) -> None:
        """A dotted pair: ``>`` lengthens the note before and shortens the next, ``<`` the other way round."""
        last = self.last
        text = found.group("broken")
        if last is None or not self.measure.items or len(text) > 2:
            self.refuse("a dotted pair without a first note")
            return
        parts = 2 ** len(text)
        long, short = (2 * parts - 1, parts), (1, parts)
        mine, its = (long, short) if text[0] == ">" else (short, long)
        last.ticks = last.ticks * mine[0] // mine[1]
        self.factor = its

    def tie(self, _found: re.Match[str]) -> None:
        """A dash after a note: a tie if the same note follows."""
        if self.last is not None:
            self.last.tie = True

    def slur(self, found: re.Match[str]) -> None:
        """The beginning or the end of a slur."""
        if found.group("slur") == "(":
            self.slurs += 1
        elif self.last is not None:
            self.last.slurs_close += 1

    def tuplet_start(self, found: re.Match[str]) -> None:
        """The figure before an irregular group."""
        count = int(found.group("p"))
        compound = 3 if self.time.kind == "compound" else 2
        usual = _COUNTS.get(count, compound)
        normal = int(found.group("q") or usual)
        self.tuplet = (count, normal)
        self.tuplet_left = int(found.group("r") or count)
        if (count, normal) not in ((2, 3), (3, 2), (4, 3), (5, 4), (6, 4), (7, 4), (5, 3)):
            self.refuse(f"a tuplet of {count} in the time of {normal}")
            self.tuplet_left = 0

    def grace(self, found: re.Match[str]) -> None:
        """Grace notes before the next note: crushed where a slash says so."""
        text = found.group("grace")[1:-1]
        kind = "acciaccatura" if text.startswith("/") else "appoggiatura"
        tied = self.last
        self.last = None
        row = [self._pitch(*_spelled(one.group())[:2]) for one in _PARTS.finditer(text)]
        self.last = tied
        if not row or _PARTS.sub("", text).strip("/ "):
            self.refuse("grace notes with more than their names")
            return
        ticks = CROTCHET_TICKS // (2 if len(row) == 1 else 4)
        self.measure.items += [Item((pitch,), ticks, grace=kind) for pitch in row]

    def words(self, _found: re.Match[str]) -> None:
        """Words, fingering or chord symbols."""
        self.left_out.add("words, fingering and chord symbols")

    def mark(self, found: re.Match[str]) -> None:
        """A one-letter mark on the next note."""
        text = found.group("mark")
        name = _MARKS.get(text)
        if name is None:
            self.refuse("a roll" if text == "~" else f"the mark {text!r}")
        else:
            self.marks.append(name)

    def sign_name(self, found: re.Match[str]) -> None:
        """A mark written out by name."""
        name = _NAMED_MARKS.get(found.group("sign_name"))
        if name is not None:
            self.marks.append(name)
        else:
            self.left_out.add("signs written out by name")

    def inline(self, found: re.Match[str]) -> None:
        """A field inside a line of music."""
        text = found.group("inline")[1:-1]
        self.field(text[0], text[2:].strip())

    def other(self, found: re.Match[str]) -> None:
        """A symbol that is not read."""
        if found.group() == "&":
            raise NotUnderstoodTune("several voices")
        self.refuse(f"the symbol {found.group()!r}")

    def passed(self, _found: re.Match[str]) -> None:
        """Space, which says nothing about the notes."""


_WHOLE: Final = {
    "ending": "bar", "span": "chord", "silence": "rest", "p": "tuplet", "q": "tuplet", "r": "tuplet",
}  # fmt: skip
_READERS: Final[dict[str, Callable[[Body, re.Match[str]], None]]] = {
    "space": Body.passed,
    "newline": Body.passed,
    "note": Body.note,
    "bar": Body.bar,
    "inline": Body.inline,
    "volta": Body.volta,
    "chord": Body.chord,
    "rest": Body.rest,
    "tuplet": Body.tuplet_start,
    "broken": Body.broken,
    "tie": Body.tie,
    "slur": Body.slur,
    "grace": Body.grace,
    "words": Body.words,
    "sign_name": Body.sign_name,
    "mark": Body.mark,
    "other": Body.other,
}
