"""The documents that `stavewright questions` prints, and their music as music21 reads it, for second opinions."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import cached_property, lru_cache

import msgspec
from music21 import converter, duration, interval, key, meter, note, pitch, stream

from stavewright.questions.catalogue import kind as kind_of
from stavewright.services.output import written_out
from stavewright.services.set_questions import set_questions
from stavewright.wiring import composed_melodies, music_writer

# British names of music21's values: common practice; its own names are the American ones.
VALUES = {
    "breve": "breve", "whole": "semibreve", "half": "minim", "quarter": "crotchet", "eighth": "quaver",
    "16th": "semiquaver", "32nd": "demisemiquaver", "64th": "hemidemisemiquaver",
}  # fmt: skip
TYPES = {ours: theirs for theirs, ours in VALUES.items()}
NUMBERS = dict(
    zip(
        "unison second third fourth fifth sixth seventh octave ninth tenth eleventh twelfth thirteenth fourteenth "
        "double-octave".split(),
        "unison,2nd,3rd,4th,5th,6th,7th,octave,9th,10th,11th,12th,13th,14th,15th".split(","),
        strict=True,
    )
)
_SIGNS = {0: "", 1: " sharp", -1: " flat", 2: " double sharp", -2: " double flat"}


class Document:
    """One printed document: its JSON, and its pictures of music read back by music21 from the MusicXML in it."""

    def __init__(self, line: bytes) -> None:
        self.json = json.loads(line)
        self.facts = self.json["facts"]
        self.model = self.json["answers"][0]["value"][0]
        self.text = self.json["answers"][0]["text"]
        self.texts = {one["text"] for one in self.json["answers"]}

    @cached_property
    def shown(self) -> stream.Score:
        """The music of the prompt."""
        (found,) = [block["musicxml"] for block in self.json["prompt"] if block.get("musicxml")]
        return read(found)

    @cached_property
    def answers(self) -> list[stream.Score]:
        """Every accepted answer as music."""
        return [read(one["musicxml"]) for one in self.json["answers"]]

    @property
    def notes(self) -> list[note.NotRest]:
        return sounding(self.shown)

    @property
    def pitches(self) -> list[pitch.Pitch]:
        """Every pitch of the prompt, lowest first."""
        return sorted(self.shown.pitches, key=lambda one: (one.diatonicNoteNum, one.ps))


def documents(kind: str, grade: int, count: int, seed: int = 7000) -> Iterator[Document]:
    """So many documents, as the command prints them: always the same ones."""
    write = music_writer()
    for question in set_questions(
        kind=kind, grade=grade, edition="written", count=count, seed=seed, melodies=composed_melodies()
    ):
        yield Document(msgspec.json.encode(written_out(question, write)))


def grades(kind: str) -> range:
    return range(kind_of(kind).since, 6)


def read(document: str) -> stream.Score:
    return converter.parse(document, format="musicxml", forceSource=True)


def sounding(score: stream.Score) -> list[note.NotRest]:
    """Notes and chords in reading order, graces left out."""
    return [one for one in score.recurse().notes if not one.duration.isGrace]


def bars(score: stream.Score) -> list[stream.Measure]:
    return list(score.parts[0].getElementsByClass(stream.Measure))


def named(one: pitch.Pitch) -> str:
    """A pitch's name in our words."""
    return one.step + _SIGNS[int(one.alter)]


def spelt(name: str) -> str:
    """Our words or short form of a note as music21 spells it: flats are minus signs."""
    for words, sign in ((" double sharp", "##"), (" double flat", "--"), (" sharp", "#"), (" flat", "-")):
        name = name.replace(words, sign)
    return name[0] + name[1:].replace("b", "-")


@lru_cache(maxsize=64)
def key_named(text: str) -> key.Key:
    """music21's key of our words "F sharp minor"."""
    tonic, _, mode = text.rpartition(" ")
    return key.Key(spelt(tonic), mode)


def key_words(one: key.Key) -> str:
    return f"{named(one.tonic)} {one.mode}"


def interval_words(low: pitch.Pitch, high: pitch.Pitch) -> str:
    """music21's name of an interval in our words: "augmented 4th"."""
    quality, number = interval.Interval(low, high).niceName.lower().rsplit(" ", 1)
    return f"{quality.replace('-', ' ')} {NUMBERS[number]}"


def value_words(one: duration.Duration) -> str:
    return ("", "dotted ", "double-dotted ")[one.dots] + VALUES[one.type]


def length(type_: str, dots: int = 0) -> float:
    """The length of our value in music21's crotchets."""
    return duration.Duration(type=TYPES[type_], dots=dots).quarterLength


def exact(quarters: float | Fraction) -> Fraction:
    """A length in crotchets without the rounding of tuplets."""
    return Fraction(quarters).limit_denominator(5040)


def total(events: Iterable[note.GeneralNote]) -> Fraction:
    """The sum of their lengths, graces left out."""
    return sum((exact(one.quarterLength) for one in events if not one.duration.isGrace), Fraction())


def metre(text: str) -> meter.TimeSignature:
    return meter.TimeSignature({"C": "4/4", "cut C": "2/2"}.get(text, text))
