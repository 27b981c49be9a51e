"""Questions as documents: the closed set of prompt blocks, response forms, answers, slips and worked steps."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta, Raw, Struct

from stavewright.questions.score_document import ScoreDocument, Small
from stavewright.questions.values import Value

Id = Annotated[str, Meta(max_length=80)]
Text_ = Annotated[str, Meta(max_length=2000)]
Short = Annotated[str, Meta(max_length=200)]


class _Closed(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A document that refuses any field it does not know."""


# --- prompt blocks -------------------------------------------------------------------------------------------------


class TextBlock(_Closed, frozen=True, tag_field="type", tag="text"):
    """A sentence or two for the pupil."""

    text: Text_
    id: Id = ""


class StaveBlock(_Closed, frozen=True, tag_field="type", tag="stave"):
    """A picture of music with a text alternative that does not give the answer away.

    Blocks with equal ids inside a group are the same picture and are printed once. `musicxml` is filled on output only.
    """

    score: ScoreDocument
    alt: Text_
    id: Id = ""
    musicxml: str | None = None


class SignBlock(_Closed, frozen=True, tag_field="type", tag="sign"):
    """A printed sign or word of the score, alone and large (a fermata, "mf", "Andante")."""

    sign: Short
    alt: Text_
    id: Id = ""


Block = TextBlock | StaveBlock | SignBlock


# --- response forms ------------------------------------------------------------------------------------------------


class Option(_Closed, frozen=True):
    """One thing to pick: words or a picture of music. `value` is what picking it says; pupils never see it."""

    id: Annotated[str, Meta(max_length=2)]
    text: Text_ = ""
    score: ScoreDocument | None = None
    alt: Text_ = ""
    value: Value | None = None


class ChoiceForm(_Closed, frozen=True, tag_field="form", tag="choice"):
    """Mark one answer."""

    options: tuple[Option, ...] = ()


class ChoicesForm(_Closed, frozen=True, tag_field="form", tag="choices"):
    """Mark all that are right; `how_many` when the question says it. `rows`: one pick in each run of options."""

    options: tuple[Option, ...] = ()
    how_many: Small | None = None


class WordsForm(_Closed, frozen=True, tag_field="form", tag="words"):
    """Write words. `size` is "word", "phrase" or "line" (the room to leave)."""

    size: Short = "phrase"


class NumberForm(_Closed, frozen=True, tag_field="form", tag="number"):
    """Write a number."""

    unit: Short = ""


class NotesForm(_Closed, frozen=True, tag_field="form", tag="notes"):
    """Write notes on the stave `given`: gaps in it (with ids) are the places to write, one note each unless `free`.

    `values` are the note values that may be used (empty: only the place counts); `signs` True asks for accidentals or
    signature signs.
    """

    given: ScoreDocument
    count: Small | None = None
    values: tuple[Short, ...] = ()
    free: bool = False
    alt: Text_ = ""


class RhythmForm(_Closed, frozen=True, tag_field="form", tag="rhythm"):
    """Write values, rests, bar lines or beams. `what` says which: "values", "rests", "bar-lines", "beams"."""

    what: Short
    given: ScoreDocument | None = None
    alt: Text_ = ""


class PlacesForm(_Closed, frozen=True, tag_field="form", tag="places"):
    """Point at bars or notes of the music shown. `what` says which: "bars", "notes" (of bars), "numbers" (of notes)."""

    what: Short = "bars"
    how_many: Small | None = None


class PairsForm(_Closed, frozen=True, tag_field="form", tag="pairs"):
    """Join each on the left to one on the right."""

    left: tuple[Option, ...]
    right: tuple[Option, ...]


class OrderForm(_Closed, frozen=True, tag_field="form", tag="order"):
    """Put all items in order."""

    items: tuple[Option, ...]


class ChordsForm(_Closed, frozen=True, tag_field="form", tag="chords"):
    """Write chord labels, one a slot, from `choices` where given."""

    slots: Small
    choices: tuple[Short, ...] = ()


class ScoreForm(_Closed, frozen=True, tag_field="form", tag="score"):
    """Compose freely on empty staves, or on the stave `given`, where gaps are what is to be filled."""

    given: ScoreDocument | None = None
    alt: Text_ = ""


Form = (
    ChoiceForm
    | ChoicesForm
    | WordsForm
    | NumberForm
    | NotesForm
    | RhythmForm
    | PlacesForm
    | PairsForm
    | OrderForm
    | ChordsForm
    | ScoreForm
)


# --- what is known about a question ----------------------------------------------------------------------------------


class Answer(_Closed, frozen=True):
    """A right answer: its value (one a response form), in plain UK words, and why it is right."""

    value: tuple[Value, ...]
    text: Text_
    reason: Text_
    musicxml: str | None = None


class Slip(_Closed, frozen=True):
    """The answer that a known wrong rule gives, its name, and what to tell the pupil.

    `steady` marks one cause that spoils many items at once (a wrong clef, a forgotten signature): it costs at
    most half.
    """

    name: Short
    value: tuple[Value, ...]
    text: Text_
    remedy: Text_
    steady: bool = False


class Step(_Closed, frozen=True, omit_defaults=False):
    """One step of the worked answer, the event ids of the stave it points at, and what to pencil in the margin."""

    text: Text_
    points_at: tuple[Short, ...] = ()
    jotting: Short = ""


class Group(_Closed, frozen=True):
    """The group a question is a part of: questions with one group id share a stimulus and one printed number."""

    id: Id
    part: Annotated[str, Meta(max_length=2)]


class Question(_Closed, frozen=True, omit_defaults=False, kw_only=True):
    """A stored question: facts, prompt and response form. Its answer is never stored: it is worked out afresh."""

    id: Id
    kind: Short
    topic: Short
    grade: Annotated[int, Meta(ge=1, le=5)]
    edition: Short
    seed: Annotated[int, Meta(ge=0, le=2**53)]
    marks: Annotated[int, Meta(ge=1, le=100)]
    prompt: Annotated[tuple[Block, ...], Meta(max_length=20)]
    response: Annotated[tuple[Form, ...], Meta(min_length=1, max_length=3)]
    facts: Raw
    group: Group | None = None
    follows: Id | None = None
    words: Annotated[str, Meta(pattern="^(uk|us)$", max_length=2)] = "uk"
    note_names: Annotated[str, Meta(pattern="^(english|german|fixed-do)$", max_length=8)] = "english"
    schema: Annotated[int, Meta(ge=1, le=1000)] = 1


class FullQuestion(Question, frozen=True, omit_defaults=False, kw_only=True):
    """The teacher's view: the stored question with every accepted answer, the working and the slips."""

    answers: tuple[Answer, ...] = ()
    working: tuple[Step, ...] = ()
    slips: tuple[Slip, ...] = ()


class SheetPicture(_Closed, frozen=True, tag_field="type", tag="picture"):
    """A picture of music on a pupil's sheet: only its id and its text alternative."""

    id: Id
    alt: Text_


class SheetOption(_Closed, frozen=True):
    """One thing to pick on a pupil's sheet."""

    id: Annotated[str, Meta(max_length=2)]
    text: Text_ = ""
    picture: SheetPicture | None = None


class SheetForm(_Closed, frozen=True):
    """The response form on a pupil's sheet: its name, what can be picked, and the room to write."""

    form: Short
    options: tuple[SheetOption, ...] = ()
    right: tuple[SheetOption, ...] = ()
    picture: SheetPicture | None = None
    what: Short = ""
    count: Small | None = None
    clef: Short | None = None
    choices: tuple[Short, ...] = ()


class Sheet(_Closed, frozen=True, kw_only=True):
    """The pupil's view of a question, the only one a pupil may be sent: no facts, no music as data, no answers."""

    id: Id
    marks: int
    prompt: tuple[TextBlock | SheetPicture | SignBlock, ...]
    response: tuple[SheetForm, ...]
    group: Group | None = None
