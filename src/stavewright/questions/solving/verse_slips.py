"""Rhythms for verse by a known wrong rule: stress, syllables, upbeat, line ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from stavewright.questions.solving.verse_rhythm import Setting
from stavewright.questions.values import WrittenValue
from stavewright.theory.duration import of_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.verse import Syllable, feet

Line = Sequence[Syllable]
Wrong = tuple[str, Setting, str]


def wrong_rhythms(lines: Sequence[Line], time: TimeSignature, model: Setting) -> Iterator[Wrong]:
    """Every wrong rule with the rhythm it gives and what to tell the pupil; some may do no harm to these lines."""
    yield (
        "stress on weak beats",
        _shifted(lines, time),
        "Say the line aloud: each syllable that you lean on belongs on a beat, the strongest after a bar line.",
    )
    swapped = _swapped(lines, model)
    if swapped is not None:
        yield "one syllable too few", swapped, "Clap the words slowly: every syllable needs a note of its own."
    upbeat = sum(value.duration.ticks for value in model.bars[0])
    if 0 < upbeat < time.ticks and len(model.bars) > 1:
        full = _last_bar_filled(model, upbeat)
        if full is not None:
            yield "upbeat not taken off", full, "The upbeat and the last bar make one whole bar together."
    yield "ends in a hurry", _hurried(time, model), "Let the last syllable ring: give it a beat or more."


def _shifted(lines: Sequence[Line], time: TimeSignature) -> Setting:
    """One beat a syllable; an upbeat is put on the first beat, and where there is none one is made."""
    upbeat = 0 if feet(lines[0])[0] else 1
    count = sum(len(line) for line in lines)
    spare = -count % time.count
    row = [WrittenValue.of(time.beat)] * count + [WrittenValue.of(time.beat, rest=True)] * spare
    return Setting(tuple(row), tuple(range(upbeat or time.count, len(row), time.count)))


def _swapped(lines: Sequence[Line], model: Setting) -> Setting | None:
    """The first word of two syllables gets one note as long as both."""
    words = [syllable for line in lines for syllable in line]
    sung = [place for place, value in enumerate(model.row) if not value.rest]
    for number, syllable in enumerate(words[:-1]):
        one, other = sung[number], sung[number + 1]
        joined = of_ticks(model.row[one].duration.ticks + model.row[other].duration.ticks, max_dots=1)
        if syllable.goes_on and joined is not None and other == one + 1 and other not in model.bar_lines:
            row = (*model.row[:one], WrittenValue.of(joined), *model.row[other + 1 :])
            return Setting(_single_beams(row), tuple(line - (line > one) for line in model.bar_lines))
    return None


def _single_beams(row: Sequence[WrittenValue]) -> tuple[WrittenValue, ...]:
    """The same values, the beam taken off a note that has no neighbour under it any more."""
    return tuple(
        replace(value, beam=None)
        if value.beam is not None
        and value.beam not in {row[at].beam for at in (place - 1, place + 1) if 0 <= at < len(row)}
        else value
        for place, value in enumerate(row)
    )


def _last_bar_filled(model: Setting, upbeat: int) -> Setting | None:
    last = model.row[-1]
    longer = of_ticks(last.duration.ticks + upbeat, max_dots=1)
    if last.rest or longer is None:
        filler = of_ticks(upbeat, max_dots=1)
        return None if filler is None else Setting((*model.row, WrittenValue.of(filler, rest=True)), model.bar_lines)
    return Setting((*model.row[:-1], WrittenValue.of(longer)), model.bar_lines)


def _hurried(time: TimeSignature, model: Setting) -> Setting:
    """The last note is cut to a quarter of a beat (a sixth in compound time), and nothing is written after it."""
    last = max(place for place, value in enumerate(model.row) if not value.rest)
    short = of_ticks(time.beat.ticks // (6 if time.kind == "compound" else 4)) or time.unit_value
    return Setting((*model.row[:last], WrittenValue.of(short)), model.bar_lines)
