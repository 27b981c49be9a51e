"""The examiner's chair on paper: a filled-in script with room to judge every answer and to name its slip."""

from __future__ import annotations

from stavewright.engraving.documents import filled_in, pupils_places
from stavewright.engraving.layout import Choice, Item, Options, Page
from stavewright.engraving.sheet import SheetOf
from stavewright.marking.chair import Chair
from stavewright.questions.documents import FullQuestion


def chair_page(sheet: SheetOf, chair: Chair) -> Page:
    """The script as its pupil wrote it; under each answer a box for right, and one for each slip it may come from.

    Raises:
        PageError: the script belongs to another paper.
    """
    sheet.own("script", chair.script.paper)
    offered = {one.id: one.names for one in chair.questions}

    def after(question: FullQuestion, width: float) -> tuple[list[Item], list[Item]]:
        items = filled_in(sheet, question, width, chair.script, terse=True)
        names = offered.get(question.id)
        if names is None:
            return items, []
        boxes = (Choice("", sheet.say("right")), *(Choice(a, sheet.say(name)) for a, name in names.items()))
        return items, [Options(boxes, 1, sheet.say("You mark it: right, or wrong by which slip?"))]

    notes = (
        "You sit in the examiner\u2019s chair. An invented pupil wrote this script. Find what is wrong.",
        "Cross \u201cright\u201d, or the letter of the slip behind a wrong answer. Cross only one.",
    )
    sections = sheet.set(after, dress=pupils_places(chair.script), batteries=False)
    return sheet.page(f"The examiner\u2019s chair, grade {sheet.paper.grade}", sections, notes=notes)
