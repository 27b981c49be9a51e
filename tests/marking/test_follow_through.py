"""Follow-through in whole papers: every part that rests on an earlier one, in each grade and edition."""

from __future__ import annotations

from functools import cache

import pytest
from msgspec.structs import replace

from stavewright.marking.documents import Marked
from stavewright.marking.whole_script import mark_script
from stavewright.papers.blueprint import ExtractSlot
from stavewright.papers.documents import Paper, Script
from stavewright.papers.rotation import ROUND, blueprint
from stavewright.questions.asking import answers_of, facts_of, native
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import ChoiceForm, Question
from stavewright.questions.values import Value
from stavewright.services.set_paper import set_paper
from stavewright.syllabus.edition import EDITIONS
from stavewright.syllabus.scope import GRADES
from stavewright.theory.key import Key
from stavewright.wiring import composed_melodies, music_writer

PAIRS = {("key-of-a-melody", "degree-number"), ("key-of-a-melody", "degree-name")}
"""(the part asked first, the part that rests on it), as the extract's parts make them."""


@cache
def paper(grade: int, edition: str, seed: int) -> Paper:
    return set_paper(
        grade=grade, edition=edition, seed=seed, words="uk", melodies=composed_melodies(), write_music=music_writer()
    )


def pairs_of(made: Paper) -> list[tuple[Question, Question]]:
    by_id = {question.id: question for question in made.questions()}
    return [(by_id[one.follows], one) for one in made.questions() if one.follows]


def as_picked(question: Question, wanted: Value) -> Value | None:
    """An answer in the form of the question: itself, or the letter of the option that says it."""
    form = question.response[0]
    if not isinstance(form, ChoiceForm):
        return wanted
    return next(
        (Value(choice=one.id) for one in form.options if native(question, Value(choice=one.id)) == wanted), None
    )


def wrong_key(first: Question) -> tuple[Value, Key]:
    """The relative key, which is what pupils give who do not look for the leading note."""
    relative = Key.parse(answers_of(first)[0].text).relative
    said = as_picked(first, Value(words=relative.text))
    assert said is not None, "the relative is always among the options"
    return said, relative


def marked(made: Paper, answers: dict[str, Value], id_: str) -> Marked:
    report = mark_script(made, Script(made.id, {name: (value,) for name, value in answers.items()}))
    return next(one for one in report.questions if one.id == id_)


def extract_of(grade: int, edition: str, seed: int) -> ExtractSlot:
    """The first extract of a paper, which has the parts beside reading."""
    return next(slot for slot in blueprint(grade, edition, seed).slots if isinstance(slot, ExtractSlot))


def test_the_dependent_pairs_are_these() -> None:
    """The parts of an extract that rest on an earlier part are all known here, so none goes untested."""
    kinds = {
        part.kind
        for grade in GRADES
        for edition in EDITIONS
        for seed in range(ROUND)
        for slot in blueprint(grade, edition, seed).slots
        if isinstance(slot, ExtractSlot)
        for part in slot.parts
    }
    resting = {kind for kind in kinds if kind_of(kind).given is not None}
    assert {("key-of-a-melody", kind) for kind in resting} == PAIRS


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("grade", "pair"), [(2, "degree-number"), (3, "degree-number"), (4, "degree-name"), (5, "degree-name")]
)
def test_a_part_right_from_a_wrong_key_earns_its_mark(grade: int, pair: str, edition: str) -> None:
    """A wrong key costs its own mark only: a degree right in that key earns its mark, and the report says so."""
    tried = 0
    asked = [seed for seed in range(ROUND) if pair in {slot.kind for slot in extract_of(grade, edition, seed).parts}]
    for seed in asked[:3]:
        made = paper(grade, edition, seed)
        for first, second in pairs_of(made):
            assert (first.kind, second.kind) == ("key-of-a-melody", pair)
            said, key = wrong_key(first)
            found = kind_of(second.kind).solve(replace(facts_of(second), key=key.text))
            truth = answers_of(second)[0].value[0]
            picked = next(filter(None, (as_picked(second, one.value[0]) for one in found)), None)
            assert picked is not None, "the degree in the relative key is always among the options"
            assert picked != truth
            tried += 1
            followed = marked(made, {first.id: said, second.id: picked}, second.id)
            assert (followed.marks, followed.follow_through) == (second.marks, True)
            assert followed.note.startswith("Right from your earlier answer")
            assert marked(made, {first.id: said, second.id: picked}, first.id).marks == 0
            # With the right key, or none, the same answer is wrong; the true answer is right whatever the key said.
            assert marked(made, {second.id: picked}, second.id).marks == 0
            right = answers_of(first)[0].value[0]
            assert marked(made, {first.id: right, second.id: picked}, second.id).marks == 0
            assert marked(made, {first.id: said, second.id: truth}, second.id).marks == second.marks
    assert tried
