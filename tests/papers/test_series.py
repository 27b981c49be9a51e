"""Series of papers, parallels and focus papers."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.papers.blueprint import ExtractSlot, blueprint
from stavewright.papers.documents import Paper
from stavewright.papers.errors import CannotSet
from stavewright.papers.focus import focus, share
from stavewright.papers.pack import Pack
from stavewright.questions.catalogue import kind as kind_of
from stavewright.services.set_paper import set_paper
from stavewright.syllabus.scope import scope_for
from stavewright.wiring import composed_melodies, music_writer


def series(grade: int, edition: str, count: int, pack: Pack) -> list[Paper]:
    return [
        set_paper(
            grade=grade,
            edition=edition,
            seed=seed,
            melodies=composed_melodies(),
            write_music=music_writer(),
            pack=pack,
        )
        for seed in range(count)
    ]


@pytest.mark.parametrize(("grade", "edition"), [(2, "written"), (5, "on-screen")])
def test_a_series_shares_no_question_of_a_large_pool(grade: int, edition: str) -> None:
    """Over a series, kinds with a pool over 200 share no question; smaller pools are dealt like a pack of cards."""
    pack = Pack()
    papers = series(grade, edition, 8, pack)
    dealt = Counter((question.kind, bytes(question.facts)) for one in papers for question in one.questions())
    for (kind, _), times in dealt.items():
        pool = kind_of(kind).pool(scope_for(grade))
        if pool is None or pool > 200:
            assert times == 1, kind
        else:
            assert times <= pack.rounds[kind] + 1, kind


def test_a_pack_is_taken_up_again_only_when_it_is_through() -> None:
    """No question returns before its pack is through."""
    pack = Pack()
    for facts in (b"1", b"2"):
        assert pack.fresh("a", facts)
        pack.deal("a", facts)
        assert not pack.fresh("a", facts)
    pack.next_round("a")
    assert pack.fresh("a", b"1")
    assert pack.fresh("b", b"1")
    pack.deal("b", b"1")
    assert not pack.fresh("b", b"1")


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
    topics = {part.topic for slot in plan.slots for part in (slot.parts if isinstance(slot, ExtractSlot) else (slot,))}
    assert topics == {"scales", "reading"}
    assert plan.minutes == 30
    whole = blueprint(grade, "written").minutes
    assert abs(plan.total - 3000 / whole) <= 2


def test_a_report_weighs_the_topics() -> None:
    """What lost more marks gets more questions; what lost none gets none."""
    plan = focus(3, "written", lost={"scales": 9, "keys": 3, "notes": 0})
    marks: Counter[str] = Counter()
    for slot in plan.slots:
        assert not isinstance(slot, ExtractSlot)
        marks[slot.topic] += slot.items * slot.marks
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
