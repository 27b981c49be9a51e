"""The music lines of an ABC tune, symbol by symbol."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

from stavewright.theory.duration import CROTCHET_TICKS
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch, pitch_at
from stavewright.tunes.abc_header import fifths_of, metre_of, unit_of
from stavewright.tunes.abc_signs import Signs
from stavewright.tunes.abc_tokens import GROUP_OF, MARKS, NAMED_MARKS, PARTS, TOKENS, spelled, ticks_of, tuplet_of
from stavewright.tunes.abc_values import Item, Measure, bars_of
from stavewright.tunes.errors import NotUnderstoodTune
from stavewright.tunes.tune import TuneBar

__all__ = ["Body"]


_TUPLETS: Final = ((2, 3), (3, 2), (4, 3), (5, 4), (6, 4), (7, 4), (5, 3))
"""Irregular groups that are written as ABC writes them; other ones have other note values on paper."""


class Body:
    """Takes in the music of a tune line by line; `finished` gives its bars."""

    def __init__(self, time: TimeSignature, fifths: int, unit: int) -> None:
        self.time = time
        self.fifths = fifths
        self.signs = Signs(fifths)
        self.unit = unit
        self.left_out: set[str] = set()
        self.measures: list[Measure] = []
        self.measure = Measure(time, fifths, strain=True)
        self.marks: list[str] = []
        self.last: Item | None = None
        self.factor: tuple[int, int] | None = None
        self.tuplet: tuple[int, int] | None = None
        self.tuplet_left = 0
        self.slurs = 0

    def music(self, line: str) -> None:
        """Take in one line of music."""
        for found in TOKENS.finditer(line):
            kind = found.lastgroup
            _READERS[GROUP_OF.get(kind or "", kind or "")](self, found)

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
        self.signs = Signs(fifths)
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
        self.signs.bar_line()

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
        place, alter, length = spelled(found.group())
        self._add(Item((self._pitch(place, alter),), self._ticks(length) if length else self.unit))

    def chord(self, found: re.Match[str]) -> None:
        """Notes struck together; the first one's length is the chord's."""
        pitches: list[Pitch] = []
        inner = ""
        for one in PARTS.finditer(found.group("chord")):
            place, alter, length = spelled(one.group())
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
        if sign is None:
            tied = None if self.last is None or not self.last.tie else self.last.pitches
            pitch = self.signs.sounding(place, tied)
            if pitch is None:
                self.refuse("a sign in another octave of the bar that may or may not hold")
            return pitch or pitch_at(place)
        return self.signs.signed(place, sign)

    def _ticks(self, text: str) -> int:
        ticks = ticks_of(self.unit, text)
        if ticks is None:
            self.refuse("a length that no note has")
            return self.unit
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
        count, normal, self.tuplet_left = tuplet_of(found, compound=self.time.kind == "compound")
        self.tuplet = (count, normal)
        if self.tuplet not in _TUPLETS:
            self.refuse(f"a tuplet of {count} in the time of {normal}")
            self.tuplet_left = 0

    def grace(self, found: re.Match[str]) -> None:
        """Grace notes before the next note: crushed where a slash says so."""
        text = found.group("grace")[1:-1]
        kind = "acciaccatura" if text.startswith("/") else "appoggiatura"
        tied = self.last
        self.last = None
        row = [self._pitch(*spelled(one.group())[:2]) for one in PARTS.finditer(text)]
        self.last = tied
        if not row or PARTS.sub("", text).strip("/ "):
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
        name = MARKS.get(text)
        if name is None:
            self.refuse("a roll" if text == "~" else f"the mark {text!r}")
        else:
            self.marks.append(name)

    def sign_name(self, found: re.Match[str]) -> None:
        """A mark written out by name."""
        name = NAMED_MARKS.get(found.group("sign_name"))
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
