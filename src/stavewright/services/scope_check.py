"""Whether what is printed stays within the scope of a grade."""

from __future__ import annotations

from collections.abc import Iterator

from stavewright.questions.documents import NotesForm, Question, RhythmForm, ScoreForm, StaveBlock
from stavewright.questions.score_mirror import score_of
from stavewright.score.event import Chord, Note
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope, scope_for


def outside(question: Question) -> list[str]:
    """Everything in the printed music of a question that its grade may not ask; an empty list for a fair one.

    The music shown and the stave to write on count; wrong answers to choose from may go beyond the grade.
    """
    scope = scope_for(question.grade)
    found: list[str] = []
    for block in question.prompt:
        if isinstance(block, StaveBlock):
            found += _score(score_of(block.score), scope)
    form = question.response[0]
    if isinstance(form, NotesForm | RhythmForm | ScoreForm) and form.given is not None:
        found += _score(score_of(form.given), scope)
    return list(dict.fromkeys(found))


def score_outside(score: Score, grade: int) -> list[str]:
    """Everything in one score that a grade may not ask."""
    return list(dict.fromkeys(_score(score, scope_for(grade))))


def _score(score: Score, scope: Scope) -> Iterator[str]:
    signatures = {key.fifths for key in scope.keys} | {0}
    times = {time.text for time in scope.time_signatures}
    for stave in score.staves:
        if stave.clef not in scope.clefs:
            yield f"the {stave.clef} clef is not in the grade's scope"
        for bar in stave.bars:
            for fifths in (stave.fifths, bar.fifths):
                if fifths is not None and fifths not in signatures:
                    yield f"a signature of {fifths} fifths is not in the grade's scope"
            for time in (stave.time, bar.time):
                if time is not None and time.text not in times:
                    yield f"{time.text} is not in the grade's scope"
    for event in score.events():
        duration = event.duration
        if duration.type not in scope.values:
            yield f"a {duration.type} is not in the grade's scope"
        if duration.dots > scope.dots:
            yield f"{duration.dots} dots are not in the grade's scope"
        if duration.tuplet is not None and duration.tuplet.actual not in scope.tuplets:
            yield f"a group of {duration.tuplet.actual} is not in the grade's scope"
    yield from _pitches(score, scope)


def _pitches(score: Score, scope: Scope) -> Iterator[str]:
    for stave in score.staves:
        low, high = scope.range_of(stave.clef) if stave.clef in scope.clefs else (None, None)
        for bar in stave.bars:
            for voice in bar.voices:
                for event in voice:
                    if not isinstance(event, Note | Chord):
                        continue
                    for pitch in event.pitches:
                        if low and high and not low.diatonic <= pitch.diatonic <= high.diatonic:
                            yield f"{pitch.short} lies outside the grade's range in the {stave.clef} clef"
                        if abs(pitch.alter) > 1 and 2 not in scope.alters:
                            yield f"{pitch.short} needs a double sign, which is not in the grade's scope"
