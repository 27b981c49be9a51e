"""Draw one question of a kind from a seed and a try: fair and worked out, or None where that try gives nothing."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from stavewright.papers.credit import credited
from stavewright.questions.asking import ask
from stavewright.questions.documents import FullQuestion, Group, Question
from stavewright.questions.kind import Draft, Kind
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.services.output import written_out
from stavewright.services.ports import WriteMusic
from stavewright.syllabus.scope import scope_for


@dataclass(frozen=True, slots=True)
class Drawn:
    """A question as it is stored, the draft it was made from, and the credit of its music ("" for none)."""

    question: Question
    draft: Draft
    credit: str


@dataclass(frozen=True, slots=True)
class Drawer:
    """Draws questions of one grade and edition; `name` keeps the chance of one purpose apart from another's."""

    name: str
    grade: int
    edition: str
    seed: int
    words: str
    melodies: Melodies
    write_music: WriteMusic

    def draw(self, kind: Kind, id: str, attempt: int, group: Group | None = None) -> Drawn | None:
        """The question of that try: the same arguments give the same question.

        Raises:
            Disagreement: setter and solver differ, so that the question must not be set.
        """
        scope = scope_for(self.grade)
        rng = Random(f"{self.name}/{self.seed}/{kind.id}/{self.grade}/{id}/{attempt}")
        stimulus = None
        if kind.extract:
            extract = self.melodies.melody(scope, rng, bars=8)
            if extract is None:
                return None
            stimulus = Stimulus(extract, document_of(extract.score), block=f"extract-{id}")
        draft = kind.set(scope, rng, stimulus, self.melodies)
        if draft is None:
            return None
        question = ask(
            kind, draft, id=id, grade=self.grade, edition=self.edition, seed=self.seed, words=self.words, group=group
        )
        if question is None:
            return None
        if stimulus is None:
            return Drawn(question, draft, "")
        return Drawn(credited(question, stimulus), draft, stimulus.extract.credit)

    def worked(self, question: Question) -> FullQuestion:
        """The question with its answers, working, slips and music written out."""
        return written_out(question, self.write_music)
