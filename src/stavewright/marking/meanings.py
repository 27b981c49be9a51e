"""A meaning in the pupil's own words: what the marker is unsure of is left to the teacher, never guessed."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from stavewright.marking.documents import JudgedCriterion, Marked
from stavewright.questions.documents import Answer, Question, TextBlock
from stavewright.questions.values import Value
from stavewright.syllabus.typed_meanings import read_typed


def judge_meaning(question: Question, value: Value, answers: Sequence[Answer], marked: Marked) -> Marked:
    """Judge a typed meaning against every right one together, where no single one was said outright.

    Right earns the marks; what is part right or wrong keeps them and says why; what is unsure waits for the teacher as
    a criterion of its own, "meaning", with no mark proposed.
    """
    meanings = [one.value[0].words for one in answers if one.value[0].words is not None]
    if value.words is None or not meanings:
        return marked
    reading = read_typed(value.words, meanings, _asked(question))
    if reading.mark == "right":
        return replace(marked, marks=marked.of, note=answers[0].reason)
    if reading.mark == "part":
        return replace(marked, note=f"Part of it is right: {reading.why}.")
    if reading.mark == "wrong":
        return marked if marked.note else replace(marked, note=f"{reading.why[:1].upper()}{reading.why[1:]}.")
    why = f"unsure: {reading.why}"[:400]
    line = JudgedCriterion(name="meaning", marks=marked.marks, of=marked.of, earns="the meaning, in any words", why=why)
    return replace(marked, note=f"Unsure: {reading.why}.", criteria=(line,), provisional=True)


def _asked(question: Question) -> Iterator[str]:
    """What the question asks about: the words that its text has in quotation marks, and their short form."""
    for block in question.prompt:
        if isinstance(block, TextBlock):
            for quoted in re.findall("“([^”]+)”", block.text):
                yield from re.split(r"[()]", quoted)
