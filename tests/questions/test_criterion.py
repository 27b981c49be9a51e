"""Criteria of a composed answer: sharing the marks of a question out over them."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from stavewright.questions.criterion import Criterion, lost, marks_by, said, shared

ROWS = st.lists(
    st.integers(1, 6).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of))), min_size=1, max_size=10
).map(lambda row: tuple(Criterion(f"c{at}", got, of, "It earns.", "it was found") for at, (got, of) in enumerate(row)))


@given(ROWS, st.integers(1, 40))
def test_shares_add_up_and_keep_what_is_lost(criteria: tuple[Criterion, ...], of: int) -> None:
    """With a mark at least for each, the shares add up to the question's marks; full is full and nothing is nothing."""
    found = shared(criteria, of)
    assert [one.name for one in found] == [one.name for one in criteria]
    if of >= len(criteria):
        assert sum(one.of for one in found) == of
        assert marks_by(found, of) == sum(one.marks for one in found)
    for old, new in zip(criteria, found, strict=True):
        assert (new.lost == 0) == (old.lost == 0)
        assert new.marks <= new.of
        assert old.marks or not new.marks


@given(ROWS, st.integers(1, 40))
def test_full_marks_only_where_nothing_is_lost(criteria: tuple[Criterion, ...], of: int) -> None:
    """However few marks a question has."""
    assert (marks_by(shared(criteria, of), of) == of) == (lost(criteria) == 0)


def test_a_finding_is_said_once() -> None:
    """The same finding of several criteria is one clause."""
    row = [Criterion("a", 0, 1, "", "too little"), Criterion("b", 0, 1, "", "too little")]
    assert said(row) == "Too little."
