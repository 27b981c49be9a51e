"""An engraved picture keeps the secret: its SVG says nothing about pitches or answers except by what is drawn."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

import msgspec
import pytest
from lxml import etree

from stavewright.engraving.documents import answers_page, question_page
from stavewright.engraving.printer import Printer
from stavewright.engraving.svg import engrave
from stavewright.papers.documents import Paper
from stavewright.questions.asking import answers_of
from stavewright.questions.catalogue import kinds
from stavewright.questions.documents import NotesForm, Question, RhythmForm, ScoreForm, StaveBlock, TextBlock
from stavewright.questions.reading import read_words
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import score_of
from stavewright.services.leaks import things_shown
from stavewright.services.set_paper import set_paper
from stavewright.services.set_questions import set_questions
from stavewright.wiring import composed_melodies, music_writer

DRAWING = frozenset(
    {"svg", "g", "defs", "path", "use", "text", "tspan", "rect", "polygon", "polyline", "ellipse", "line"}
)
"""Elements that draw. A title, a description, metadata or a comment could say more than is drawn."""
GEOMETRY = frozenset(
    "x y x1 x2 y1 y2 rx ry cx cy d points transform viewBox width height color fill stroke stroke-width stroke-linecap "
    "stroke-linejoin stroke-dasharray stroke-opacity fill-opacity opacity font-size font-family font-style font-weight "
    "text-anchor letter-spacing overflow preserveAspectRatio class id href".split()
)
_EVENT = r"(b\d{1,3})?[a-z]{1,6}\d{0,3}"
PLAIN_ID = re.compile(rf"(E[0-9A-F]{{3}}-secret|secret([-_](\d{{1,3}}|{_EVENT})([.-][a-z0-9]+)*)*)\Z")
"""Glyphs by their code, and events by a letter and a running number."""
PLAIN_CLASS = re.compile(r"[A-Za-z-]+( [A-Za-z-]+)*( [a-z0-9]{7,8})?\Z")


def pictures(question: Question) -> Iterator[ScoreDocument]:
    """Every picture a pupil is shown: in the prompt, to choose from, to write on."""
    form = question.response[0]
    for block in question.prompt:
        if isinstance(block, StaveBlock):
            yield block.score
    yield from (option.score for option in things_shown(form) if option.score is not None)
    if isinstance(form, NotesForm | RhythmForm | ScoreForm) and form.given is not None:
        yield form.given


def secrets(svg: str) -> list[str]:
    """Everything in an SVG that is neither geometry nor plain naming."""
    found: list[str] = []
    for element in etree.fromstring(svg.encode()).iter():
        if not isinstance(element.tag, str):
            found.append(f"a comment: {element.text}")
            continue
        tag = etree.QName(element).localname
        if tag not in DRAWING:
            found.append(f"an element {tag}")
        for name, value in element.attrib.items():
            plain = etree.QName(name).localname
            if plain == "visibility" and not len(element):
                continue  # an empty group, where a clef is left out
            if plain not in GEOMETRY:
                found.append(f"an attribute {plain}={value!r}")
            if (plain == "id" and not PLAIN_ID.match(value)) or (plain == "class" and not PLAIN_CLASS.match(value)):
                found.append(f"the {plain} {value!r}")
    return found


def printed_words(svg: str) -> str:
    texts = etree.fromstring(svg.encode()).iterfind(".//{*}text")
    return f" {read_words(' '.join(''.join(text.itertext()) for text in texts))} "


def asked(kind: str, edition: str) -> Iterator[Question]:
    for grade in sorted({kinds()[kind].since, 5}):
        yield from set_questions(
            kind=kind, grade=grade, edition=edition, count=3, seed=900, melodies=composed_melodies()
        )


CASES = [(kind.id, edition) for kind in kinds().values() for edition in kind.forms]


@pytest.mark.parametrize(("kind", "edition"), CASES)
def test_a_picture_says_nothing_but_what_it_draws(kind: str, edition: str) -> None:
    """Names of pitches, values or answers stand in no id, class, attribute, comment or hidden text of a picture."""
    for question in asked(kind, edition):
        for document in pictures(question):
            svg = engrave(score_of(document), prefix="secret").svg
            assert secrets(svg) == []
            answer = read_words(answers_of(question)[0].text)
            assert len(answer) < 3 or f" {answer} " not in printed_words(svg)


@pytest.mark.parametrize(
    ("sound", "leak"),
    [
        ('class="note"', 'class="note" data-pitch="F#4"'),
        ('class="note"', 'class="note F#4"'),
        ('class="note"', 'class="note" id="secret-F sharp"'),
        ('<g class="system">', '<!-- F sharp --><g class="system">'),
        ('<g class="system">', '<title>F sharp</title><g class="system">'),
    ],
)
def test_a_leak_would_be_seen(sound: str, leak: str) -> None:
    """The check itself: each planted leak is found."""
    question = next(asked("name-the-note", "written"))
    svg = engrave(score_of(next(pictures(question))), prefix="secret").svg
    spoilt = (
        re.sub(r'(class="note")', leak, svg, count=1)
        if "note" in sound
        else re.sub(r'<g[^>]*class="system">', leak, svg, count=1)
    )
    assert spoilt != svg
    assert secrets(re.sub(r' id="secret_n1"', "", spoilt)) != []


def knowledge(paper: Paper) -> set[str]:
    """Sentences that only the teacher may read: reasons, remedies, worked steps, names of slips."""
    found: set[str] = set()
    for question in paper.questions():
        told = {one.reason for one in question.answers} | {one.text for one in question.working}
        told |= {text for one in question.slips for text in (one.remedy, one.name)}
        # A step may say once more what its own question tells the pupil (by how much an instrument sounds lower).
        asked_for = " ".join(block.text for block in question.prompt if isinstance(block, TextBlock))
        found |= {text for text in told if text not in asked_for}
    return {text for text in found if len(text) > 20}


@pytest.mark.parametrize(("grade", "edition"), [(1, "written"), (3, "on-screen"), (5, "written")])
def test_the_question_paper_holds_no_teacher_s_sentence(grade: int, edition: str) -> None:
    """What is set as the question paper holds no reason, remedy, slip or step; the model answers hold the steps."""
    paper = set_paper(grade=grade, edition=edition, seed=3, melodies=composed_melodies(), write_music=music_writer())
    sheet = Printer().sheet(paper)
    pupils = msgspec.json.encode(question_page(sheet)).decode()
    teachers = msgspec.json.encode(answers_page(sheet)).decode()
    secret = {json.dumps(text, ensure_ascii=False)[1:-1] for text in knowledge(paper)}
    assert [text for text in secret if text in pupils] == []
    assert len([text for text in secret if text in teachers]) > 50
