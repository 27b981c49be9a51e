"""Families of questions take turns: all of them come, each in proportion, and blueprints stay parallel."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from stavewright.papers.blueprint import predicted
from stavewright.papers.errors import CannotSet
from stavewright.papers.menu import menus, most_families
from stavewright.papers.offer import Offer, offers
from stavewright.papers.rotation import ROUND, Rotation, blueprint, rotation
from stavewright.questions.catalogue import kinds
from stavewright.syllabus.edition import EDITIONS, edition, extract_parts, recipes, training
from stavewright.syllabus.scope import GRADES

CASES = [(grade, id_) for grade in GRADES for id_ in EDITIONS]


@pytest.mark.parametrize(("grade", "id_"), CASES)
def test_every_kind_of_the_catalogue_comes_in_thirty_papers(grade: int, id_: str) -> None:
    """A series draws on every kind that the grade and edition ask; only kinds for practice are left out."""
    asked = {slot.kind for seed in range(ROUND) for slot in blueprint(grade, id_, seed).families()}
    chosen = edition(id_, grade)
    wanted = {
        kind.id
        for kind in kinds().values()
        if kind.since <= grade and kind.id not in training() and chosen.forms_of(kind.id, kind.topic, tuple(kind.forms))
    }
    still = {one.kind for one in (*recipes(), *extract_parts()) if one.until >= grade}
    assert wanted & still <= asked
    assert wanted - still <= {"interval-number"}, "from grade 3 intervals are named by quality too"
    assert asked <= wanted


def test_only_practice_is_left_out_of_the_recipes() -> None:
    """Every kind has a recipe, or is asked of the extract, or is for practice with a reason."""
    placed = {one.kind for one in recipes()} | {one.kind for one in extract_parts()}
    assert set(kinds()) - placed == set(training())
    assert all(training().values())


@pytest.mark.parametrize(("grade", "id_"), CASES)
def test_marks_are_in_proportion_to_shares(grade: int, id_: str) -> None:
    """Over a round each family gets the marks of its share, to within a few questions of its own and half."""
    turns = Rotation(edition(id_, grade))
    for seed in range(ROUND):
        turns.blueprint(seed)
    for topic in turns.marks:
        offered = [one for one in turns.offered if one.topic == topic]
        whole = sum(one.share for one in offered)
        for one in offered:
            fair = turns.asked[topic] * one.share / whole
            got = turns.given[one.kind, one.edition]
            assert abs(got - fair) <= 2 * one.marks * one.items[1] + 0.5 * fair, (one.kind, got, fair)


@pytest.mark.parametrize(("grade", "id_"), CASES)
def test_blueprints_predict_nearly_the_same(grade: int, id_: str) -> None:
    """Before any question is chosen, the average questions of the families predict marks that lie near the aim."""
    aim = rotation(id_, grade).aim[1]
    for seed in range(ROUND):
        assert abs(predicted(blueprint(grade, id_, seed).families())[1] - aim) <= 2.0


def test_papers_of_one_round_differ_in_families() -> None:
    """Two papers after one another do not ask all the same families."""
    one, other = ({slot.kind for slot in blueprint(3, "written", seed).families()} for seed in (4, 5))
    assert one != other


def test_the_same_seed_has_the_same_blueprint() -> None:
    """A blueprint depends on the seed only, not on which were asked for before."""
    fresh = Rotation(edition("written", 4))
    assert fresh.blueprint(7) == blueprint(4, "written", 7) == blueprint(4, "written", 7 + ROUND)


def test_composing_gives_its_marks_away_where_it_is_left_out() -> None:
    """Where an edition has no composing, its marks go to metre (1 to 4) or to chords and reading (5)."""
    for grade in GRADES:
        chosen = edition("written", grade)
        composing = [kind.id for kind in kinds().values() if kind.topic == "composing"]
        without = Rotation(replace(chosen, retired=dict.fromkeys(composing, "not here")))
        more = {topic: without.marks[topic] - chosen.marks[topic] for topic in without.marks}
        spare = chosen.marks["composing"]
        assert {topic: value for topic, value in more.items() if value} == (
            {"metre": spare} if grade < 5 else {"chords": spare // 2, "reading": spare // 2}
        )


def offer(kind: str, marks: int, items: tuple[int, int]) -> Offer:
    return Offer("notes", kind, "written", marks, items, 1, extract=False, expected=(0.3, 0.5, 0.7))


def test_a_menu_makes_up_the_marks_exactly() -> None:
    """Every menu has the marks asked for, no kind twice, and no more items than the recipe says."""
    offered = [offer("a", 1, (1, 4)), offer("b", 2, (1, 2)), offer("c", 3, (1, 1))]
    found = menus("notes", 7, offered)
    assert found
    for menu in found:
        assert sum(one.marks * items for one, items in menu) == 7
        assert len({one.kind for one, _ in menu}) == len(menu) <= max(most_families(7), 3)
        assert all(one.items[0] <= items <= one.items[1] for one, items in menu)


def test_marks_that_nothing_makes_up_are_named() -> None:
    """Three marks from questions of two marks cannot be: the message names the topic and the questions."""
    with pytest.raises(CannotSet, match=r"notes: 3 marks cannot be made up from b \(2\)"):
        menus("notes", 3, [offer("b", 2, (1, 2))])
    with pytest.raises(CannotSet, match="no kinds at all"):
        menus("notes", 3, [])


def test_an_edition_asks_only_forms_it_has() -> None:
    """No offer is in a form that its kind does not have."""
    for grade, id_ in CASES:
        for one in offers(grade, edition(id_, grade)):
            assert one.edition == id_
            assert id_ in kinds()[one.kind].forms
