"""The value of an answer: one response form each, as a pupil, a solver or a slip gives it."""

from __future__ import annotations

from typing import Annotated, Any

from msgspec import UNSET, Meta, Struct, UnsetType

from stavewright.questions.errors import BadAnswer
from stavewright.questions.score_document import Dots, Octave, ScoreDocument, Small, Step, TupletDocument, Word
from stavewright.theory.duration import Duration, Tuplet

FORMS = ("choice", "choices", "words", "number", "notes", "rhythm", "places", "pairs", "order", "chords", "score")


class WrittenNote(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """One note as it stands on the stave: line or space (step and octave), the sign printed before it, its value.

    `alter` is what the writer meant; the marker reads the printed sign, the signature and earlier signs instead.
    `type` is a value name (None where only the place counts, as in a key signature).
    """

    step: Step
    alter: Annotated[int, Meta(ge=-3, le=3)] | UnsetType = UNSET
    octave: Octave = 4
    type: Word | None = None
    dots: Dots = 0
    accidental: Word | None = None


class WrittenValue(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """One value of a rhythm: note or rest, dots, tie to the next, beam group number, tuplet."""

    type: Word
    dots: Dots = 0
    rest: bool = False
    tie: bool = False
    beam: Small | None = None
    tuplet: TupletDocument | None = None

    @property
    def duration(self) -> Duration:
        """The value it stands for.

        Raises:
            DurationError: there is no such value.
        """
        group = None if self.tuplet is None else Tuplet(self.tuplet.actual, self.tuplet.normal)
        return Duration(self.type, self.dots, group)

    @classmethod
    def of(cls, duration: Duration, *, rest: bool = False, tie: bool = False, beam: int | None = None) -> WrittenValue:
        """A value as it is written.

        >>> WrittenValue.of(Duration("minim", 1), rest=True)
        WrittenValue(type='minim', dots=1, rest=True, tie=False, beam=None, tuplet=None)
        """
        group = None if duration.tuplet is None else TupletDocument(duration.tuplet.actual, duration.tuplet.normal)
        return cls(duration.type, duration.dots, rest, tie, beam, group)


class Place(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True, order=True):
    """A place on a score: a bar by its printed number, or the nth note of it (from 1)."""

    bar: Annotated[int, Meta(ge=0, le=2000)]
    note: Annotated[int, Meta(ge=1, le=2000)] | None = None


class Value(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """One answer in exactly one response form; `clef`, `signature` go with notes, `bar_lines` with notes or rhythm.

    With notes, a bar line is named by how many notes stand before it. `time` is the time signature that a rhythm is
    written under, where it is part of the answer ("3/4", "C").

    Raises:
        BadAnswer: no form, or two.

    >>> Value(words="minor 6th").form
    'words'
    """

    choice: Annotated[str, Meta(max_length=2)] | None = None
    choices: Annotated[tuple[Annotated[str, Meta(max_length=2)], ...], Meta(max_length=26)] | None = None
    words: Annotated[str, Meta(max_length=500)] | None = None
    number: Annotated[int, Meta(ge=-1000, le=100000)] | None = None
    notes: Annotated[tuple[WrittenNote, ...], Meta(max_length=200)] | None = None
    clef: Word | None = None
    signature: Annotated[int, Meta(ge=-7, le=7)] | None = None
    rhythm: Annotated[tuple[WrittenValue, ...], Meta(max_length=200)] | None = None
    time: Word | None = None
    bar_lines: Annotated[tuple[Annotated[int, Meta(ge=0, le=2000)], ...], Meta(max_length=200)] | None = None
    places: Annotated[tuple[Place, ...], Meta(max_length=200)] | None = None
    pairs: Annotated[tuple[tuple[Word, Word], ...], Meta(max_length=40)] | None = None
    order: Annotated[tuple[Word, ...], Meta(max_length=40)] | None = None
    chords: Annotated[tuple[Word, ...], Meta(max_length=40)] | None = None
    score: ScoreDocument | None = None

    def __post_init__(self) -> None:
        held = (
            self.choice, self.choices, self.words, self.number, self.notes, self.rhythm, self.places, self.pairs,
            self.order, self.chords, self.score,
        )  # fmt: skip
        missing = held.count(None)
        if missing != len(FORMS) - 1 and not (missing == len(FORMS) and self.bar_lines is not None):
            got = ", ".join(form for form, one in zip(FORMS, held, strict=True) if one is not None) or "nothing"
            raise BadAnswer(
                f"an answer holds exactly one of {', '.join(FORMS)} (bar_lines alone, or with notes or rhythm); "
                f"this one has {got}"
            )

    @property
    def form(self) -> str:
        """The response form this value is of."""
        if self.words is not None:
            return "words"
        if self.notes is not None:
            return "notes"
        if self.choice is not None:
            return "choice"
        if self.rhythm is not None:
            return "rhythm"
        return next((form for form in FORMS if getattr(self, form) is not None), "rhythm")

    @property
    def content(self) -> Any:
        """What the form holds."""
        return getattr(self, self.form)
