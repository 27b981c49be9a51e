"""Set a whole paper: blueprint, fair questions, everything worked out."""

from __future__ import annotations

from stavewright.papers.assembly import Assembler
from stavewright.papers.blueprint import Blueprint
from stavewright.papers.documents import Paper, Section
from stavewright.papers.pack import Pack
from stavewright.papers.rotation import Rotation, rotation
from stavewright.questions.melodies import Melodies
from stavewright.questions.score_document import ScoreDocument
from stavewright.services.output import written_out
from stavewright.services.ports import Progress, WriteMusic, silent
from stavewright.syllabus.scope import scope_for


def set_paper(
    *,
    grade: int,
    edition: str | Rotation,
    seed: int,
    melodies: Melodies,
    write_music: WriteMusic,
    words: str = "uk",
    progress: Progress = silent,
    pack: Pack | None = None,
    plan: Blueprint | None = None,
) -> Paper:
    """A paper of 100 marks: the same arguments (and the same sources of melodies) give the same paper.

    `edition` names an edition or a mix of them ("written+on-screen"), or is the rotation of an edition of one's own.
    `pack` holds what earlier papers of a series have asked; what this one asks is added to it. `plan` is a blueprint of
    its own (a focus paper), by default the whole one of grade and edition.

    Raises:
        UnknownGrade, UnknownEdition: no such grade or edition.
        CannotSet: a slot has nothing fair left to ask.
    """
    scope = scope_for(grade)
    if plan is None:
        plan = (rotation(edition, grade) if isinstance(edition, str) else edition).blueprint(seed)
    dealt = Pack() if pack is None else pack
    assembler = Assembler(plan, scope, seed, words, melodies, progress, dealt)
    asked = assembler.assemble()
    written: dict[ScoreDocument, str] = {}
    sections: list[Section] = []
    for one in asked:
        questions = tuple(
            written_out(question, write_music, written, workings=assembler.workings) for question in one.questions
        )
        if sections and sections[-1].topic == one.topic and one.topic is not None:
            last = sections.pop()
            questions = last.questions + questions
        sections.append(Section(one.topic, one.title, questions))
    return Paper(
        id=f"grade-{grade}-{plan.edition}-{seed}{f'-{plan.name}' if plan.name else ''}",
        grade=grade,
        edition=plan.edition,
        seed=seed,
        words=words,
        total=plan.total,
        time_minutes=plan.minutes,
        sections=tuple(sections),
        credits=tuple(dict.fromkeys(credit for one in asked for credit in one.credits if credit)),
    )
