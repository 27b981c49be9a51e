"""Whole papers: the blueprint filled exactly, nothing twice, nothing given away, parallel in predicted mark."""

from __future__ import annotations

from collections import Counter

import msgspec
import pytest

from stavewright.papers.blueprint import FEWEST_PARTS, MOST_PARTS, ExtractSlot
from stavewright.papers.documents import Paper
from stavewright.papers.rotation import ROUND, blueprint
from stavewright.questions.asking import facts_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.services.set_paper import set_paper
from stavewright.syllabus.edition import EDITIONS, edition
from stavewright.syllabus.scope import GRADES
from stavewright.wiring import composed_melodies, music_writer

CASES = [(grade, id_) for grade in GRADES for id_ in EDITIONS]


def paper(grade: int, id_: str, seed: int = 1, words: str = "uk") -> Paper:
    return set_paper(
        grade=grade, edition=id_, seed=seed, words=words, melodies=composed_melodies(), write_music=music_writer()
    )


@pytest.mark.parametrize(("grade", "id_"), CASES)
def test_every_blueprint_is_a_hundred_marks(grade: int, id_: str) -> None:
    """A paper has 100 marks, shared among the topics as the edition says, whichever families take their turn."""
    for seed in range(ROUND):
        plan = blueprint(grade, id_, seed)
        got: Counter[str] = Counter()
        for slot in plan.families():
            got[slot.topic] += slot.total
        assert plan.total == 100
        assert got == Counter(edition(id_, grade).marks)


@pytest.mark.parametrize(("grade", "id_"), CASES)
def test_an_extract_has_five_to_eight_parts(grade: int, id_: str) -> None:
    """Every paper has an extract with 5 to 8 parts, and no extract has more; kinds on an extract are asked there."""
    for seed in range(ROUND):
        plan = blueprint(grade, id_, seed)
        sizes = [len(slot.parts) for slot in plan.slots if isinstance(slot, ExtractSlot)]
        assert any(FEWEST_PARTS <= size <= MOST_PARTS for size in sizes)
        assert max(sizes) <= MOST_PARTS


@pytest.mark.parametrize(("grade", "id_"), CASES)
def test_the_parts_of_a_battery_have_different_answers(grade: int, id_: str) -> None:
    """A battery cannot be worked by copying its first answer: one answer stands in it twice at most."""
    batteries: dict[tuple[str, str], list[str]] = {}
    for question in paper(grade, id_, seed=3).questions():
        if question.group and not kind_of(question.kind).extract:
            batteries.setdefault((question.group.id, question.kind), []).append(question.answers[0].text)
    assert max(max(Counter(texts).values()) for texts in batteries.values()) <= 2


@pytest.mark.parametrize(("grade", "id_"), CASES)
def test_a_paper_asks_nothing_twice_and_gives_nothing_away(grade: int, id_: str) -> None:
    """Within a paper no question repeats, and none shows what another asks."""
    made = paper(grade, id_)
    questions = list(made.questions())
    assert sum(question.marks for question in questions) == made.total == 100
    assert len({question.id for question in questions}) == len(questions)
    assert len({(question.kind, bytes(question.facts)) for question in questions}) == len(questions)
    asks = {question.id: kind_of(question.kind).asks(facts_of(question)) for question in questions}
    shows = {question.id: kind_of(question.kind).shows(facts_of(question)) for question in questions}
    given_away = [(one, other) for one in asks for other in shows if one != other and asks[one] & shows[other]]
    assert given_away == []


@pytest.mark.parametrize(("grade", "id_"), CASES)
def test_the_same_seed_is_the_same_paper(grade: int, id_: str) -> None:
    """Same inputs, same bytes; another seed, another paper."""
    first, again, other = paper(grade, id_), paper(grade, id_), paper(grade, id_, seed=2)
    assert msgspec.json.encode(first) == msgspec.json.encode(again)
    mine, theirs = ({(q.kind, bytes(q.facts)) for q in one.questions()} for one in (first, other))
    shared = mine & theirs
    assert len(shared) < len(list(first.questions())) / 4


def test_follow_through_is_wired_in_papers() -> None:
    """In the extract, parts that use the key follow the part that asks it."""
    papers = (paper(3, "written", seed) for seed in range(ROUND))
    made = next(one for one in papers if any(question.follows for question in one.questions()))
    followers = [question for question in made.questions() if question.follows]
    by_id = {question.id: question for question in made.questions()}
    for question in followers:
        assert by_id[question.follows or ""].kind == "key-of-a-melody"


def test_us_words_reach_the_page_but_not_the_answer() -> None:
    """Prompts follow --words; an answer's text is always UK words."""
    made = paper(1, "written", words="us")
    prompts = " ".join(block.text for q in made.questions() for block in q.prompt if hasattr(block, "text"))
    answers = " ".join(one.text for q in made.questions() for one in q.answers)
    assert "crotchet" not in prompts.casefold()
    assert "quarter note" not in answers.casefold()


@pytest.mark.parametrize(("grade", "id_"), CASES)
def test_equal_ids_in_a_group_are_the_same_block(grade: int, id_: str) -> None:
    """Blocks with equal ids inside a group are printed once, so they must be the same."""
    seen: dict[tuple[str, str], object] = {}
    for question in paper(grade, id_).questions():
        for block in question.prompt:
            if question.group is not None and block.id:
                assert seen.setdefault((question.group.id, block.id), block) == block


@pytest.mark.parametrize(("grade", "id_"), CASES)
def test_a_topic_stands_in_one_place(grade: int, id_: str) -> None:
    """Sections run topic by topic; no topic's heading comes twice."""
    topics = [section.topic for section in paper(grade, id_).sections if section.topic is not None]
    assert len(topics) == len(set(topics))


@pytest.mark.parametrize(("grade", "id_"), CASES)
def test_an_extract_is_searched_for_different_things(grade: int, id_: str) -> None:
    """On one extract no two parts look for the same thing: finding one repeat would answer the other."""
    sought: dict[str, list[str]] = {}
    for question in paper(grade, id_).questions():
        if question.kind == "find-in-the-extract" and question.group is not None:
            sought.setdefault(question.group.id, []).append(facts_of(question).search.about)
    for found in sought.values():
        assert len(set(found)) == len(found)


def test_focus_papers_of_different_parts_have_different_names() -> None:
    """No focus paper takes the name, and so the file, of another: topics, kinds, minutes and lost marks all tell."""
    from stavewright.papers.focus import focus_name

    asked = [
        ((), (), 30, {}), (("scales",), (), None, {}), (("keys",), (), None, {}), (("scales",), (), 30, {}),
        ((), ("name-the-note",), None, {}), ((), (), None, {"keys": 3}), ((), (), None, {"keys": 4}),
        (tuple(f"topic-{n}" for n in range(12)), (), None, {}), (tuple(f"topic-{n}" for n in range(13)), (), None, {}),
    ]  # fmt: skip
    names = [focus_name(*one) for one in asked]
    assert len(set(names)) == len(names)
    assert all(len(name) <= 40 for name in names)
