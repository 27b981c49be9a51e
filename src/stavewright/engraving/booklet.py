"""The notes of a grade as a booklet: rules with pictures, worked examples, slips, and the self-test at the back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec.structs import replace

from stavewright.engraving.forms import columns_for
from stavewright.engraving.gallery import scaled
from stavewright.engraving.handout import (
    Band,
    Cell,
    Contents,
    Handout,
    Head,
    Kept,
    Leaf,
    Piece,
    Rule,
    Slip,
    Slips,
    Table,
)
from stavewright.engraving.layout import Beside, Item, Shown, Words
from stavewright.engraving.lesson_sheets import Heading, handout, key_leaf, question_leaf
from stavewright.engraving.measuring import height_of
from stavewright.engraving.saying import with_signs
from stavewright.engraving.sheet import SheetOf
from stavewright.engraving.svg import SQUEEZED
from stavewright.engraving.worked import drawn_answer, ringed, said_answer, steps_items
from stavewright.papers.documents import Section
from stavewright.questions.documents import FullQuestion
from stavewright.questions.showing.pictures import picture as in_words
from stavewright.questions.values import Value
from stavewright.services.notes_figures import Figure
from stavewright.services.notes_tables import Listing
from stavewright.services.ports import Progress, silent
from stavewright.services.revision_notes import Example, Notes, RuleNotes

_GUTTER_MM: Final = 5.0
_MOST_COLUMNS: Final = 5
_TALL_MM: Final = 110.0
_BROAD: Final = 6.5
"""Pictures wider than so many stave heights are set in rows of their own."""
_KEPT: Final = 0.25
"""An example that takes no more of a page is held together; of a longer one the prompt and its music."""
_SMALL: Final = 0.8
_LONG: Final = 160
"""An answer of more letters is not read in a table: such a slip is left out where it cannot be drawn."""
_ALTERNATIVES: Final = 3


def booklet(sheet: SheetOf, notes: Notes, progress: Progress = silent) -> Handout:
    """The whole booklet; `sheet` is the self-test with the size and the pictures of the print.

    Raises:
        EngravingError: music that cannot be drawn.
    """
    title = f"Notes for grade {notes.grade}"
    said = "What grade 1 asks" if notes.grade == 1 else f"Everything that grades 1 to {notes.grade} ask"
    pieces: list[Piece] = [Contents()]
    for done, topic in enumerate(notes.topics, 1):
        pieces.append(Head(sheet.say(topic.title), fresh=True))
        for rule in topic.rules:
            pieces += rule_pieces(sheet, rule, notes.grade)
        progress(done, len(notes.topics) + 1)
    front = Leaf(title, tuple(pieces), sheet.say(said))
    head = Heading("Self-test", "One question on each rule. The answers are on the pages after it.", named=False)
    leaves = [front, question_leaf(sheet, head), key_leaf(sheet, head)]
    return handout([sheet], leaves, foot=title)


def rule_pieces(sheet: SheetOf, notes: RuleNotes, grade: int) -> list[Piece]:
    """One rule: its sentences, pictures and tables, a worked example and the slips on it."""
    say = sheet.say
    beside = f"new in grade {grade}" if notes.fresh and grade > 1 else ""
    pieces: list[Piece] = [
        Head(say(notes.rule.title), 3, beside=beside),
        Rule(tuple(with_signs(say(one)) for one in notes.sentences)),
    ]
    pieces += figure_bands(sheet, notes.pictures)
    for listing in notes.listings:
        pieces += _listing(sheet, listing)
    for example in notes.examples:
        pieces += example_pieces(sheet, example)
    return pieces


def figure_bands(sheet: SheetOf, pictures: Sequence[Figure]) -> Iterator[Piece]:
    """Small pictures side by side, as many as the widest allows; wide ones on lines of their own."""
    small = [one for one in pictures if not one.wide]
    broad = [one for one in small if sheet.gallery.of(one.score).width_mm > _BROAD * sheet.gallery.stave_mm]
    for several in (broad, [one for one in small if one not in broad]):
        if several:
            yield from _bands(sheet, several)
    for one in pictures:
        if one.wide:
            yield Band((_figure(sheet, one, sheet.width),), 1)


def _bands(sheet: SheetOf, several: Sequence[Figure]) -> Iterator[Piece]:
    widest = max(sheet.gallery.of(one.score).width_mm for one in several) / SQUEEZED
    words = max(len(f"{one.label} {one.text}") for one in several) * sheet.forms.char / 3
    most = int((sheet.width + _GUTTER_MM) // (max(widest, words, 24.0) + _GUTTER_MM))
    columns = columns_for(len(several), most, _MOST_COLUMNS)
    room = (sheet.width - (columns - 1) * _GUTTER_MM) / columns
    cells = [_figure(sheet, one, room) for one in several]
    for start in range(0, len(cells), columns):
        yield Band(tuple(_level(cells[start : start + columns])), columns)


def _figure(sheet: SheetOf, figure: Figure, width: float) -> Cell:
    shown = sheet.gallery.shown(sheet.gallery.of(figure.score, width), sheet.say(in_words(figure.score)))[0]
    return Cell(sheet.say(figure.text), sheet.say(figure.label), shown)


def _level(cells: Sequence[Cell]) -> list[Cell]:
    """The staves of a row at one height, and the words under them too."""
    shown = [one.picture for one in cells if one.picture is not None]
    above = max((one.above for one in shown), default=0.0)
    below = max((one.height - one.above for one in shown), default=0.0)
    return [
        one
        if one.picture is None
        else replace(
            one,
            picture=replace(
                one.picture,
                drop=above - one.picture.above,
                sink=below - one.picture.height + one.picture.above,
            ),
        )
        for one in cells
    ]


def _listing(sheet: SheetOf, listing: Listing) -> Iterator[Piece]:
    say = sheet.say
    if listing.pictures:
        yield from figure_bands(sheet, listing.pictures)
    if listing.rows:
        rows = tuple(tuple(say(cell) for cell in row) for row in listing.rows)
        yield Table(tuple(say(one) for one in listing.head), rows, listing.widths, say(listing.title))


def example_pieces(sheet: SheetOf, example: Example) -> Iterator[Piece]:
    """The question as it is asked, its answer and working; then each slip's answer beside the right one."""
    items = tuple(_worked(sheet, example.question))
    label = sheet.say("For example")
    together = len(items)
    if height_of(items, sheet.forms.char) > _KEPT * sheet.gallery.page_mm:
        pictures = [place for place, item in enumerate(items, 1) if isinstance(item, Shown | Beside)]
        together = min(pictures, default=1)
    yield Kept(label, items[:together])
    yield from items[together:]
    slips = _slips(sheet, example)
    if slips.slips:
        yield slips


def _worked(sheet: SheetOf, question: FullQuestion) -> Iterator[Item]:
    few = replace(question, answers=question.answers[:_ALTERNATIVES])
    own = replace(sheet.paper, sections=(Section(question.topic, "", (few,)),), credits=())
    alone = SheetOf(own, sheet.gallery, sheet.size, sheet.stave_mm)

    def after(one: FullQuestion, width: float) -> tuple[list[Item], list[Item]]:
        return drawn_answer(alone, one, width), [*said_answer(alone, one), *steps_items(alone, one)]

    (section,) = alone.set(after, dress=ringed, batteries=False)
    (printed,) = section.questions
    yield Words(printed.title)
    yield from printed.items
    for part in printed.parts:
        yield from part.items


def _slips(sheet: SheetOf, example: Example) -> Slips:
    say = sheet.say
    question, right = example.question, example.question.answers[0]
    made: list[Slip] = []
    for one in example.slips:
        wrong = _answer(sheet, question, one.value, one.text, "A wrong answer")
        meant = _answer(sheet, question, right.value, right.text, "The right answer")
        if wrong.picture is None or meant.picture is None:
            wrong, meant = _said(sheet, one.value, one.text), _said(sheet, right.value, right.text)
            if max(len(wrong.text), len(meant.text)) > _LONG:
                continue
        made.append(Slip(_capital(say(one.name)), wrong, meant, say(one.remedy)))
    drawn = any(one.wrong.picture is not None for one in made)
    head = (say("A usual slip" if len(made) == 1 else "Usual slips"), say("Wrong"), say("Right"))
    return Slips(head, tuple(made), (0.8, 1.1, 1.1) if drawn else (2.2, 1.0, 1.0))


def _answer(sheet: SheetOf, question: FullQuestion, values: tuple[Value, ...], text: str, what: str) -> Cell:
    """An answer as music where the kind draws it and it is not too tall for half the width, else in words."""
    if len(values) > 1 or values[0].choice is not None:
        return _said(sheet, values, text)
    score = sheet.forms.music(question, values[0])
    if score is None:
        return _said(sheet, values, text)
    room = 1.1 * sheet.width / 3 - 4
    picture = sheet.gallery.of(score, max(room / _SMALL, 4 * sheet.stave_mm))
    shown = sheet.gallery.shown(scaled(picture, picture.stave_mm * _SMALL), sheet.say(f"{what}: {text}."))
    if len(shown) > 1 or shown[0].height > _TALL_MM:
        return _said(sheet, values, text)
    return Cell("", "", shown[0])


def _said(sheet: SheetOf, values: tuple[Value, ...], text: str) -> Cell:
    """An answer in words, with its letter where it is picked."""
    said = with_signs(sheet.say(text))
    letter = values[0].choice
    return Cell(f"{letter}: {said}" if letter is not None and letter != text else said)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
