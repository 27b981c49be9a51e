"""Reading music text into a score, with all faults of the text at once."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction

from stavewright.score.compact.by_rule import beams_by_rule, free_by_rule, signed, signs_by_rule
from stavewright.score.compact.directive_text import BarWords, read_directive
from stavewright.score.compact.event_text import Typed, read_event
from stavewright.score.compact.heading import Heading, part_heading, read_heading
from stavewright.score.compact.scanning import LINES, Piece, pieces, staves
from stavewright.score.errors import BadMusicText
from stavewright.score.event import Event, Gap
from stavewright.score.stave import Bar, Bracket, Score, Stave
from stavewright.theory.duration import CROTCHET_TICKS, Duration, Tuplet
from stavewright.theory.errors import StavewrightError, together
from stavewright.theory.metre import TimeSignature

LONGEST = 200_000
"""So many letters of music text are read at most."""
LONGEST_PIECE = 250

USUAL = {2: 3, 3: 2, 4: 3, 5: 4, 6: 4, 7: 4, 8: 6, 9: 8}
"""In the time of how many notes a group of so many usually stands."""


@dataclass(slots=True)
class _Bar:
    voices: list[list[Typed]] = field(default_factory=lambda: [[]])
    line: str | None = None
    repeat: bool = False
    said: BarWords = field(default_factory=BarWords)
    touched: bool = False


@dataclass(slots=True)
class _Reader:
    """Reads the music of one stave; faults are gathered with their place."""

    stave: int
    faults: list[str]
    bars: list[_Bar] = field(default_factory=lambda: [_Bar()])
    value: Duration = field(default_factory=lambda: Duration("crotchet"))
    tuplet: Tuplet | None = None
    beams: int = 0
    beamed: bool = False
    opened: list[str] = field(default_factory=list)
    ended: list[tuple[str, int, int, int]] = field(default_factory=list)
    starts: dict[str, tuple[int, int, int]] = field(default_factory=dict)
    waiting: list[str] = field(default_factory=list)

    @property
    def place(self) -> str:
        return f"stave {self.stave}, bar {len(self.bars)}"

    def fault(self, what: str) -> None:
        self.faults.append(f"{self.place}: {what}")

    def read(self, text: str) -> None:
        for piece in pieces(text):
            if len(piece.text) > LONGEST_PIECE:
                self.fault(f"{piece.text[:30]}... is {len(piece.text)} letters long: notes are parted by spaces")
                continue
            try:
                self._piece(piece)
            except StavewrightError as fault:
                self.fault(f"{piece.text}: {fault}" if piece.text not in str(fault) else str(fault))
        if self.tuplet is not None:
            self.fault("a group of notes is not closed: end it with }")
        if self.beamed:
            self.fault("a beam is not closed: end it with )")
        for label in self.waiting + [one for one in self.starts if one not in [name for name, *_ in self.ended]]:
            self.fault(f"bracket {label or 'without a letter'} has no end: write [end{' ' if label else ''}{label}]")
        if not self.bars[-1].touched and len(self.bars) > 1:
            self.bars.pop()

    def _piece(self, piece: Piece) -> None:
        bar = self.bars[-1]
        if piece.sort == "line":
            self._line(piece.text)
            return
        bar.touched = True
        if piece.sort == "event":
            typed, self.value = read_event(piece.text, self.value, self.tuplet)
            if self.beamed:
                typed = replace(typed, beam=str(self.beams))
            bar.voices[-1].append(typed)
            at = (len(self.bars) - 1, len(bar.voices) - 1, len(bar.voices[-1]) - 1)
            for label in self.waiting:
                self.starts[label] = at
            self.waiting.clear()
        elif piece.sort == "tuplet":
            actual, _, normal = piece.text[:-1].partition(":")
            self.tuplet = Tuplet(int(actual), int(normal) if normal else USUAL.get(int(actual), 1))
        elif piece.sort == "directive":
            self._directive(piece.text)
        else:
            self._mark(piece.text)

    def _mark(self, text: str) -> None:
        bar = self.bars[-1]
        if text == "(":
            self.beams, self.beamed = self.beams + 1, True
        elif text == ")":
            self.beamed = False
        elif text == "}":
            self.tuplet = None
        elif text == "&":
            bar.voices.append([])
            self.beams = 0
        else:
            self.fault(f"{text!r} cannot be read here: notes are written as F#4:8")

    def _line(self, text: str) -> None:
        bar = self.bars[-1]
        if text == "|:":
            if bar.touched:
                bar.line = "single"
                self.bars.append(_Bar())
            self.bars[-1].repeat = self.bars[-1].touched = True
        else:
            bar.line, bar.touched = LINES[text], True
            self.bars.append(_Bar())
        self.beams = 0

    def _directive(self, text: str) -> None:
        bar = self.bars[-1]
        name, label = read_directive(text, bar.said, len(bar.voices[-1]) if len(bar.voices) == 1 else 0)
        if name == "bracket":
            self.waiting.append(label)
        elif name == "end":
            voice = bar.voices[-1]
            if label not in self.starts or not voice:
                self.fault(f"[end {label}] ends a bracket that has no note: write [bracket {label}] before its first")
                return
            self.ended.append((label, len(self.bars) - 1, len(bar.voices) - 1, len(voice) - 1))


def read_music(text: str) -> Score:
    """A score from music text.

    Raises:
        BadMusicText: with every fault and its place.

    >>> score = read_music("treble D: F#4 C#5")
    >>> [note.pitch.short for note in score.notes()], score.staves[0].fifths
    (['F#4', 'C#5'], 2)
    """
    return read_headed(text)[0]


def read_headed(text: str) -> tuple[Score, tuple[Heading, ...]]:
    """A score from music text, with the heading of each stave as it was typed.

    Raises:
        BadMusicText: with every fault and its place.
    """
    if len(text) > LONGEST:
        raise BadMusicText(f"music text of {len(text)} letters: at most {LONGEST} are read")
    faults: list[str] = []
    read: list[tuple[Heading, _Reader]] = []
    for number, one in enumerate((part for part in staves(text) if part.strip()), 1):
        try:
            said, music = part_heading(one)
            heading = read_heading(said)
        except StavewrightError as fault:
            faults.append(f"stave {number}: {fault}")
            continue
        reader = _Reader(number, faults)
        reader.read(music)
        if not any(bar.touched for bar in reader.bars):
            faults.append(f"stave {number} has no notes: write them after the colon, as in `treble D: F#4 C#5`")
        read.append((heading, reader))
    if not read and not faults:
        faults.append("there is no music: write a clef, a colon and notes, as in `treble D: F#4 C#5`")
    lengths = {len(reader.bars) for _, reader in read}
    if len(lengths) > 1:
        counts = " and ".join(str(len(reader.bars)) for _, reader in read)
        faults.append(f"the staves have {counts} bars: all staves need the same number")
    if faults:
        raise BadMusicText(f"music text: {together(faults)}")
    try:
        score = _score(read, faults)
    except BadMusicText:
        raise
    except StavewrightError as fault:
        raise BadMusicText(f"music text: {fault}") from fault
    return score, tuple(heading for heading, _ in read)


def _score(read: list[tuple[Heading, _Reader]], faults: list[str]) -> Score:
    said = read[0][0].words
    upbeat = "upbeat" in said
    score = Score(
        tuple(_stave(heading, reader, upbeat=upbeat) for heading, reader in read),
        join="brace" if "brace" in said else "bracket" if "bracket" in said else "none",
        numbered="numbered" in said,
        anacrusis=upbeat,
    )
    if faults:
        raise BadMusicText(f"music text: {together(faults)}")
    typed = [one for _, reader in read for bar in reader.bars for voice in bar.voices for one in voice]
    done: list[Event] = []
    for number, (event, one, rule) in enumerate(zip(score.events(), typed, signs_by_rule(score), strict=True), 1):
        printed = signed(event, rule if one.signs is None else one.signs)
        done.append(printed if one.named or "no-ids" in said else replace(printed, id=f"n{number}"))
    filled, ids = _filled(score, done)
    brackets = []
    for stave, (_, reader) in enumerate(read):
        for label, bar, voice, place in reader.ended:
            first_bar, first_voice, first = reader.starts[label]
            ends = ids[stave][first_bar][first_voice][first], ids[stave][bar][voice][place]
            brackets.append((Bracket(*ends, label), (stave, reader.starts[label])))
    return replace(filled, brackets=tuple(one for one, _ in sorted(brackets, key=lambda pair: pair[1])))


def _filled(score: Score, events: list[Event]) -> tuple[Score, list[list[list[list[str]]]]]:
    """The score with those events in the place of its own, and the ids by stave, bar, voice and place."""
    row = iter(events)
    staves, ids = [], []
    for stave in score.staves:
        bars = tuple(
            replace(bar, voices=tuple(tuple(next(row) for _ in voice) for voice in bar.voices)) for bar in stave.bars
        )
        staves.append(replace(stave, bars=bars))
        ids.append([[[event.id for event in voice] for voice in bar.voices] for bar in bars])
    return replace(score, staves=tuple(staves)), ids


def _stave(heading: Heading, reader: _Reader, *, upbeat: bool) -> Stave:
    time = heading.time
    bars: list[Bar] = []
    count = len(reader.bars)
    for index, bar in enumerate(reader.bars):
        time = bar.said.time or time
        voices = tuple(_voice(voice, time, heading, upbeat=upbeat and index == 0) for voice in bar.voices)
        length = max(sum(event.ticks for event in voice) for voice in voices)
        free = free_by_rule(index, count, length, time, upbeat=upbeat) if bar.said.free is None else bar.said.free
        if not free:
            _check_length(reader, index, voices, time, upbeat=upbeat)
        bars.append(
            Bar(
                voices,
                bar.line or ("none" if heading.time is None else "single" if index + 1 < count else "final"),
                bar.repeat,
                bar.said.time,
                bar.said.fifths,
                bar.said.clef,
                tuple(bar.said.directions),
                free,
                bar.said.ending,
            )
        )
    shown = "no-clef" not in heading.words
    return Stave(heading.clef, tuple(bars), heading.fifths, heading.time, heading.name, shown, heading.signs)


def _voice(voice: list[Typed], time: TimeSignature | None, heading: Heading, *, upbeat: bool) -> tuple[Event, ...]:
    events = [one.event for one in voice]
    beams: tuple[int | None, ...]
    if any(one.beam for one in voice):
        beams = tuple(int(one.beam) if one.beam.isdigit() else None for one in voice)
    else:
        beams = beams_by_rule(events, None if "tails" in heading.words else time, upbeat=upbeat)
    return tuple(
        event if isinstance(event, Gap) else replace(event, beam=number)
        for event, number in zip(events, beams, strict=True)
    )


def _check_length(
    reader: _Reader, index: int, voices: tuple[tuple[Event, ...], ...], time: TimeSignature | None, *, upbeat: bool
) -> None:
    if time is None:
        return
    for voice in voices:
        length = sum(event.ticks for event in voice)
        whole = len(voice) == 1 and getattr(voice[0], "whole_bar", False)
        if length != time.ticks and not whole:
            hint = "" if upbeat else "; write upbeat in the heading if it is one" if index == 0 else ""
            reader.faults.append(
                f"stave {reader.stave}, bar {index + 1} holds {_crotchets(length)}, {time.text} asks for "
                f"{_crotchets(time.ticks)}: mend it, or write [free] in a bar that is meant so{hint}"
            )


def _crotchets(ticks: int) -> str:
    """A length counted in crotchets.

    >>> _crotchets(CROTCHET_TICKS * 7 // 2)
    '3 1/2 crotchets'
    """
    whole, rest = divmod(Fraction(ticks, CROTCHET_TICKS), 1)
    said = " ".join(str(part) for part in (whole, rest) if part) or "0"
    return f"{said} crotchet{'' if said == '1' else 's'}"
