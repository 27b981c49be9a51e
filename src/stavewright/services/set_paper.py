"""Set a whole paper: blueprint, fair questions, everything worked out."""

from __future__ import annotations

from stavewright.papers.assembly import Assembler
from stavewright.papers.blueprint import blueprint
from stavewright.papers.documents import Paper, Section
from stavewright.questions.melodies import Melodies
from stavewright.questions.score_document import ScoreDocument
from stavewright.services.output import written_out
from stavewright.services.ports import Progress, WriteMusic, silent
from stavewright.syllabus.scope import scope_for


def set_paper(
    *,
    grade: int,
    edition: str,
    seed: int,
    melodies: Melodies,
    write_music: WriteMusic,
    words: str = "uk",
    progress: Progress = silent,
) -> Paper:
    """A paper of 100 marks: the same arguments (and the same sources of melodies) give the same paper.

    Raises:
        UnknownGrade, UnknownEdition: no such grade or edition.
        CannotSet: a slot has nothing fair left to ask.
    """
    scope = scope_for(grade)
    plan = blueprint(grade, edition)
    asked = Assembler(plan, scope, seed, words, melodies, progress).assemble()
    written: dict[ScoreDocument, str] = {}
    sections: list[Section] = []
    for one in asked:
        questions = tuple(written_out(question, write_music, written) for question in one.questions)
        if sections and sections[-1].topic == one.topic and one.topic is not None:
            last = sections.pop()
            questions = last.questions + questions
        sections.append(Section(one.topic, one.title, questions))
    return Paper(
        id=f"grade-{grade}-{edition}-{seed}",
        grade=grade,
        edition=edition,
        seed=seed,
        words=words,
        total=plan.total,
        time_minutes=plan.minutes,
        sections=tuple(sections),
        credits=tuple(dict.fromkeys(credit for one in asked for credit in one.credits if credit)),
    )
