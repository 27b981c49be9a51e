"""The ``measure`` elements of one part read in order, with the clef, signature and time in force."""

from __future__ import annotations

from bisect import bisect_left
from typing import Final

from lxml.etree import _Element as Element

from stavewright.exchange.errors import BadMusicXML, NotUnderstood
from stavewright.exchange.read_direction import read_direction
from stavewright.exchange.read_in_force import IN_FORCE, StaveState
from stavewright.exchange.read_note import NoteFacts
from stavewright.exchange.read_value import whole_number
from stavewright.exchange.read_voice import VoiceLine
from stavewright.exchange.reading import ReadBar
from stavewright.score.event import Event, Gap
from stavewright.score.stave import Bar
from stavewright.theory.duration import CROTCHET_TICKS
from stavewright.theory.metre import TimeSignature

__all__ = ["PartReader"]

_BAR_STYLES: Final = {"light-light": "double", "light-heavy": "final", "heavy-heavy": "final", "none": "none"}


class PartReader:
    """Reads the bars of one part; ``staves`` holds the result, one state for each stave of the part."""

    def __init__(self) -> None:
        self.divisions = 1
        self.staves = [StaveState()]
        self.left_out: set[str] = set()
        self.at_bar_line: list[tuple[Element, int]] = []

    def measure(self, element: Element, *, skim: bool = False) -> None:
        """Take in the next measure; with ``skim`` only what stays in force, and its bar is not kept.

        Raises:
            BadMusicXML: a number that cannot be one.
        """
        bar = _Measure(self, element)
        reason = "not read" if skim else ""
        for change, staff in self.at_bar_line:
            IN_FORCE[str(change.tag)](self.staves[staff], change)
        self.at_bar_line = []
        for child in element.iterfind("attributes") if skim else element:
            try:
                bar.take(child, understood=not reason)
            except NotUnderstood as refusal:
                reason = reason or refusal.what
        bar.close(reason)


class _Measure:
    """One measure while it is read."""

    def __init__(self, part: PartReader, element: Element) -> None:
        self.part = part
        self.number = element.get("number", "")
        self.index = len(part.staves[0].bars)
        self.position = 0
        self.furthest = 0
        self.voices: list[dict[str, VoiceLine]] = [{} for _ in part.staves]
        self.line = "single"
        self.repeat_start = False
        self.ending_stops = False
        self.next_beam = 1

    def take(self, child: Element, *, understood: bool) -> None:
        """Take in one child of the measure; after a refusal only what stays in force."""
        tag = child.tag
        if tag == "note":
            if understood:
                self._note(child)
        elif tag == "attributes":
            self._attributes(child)
        elif tag == "backup":
            self.position -= self._length(child)
            if self.position < 0:
                raise NotUnderstood("a voice that begins before its bar")
        elif tag == "forward":
            self._forward(child)
        elif tag == "barline":
            self._bar_line(child)
        elif tag == "direction":
            self._direction(child)
        elif tag in _UNKEPT:
            self.part.left_out.add(_UNKEPT[tag])

    def _note(self, child: Element) -> None:
        facts = NoteFacts.read(child)
        if facts.staff > len(self.voices):
            raise NotUnderstood(f"a note on stave {facts.staff} of a part with {len(self.voices)}")
        state = self.part.staves[facts.staff - 1]
        line = self._line(facts.voice, facts.staff - 1)
        if not facts.chord:
            line.reach(self.position)
        line.next_beam = self.next_beam
        if state.spans.octaves and facts.pitch is not None:
            onset = line.onsets[-1] if facts.chord and line.onsets else self.position
            if state.spans.raised(onset):
                facts.pitch = facts.pitch.shifted(-1)
        line.take(facts, self._slur(facts, state))
        self.next_beam = line.next_beam
        if facts.left_out:
            self.part.left_out |= facts.left_out
        if not facts.chord and not facts.grace:
            self.position += facts.length
            self.furthest = max(self.furthest, self.position)

    def _line(self, voice: str, staff: int) -> VoiceLine:
        lines = self.voices[staff]
        line = lines.get(voice)
        if line is None:
            if len(lines) == 2:
                raise NotUnderstood("more than two voices on a stave")
            time = self.part.staves[staff].time
            line = lines[voice] = VoiceLine(self.part.divisions, time.ticks if time else 0)
        return line

    def _slur(self, facts: NoteFacts, state: StaveState) -> str | None:
        if not (facts.slur_start or facts.slur_stop):
            return None
        begun = state.slurs.get(facts.voice)
        stops = begun is not None and facts.slur_stop == begun
        if stops:
            del state.slurs[facts.voice]
        starts = bool(facts.slur_start) and facts.voice not in state.slurs
        if starts:
            state.slurs[facts.voice] = facts.slur_start
        elif facts.slur_start:
            self.part.left_out.add("slurs inside a slur")
        return {(True, True): "both", (True, False): "start", (False, True): "stop", (False, False): None}[
            starts, stops
        ]

    def _length(self, child: Element) -> int:
        length = child.find("duration")
        if length is None:
            raise BadMusicXML(f"{child.tag} without a duration", where=f"line {child.sourceline}")
        return whole_number(length, 0, 10**9)

    def _forward(self, child: Element) -> None:
        self.position += self._length(child)
        self.furthest = max(self.furthest, self.position)
        voice = child.findtext("voice")
        found = child.find("staff")
        staff = 0 if found is None else whole_number(found, 1, 9) - 1
        if voice is not None and 0 <= staff < len(self.voices):
            self._line(voice, staff).reach(self.position)

    def _direction(self, child: Element) -> None:
        staff = child.find("staff")
        number = 0 if staff is None else whole_number(staff, 1, 9) - 1
        if number >= len(self.voices):
            return
        first = next(iter(self.voices[number].values()), None)
        at = 0
        if first is not None:
            at = len(first.events) if first.filled <= self.position else bisect_left(first.onsets, self.position)
        read_direction(child, (self.index, at), self.position, self.part.staves[number].spans)

    def _bar_line(self, child: Element) -> None:
        style = (child.findtext("bar-style") or "").strip()
        repeat = child.find("repeat")
        ending = child.find("ending")
        where = child.get("location", "right")
        if where == "middle":
            raise NotUnderstood("a bar line in the middle of a bar")
        if where == "right":
            if repeat is not None and repeat.get("direction") == "backward":
                self.line = "repeat-end"
            else:
                self.line = _BAR_STYLES.get(style, "single")
                if style not in (*_BAR_STYLES, "", "regular"):
                    self.part.left_out.add("bar lines of an unusual kind")
        elif repeat is not None and repeat.get("direction") == "forward":
            self.repeat_start = True
        if ending is not None:
            self._ending(ending)

    def _ending(self, ending: Element) -> None:
        number = (ending.get("number") or "").strip()
        if ending.get("type") == "start":
            if len(number) != 1 or number not in "123456789":
                raise NotUnderstood(f"an ending numbered {number[:20]!r}")
            for state in self.part.staves:
                state.ending = int(number)
        else:
            self.ending_stops = True

    def _attributes(self, child: Element) -> None:
        divisions = child.find("divisions")
        if divisions is not None:
            self.part.divisions = whole_number(divisions, 1, 16_000_000)
        staves = child.find("staves")
        if child.find("transpose") is not None:
            self.part.left_out.add("the transposition of an instrument")
        if staves is not None and self.index == 0 and not self.furthest:
            for _ in range(whole_number(staves, 1, 9) - len(self.part.staves)):
                self.part.staves.append(StaveState())
                self.voices.append({})
        refusal = ""
        for found in child:
            tag = str(found.tag)
            if tag not in IN_FORCE:
                continue
            number = found.get("number")
            targets = (
                [(int(number) if number.isdecimal() and len(number) < 3 else 1) - 1]
                if number
                else range(len(self.part.staves))
            )
            for target in targets:
                if 0 <= target < len(self.part.staves):
                    refusal = self._change(found, tag, target) or refusal
        if refusal:
            raise NotUnderstood(refusal)

    def _change(self, found: Element, tag: str, staff: int) -> str:
        time = self.part.staves[staff].time
        if self.position and tag in ("clef", "key", "time"):
            if time is not None and self.position * CROTCHET_TICKS == time.ticks * self.part.divisions:
                self.part.at_bar_line.append((found, staff))
                return ""
            IN_FORCE[tag](self.part.staves[staff], found)
            return f"a {tag} change in the middle of a bar"
        IN_FORCE[tag](self.part.staves[staff], found)
        return ""

    def close(self, reason: str) -> None:
        """Put the finished bar on each stave."""
        for number, state in enumerate(self.part.staves):
            why = reason or next(iter(state.reasons.values()), "") or state.spans.reason
            state.spans.next_bar()
            bar: Bar | None = None
            if not why:
                try:
                    bar = self._bar(state, self.voices[number])
                except NotUnderstood as refusal:
                    why = refusal.what
            if bar is None:
                state.slurs.clear()
            state.changes = {}
            state.bars.append(ReadBar(self.number, bar, state.clef, state.fifths, state.time, why))
            if self.ending_stops:
                state.ending = None

    def _bar(self, state: StaveState, lines: dict[str, VoiceLine]) -> Bar:
        voices: list[tuple[Event, ...]] = []
        for line in lines.values():
            if len(lines) > 1 and line.filled < self.furthest:
                line.reach(self.furthest)
            events = line.close()
            if len(lines) == 1 or not all(isinstance(event, Gap) for event in events):
                voices.append(events)
        if not voices:
            voices.append(())
        changes = {} if self.index == 0 else state.changes
        time = state.time
        free = time is None or not all(_full(voice, time) for voice in voices)
        return Bar(
            tuple(voices),
            self.line,
            self.repeat_start,
            changes.get("time"),  # type: ignore[arg-type]  # each name holds its own type
            changes.get("fifths"),  # type: ignore[arg-type]  # the same
            changes.get("clef"),  # type: ignore[arg-type]  # the same
            (),
            free,
            state.ending,
        )


def _full(voice: tuple[Event, ...], time: TimeSignature) -> bool:
    if len(voice) == 1 and getattr(voice[0], "whole_bar", False):
        return True
    return sum([event.ticks for event in voice]) == time.ticks


_UNKEPT: Final = {"harmony": "chord symbols", "figured-bass": "figured bass"}
