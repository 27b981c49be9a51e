"""Scores as MEI 5.1, the music encoding that verovio draws: a pure function of the score."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from stavewright.engraving.errors import EngravingError
from stavewright.engraving.mei_events import Placed, layer
from stavewright.engraving.mei_marks import BAR_LINES, CLEFS, drawn_signature, safe_id, safe_prefix, signature, words
from stavewright.engraving.mei_signs import Slurs, directions, labels, loose_ties, ornaments
from stavewright.score.event import Chord, Event, Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.duration import CROTCHET_TICKS
from stavewright.theory.metre import TimeSignature

_HEAD = (
    '<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1"><meiHead><fileDesc><titleStmt><title/>'
    "</titleStmt><pubStmt/></fileDesc></meiHead><music><body><mdiv><score>"
)
_FOOT = "</score></mdiv></body></music></mei>"

Voices = list[list[list[Placed]]]


@dataclass(frozen=True, slots=True)
class Encoded:
    """A score ready to draw: its MEI text, the id of every event in reading order, and how many note heads it has."""

    text: str
    ids: tuple[str, ...]
    own_ids: dict[str, str]
    heads: int


def encode(score: Score, prefix: str = "p", breaks: frozenset[int] = frozenset()) -> Encoded:
    """Write a score as MEI. All ids begin with `prefix`; a new system begins at the bar indexes in `breaks`.

    A direction's pitch and place are as written; nothing is added that the score does not print.

    Raises:
        EngravingError: an id, sign, slur, beam or bracket that cannot be drawn, with the bar it stands in.

    >>> from stavewright.score.stave import single
    >>> from stavewright.theory.duration import Duration
    >>> from stavewright.theory.pitch import Pitch
    >>> row = (Note(Pitch("F", 1, 4), Duration("crotchet"), id="n1", accidental="sharp"),)
    >>> '<note xml:id="q7_n1" pname="f" oct="4" accid="s" dur="4"/>' in encode(single("treble", row), "q7").text
    True
    """
    return _Writer(score, safe_prefix(prefix)).encoded(breaks)


class _Writer:
    def __init__(self, score: Score, prefix: str) -> None:
        self.score = score
        self.prefix = prefix
        self.own_ids: dict[str, str] = {}
        self.ids: list[str] = []
        self.staves = [self._placed(stave) for stave in score.staves]
        self.slurs = [one for voices in self.staves for one in _slurs(voices)]

    def _id(self, event: Event) -> str:
        if not event.id:
            made = f"{self.prefix}-{len(self.ids) + 1}"
        else:
            made = f"{self.prefix}_{safe_id(event.id)}"
            if event.id in self.own_ids:
                raise EngravingError(f"the id {event.id!r} stands twice in one score: give each event its own")
            self.own_ids[event.id] = made
        self.ids.append(made)
        return made

    def _placed(self, stave: Stave) -> Voices:
        bars = [[[Placed(event, self._id(event)) for event in voice] for voice in bar.voices] for bar in stave.bars]
        for number in range(max(len(bar) for bar in bars)):
            _tie_voice([bar[number] if number < len(bar) else [] for bar in bars])
        return bars

    def encoded(self, breaks: frozenset[int]) -> Encoded:
        out = [_HEAD, "<scoreDef>", self._staff_group(), "</scoreDef><section>"]
        ending: int | None = None
        for index in range(len(self.score.staves[0].bars)):
            lead = self.score.staves[0].bars[index]
            if ending is not None and lead.ending != ending:
                out.append("</ending>")
            out.append(self._change(index))
            if index in breaks:
                out.append("<sb/>")
            if lead.ending is not None and lead.ending != ending:
                out.append(f'<ending n="{lead.ending}">')
            ending = lead.ending
            out.append(self._measure(index, lead))
        if ending is not None:
            out.append("</ending>")
        out += ["</section>", _FOOT]
        notes = [event for event in self.score.events() if isinstance(event, Note | Chord)]
        return Encoded("".join(out), tuple(self.ids), self.own_ids, sum(len(event.pitches) for event in notes))

    def _staff_group(self) -> str:
        join = {"brace": ' symbol="brace" bar.thru="true"', "bracket": ' symbol="bracket" bar.thru="true"'}
        out = [f"<staffGrp{join.get(self.score.join, '')}>"]
        for number, stave in enumerate(self.score.staves, 1):
            name = f"<label>{words(stave.name)}</label>" if stave.name else ""
            first = stave.bars[0]
            clef = _clef(first.clef or stave.clef, shown=stave.show_clef)
            fifths = stave.fifths if first.fifths is None else first.fifths
            key = "" if fifths is None else f'<keySig sig="{signature(fifths)}"/>'
            key = drawn_signature(stave.signs) or key
            meter = _meter(first.time or stave.time)
            out.append(f'<staffDef n="{number}" lines="5">{name}{clef}{key}{meter}</staffDef>')
        return "".join([*out, "</staffGrp>"])

    def _change(self, index: int) -> str:
        if index == 0:
            return ""
        out: list[str] = []
        for number, stave in enumerate(self.score.staves, 1):
            bar = stave.bars[index]
            key = "" if bar.fifths is None else f'<keySig sig="{signature(bar.fifths)}" cancelaccid="before"/>'
            if key or bar.time:
                out.append(f'<staffDef n="{number}">{key}{_meter(bar.time)}</staffDef>')
        return f"<scoreDef><staffGrp>{''.join(out)}</staffGrp></scoreDef>" if out else ""

    def _measure(self, index: int, lead: Bar) -> str:
        bars = [stave.bars[index] for stave in self.score.staves]
        last = index + 1 == len(self.score.staves[0].bars)
        repeats_next = not last and self.score.staves[0].bars[index + 1].repeat_start
        right = BAR_LINES[lead.line]
        if repeats_next:
            right = "rptboth" if lead.line == "repeat-end" else "rptstart"
        left = ' left="rptstart"' if lead.repeat_start and index == 0 else ""
        out = [f'<measure xml:id="{self.prefix}-b{index + 1}"{left} right="{right}">']
        if self.score.numbered and (number := self.score.bar_number(index)) > 0:
            out.append(f"<mNum>{number}</mNum>")
        for number, stave in enumerate(self.score.staves, 1):
            out.append(f'<staff n="{number}">')
            coming = None if last else stave.bars[index + 1].clef
            for voice_number, voice in enumerate(self.staves[number - 1][index], 1):
                turn = _clef(coming) if coming and voice_number == 1 else ""
                events = layer(voice, f"stave {number}, bar {index + 1}")
                out.append(f'<layer n="{voice_number}">{events}{turn}</layer>')
            out.append("</staff>")
        for number, bar in enumerate(bars, 1):
            out.append(self._around(number, bar, index))
        out.append(self._brackets(index))
        return "".join([*out, "</measure>"])

    def _around(self, number: int, bar: Bar, index: int) -> str:
        first_voice = [[placed.id for placed in voices[0]] for voices in self.staves[number - 1]]
        out = [directions(bar, number, first_voice, index, number)]
        stave = self.score.staves[number - 1]
        times = [stave.time, *(one.time for one in stave.bars[: index + 1])]
        unit = next((time.unit_value.ticks for time in reversed(times) if time), CROTCHET_TICKS)
        for voice in self.staves[number - 1][index]:
            out += [ornaments(voice, number), labels(voice, number), loose_ties(voice, number, unit)]
            here = {placed.id for placed in voice}
            out += [
                f'<slur staff="{number}" startid="#{first}" endid="#{final}"/>'
                for first, final in self.slurs
                if first in here
            ]
        return "".join(out)

    def _brackets(self, index: int) -> str:
        out: list[str] = []
        for number, voices in enumerate(self.staves, 1):
            here = {placed.id for voice in voices[index] for placed in voice}
            for place, bracket in enumerate(self.score.brackets, 1):
                for end in (bracket.first, bracket.last):
                    if end not in self.own_ids:
                        raise EngravingError(f"a bracket names {end!r}, which no event of the score has")
                if self.own_ids[bracket.first] in here:
                    out.append(
                        f'<bracketSpan xml:id="{self.prefix}-k{place}" staff="{number}" lform="solid" place="above"'
                        f' startid="#{self.own_ids[bracket.first]}" endid="#{self.own_ids[bracket.last]}"/>'
                    )
        return "".join(out)


def _clef(name: str, shown: bool = True) -> str:
    shape, line = CLEFS[name]
    hidden = "" if shown else ' visible="false"'
    return f'<clef shape="{shape}" line="{line}"{hidden}/>'


def _meter(time: TimeSignature | None) -> str:
    if time is None:
        return ""
    symbol = f' sym="{time.symbol}"' if time.symbol else ""
    return f'<meterSig{symbol} count="{time.beats}" unit="{time.unit}"/>'


def _tie_voice(bars: list[list[Placed]]) -> None:
    """Find for each tie the pitches it joins: those that the next note or chord of the voice has too."""
    flat = [(bar, place) for bar in bars for place, placed in enumerate(bar) if not _grace(placed)]
    for (bar, place), (next_bar, next_place) in pairwise(flat):
        placed = bar[place]
        if not isinstance(placed.event, Note | Chord) or not placed.event.tie:
            continue
        target = next_bar[next_place]
        if isinstance(target.event, Note | Chord):
            shared = frozenset(placed.event.pitches) & frozenset(target.event.pitches)
            bar[place] = Placed(placed.event, placed.id, placed.tied, shared)
            next_bar[next_place] = Placed(target.event, target.id, shared, target.ties)


def _grace(placed: Placed) -> bool:
    return isinstance(placed.event, Note) and placed.event.grace is not None


def _slurs(voices: Voices) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    for number in range(max(len(bar) for bar in voices)):
        slurs = Slurs()
        for bar in voices:
            for placed in bar[number] if number < len(bar) else []:
                slurs.meet(placed)
        found += slurs.finished()
    return found
