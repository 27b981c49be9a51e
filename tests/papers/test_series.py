"""Series of papers, parallels and focus papers."""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.papers.blueprint import ExtractSlot
from stavewright.papers.documents import Paper
from stavewright.papers.errors import CannotSet
from stavewright.papers.expected import expected_marks
from stavewright.papers.focus import focus, share
from stavewright.papers.pack import Family, Pack, family_of, key_of
from stavewright.papers.rotation import blueprint
from stavewright.questions.catalogue import kind as kind_of
from stavewright.score.stave import Score
from stavewright.services.set_paper import set_paper
from stavewright.syllabus.scope import scope_for
from stavewright.wiring import composed_melodies, music_writer

CASES = [(grade, edition) for grade in (1, 3, 5) for edition in ("written", "on-screen")]
PAPERS = 30


def unwritten(score: Score) -> str:
    """A writer of music that writes nothing: these tests look at facts only."""
    return ""


@cache
def series(grade: int, edition: str) -> tuple[tuple[Paper, ...], Pack]:
    """Thirty papers of one blueprint, dealt from one pack (set once for all the tests here)."""
    pack = Pack()
    source = composed_melodies()
    papers = tuple(
        set_paper(grade=grade, edition=edition, seed=seed, melodies=source, write_music=unwritten, pack=pack)
        for seed in range(PAPERS)
    )
    return papers, pack


def dealt(papers: tuple[Paper, ...]) -> dict[Family, list[bytes]]:
    """The facts asked, family by family, in the order they were dealt."""
    found: dict[Family, list[bytes]] = {}
    for paper in papers:
        for question in paper.questions():
            found.setdefault(family_of(question), []).append(bytes(question.facts))
    return found


@pytest.mark.parametrize(("grade", "edition"), CASES)
def test_a_series_shares_no_question_of_a_large_pool(grade: int, edition: str) -> None:
    """Over 30 papers, kinds with a pool over 200 share no question."""
    papers, _ = series(grade, edition)
    for (kind, _), facts in dealt(papers).items():
        pool = kind_of(kind).pool(scope_for(grade))
        if pool is None or pool > 200:
            assert max(Counter(facts).values()) == 1, kind


@pytest.mark.parametrize(("grade", "edition"), CASES)
def test_a_small_pool_is_dealt_like_a_shuffled_pack(grade: int, edition: str) -> None:
    """No question of a small pool returns before its pack is through, so none comes twice more often than another."""
    papers, pack = series(grade, edition)
    assert pack.early == 0
    for (kind, _), facts in dealt(papers).items():
        pool = kind_of(kind).pool(scope_for(grade))
        if pool is None or pool > 200:
            continue
        times = Counter(facts)
        if max(times.values()) > 1:
            assert len(times) >= pool, f"{kind}: a question returned when {len(times)} of {pool} had been dealt"
        assert max(times.values()) - min(times.values()) <= 1, kind


@pytest.mark.parametrize(("grade", "edition"), CASES)
def test_within_a_paper_none_repeats(grade: int, edition: str) -> None:
    """Within one paper no kind asks the same facts twice, in whatever form."""
    for paper in series(grade, edition)[0]:
        asked = [(question.kind, bytes(question.facts)) for question in paper.questions()]
        assert len(set(asked)) == len(asked)
        assert paper.total == sum(question.marks for question in paper.questions()) == 100


@pytest.mark.parametrize(("grade", "edition"), CASES)
def test_thirty_papers_are_parallel(grade: int, edition: str) -> None:
    """Over 30 papers the predicted mark of a pupil nearly ready (ability 0.5) varies by at most half a mark."""
    middle = [expected_marks(paper.questions())[1] for paper in series(grade, edition)[0]]
    assert max(middle) - min(middle) <= 0.5


@pytest.mark.parametrize(("grade", "edition"), CASES)
def test_topics_get_their_marks_in_every_paper(grade: int, edition: str) -> None:
    """Whatever stands in for whatever, the marks of each topic are those of the blueprint."""
    for seed, paper in enumerate(series(grade, edition)[0]):
        got: Counter[str] = Counter()
        for question in paper.questions():
            got[question.topic] += question.marks
        want: Counter[str] = Counter()
        for slot in blueprint(grade, edition, seed).families():
            want[kind_of(slot.kind).topic] += slot.total
        assert got == want


def test_a_pack_is_taken_up_again_only_when_it_is_through() -> None:
    """No question returns before its pack is through."""
    pack, family = Pack(), ("a", "words")
    keys = [key_of(family, facts) for facts in (b"1", b"2")]
    for key in keys:
        assert pack.fresh(family, key)
        pack.deal(family, key)
        assert not pack.fresh(family, key)
    pack.next_round(family)
    assert pack.fresh(family, keys[0])
    other = key_of(("b", "words"), b"1")
    pack.deal(("b", "words"), other)
    assert not pack.fresh(("b", "words"), other)


def test_the_same_facts_in_another_form_are_another_question() -> None:
    """Two questions are the same when kind, form and facts are equal."""
    facts = b"{}"
    assert key_of(("a", "words"), facts) != key_of(("a", "choice"), facts)
    assert key_of(("a", "words"), facts) == key_of(("a", "words"), facts)


def test_a_round_that_came_to_nothing_is_taken_back() -> None:
    """A paper that could not be set leaves the pack as it was."""
    pack, family = Pack(), ("a", "words")
    key = key_of(family, b"1")
    pack.deal(family, key)
    before = pack.rounds.copy()
    pack.next_round(family)
    assert pack.fresh(family, key)
    pack.back_to(before)
    assert not pack.fresh(family, key)


def test_earlier_papers_are_taken_into_the_pack() -> None:
    """What an earlier paper asked is not asked again."""
    papers, _ = series(3, "written")
    pack = Pack()
    pack.take(papers[0].questions())
    again = set_paper(
        grade=3, edition="written", seed=0, melodies=composed_melodies(), write_music=music_writer(), pack=pack
    )
    mine, theirs = ({(q.kind, bytes(q.facts)) for q in one.questions()} for one in (again, papers[0]))
    assert not mine & theirs


@given(st.integers(1, 100), st.dictionaries(st.sampled_from("abcdefgh"), st.integers(1, 50), min_size=1))
def test_marks_are_shared_in_proportion(total: int, weights: dict[str, int]) -> None:
    """The shares add up, and none is a whole mark away from its exact proportion (method of largest remainders)."""
    found = share(total, weights)
    assert sum(found.values()) == total
    for name, weight in weights.items():
        assert abs(found.get(name, 0) - total * weight / sum(weights.values())) < 1


@pytest.mark.parametrize("grade", [1, 3, 5])
def test_a_focus_paper_keeps_to_its_topics_and_time(grade: int) -> None:
    """A focus paper asks only the topics named, in about the minutes named."""
    plan = focus(grade, "written", topics=["scales", "reading"], minutes=30)
    assert {slot.topic for slot in plan.families()} == {"scales", "reading"}
    assert plan.minutes == 30
    whole = blueprint(grade, "written").minutes
    assert abs(plan.total - 3000 / whole) <= 2


def test_a_report_weighs_the_topics() -> None:
    """What lost more marks gets more questions; what lost none gets none."""
    plan = focus(3, "written", lost={"scales": 9, "keys": 3, "notes": 0})
    marks: Counter[str] = Counter()
    for slot in plan.slots:
        assert not isinstance(slot, ExtractSlot)
        marks[slot.topic] += slot.total
    assert marks["scales"] > marks["keys"] > 0
    assert "notes" not in marks


def test_unknown_topics_and_kinds_are_named() -> None:
    """A topic that is nearly right is answered with the right one; a kind of a later grade says so."""
    with pytest.raises(CannotSet, match="did you mean scales"):
        focus(3, "written", topics=["scale"])
    with pytest.raises(CannotSet, match="from grade 5"):
        focus(1, "written", kinds=["chord-and-inversion"])
    with pytest.raises(CannotSet, match="nothing to set"):
        focus(1, "written", lost={})
