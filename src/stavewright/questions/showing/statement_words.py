"""Statements about an extract, in words."""

from __future__ import annotations

from stavewright.questions.properties import Property
from stavewright.questions.showing.find_words import TUPLETS, one_of

_LOUDER = {"crescendo": "louder", "diminuendo": "quieter"}
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven")
_SENTENCES = {
    "highest": "The highest note is {word}.",
    "lowest": "The lowest note is {word}.",
    "longest": "The longest note is {one_word}.",
    "shortest": "The shortest note is {one_word}.",
    "same-rhythm": "Bars {bar} and {other} have the same rhythm.",
    "same-notes": "Bar {other} repeats bar {bar} exactly.",
    "sequence": "Bar {other} repeats the pattern of bar {bar} higher or lower (a sequence).",
    "interval": "The first two notes of bar {bar} are {one_word} apart.",
    "largest-leap": "The largest leap between two notes next to each other in one bar is {one_word}.",
    "step": "The notes of bar {bar} move by step only.",
    "dotted": "There is a dotted note in bar {bar}.",
    "beats": "There are {number} {word} beats in a bar.",
    "metre": "The time is {word}.",
    "begins": "The music begins {word}.",
    "upbeat": "The music begins with an upbeat.",
    "octave": "All the notes lie within one octave.",
    "syncopation": "There is syncopation in bar {bar} (a note off the beat is held through a beat).",
    "tuplet": "There is {tuplet} in bar {bar}.",
    "held-over": "Bar {bar} begins with a note tied from the bar before.",
    "accidental": "There is an accidental in bar {bar}.",
    "rest": "There is a rest in bar {bar}.",
    "hairpin": "The music begins to get gradually {louder} in bar {bar}.",
    "first-note": "The first note is the {word} of the key.",
    "last-note": "The last note is the {word} of the key.",
}


def statement_words(said: Property) -> str:
    """The statement as a sentence.

    >>> statement_words(Property("interval", bar=3, word="8th"))
    'The first two notes of bar 3 are an octave apart.'
    """
    number = _NUMBERS[said.number] if said.number < len(_NUMBERS) else str(said.number)
    return _SENTENCES[said.about].format(
        word=said.word,
        one_word=one_of(said.word) if said.word else "",
        bar=said.bar,
        other=said.other,
        number=number,
        tuplet=one_of(TUPLETS.get(said.number, f"group of {said.number}")),
        louder=_LOUDER.get(said.word, said.word),
    )
