"""The line that names where an extract comes from, under its picture."""

from __future__ import annotations

from msgspec.structs import replace

from stavewright.questions.documents import Block, Question, StaveBlock, TextBlock
from stavewright.questions.melodies import Stimulus


def credited(question: Question, stimulus: Stimulus) -> Question:
    """The question with the line that names its extract's source under the picture, where it has none yet."""
    credit = stimulus.extract.credit
    if not credit or any(isinstance(block, TextBlock) and block.text == credit for block in question.prompt):
        return question
    blocks: list[Block] = []
    for block in question.prompt:
        blocks.append(block)
        if isinstance(block, StaveBlock) and block.id == stimulus.block:
            blocks.append(TextBlock(credit, id=f"{stimulus.block}-credit"))
    return replace(question, prompt=tuple(blocks))
