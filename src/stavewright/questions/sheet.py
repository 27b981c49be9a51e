"""The pupil's view of a question: what is printed, and nothing that gives the answer away."""

from __future__ import annotations

from collections.abc import Iterable

from stavewright.questions.documents import (
    Block,
    ChoiceForm,
    ChoicesForm,
    ChordsForm,
    Form,
    NotesForm,
    NumberForm,
    Option,
    OrderForm,
    PairsForm,
    PlacesForm,
    Question,
    RhythmForm,
    Sheet,
    SheetForm,
    SheetOption,
    SheetPicture,
    SignBlock,
    StaveBlock,
    TextBlock,
    WordsForm,
)
from stavewright.questions.values import FORMS


def sheet(question: Question) -> Sheet:
    """The only view a pupil may be sent: pictures by id and text alternative, no facts, no music as data.

    Picture ids are made of the question's id and a running number, never of anything the question is about.
    """
    return Sheet(
        id=question.id,
        marks=question.marks,
        prompt=tuple(_block(question.id, number, block) for number, block in enumerate(question.prompt, 1)),
        response=tuple(_form(question.id, number, form) for number, form in enumerate(question.response, 1)),
        group=question.group,
    )


def _block(id_: str, number: int, block: Block) -> TextBlock | SheetPicture | SignBlock:
    if isinstance(block, StaveBlock):
        return SheetPicture(f"{id_}-p{number}", block.alt)
    return block


def _options(id_: str, options: Iterable[Option]) -> tuple[SheetOption, ...]:
    return tuple(
        SheetOption(one.id, one.text, SheetPicture(f"{id_}-{one.id}", one.alt) if one.score is not None else None)
        for one in options
    )


def _form(id_: str, number: int, form: Form) -> SheetForm:
    name = type(form).__struct_config__.tag
    if name not in FORMS:
        raise TypeError(f"no sheet for the response form {name!r}")
    picture = SheetPicture(f"{id_}-r{number}", getattr(form, "alt", ""))
    if isinstance(form, ChoiceForm | ChoicesForm):
        return SheetForm(name, _options(id_, form.options), count=getattr(form, "how_many", None))
    if isinstance(form, PairsForm):
        return SheetForm(name, _options(id_, form.left), _options(id_, form.right))
    if isinstance(form, OrderForm):
        return SheetForm(name, _options(id_, form.items))
    if isinstance(form, WordsForm):
        return SheetForm(name, what=form.size)
    if isinstance(form, NumberForm):
        return SheetForm(name, what=form.unit)
    if isinstance(form, ChordsForm):
        return SheetForm(name, count=form.slots, choices=form.choices)
    if isinstance(form, PlacesForm):
        return SheetForm(name, what=form.what, count=form.how_many)
    if isinstance(form, NotesForm):
        stave = form.given.staves[0]
        return SheetForm(name, picture=picture, count=form.count, clef=stave.clef if stave.show_clef else None)
    if isinstance(form, RhythmForm):
        return SheetForm(name, picture=picture if form.given is not None else None, what=form.what)
    return SheetForm(name, picture=picture if form.given is not None else None)
