"""Grades as data: cumulative, and what the table of common practice says."""

from __future__ import annotations

import pytest

from stavewright.syllabus.edition import EDITIONS, bands, edition, extract_parts, recipes
from stavewright.syllabus.errors import UnknownEdition, UnknownGrade
from stavewright.syllabus.scope import GRADES, scope_for


@pytest.mark.parametrize("grade", GRADES[1:])
def test_grades_are_cumulative(grade: int) -> None:
    """Each grade may ask everything the one before it asks."""
    before, now = scope_for(grade - 1), scope_for(grade)
    for name in ("values", "times", "clefs", "majors", "minors", "alters", "triads", "tuplets"):
        assert set(getattr(before, name)) <= set(getattr(now, name)), name
    for clef in before.clefs:
        (low, high), (lower, higher) = before.range_of(clef), now.range_of(clef)
        assert lower.diatonic <= low.diatonic
        assert high.diatonic <= higher.diatonic


def test_keys_reach_six_signs_at_grade_five() -> None:
    """Keys grow to 4 signs at grade 3, 5 at grade 4, 6 at grade 5 (common practice)."""
    reach = {grade: max(abs(key.fifths) for key in scope_for(grade).keys) for grade in GRADES}
    assert reach == {1: 2, 2: 3, 3: 4, 4: 5, 5: 6}
    assert {abs(key.fifths) for key in scope_for(5).minor_keys} == set(range(7))


def test_relatives_are_majors_of_the_grade() -> None:
    """A relative pair is asked only where both keys are in the grade."""
    for grade in GRADES:
        scope = scope_for(grade)
        minors = {key.fifths for key in scope.minor_keys}
        for key in scope.major_keys:
            if key.tonic.short in scope.relatives:
                assert key.fifths in minors


@pytest.mark.parametrize("id_", EDITIONS)
@pytest.mark.parametrize("grade", GRADES)
def test_marks_add_up_to_a_hundred(id_: str, grade: int) -> None:
    """Each edition's marks by topic make 100."""
    assert sum(edition(id_, grade).marks.values()) == 100


def test_unknown_grades_and_editions_are_named() -> None:
    """An unknown grade or edition is refused, with what there is."""
    with pytest.raises(UnknownGrade, match="1 to 5"):
        scope_for(6)
    with pytest.raises(UnknownEdition, match="on-screen"):
        edition("spoken", 3)


def test_recipes_are_for_the_editions() -> None:
    """Every recipe is worth marks in an edition, and takes at least one item."""
    for recipe in recipes():
        assert recipe.marks
        assert set(recipe.marks) <= set(EDITIONS)
        assert 1 <= recipe.items[0] <= recipe.items[1]
    assert extract_parts()


def test_bands_are_in_order() -> None:
    """Pass, merit, distinction at 66, 80, 90 of 100 (common practice)."""
    assert [bands().band(marks, 100) for marks in (65, 66, 79, 80, 89, 90)] == [
        "below pass", "pass", "pass", "merit", "merit", "distinction",
    ]  # fmt: skip
