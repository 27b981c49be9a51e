"""A worked question as lines for a terminal."""

from __future__ import annotations

import shlex
import textwrap
from collections.abc import Iterator
from typing import TYPE_CHECKING

from msgspec import NODEFAULT

from stavewright.marking.naming import reading
from stavewright.questions.asking import facts_of, native
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import (
    ChoiceForm,
    ChoicesForm,
    OrderForm,
    PairsForm,
    SignBlock,
    StaveBlock,
    TextBlock,
)
from stavewright.questions.naming import shown, shown_words
from stavewright.questions.score_mirror import score_of
from stavewright.questions.typed.facts import UNTYPED, fields_of
from stavewright.questions.wording import Wording
from stavewright.score.compact.writing import write_music
from stavewright.services.work_question import LEFT_OUT

if TYPE_CHECKING:
    from stavewright.marking.documents import Marked
    from stavewright.questions.documents import FullQuestion, Option
    from stavewright.questions.values import Value

WIDTH = 100
MOST_WORDS = 16
MOST_LETTERS = 160


def _folded(text: str, indent: str = "", hang: str = "  ") -> str:
    return textwrap.fill(
        text, WIDTH, initial_indent=indent, subsequent_indent=indent + hang, break_long_words=False,
        break_on_hyphens=False,
    )  # fmt: skip


def worked_text(question: FullQuestion, *, slips: bool) -> str:
    """Question, answer, every other right answer with its reason, working, and the slips if they are wanted."""
    say = Wording("", question.words).say
    music = _music(question, question.answers[0].value[0])
    question = shown(question)
    lines = [*_prompt(question), ""]
    model, *others = question.answers
    lines.append(_folded(f"Answer: {say(model.text)}"))
    lines += [_folded(music, "  ")] if music else []
    lines.append(_folded(say(model.reason), "  ", ""))
    if others:
        lines += ["", "Also right:"]
        for one in others:
            lines.append(_folded(f"{say(one.text)}: {say(one.reason)}", "  "))
    lines += ["", "Working:"]
    for number, step in enumerate(question.working, 1):
        lines.append(_folded(f"{number}. {say(step.text)}", "  ", "   "))
        lines += [_folded(f"pencil: {step.jotting}", "     ")] if step.jotting else []
    if slips:
        lines += ["", "Slips:" if question.slips else "Slips: none that gives a wrong answer here."]
        for slip in question.slips:
            lines.append(_folded(f"{say(slip.name)}: {say(slip.text)}. {say(slip.remedy)}", "  "))
    return "\n".join(lines)


def _prompt(question: FullQuestion) -> Iterator[str]:
    for block in question.prompt:
        if isinstance(block, TextBlock):
            yield _folded(block.text)
        elif isinstance(block, SignBlock):
            yield f"  {block.sign}"
        elif isinstance(block, StaveBlock):
            yield _folded(write_music(score_of(block.score), plain=True), "  ")
    for form in question.response:
        if isinstance(form, ChoiceForm | ChoicesForm):
            yield from _options(form.options)
        elif isinstance(form, OrderForm):
            yield from _options(form.items)
        elif isinstance(form, PairsForm):
            yield from _options(form.left)
            yield from _options(form.right)


def _options(options: tuple[Option, ...]) -> Iterator[str]:
    for one in options:
        text = one.text or (write_music(score_of(one.score), plain=True) if one.score is not None else one.alt)
        yield _folded(f"({one.id}) {text}", "  ", "    ")


def _music(question: FullQuestion, value: Value) -> str:
    """An answer in music as a line of text; nothing where it is words."""
    kind = kind_of(question.kind)
    said = native(question, value)
    if kind.draw is None or said.form not in ("notes", "rhythm", "score"):
        return ""
    return write_music(kind.draw(facts_of(question), said), plain=True)


def marked_text(question: FullQuestion, marked: Marked) -> str:
    """What an answer earns, and why."""
    say = Wording("", question.words).say
    proposed = ", to be confirmed by the teacher" if marked.provisional else ""
    lines = ["", f"Marks: {marked.marks} of {marked.of}{proposed}"]
    for one in marked.criteria:
        lines.append(_folded(f"{say(one.name)} {one.marks} of {one.of}: {say(one.why)}.", "  "))
    if marked.slip:
        remedy = shown_words(question, marked.remedy)
        lines.append(_folded(f"Slip: {say(marked.slip)}. {say(remedy)}", "  "))
    elif marked.note and not marked.criteria:
        lines.append(_folded(say(shown_words(question, marked.note)), "  "))
    lines += [_folded(reading(marked), "  ")] if marked.read else []
    return "\n".join(lines)


def _some(words: tuple[str, ...]) -> str:
    """Some of the words that set questions have in a field."""
    shown: list[str] = []
    for word in words:
        if len(shown) < MOST_WORDS and len(word) + sum(map(len, shown)) <= MOST_LETTERS:
            shown.append(word)
    more = ", ..." if len(words) > len(shown) else ""
    return f", such as {', '.join(shown)}{more}" if shown else ""


def needs_text(kind: str, example: dict[str, str], answer: str, used: dict[str, tuple[str, ...]]) -> str:
    """What a kind is, what it needs, the words in use where any words may stand, and one example with its answer."""
    one = kind_of(kind)
    about = " ".join((one.facts.__doc__ or "").split("Raises:")[0].split())
    lines = [f"{one.id}: {one.title}", _folded(about), "", "Fields (those with a star must be typed):"]
    for field in fields_of(one):
        if field.name.rpartition(".")[2] in UNTYPED:
            continue
        star = "*" if field.default is NODEFAULT and field.name not in LEFT_OUT else " "
        words = _some(used.get(field.name, used.get(f"{field.name}.about", ())))
        lines.append(_folded(f"{star} {field.name}: {field.way.what}{words}", "  ", "    "))
    if len(one.methods) > 1:
        lines += ["", f"Methods: {', '.join(one.methods)}"]
    words = " ".join(f"{name}={shlex.quote(text)}" for name, text in example.items())
    lines += ["", "Example:", f"  stavewright work {one.id} {words}", _folded(f"Answer: {answer}", "  ")]
    return "\n".join(lines)
