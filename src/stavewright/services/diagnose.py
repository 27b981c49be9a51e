"""From marked scripts to the slips that a pupil seems to hold, with one question each that would settle the matter."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress

from msgspec.structs import replace

from stavewright.marking.diagnosis import Diagnosis, Suspect
from stavewright.marking.errors import BadScript, WrongPaper
from stavewright.marking.follow_up import most_telling
from stavewright.marking.likely_slips import NONE, OTHER, Seen, foretell, named, seen, weigh
from stavewright.papers.documents import Paper, Script, Section
from stavewright.papers.errors import CannotSet
from stavewright.questions.asking import facts_of, full
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import Question
from stavewright.questions.melodies import Melodies
from stavewright.questions.values import Value
from stavewright.services.ports import Progress, silent
from stavewright.services.set_questions import set_questions

CANDIDATES = 24
"""So many fresh questions are looked at for the one that tells most."""
WORTH_ASKING = 0.2
"""Below this likelihood a slip is not worth a question."""
_SHOWN = 3
Answered = tuple[Question, Sequence[Value]]


def answered(paper: Paper, script: Script) -> list[Answered]:
    """The questions of a paper that a script answers, with the answers.

    Raises:
        WrongPaper: the script belongs to another paper.
        BadScript: it answers a question that the paper does not have.
    """
    if script.paper != paper.id:
        raise WrongPaper(f"this script answers paper {script.paper!r}, but the paper given is {paper.id!r}")
    known = {question.id: question for question in paper.questions()}
    strange = sorted(set(script.answers) - set(known))
    if strange:
        raise BadScript(f"question {', '.join(strange)} is not in paper {paper.id}")
    return [(known[id_], given) for id_, given in script.answers.items() if given]


def diagnose(
    answers: Iterable[Answered],
    *,
    melodies: Melodies,
    seed: int = 1,
    days_ago: Mapping[str, float] | None = None,
    progress: Progress = silent,
) -> tuple[Diagnosis, ...]:
    """Weigh all answers of one pupil, kind by kind, and say what seems to lie behind the wrong ones.

    A kind without a wrong answer is left out. Named slips come first, then by how likely the likeliest is. `days_ago`
    gives the age of an answer by question id: an answer 21 days old counts half.

    Raises:
        UnknownKind, BadDocument, BadAnswer: a question or an answer that is not what it should be.
    """
    kinds: dict[str, list[Answered]] = {}
    for question, given in answers:
        kinds.setdefault(question.kind, []).append((question, given))
    found: list[Diagnosis] = []
    for done, those in enumerate(kinds.values(), 1):
        one = _of_kind(those, melodies, seed, days_ago or {})
        if one is not None:
            found.append(one)
        progress(done, len(kinds))
    return tuple(sorted(found, key=lambda one: (one.slip is None, -max((s.likely for s in one.suspects), default=0.0))))


def _of_kind(
    answers: Sequence[Answered], melodies: Melodies, seed: int, days_ago: Mapping[str, float]
) -> Diagnosis | None:
    evidence: list[Seen] = []
    ids: list[str] = []
    for question, given in answers:
        one = seen(question, given, days_ago.get(question.id, 0.0))
        if one is not None:
            evidence.append(one)
            ids.append(question.id)
    wrong = sum(one.outcome != 0 for one in evidence)
    if not wrong:
        return None
    likely = weigh(evidence)
    slips = sorted((held for held in likely if held not in (NONE, OTHER)), key=lambda held: -likely[held])
    suspects = tuple(Suspect(held, round(likely[held], 3)) for held in slips[:_SHOWN] if likely[held] >= 0.01)
    sure = named(likely)
    last = answers[-1][0]
    return Diagnosis(
        kind=last.kind,
        title=kind_of(last.kind).title,
        topic=last.topic,
        slip=sure,
        remedy=_remedy(answers, sure),
        suspects=suspects,
        other=round(likely[OTHER], 3),
        seen=tuple(ids),
        wrong=wrong,
        ask_next=None if sure or not suspects else _ask_next(last, likely, melodies, seed, ids),
    )


def _remedy(answers: Sequence[Answered], slip: str | None) -> str:
    for question, _ in answers if slip else ():
        for one in kind_of(question.kind).slips(facts_of(question)):
            if one.name == slip:
                return one.remedy
    return ""


def _ask_next(
    like: Question, likely: Mapping[str, float], melodies: Melodies, seed: int, taken: Sequence[str]
) -> Question | None:
    """One fresh question of the same kind and grade whose answer would say most, in whichever form that is.

    A written answer mostly says more than a picked one, so that a picked wrong answer is often followed by writing.
    """
    if max(part for held, part in likely.items() if held != NONE) < WORTH_ASKING:
        return None
    candidates: list[Question] = []
    for edition in dict.fromkeys((like.edition, *kind_of(like.kind).forms)):
        made = set_questions(
            kind=like.kind, grade=like.grade, edition=edition, count=CANDIDATES, seed=seed, melodies=melodies,
            words=like.words,
        )  # fmt: skip
        with suppress(CannotSet):  # a small pool may be used up: those already drawn will do
            candidates.extend(made)
    fresh = [one for one in candidates if one.id not in taken]
    at = most_telling(likely, [foretell(one)[0] for one in fresh])
    return None if at is None else fresh[at]


def follow_up_paper(found: Sequence[Diagnosis], paper: Paper, seed: int) -> Paper | None:
    """The follow-up questions as a small paper of their own, to be sat, marked and weighed like any other."""
    asked = [one for one in found if one.ask_next is not None]
    if not asked:
        return None
    sections: list[Section] = []
    marks = seconds = 0
    for number, one in enumerate(asked, 1):
        if one.ask_next is None:
            continue
        question = replace(full(one.ask_next), group=None, follows=None)
        sections.append(Section(question.topic, f"{number}. {one.title}", (question,)))
        marks += question.marks
        seconds += kind_of(question.kind).seconds
    return Paper(
        id=f"{paper.id}-follow-up-{seed}"[:80],
        grade=paper.grade,
        edition=paper.edition,
        seed=seed,
        words=paper.words,
        total=marks,
        time_minutes=max(1, round(seconds / 60)),
        sections=tuple(sections),
    )
