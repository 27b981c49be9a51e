"""One voice of one bar put together from its notes as they are read: chords, gaps, beam groups, slurs."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Final

from stavewright.exchange.errors import NotUnderstood
from stavewright.exchange.read_note import NoteFacts
from stavewright.score.event import Chord, Event, Gap, Note, Rest
from stavewright.theory.duration import CROTCHET_TICKS, TICKS, Duration, of_ticks

__all__ = ["VoiceLine"]

_SEMIBREVE: Final = Duration("semibreve")
_LONGEST_GAP: Final = 32 * _SEMIBREVE.ticks


@dataclass(slots=True)
class VoiceLine:
    """The events of a voice so far. ``filled`` is where they end, in divisions from the bar line."""

    divisions: int
    bar_ticks: int
    events: list[Event] = field(default_factory=list)
    onsets: list[int] = field(default_factory=list)
    filled: int = 0
    beam: int | None = None
    grace_beam: int | None = None
    next_beam: int = 1
    members: dict[int, list[int]] = field(default_factory=dict)

    def ticks(self, length: int) -> int:
        """Divisions in ticks.

        Raises:
            NotUnderstood: a length finer than this program counts.
        """
        ticks, left = divmod(length * CROTCHET_TICKS, self.divisions)
        if left:
            raise NotUnderstood(f"a length of {length}/{self.divisions} of a crotchet")
        return ticks

    def reach(self, position: int) -> None:
        """Leave the stave empty up to a position.

        Raises:
            NotUnderstood: the empty stretch has no written length, or lies before what is written already.
        """
        if position < self.filled:
            raise NotUnderstood("two notes of one voice at the same time")
        if position > self.filled:
            for gap in _gaps(self.ticks(position - self.filled)):
                self._add(gap, self.filled)
            self.filled = position

    def take(self, facts: NoteFacts, slur: str | None) -> None:
        """Add a note or rest at the end of the voice, or a note to the chord that stands there.

        Raises:
            NotUnderstood: written value and length disagree, a chord of unequal values, an unseen note.
        """
        if facts.chord:
            self._join(facts)
            return
        if facts.rest:
            self._rest(facts)
            return
        pitch = facts.pitch
        if pitch is None:
            raise NotUnderstood("a note without a pitch")
        if facts.hidden:
            raise NotUnderstood("a note that is not printed")
        duration = self._value(facts)
        beam = self._beamed(facts)
        self._add(
            Note(
                pitch, duration, facts.id, facts.accidental, facts.tie, beam, facts.stem,
                facts.marks, facts.grace, slur, facts.lyric, facts.label,
            ),
            self.filled,
        )  # fmt: skip
        if not facts.grace:
            self.filled += facts.length

    def close(self) -> tuple[Event, ...]:
        """The finished voice; a beam group of one note is no group."""
        for number, places in self.members.items():
            if len(places) == 1:
                for place, event in enumerate(self.events):
                    if not isinstance(event, Gap) and event.beam == number:
                        self.events[place] = replace(event, beam=None)
        return tuple(self.events)

    def _add(self, event: Event, onset: int) -> None:
        self.events.append(event)
        self.onsets.append(onset)

    def _value(self, facts: NoteFacts) -> Duration:
        duration = facts.duration
        if facts.grace:
            return duration or Duration("quaver")
        ticks, left = divmod(facts.length * CROTCHET_TICKS, self.divisions)
        if duration is None:
            found = None if left else of_ticks(ticks)
            if found is None:
                raise NotUnderstood(f"a note without a type and {facts.length}/{self.divisions} of a crotchet long")
            return found
        if duration.ticks != ticks and not (
            duration.tuplet and abs(duration.ticks - ticks) * self.divisions < CROTCHET_TICKS
        ):
            raise NotUnderstood(f"a {duration.text} that lasts {facts.length}/{self.divisions} of a crotchet")
        return duration

    def _rest(self, facts: NoteFacts) -> None:
        if facts.grace:
            raise NotUnderstood("a grace note that is a rest")
        if facts.hidden:
            self.reach(self.filled + facts.length)
            return
        onset = self.filled
        length = facts.length * CROTCHET_TICKS // self.divisions
        if facts.whole_bar or (length == self.bar_ticks and not self.events and _fills_any_bar(facts, length)):
            rest = Rest(facts.duration or _SEMIBREVE, facts.id, whole_bar=True, label=facts.label)
        else:
            rest = Rest(self._value(facts), facts.id, beam=self.beam, label=facts.label)
        self._add(rest, onset)
        self.filled += facts.length

    def _beamed(self, facts: NoteFacts) -> int | None:
        grace = facts.grace is not None
        number = self.grace_beam if grace else self.beam
        if facts.beam == "begin":
            number = self.next_beam
            self.next_beam += 1
        elif facts.beam not in ("continue", "end"):
            return None
        if number is not None:
            self.members.setdefault(number, []).append(len(self.events))
        after = None if facts.beam == "end" else number
        if grace:
            self.grace_beam = after
        else:
            self.beam = after
        return number

    def _join(self, facts: NoteFacts) -> None:
        last = self.events[-1] if self.events else None
        if (
            not isinstance(last, Note | Chord)
            or facts.pitch is None
            or facts.grace
            or (isinstance(last, Note) and last.grace)
        ):
            raise NotUnderstood("a chord on something that is not a note")
        if facts.hidden or (facts.duration or last.duration) != last.duration:
            raise NotUnderstood("a chord of unequal values")
        if isinstance(last, Note) and last.lyric:
            facts.left_out.add("words under a chord")
        rows = [*zip(last.pitches, last.accidentals, strict=True), (facts.pitch, facts.accidental)]
        rows.sort(key=lambda row: (row[0].diatonic, row[0].alter))
        self.events[-1] = Chord(
            tuple(pitch for pitch, _ in rows),
            last.duration,
            last.id,
            tuple(sign for _, sign in rows),
            last.tie or facts.tie,
            last.beam,
            last.stem,
            last.marks + tuple(mark for mark in facts.marks if mark not in last.marks),
            last.slur,
            last.label,
        )


def _fills_any_bar(facts: NoteFacts, ticks: int) -> bool:
    """A rest as long as its bar that has no value, or a semibreve's where that value would not fit."""
    written = facts.duration
    return written is None or (written == _SEMIBREVE and written.ticks != ticks)


def _gaps(ticks: int) -> list[Gap]:
    single = of_ticks(ticks)
    if single is not None:
        return [Gap(single)]
    if ticks > _LONGEST_GAP:
        raise NotUnderstood("an empty stretch longer than 32 semibreves")
    found: list[Gap] = []
    for value, length in TICKS.items():
        while ticks >= length:
            found.append(Gap(Duration(value)))
            ticks -= length
    if ticks:
        raise NotUnderstood("an empty stretch of no written length")
    return found
