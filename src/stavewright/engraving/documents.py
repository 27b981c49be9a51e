"""The five documents of a paper, each as page data: what stands below every prompt, and the head."""

from __future__ import annotations

from collections.abc import Sequence

from stavewright.engraving.composed import PROPOSED, example_items, is_composed, judged_items, proposal, scheme_items
from stavewright.engraving.forms import EMPTY, Filling
from stavewright.engraving.layout import Blank, Item, Page, Part, Printed, Row, Rows, Sectioned, Verdict, Words
from stavewright.engraving.printed import Dress, grouped
from stavewright.engraving.saying import counted, marks_word, rule_words, together
from stavewright.engraving.sheet import SheetOf
from stavewright.engraving.svg import Picture
from stavewright.engraving.worked import at_places, drawn_answer, right_music, ringed, said_answer, steps_items
from stavewright.marking.documents import Marked, Report
from stavewright.marking.one_question import mark_question
from stavewright.papers.documents import Script
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import FullQuestion
from stavewright.questions.values import Value
from stavewright.score.stave import Score
from stavewright.theory.errors import StavewrightError


def question_page(sheet: SheetOf) -> Page:
    """The paper a pupil works: head, sections, room to answer, credits."""
    paper = sheet.paper
    terse = _batteries(sheet)

    def after(question: FullQuestion, width: float) -> tuple[list[Item], list[Item]]:
        return sheet.forms.items(question, width, EMPTY, terse=question.id in terse), []

    time = f"{paper.time_minutes} minutes (to be confirmed with your teacher)"
    blanks = (
        Blank("Name", wide=True),
        Blank("Date"),
        Blank("Time allowed", time),
        Blank("Total", marks_word(paper.total)),
    )
    return sheet.page(f"Practice paper for grade {paper.grade}", sheet.set(after), subtitle="{}", blanks=blanks)


def answers_page(sheet: SheetOf) -> Page:
    """The same questions with the model answer, every other right answer, and the worked steps."""

    def after(question: FullQuestion, width: float) -> tuple[list[Item], list[Item]]:
        if is_composed(question):
            return [*example_items(sheet, question, width), *steps_items(sheet, question)], []
        said = [*said_answer(sheet, question), *steps_items(sheet, question)]
        return drawn_answer(sheet, question, width), said

    notes = (
        "Underlined words beside a step are what to jot down in pencil. Ringed notes are those the steps point at.",
    )
    sections = sheet.set(after, dress=ringed, batteries=False)
    return sheet.page(f"Model answers, grade {sheet.paper.grade}", sections, notes=notes)


def scheme_page(sheet: SheetOf) -> Page:
    """What earns marks: for each part its accepted answers with reasons, its rule, and what known slips give."""
    sections: list[Sectioned] = []
    number = 0
    names: dict[str, str] = {}
    for section in sheet.paper.sections:
        printed: list[Printed] = []
        for group in grouped(section):
            number += 1
            for question in group:
                names[question.id] = f"{number}({question.group.part})" if question.group else f"{number}"
            titles = list(dict.fromkeys(kind_of(question.kind).title for question in group))
            title = titles[0] if len(titles) == 1 else "Questions on one extract"
            total = sum(question.marks for question in group)
            rules = list(dict.fromkeys(_rule(question) for question in group))
            if len(rules) == 1:
                title = f"{title}. {'Each part: ' if len(group) > 1 else ''}{rules[0]}"
            part = Part("", "", tuple(_scheme(sheet, group, names)), keep=False)
            printed.append(Printed(number, sheet.say(title), str(total), (), (part,)))
        sections.append(Sectioned(sheet.say(section.title), tuple(printed)))
    notes = (
        "Answers called right or also right earn full marks; a slip earns the marks beside it.",
        "One cause costs once. Where a part rests on an earlier one, mark it from the pupil\u2019s own earlier answer.",
    )
    return sheet.page(f"Mark scheme, grade {sheet.paper.grade}", tuple(sections), notes=notes, credits=False)


def _scheme(sheet: SheetOf, group: Sequence[FullQuestion], names: dict[str, str]) -> list[Item]:
    say = sheet.say
    items: list[Item] = []
    if len({_rule(one) for one in group}) > 1:
        for rule, letters in _by_rule(group).items():
            items.append(Words(say(f"{', '.join(letters)}: {rule}"), "quiet"))
    for one in group:
        if one.follows:
            earlier = names.get(one.follows, one.follows)
            said = f"{names[one.id]}: if the answer to {earlier} was wrong, mark this one from that answer."
            items.append(Words(say(said), "quiet"))
    for one in group:
        if is_composed(one):
            slips = [(slip.name, _slip_marks(one, slip.value)) for slip in one.slips]
            items += scheme_items(sheet, one, slips)
    rows = tuple(row for question in group if not is_composed(question) for row in _scheme_rows(sheet, question))
    return [*items, Rows(("", say("Answer"), say("Marks"), say("Why")), rows)] if rows else items


def _rule(question: FullQuestion) -> str:
    if is_composed(question):
        return f"{marks_word(question.marks)}. By criteria, {PROPOSED}."
    return f"{marks_word(question.marks)}. {rule_words(kind_of(question.kind).marking, question.marks)}"


def _by_rule(group: Sequence[FullQuestion]) -> dict[str, list[str]]:
    """The parts that each rule holds for, in order: one line a rule."""
    found: dict[str, list[str]] = {}
    for question in group:
        found.setdefault(_rule(question), []).append(f"({question.group.part})" if question.group else question.id)
    return found


def _scheme_rows(sheet: SheetOf, question: FullQuestion) -> list[Row]:
    say = sheet.say
    rows: list[Row] = []
    part = question.group.part if question.group else ""
    model, *others = question.answers
    full = str(question.marks)
    rows.append(Row(part, "right", say(_lettered(model.value, model.text)), full, say(model.reason)))
    for text, reason in together((_lettered(one.value, one.text), one.reason) for one in others):
        rows.append(Row("", "also right", say(text), full, say(reason if reason != model.reason else "")))
    marks = {
        (slip.name, _lettered(slip.value, slip.text)): _slip_marks(question, slip.value) for slip in question.slips
    }
    for mark in dict.fromkeys(marks.values()):
        here = [(text, name) for (name, text), got in marks.items() if got == mark]
        for text, name in together(here):
            rows.append(Row("", "slip", say(text), mark, say(name)))
    return rows


def _lettered(value: tuple[Value, ...], text: str) -> str:
    letter = value[0].choice if value else None
    return f"{letter}: {text}" if letter and letter != text else counted(text)


def _slip_marks(question: FullQuestion, value: tuple[Value, ...]) -> str:
    try:
        return str(mark_question(question, value).marks)
    except StavewrightError:
        return "0"


def script_page(sheet: SheetOf, script: Script) -> Page:
    """The paper as a pupil filled it in, in pencil blue.

    Raises:
        PageError: the script belongs to another paper.
    """
    sheet.own("script", script.paper)
    terse = _batteries(sheet)

    def after(question: FullQuestion, width: float) -> tuple[list[Item], list[Item]]:
        return filled_in(sheet, question, width, script, terse=question.id in terse), []

    sections = sheet.set(after, dress=pupils_places(script))
    return sheet.page(f"Filled-in script, grade {sheet.paper.grade}", sections)


def filled_in(sheet: SheetOf, question: FullQuestion, width: float, script: Script, *, terse: bool) -> list[Item]:
    """What a pupil wrote below one prompt."""
    return sheet.forms.items(question, width, Filling(tuple(script.answers.get(question.id, ()))), terse=terse)


def marked_page(sheet: SheetOf, script: Script, report: Report) -> Page:
    """The script with its marks: totals by topic first, then tick, half-tick or ring at every answer.

    Raises:
        PageError: the script or the report belongs to another paper.
    """
    sheet.own("script", script.paper)
    sheet.own("report", report.paper)
    by_id = {one.id: one for one in report.questions}

    def after(question: FullQuestion, width: float) -> tuple[list[Item], list[Item]]:
        items = filled_in(sheet, question, width, script, terse=True)
        marked = by_id.get(question.id)
        if marked is None:
            return items, []
        said: list[Item] = [_verdict(sheet, question, marked)]
        if marked.criteria:
            more = [] if marked.marks == marked.of else steps_items(sheet, question)
            return [*items, *said, *judged_items(sheet, marked), *more], []
        if marked.marks == marked.of:
            return items, said
        return items, [*said, *right_music(sheet, question, width), *steps_items(sheet, question)]

    head = ("Topic", "Marks", "Of")
    rows = tuple((sheet.say(topic.capitalize()), str(one.marks), str(one.of)) for topic, one in report.by_topic.items())
    table = (head, *rows, ("Total", str(report.total), str(report.of)))
    notes = [f"Total: {report.total} of {report.of}. Band: {report.band} (to be confirmed by the teacher)."]
    if report.to_confirm:
        notes.append("The program proposes the marks of composed answers; they count when the teacher confirms them.")
    sections = sheet.set(after, batteries=False)
    return sheet.page(
        f"Marked script, grade {sheet.paper.grade}",
        sections,
        notes=tuple(notes),
        table=table,
        table_title="Marks by topic",
    )


def pupils_places(script: Script) -> Dress:
    """Places that a pupil marked on the music are ringed there."""

    def dress(question: FullQuestion, score: Score, picture: Picture) -> Picture:
        return at_places(tuple(script.answers.get(question.id, ())), score, picture)

    return dress


def _verdict(sheet: SheetOf, question: FullQuestion, marked: Marked) -> Verdict:
    say = sheet.say
    kind = "right" if marked.marks == marked.of else "part" if marked.marks else "wrong"
    word = {"right": "Right", "part": "Part right", "wrong": "Not yet"}[kind]
    says: list[str] = []
    if marked.follow_through:
        says.append("Right from your own earlier answer.")
    if marked.criteria:
        return Verdict(kind, word, proposal(marked), (say(marked.remedy),) if marked.remedy else ())
    if kind != "right":
        says += [text for text in (marked.note, marked.remedy) if text]
        right = _lettered(question.answers[0].value, marked.right)
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
