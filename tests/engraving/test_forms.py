"""Every response form on paper: empty, as a pupil filled it in, and with the model answer."""

from __future__ import annotations

import page as checker
import pytest
from msgspec.structs import replace

from engraving.sample_papers import every_kind
from stavewright.engraving import documents
from stavewright.engraving.forms import EMPTY, Filling
from stavewright.engraving.layout import Lines, Options, Pairs, Shown, Words
from stavewright.engraving.printer import Printer
from stavewright.papers.documents import Paper, Script
from stavewright.questions.documents import (
    ChoiceForm,
    ChoicesForm,
    ChordsForm,
    Form,
    FullQuestion,
    NotesForm,
    NumberForm,
    Option,
    OrderForm,
    PairsForm,
    PlacesForm,
    RhythmForm,
    ScoreForm,
    StaveBlock,
    TextBlock,
    WordsForm,
)
from stavewright.questions.score_mirror import document_of
from stavewright.questions.values import Place, Value, WrittenNote, WrittenValue
from stavewright.score.event import Gap, Note
from stavewright.score.stave import Bar, Score, Stave, single
from stavewright.score.writing import with_ids
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

TUNE = with_ids(
    Score(
        (
            Stave(
                "treble",
                tuple(
                    Bar((tuple(Note(Pitch(s, 0, 5), Duration("crotchet")) for s in "CDE"),), free=True)
                    for _ in range(3)
                ),
            ),
        ),
        numbered=True,
    )
)
EMPTY_STAVE = single("alto", (Gap(Duration("semibreve"), "g1"),))
LETTERS = tuple(Option(letter, f"thing {letter}") for letter in "abcd")
PICTURES = tuple(Option(letter, score=document_of(EMPTY_STAVE), alt="A stave.") for letter in "ab")

CASES: list[tuple[str, Form, Value]] = [
    ("choice", ChoiceForm(LETTERS), Value(choice="b")),
    ("choice of pictures", ChoiceForm(PICTURES), Value(choice="b")),
    ("choices", ChoicesForm(LETTERS, how_many=2), Value(choices=("a", "d"))),
    ("words", WordsForm("line"), Value(words="getting slower")),
    ("number", NumberForm("crotchets"), Value(number=4)),
    ("notes", NotesForm(document_of(EMPTY_STAVE), alt="An alto stave."), Value(notes=(WrittenNote("C", octave=4),))),
    ("rhythm", RhythmForm("values"), Value(rhythm=(WrittenValue("minim", 1),))),
    ("places", PlacesForm("bars", 2), Value(places=(Place(1), Place(3)))),
    ("places of notes", PlacesForm("notes"), Value(places=(Place(2, 3),))),
    ("numbered notes", PlacesForm("numbers", 2), Value(places=(Place(1, 2), Place(1, 5)))),
    ("pairs", PairsForm(LETTERS[:3], LETTERS[1:]), Value(pairs=(("a", "d"), ("b", "b")))),
    ("order", OrderForm(LETTERS), Value(order=("c", "a", "b", "d"))),
    ("chords", ChordsForm(3, ("I", "IV", "V")), Value(chords=("Ib", "V", "I"))),
    ("score", ScoreForm(), Value(score=document_of(TUNE))),
]


def asked(form: Form, value: Value) -> tuple[Paper, FullQuestion]:
    """A paper of one question with the form, whose model answer is the value."""
    paper = every_kind(1, parts=1)
    base = next(iter(paper.questions()))
    prompt = (TextBlock("Look at the music."), StaveBlock(document_of(TUNE), "Three bars."))
    answer = replace(base.answers[0], value=(value,), text="the answer")
    question = replace(base, prompt=prompt, response=(form,), answers=(answer,), slips=(), group=None)
    section = replace(paper.sections[0], questions=(question,))
    return replace(paper, sections=(section,), total=question.marks), question


@pytest.mark.parametrize(("name", "form", "value"), CASES, ids=[case[0] for case in CASES])
def test_every_form_prints_empty_filled_in_and_answered(name: str, form: Form, value: Value) -> None:
    """Each of the closed set of forms stands on all pages, and the pages keep to PDF/UA-1."""
    paper, question = asked(form, value)
    printer = Printer()
    script = Script(paper.id, {question.id: (value,)})
    for pdf in (printer.question_paper(paper), printer.script(paper, script), printer.model_answers(paper)):
        assert checker.validate_pdf_bytes(pdf, profile=checker.ValidationProfile.PDF_UA_1).is_compliant
    empty = documents.question_page(printer.sheet(paper))
    filled = documents.script_page(printer.sheet(paper), script)
    assert empty.sections != filled.sections, f"the {name} of the pupil is not to be seen"


def test_an_empty_form_shows_no_mark() -> None:
    """Nothing is ticked, written or joined on the pupil's empty paper."""
    for _, form, value in CASES:
        paper, question = asked(form, value)
        for item in Printer().sheet(paper).forms.items(question, 150, EMPTY):
            if isinstance(item, Options):
                assert {option.mark for option in item.options} <= {"", "none"}
            if isinstance(item, Lines):
                assert item.written == ()
            if isinstance(item, Pairs):
                assert item.joined == ()
            assert not (isinstance(item, Words) and item.tone == "pencil")


def test_a_pick_is_a_cross_and_the_model_answer_a_tick() -> None:
    paper, question = asked(CASES[0][1], CASES[0][2])
    forms = Printer().sheet(paper).forms
    for filling, mark in (
        (Filling((Value(choice="b"),)), "picked"),
        (Filling((Value(choice="b"),), model=True), "right"),
    ):
        (options,) = forms.items(question, 150, filling)
        assert isinstance(options, Options)
        assert [option.mark for option in options.options] == ["", mark, "", ""]


def test_places_a_pupil_marked_are_ringed_on_the_music() -> None:
    """A note pointed at is ringed, a bar pointed at framed, on the picture itself."""
    for value, drawn in ((Value(places=(Place(2, 3),)), "<ellipse"), (Value(places=(Place(1), Place(3))), "<rect")):
        paper, question = asked(PlacesForm(), value)
        made = documents.script_page(Printer().sheet(paper), Script(paper.id, {question.id: (value,)}))
        pictures = [item.svg for item in made.sections[0].questions[0].parts[0].items if isinstance(item, Shown)]
        assert sum(svg.count(drawn) for svg in pictures) == len(value.places or ())


def test_a_place_that_is_not_there_is_simply_not_ringed() -> None:
    """A pupil may point anywhere: bar 40 of three bars is written down but rings nothing."""
    value = Value(places=(Place(40), Place(1, 9)))
    paper, question = asked(PlacesForm("notes"), value)
    Printer().script(paper, Script(paper.id, {question.id: (value,)}))


def test_an_answer_stave_has_room_for_its_notes() -> None:
    """A stave for one note is at least six and a half stave heights long; for eight notes the whole width."""
    eight = single("treble", tuple(Gap(Duration("semibreve"), f"g{i}") for i in range(8)))
    for score, least in ((EMPTY_STAVE, 6.4 * 7), (eight, 148.0)):
        form = NotesForm(document_of(score), alt="A stave.")
        paper, question = asked(form, Value(notes=()))
        (stave,) = Printer().sheet(paper).forms.items(question, 150, EMPTY)
        assert isinstance(stave, Shown)
        assert least <= stave.width <= 150.01


def test_a_bar_to_beam_is_shown_above_an_empty_stave() -> None:
    """To write a bar again a pupil needs the bar and a stave of its own, and both stay when it is filled in."""
    form = RhythmForm("beams", document_of(TUNE), "A bar.")
    value = Value(rhythm=(WrittenValue("crotchet"),))
    paper, question = asked(form, value)
    forms = Printer().sheet(paper).forms
    empty = forms.items(replace(question, prompt=question.prompt[:1]), 150, EMPTY)
    filled = forms.items(replace(question, prompt=question.prompt[:1]), 150, Filling((value,)))
    for items in (empty, filled):
        assert isinstance(items[0], Shown)
        assert items[0].svg.count('class="note"') == 9
        assert isinstance(items[1], Shown)


def test_a_stave_shown_in_the_prompt_is_not_printed_twice() -> None:
    """When the pupil writes on the music of the prompt, no second stave is printed."""
    paper, question = asked(NotesForm(document_of(TUNE), alt="x"), Value(notes=()))
    assert Printer().sheet(paper).forms.items(question, 150, EMPTY) == []


def test_things_to_put_in_order_say_what_goes_on_the_lines() -> None:
    """Words in a row and short lines below: the letters go there, and only the empty paper says so."""
    _, form, value = next(case for case in CASES if case[0] == "order")
    paper, question = asked(form, value)
    forms = Printer().sheet(paper).forms
    heads = [
        [item.head for item in forms.items(question, 150, filling) if isinstance(item, Options)]
        for filling in (EMPTY, Filling((value,)))
    ]
    assert heads == [["Write the letters in order."], [""]]
