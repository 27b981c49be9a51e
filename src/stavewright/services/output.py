"""The teacher's view of a question with its music written out as MusicXML."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from stavewright.questions.asking import Workings, facts_of, full, native
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import Answer, Block, FullQuestion, Question, StaveBlock
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import score_of
from stavewright.services.ports import WriteMusic

_MUSIC = ("notes", "rhythm", "score")


def written_out(
    question: Question,
    write_music: WriteMusic,
    written: dict[ScoreDocument, str] | None = None,
    method: str = "usual",
    workings: Workings | None = None,
) -> FullQuestion:
    """Work a stored question out and write all its music as MusicXML.

    `written` keeps documents already written, so that an extract shared by many parts is written once; `workings` hold
    what was worked out when the question was set.
    """
    done = {} if written is None else written
    worked = full(question, method, workings)
    facts = facts_of(question)
    return replace(
        worked,
        prompt=tuple(_block(one, write_music, done) for one in worked.prompt),
        answers=tuple(_known(question, facts, one, write_music) for one in worked.answers),
    )


def _block(block: Block, write_music: WriteMusic, written: dict[ScoreDocument, str]) -> Block:
    if not isinstance(block, StaveBlock):
        return block
    if block.score not in written:
        written[block.score] = write_music(score_of(block.score))
    return replace(block, musicxml=written[block.score])


def _known(question: Question, facts: Any, known: Answer, write_music: WriteMusic) -> Answer:
    kind = kind_of(question.kind)
    value = native(question, known.value[0])
    if kind.draw is None or value.form not in _MUSIC:
        return known
    return replace(known, musicxml=write_music(kind.draw(facts, value)))
