"""What is so in an extract and can be proved in one line, found by the setter, with the words for the proof."""

from __future__ import annotations

from collections.abc import Iterator

from stavewright.questions.melodies import Extract
from stavewright.questions.properties import Property
from stavewright.questions.setting.extract_finds import finds
from stavewright.questions.setting.flat_line import FlatBar
from stavewright.syllabus.scope import Scope
from stavewright.theory.interval import ordinal

Claim = tuple[Property, dict[str, str]]
_THIRD_PART = {"crotchet": "quavers", "minim": "crotchets", "quaver": "semiquavers", "semiquaver": "demisemiquavers"}
_HALF_PART = {"crotchet": "quavers", "minim": "crotchets", "quaver": "semiquavers", "semibreve": "minims"}


def claims(extract: Extract, bars: list[FlatBar], scope: Scope) -> Iterator[Claim]:
    """Each claim that holds, and the words its reason is filled with."""
    key = extract.key
    if key is not None and {key, key.relative} <= set(scope.keys):
        minor = key if key.is_minor else key.relative
        about = "minor" if key.is_minor else "major"
        yield Property(about), {"tonic": key.tonic.text, "leading": minor.leading_note.full_text}
    time = bars[0].time
    if time.kind != "irregular":
        beat = time.beat.type
        part = _THIRD_PART.get(beat) if time.kind == "compound" else _HALF_PART.get(beat)
        if part is not None:
            yield Property(time.kind), {"beat": time.beat.text, "part": part}
    if extract.score.anacrusis:
        yield Property("upbeat"), {}
    where = {bar.number: bar for bar in bars}
    for found, places in finds(bars, scope):
        if found.about == "sequence":
            here, there = where[found.bar].notes[0].steps, where[places[0].bar].notes[0].steps
            far = ordinal(abs(there - here) + 1)
            words = {"far": "an octave" if far == "8th" else f"a {far}", "way": "higher" if there > here else "lower"}
            yield Property("sequence", bar=found.bar, other=places[0].bar), words
        elif found.about == "syncopation" and len(places) == 1:
            yield Property("syncopation", bar=places[0].bar), {}
