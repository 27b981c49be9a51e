"""How a teacher sets a verse: stress first, then bar lines, values, line ends, and the check."""

from __future__ import annotations

from collections.abc import Sequence

from stavewright.questions.documents import Step
from stavewright.questions.solving.verse_report import bars_of, struck
from stavewright.questions.solving.verse_rhythm import Setting
from stavewright.theory.metre import TimeSignature
from stavewright.theory.verse import Syllable, feet

Line = Sequence[Syllable]


def stressed_words(line: Line) -> str:
    """The line with its beats in capitals.

    >>> from stavewright.theory.verse import read_line
    >>> stressed_words(read_line("*How I *won-der"))
    'HOW I WON-der'
    """
    return _together(line, [one.sung.upper() if one.beats else one.sung for one in line])


def _together(line: Line, said: Sequence[str]) -> str:
    """Syllables as words: a space after each that ends one."""
    return "".join(text if one.goes_on else f"{text} " for text, one in zip(said, line, strict=True)).strip()


def rhythm_steps(lines: Sequence[Line], time: TimeSignature, model: Setting) -> tuple[Step, ...]:
    """The steps to the model rhythm, each pointing at the notes of it that it speaks of (a1, a2, ...)."""
    bars = bars_of(model.row, model.bar_lines, time)
    notes = struck(bars)
    words = [syllable for line in lines for syllable in line]
    beats = [note for syllable, note in zip(words, notes, strict=True) if syllable.beats]
    on_beats = tuple(f"a{note.index + 1}" for note in beats)
    downbeats = tuple(f"a{note.index + 1}" for note in notes if note.place == 0)
    upbeat = len(feet(lines[0])[0])
    before = _together(words[:upbeat], [one.sung for one in words[:upbeat]]).strip(".,;:!?")
    ends, count = [], 0
    for line in lines:
        count += len(line)
        ends.append(f"a{notes[count - 1].index + 1}")
    start = (
        f"“{before}” comes before the first stress: it is an upbeat, and the last bar leaves out as much."
        if upbeat
        else "The first syllable is stressed, so the rhythm begins on the first beat."
    )
    marked = " / ".join(map(stressed_words, lines))
    return (
        Step("Say the lines aloud and mark the syllables you lean on.", on_beats, marked),
        Step(f"{time.text} means {time.meaning()}. Put a bar line before a stressed syllable.", downbeats, time.text),
        Step(start, ("a1",), "upbeat" if upbeat else ""),
        Step("Put every stressed syllable on a beat, and the lighter ones between.", on_beats, ""),
        Step("Let the end of each line rest on a longer note, or on a note and a rest.", tuple(ends), ""),
        Step("Check: count syllables and notes, add up each bar, then clap it and say the words.", (), ""),
    )
