"""Writing a score as music text: whole (read back it is the same score) or plain (as a teacher would type it)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from stavewright.score.compact.by_rule import beams_by_rule, free_by_rule, signs_by_rule
from stavewright.score.compact.directive_text import write_bar_words, write_direction
from stavewright.score.compact.event_text import write_event
from stavewright.score.compact.heading import write_heading
from stavewright.score.compact.reading import USUAL
from stavewright.score.compact.scanning import LINES
from stavewright.score.event import Chord, Event, Gap, Note
from stavewright.score.stave import Bar, Bracket, Score, Stave
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.metre import TimeSignature

MIDDLE_LINE: Final = 4
_LINE: Final = {name: text for text, name in LINES.items()}


def write_music(score: Score, *, plain: bool = False) -> str:
    """A score as music text. `plain` leaves out ids, usual stems and the numbers of beams, which only programs need.

    >>> from stavewright.score.compact.reading import read_music
    >>> write_music(read_music("treble D 2/4: F#4:8 G4 A4:4 | D4:2"))
    'treble 2 sharps 2/4: F#4:8 G4 A4:4 | D4:2 |]'
    """
    return _Writer(score, plain).text()


class _Writer:
    """Writes one score, event by event."""

    def __init__(self, score: Score, plain: bool) -> None:
        self.score, self.plain = score, plain
        self.signs = iter(signs_by_rule(score))
        self.number = 0
        self.no_ids = bool(list(score.events())) and not any(event.id for event in score.events())
        self.value = Duration("crotchet")
        self.clef, self.alone = "treble", True

    def text(self) -> str:
        said = frozenset({"no-ids"} if self.no_ids and not self.plain else ())
        return "; ".join(
            f"{write_heading(stave, self.score, said if not place else frozenset())} {' '.join(self._stave(stave))}"
            for place, stave in enumerate(self.score.staves)
        )

    def _stave(self, stave: Stave) -> Iterator[str]:
        time, self.clef = stave.time, stave.clef
        self.value = Duration("crotchet")
        upbeat = self.score.anacrusis
        for index, bar in enumerate(stave.bars):
            time = bar.time or time
            if bar.repeat_start:
                yield "|:"
            self.clef, self.alone = bar.clef or self.clef, len(bar.voices) == 1
            length = max(sum(event.ticks for event in voice) for voice in bar.voices)
            free = free_by_rule(index, len(stave.bars), length, time, upbeat=upbeat)
            yield from write_bar_words(bar, free=free)
            for place, voice in enumerate(bar.voices):
                if place:
                    yield "&"
                yield from self._voice(bar, voice, time, first=not place, upbeat=upbeat and not index)
            last = index == len(stave.bars) - 1
            if not (last and stave.time is None and bar.line == "none" and bar.events):
                yield _LINE[bar.line]

    def _voice(
        self, bar: Bar, voice: Sequence[Event], time: TimeSignature | None, *, first: bool, upbeat: bool
    ) -> Iterator[str]:
        in_place = first and _in_order(bar, len(voice))
        opens, closes, extras = _beams(voice, beams_by_rule(voice, time, upbeat=upbeat), plain=self.plain)
        if first and not in_place:
            yield from (write_direction(one, placed=False) for one in bar.directions)
        place = 0
        for tuplet, group in groupby(voice, key=lambda event: event.duration.tuplet):
            said: list[str] = []
            for event in group:
                before = [write_direction(one, placed=True) for one in bar.directions if in_place and one.at == place]
                brackets = [f"[bracket {one.label}]".replace(" ]", "]") for one in self._from(event)]
                after = [f" [end {one.label}]".replace(" ]", "]") for one in self._to(event)]
                note = ("(" if place in opens else "") + self._event(event, extras.get(place, ""))
                note += (")" if place in closes else "") + "".join(after)
                said += [*before, *brackets, note]
                place += 1
            if tuplet is None:
                yield from said
            else:
                yield _opening(tuplet) + " ".join(said) + "}"

    def _from(self, event: Event) -> list[Bracket]:
        return [one for one in self.score.brackets if event.id and one.first == event.id]

    def _to(self, event: Event) -> list[Bracket]:
        return [one for one in self.score.brackets if event.id and one.last == event.id]

    def _event(self, event: Event, extra: str) -> str:
        self.number += 1
        rule = next(self.signs)
        signs = event.accidentals if isinstance(event, Note | Chord) and event.accidentals != rule else None
        if not (self.plain or self.no_ids or event.id == f"n{self.number}"):
            extra += f"+id={event.id}"
        text = write_event(event, self.value, signs, extra, stem=not self.plain or self._told(event))
        if not (not isinstance(event, Note | Chord | Gap) and event.whole_bar and ":" not in text):
            self.value = event.duration.plain
        return text


    def _told(self, event: Event) -> bool:
        """Whether the stem goes another way than a single note's would on a stave with one voice."""
        if not isinstance(event, Note) or not self.alone:
            return False
        place = CLEFS[self.clef].place(event.pitch)
        return place != MIDDLE_LINE and (event.stem == "up") != (place < MIDDLE_LINE)


def _opening(tuplet: Tuplet) -> str:
    usual = USUAL.get(tuplet.actual) == tuplet.normal
    return f"{tuplet.actual}{{" if usual else f"{tuplet.actual}:{tuplet.normal}{{"


def _in_order(bar: Bar, length: int) -> bool:
    """Whether every direction can be written before its event, in the order in which the bar holds them."""
    places = [one.at for one in bar.directions]
    return places == sorted(places) and all(place < length for place in places)


def _beams(
    voice: Sequence[Event], rule: tuple[int | None, ...], *, plain: bool
) -> tuple[set[int], set[int], dict[int, str]]:
    """Where beams open and close, and what events say of them, where they are not those of the rule."""
    beams = tuple(None if isinstance(event, Gap) else event.beam for event in voice)
    if beams == rule or (plain and _renumbered(beams) == _renumbered(rule)):
        return set(), set(), {}
    runs = [
        (number, [place for place, _ in group])
        for number, group in groupby(enumerate(beams), key=lambda pair: pair[1])
        if number is not None
    ]
    numbers = [number for number, _ in runs]
    if runs and (numbers == list(range(1, len(runs) + 1)) or (plain and len(set(numbers)) == len(numbers))):
        kept = [places for _, places in runs if len(places) > 1 or not plain]
        if kept:
            return {places[0] for places in kept}, {places[-1] for places in kept}, {}
    if not runs or plain:
        return set(), set(), {0: "+beam=none"} if voice else {}
    return set(), set(), {place: f"+beam={number}" for place, number in enumerate(beams) if number is not None}


def _renumbered(beams: tuple[int | None, ...]) -> list[int | None]:
    seen: dict[int, int] = {}
    return [None if one is None else seen.setdefault(one, len(seen)) for one in beams]
