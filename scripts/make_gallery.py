"""A gallery of every kind of question to look through: one HTML page a topic, one card a kind.

`.venv/bin/python scripts/make_gallery.py FOLDER` sets one question of each kind at grades 1, 3 and 5 (or the first
grade that asks it) in both editions, and shows it as it prints: prompt and form, model answer, every other right
answer, what known slips give, and the working. Pages stand alone and need no script.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from html import escape
from pathlib import Path

from stavewright.cli.progress import bar
from stavewright.engraving import layout
from stavewright.engraving.forms import EMPTY
from stavewright.engraving.layout import Item, Shown
from stavewright.engraving.printer import Printer
from stavewright.engraving.sheet import SheetOf
from stavewright.engraving.worked import drawn_answer, said_answer, steps_items
from stavewright.papers.documents import Paper, Section
from stavewright.questions.asking import full
from stavewright.questions.catalogue import kinds
from stavewright.questions.documents import FullQuestion
from stavewright.questions.kind import Kind
from stavewright.services.set_questions import set_questions
from stavewright.wiring import composed_melodies

GRADES = (1, 3, 5)
SEED = 11
STYLE = """
:root { color-scheme: light; --paper: #fbf8f1; --ink: #1c1b1a; --quiet: #57534e; --line: #d6d0c4; --pencil: #1f4e79; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 84rem; padding: 1rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.45 "Atkinson Hyperlegible Next", "Atkinson Hyperlegible", Verdana, sans-serif; }
h1, h2 { font-family: "Libre Caslon Text", Georgia, serif; line-height: 1.15; }
nav ul { display: flex; flex-wrap: wrap; gap: .3rem 1.1rem; padding: 0; list-style: none; }
a { color: var(--pencil); }
a:focus-visible, summary:focus-visible { outline: 3px solid var(--pencil); outline-offset: 2px; }
.card { border-top: 2px solid var(--ink); margin-top: 2.2rem; padding-top: .2rem; }
.card > p { color: var(--quiet); margin-top: -.4rem; }
.asked { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 26rem), 1fr)); gap: 1.2rem;
  margin: 0 0 1.2rem; align-items: start; }
.one { background: #fff; border: 1px solid var(--line); padding: .7rem .9rem; min-width: 0; overflow-x: auto; }
.one h3 { margin: 0 0 .4rem; font-size: .95rem; color: var(--quiet); font-weight: 600; }
.one p { margin: .35rem 0; }
.quiet { color: var(--quiet); font-size: .92rem; }
.pencil { color: var(--pencil); font-style: italic; }
.sign { font-size: 1.6rem; } .answer { font-weight: 700; }
figure { margin: .4rem 0; } figure svg { display: block; max-width: 100%; height: auto; }
ol.options { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: .4rem 1.2rem; margin: .3rem 0; }
.right { font-weight: 700; }
.room { border-bottom: 1px solid var(--quiet); display: inline-block; min-width: 8rem; height: 1.3em; }
table { border-collapse: collapse; }
td, th { border-bottom: 1px solid var(--line); padding: .15rem .5rem; text-align: left; vertical-align: top; }
details { margin-top: .5rem; }
summary { cursor: pointer; }
li u { text-decoration-thickness: 1px; text-underline-offset: 3px; }
"""


def picture(one: Shown) -> str:
    """Music inline, with its text alternative."""
    svg = one.svg[one.svg.index("<svg") :]
    head, rest = svg.split(">", 1)
    size = f' style="width:{one.width:.1f}mm" role="img" aria-label="{escape(one.alt)}"'
    return f"<figure>{head}{size}>{rest}</figure>"


def choice(one: layout.Choice) -> str:
    """One thing to pick."""
    mark = " class=right" if one.mark else ""
    music = picture(one.picture) if one.picture else ""
    return f"<li{mark}>\u2610 {escape(one.letter)} {escape(one.text)}{music}</li>"


def shown(item: Item) -> str:
    """One thing of a page as HTML."""
    match item:
        case layout.Words(text, tone):
            return f'<p class="{tone}">{escape(text)}</p>'
        case layout.Shown():
            return picture(item)
        case layout.Options(options, _, head):
            return f'<p class=quiet>{escape(head)}</p><ol class=options>{"".join(map(choice, options))}</ol>'
        case layout.Lines(count, _, lead, tail, written):
            rows = [*written, *[""] * (count - len(written))]
            return "".join(
                f"<p>{escape(lead)} <span class=room>{escape(row)}</span> {escape(tail)}</p>" for row in rows
            )
        case layout.Steps(head, steps):
            return f"<p class=quiet>{escape(head)}</p><ol>{''.join(map(step, steps))}</ol>"
        case layout.Pairs(left, right, _):
            both = zip(left, right, strict=False)
            return "<table>" + "".join(f"<tr><td>{pair(a)}<td>{pair(b)}" for a, b in both) + "</table>"
        case layout.Beside(_, left, right):
            return "".join(map(shown, [*left, *right]))
        case layout.Rows(head, rows):
            top = "".join(f"<th>{escape(word)}" for word in head)
            cells = [(row.part, row.text, row.marks, row.why) for row in rows]
            body = "".join("<tr>" + "".join(f"<td>{escape(cell)}" for cell in row) for row in cells)
            return f"<table><tr>{top}{body}</table>"
        case layout.Verdict(_, word, marks, says):
            return f"<p>{escape(word)}, {escape(marks)}. {escape(' '.join(says))}</p>"


def pair(one: layout.Choice) -> str:
    """One end of a pair."""
    return f"{escape(one.letter)} {escape(one.text)}{picture(one.picture) if one.picture else ''}"


def step(one: layout.Step) -> str:
    """One worked step with its jotting underlined."""
    jotting = f" <u>{escape(one.jotting)}</u>" if one.jotting else ""
    return f"<li>{escape(one.text)}{jotting}</li>"


def all_of(items: Iterable[Item]) -> str:
    """Things one below the other."""
    return "".join(map(shown, items))


def sheet_of(question: FullQuestion, printer: Printer) -> SheetOf:
    """A paper of this one question, ready to be drawn."""
    section = Section(question.topic, question.topic, (question,))
    paper = Paper(
        id=question.id, grade=question.grade, edition=question.edition, seed=SEED, words="uk", total=question.marks,
        time_minutes=1, sections=(section,),
    )  # fmt: skip
    return printer.sheet(paper)


def one_question(question: FullQuestion, printer: Printer) -> str:
    """A question as it prints, and all that is known about it."""
    sheet = sheet_of(question, printer)
    sections = sheet.set(lambda one, width: (sheet.forms.items(one, width, EMPTY, terse=False), []), batteries=False)
    (printed,) = [one for section in sections for one in section.questions]
    asked = all_of([*printed.items, *(item for part in printed.parts for item in part.items)])
    known = [*drawn_answer(sheet, question, 90.0), *said_answer(sheet, question)]
    slips = "".join(f"<tr><td>{escape(s.name)}<td>{escape(s.text)}<td>{escape(s.remedy)}" for s in question.slips)
    edition = "written" if question.edition == "written" else "on screen"
    return (
        f"<section class=one><h3>Grade {question.grade}, {edition} ({question.marks})</h3>"
        f"<p>{escape(printed.title)}</p>{asked}<details open><summary>Answer and working</summary>"
        f"{all_of(known)}{all_of(steps_items(sheet, question))}</details>"
        f"<details><summary>{len(question.slips)} slips</summary><table>{slips}</table></details></section>"
    )


def questions_of(kind: Kind) -> list[FullQuestion]:
    """One question at each grade of the three that asks the kind, or at its first grade, in each edition."""
    grades = [grade for grade in GRADES if grade >= kind.since] or [kind.since]
    return [
        full(one)
        for grade in grades
        for edition in kind.forms
        for one in set_questions(
            kind=kind.id, grade=grade, edition=edition, count=1, seed=SEED, melodies=composed_melodies()
        )
    ]


def card(kind: Kind, printer: Printer) -> str:
    """The card of one kind."""
    rows = "".join(one_question(one, printer) for one in questions_of(kind))
    head = f"<h2>{escape(kind.title)}</h2><p>{kind.id}, from grade {kind.since}, {kind.seconds} seconds</p>"
    return f'<article class=card id="{kind.id}">{head}<div class=asked>{rows}</div></article>'


def page(title: str, body: str) -> str:
    """A whole page that stands alone."""
    return (
        f'<!doctype html><html lang="en-GB"><meta charset="utf-8"><meta name="viewport" content="width=device-width">'
        f"<title>{escape(title)}</title><style>{STYLE}</style><body><h1>{escape(title)}</h1>{body}</body></html>"
    )


def links(those: Sequence[Kind], topic: str) -> str:
    """A list of kinds, each a link to its card."""
    found = "".join(f'<li><a href="{topic}.html#{k.id}">{escape(k.title)}</a></li>' for k in those)
    return f"<nav aria-label={escape(topic)!r}><ul>{found}</ul></nav>"


def main(folder: Path) -> None:
    """Write the index and a page for each topic."""
    folder.mkdir(parents=True, exist_ok=True)
    topics: dict[str, list[Kind]] = {}
    for kind in kinds().values():
        topics.setdefault(kind.topic, []).append(kind)
    done, of = 0, sum(map(len, topics.values()))
    index = ""
    with bar("Drawing") as progress:
        for topic, those in topics.items():
            printer = Printer()
            cards = []
            for kind in those:
                cards.append(card(kind, printer))
                done += 1
                progress(done, of)
            body = f'<p><a href="index.html">All topics</a></p>{links(those, topic)}{"".join(cards)}'
            (folder / f"{topic}.html").write_text(page(topic.capitalize(), body), "utf-8")
            index += f"<h2>{escape(topic.capitalize())}</h2>{links(those, topic)}"
    (folder / "index.html").write_text(page(f"Every kind of question: {of}", index), "utf-8")
    sys.stdout.write(f"{folder / 'index.html'}\n")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "out/gallery"))
