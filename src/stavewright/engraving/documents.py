"""The five documents of a paper, each as page data: what stands below every prompt, and the head."""

from __future__ import annotations

from stavewright.engraving.forms import EMPTY, Filling
from stavewright.engraving.layout import Blank, Item, Page, Part, Printed, Row, Rows, Sectioned, Verdict, Words
from stavewright.engraving.printed import grouped
from stavewright.engraving.saying import marks_word, rule_words, value_words
from stavewright.engraving.sheet import SheetOf
from stavewright.engraving.worked import answer_items, steps_items
from stavewright.marking.documents import Marked, Report
from stavewright.marking.one_question import mark_question
from stavewright.papers.documents import Script
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import FullQuestion
from stavewright.theory.errors import StavewrightError


def question_page(sheet: SheetOf) -> Page:
    """The paper a pupil works: head, sections, room to answer, credits."""
    paper = sheet.paper
    terse = _batteries(sheet)

    def after(question: FullQuestion, width: float) -> list[Item]:
        return sheet.forms.items(question, width, EMPTY, terse=question.id in terse)

    time = f"{paper.time_minutes} minutes (to be confirmed with your teacher)"
    blanks = (
        Blank("Name", wide=True),
        Blank("Date"),
        Blank("Time allowed", time),
        Blank("Total", marks_word(paper.total)),
    )
    return sheet.page(f"Practice paper for grade {paper.grade}", sheet.set(after), blanks=blanks)


def answers_page(sheet: SheetOf) -> Page:
    """The same questions with the model answer, every other right answer, and the worked steps."""

    def after(question: FullQuestion, width: float) -> list[Item]:
        return [*answer_items(sheet, question, width), *steps_items(sheet, question, width)]

    notes = ("Each answer is worked step by step. Words in the margin hand are what to jot down in pencil.",)
    title = f"Model answers for the practice paper, grade {sheet.paper.grade}"
    return sheet.page(title, sheet.set(after, batteries=False), notes=notes)


def scheme_page(sheet: SheetOf) -> Page:
    """What earns marks: for each part its accepted answers with reasons, its rule, and what known slips give."""
    sections: list[Sectioned] = []
    number = 0
    names = {question.id: "" for question in sheet.paper.questions()}
    for section in sheet.paper.sections:
        printed: list[Printed] = []
        for group in grouped(section):
            number += 1
            for question in group:
                part = f"({question.group.part})" if question.group else ""
                names[question.id] = f"{number}{part}"
            parts = tuple(_scheme_part(sheet, question, names) for question in group)
            titles = list(dict.fromkeys(kind_of(question.kind).title for question in group))
            title = titles[0] if len(titles) == 1 else "Questions on one extract"
            total = sum(question.marks for question in group)
            printed.append(Printed(number, sheet.say(title), str(total), (), parts))
        sections.append(Sectioned(sheet.say(section.title), tuple(printed)))
    notes = (
        "Any answer marked \u201cright\u201d or \u201calso right\u201d earns full marks.",
        "The marks beside a slip are what that answer earns.",
        "One cause costs once. Where a part rests on an earlier one, mark it from the pupil\u2019s own earlier answer.",
    )
    title = f"Mark scheme for the practice paper, grade {sheet.paper.grade}"
    return sheet.page(title, tuple(sections), notes=notes, credits=False)


def _scheme_part(sheet: SheetOf, question: FullQuestion, names: dict[str, str]) -> Part:
    say = sheet.say
    kind = kind_of(question.kind)
    rows: list[Row] = []
    for place, one in enumerate(question.answers):
        text = _lettered(question, one.value, one.text)
        rows.append(Row("right" if place == 0 else "also right", say(text), str(question.marks), say(one.reason)))
    for slip in question.slips:
        text = _lettered(question, slip.value, slip.text)
        rows.append(Row("slip", say(text), _slip_marks(question, slip.value), say(f"{slip.name}. {slip.remedy}")))
    items: list[Item] = [
        Words(say(f"{marks_word(question.marks)}. {rule_words(kind.marking, question.marks)}"), "quiet")
    ]
    if question.follows:
        earlier = names.get(question.follows, question.follows)
        items.append(Words(say(f"If the answer to {earlier} was wrong, mark this one from that answer."), "quiet"))
    items.append(Rows((say("Answer"), say("Marks"), say("Why")), tuple(rows)))
    return Part(question.group.part if question.group else "", str(question.marks), tuple(items), keep=len(rows) < 9)


def _lettered(question: FullQuestion, value: tuple[object, ...], text: str) -> str:
    letters = [one.choice for one in question.answers[0].value[:0]] or [getattr(one, "choice", None) for one in value]
    return f"{letters[0]}: {text}" if letters and letters[0] else text


def _slip_marks(question: FullQuestion, value: tuple[object, ...]) -> str:
    try:
        return str(mark_question(question, value).marks)  # type: ignore[arg-type]
    except StavewrightError:
        return "0"


def script_page(sheet: SheetOf, script: Script) -> Page:
    """The paper as a pupil filled it in, in pencil blue.

    Raises:
        PageError: the script belongs to another paper.
    """
    sheet.own("script", script.paper)
    terse = _batteries(sheet)

    def after(question: FullQuestion, width: float) -> list[Item]:
        filling = Filling(tuple(script.answers.get(question.id, ())))
        return sheet.forms.items(question, width, filling, terse=question.id in terse)

    return sheet.page(f"A filled-in script, grade {sheet.paper.grade}", sheet.set(after))


def marked_page(sheet: SheetOf, script: Script, report: Report) -> Page:
    """The script with its marks: totals by topic first, then tick, half-tick or ring at every answer.

    Raises:
        PageError: the script or the report belongs to another paper.
    """
    sheet.own("script", script.paper)
    sheet.own("report", report.paper)
    by_id = {one.id: one for one in report.questions}

    def after(question: FullQuestion, width: float) -> list[Item]:
        filling = Filling(tuple(script.answers.get(question.id, ())))
        items = sheet.forms.items(question, width, filling, terse=True)
        marked = by_id.get(question.id)
        if marked is None:
            return items
        items.append(_verdict(sheet, question, marked))
        return [*items, *steps_items(sheet, question, width)] if marked.marks < marked.of else items

    head = ("Topic", "Marks", "Of")
    rows = tuple((sheet.say(topic.capitalize()), str(one.marks), str(one.of)) for topic, one in report.by_topic.items())
    table = (head, *rows, ("Total", str(report.total), str(report.of)))
    notes = (f"Total: {report.total} of {report.of}. Band: {report.band} (to be confirmed by the teacher).",)
    title = f"Marked script, grade {sheet.paper.grade}"
    sections = sheet.set(after, batteries=False)
    return sheet.page(title, sections, notes=notes, table=table, table_title="Marks by topic")


def _verdict(sheet: SheetOf, question: FullQuestion, marked: Marked) -> Verdict:
    say = sheet.say
    kind = "right" if marked.marks == marked.of else "part" if marked.marks else "wrong"
    word = {"right": "Right", "part": "Part right", "wrong": "Not yet"}[kind]
    says: list[str] = []
    if marked.follow_through:
        says.append("Right from your own earlier answer.")
    if kind != "right":
        says += [text for text in (marked.note, marked.remedy) if text]
        right = _lettered(question, question.answers[0].value, marked.right)
        says.append(f"The answer is {right}.")
    return Verdict(kind, word, f"{marked.marks} of {marks_word(marked.of)}", tuple(say(text) for text in says))


def _batteries(sheet: SheetOf) -> frozenset[str]:
    """Ids of the questions that say "Mark one answer" once for all, above the battery."""
    found: set[str] = set()
    for section in sheet.paper.sections:
        for group in grouped(section):
            if len(group) > 1 and len({one.kind for one in group}) == 1:
                found |= {one.id for one in group}
    return frozenset(found)


__all__ = ["answers_page", "marked_page", "question_page", "scheme_page", "script_page", "value_words"]
