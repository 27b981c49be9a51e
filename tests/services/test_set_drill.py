"""Drills: of the right kinds, none twice, even shares, versions that differ."""

from __future__ import annotations

from collections import Counter

import pytest

from stavewright.marking.plausible import fill
from stavewright.marking.whole_script import mark_script
from stavewright.papers.documents import Paper
from stavewright.papers.errors import CannotSet
from stavewright.questions.catalogue import kinds
from stavewright.questions.errors import UnknownKind
from stavewright.services.documents import as_json, read_paper
from stavewright.services.set_drill import SHORT_SECONDS, Dealt, drill_kinds, set_drill, set_group
from stavewright.wiring import composed_melodies, music_writer


def drill(*names: str, grade: int = 3, count: int = 12, seed: int = 1, dealt: Dealt | None = None, **how: str) -> Paper:
    edition = how.get("edition", "written")
    chosen = drill_kinds(grade, edition, kinds=names)
    return set_drill(
        kinds=chosen,
        grade=grade,
        edition=edition,
        count=count,
        seed=seed,
        melodies=composed_melodies(),
        write_music=music_writer(),
        words=how.get("words", "uk"),
        dealt=dealt,
    )


def facts(paper: Paper) -> list[tuple[str, bytes]]:
    return [(one.kind, bytes(one.facts)) for one in paper.questions()]


def test_a_topic_gives_its_short_kinds_that_the_grade_may_ask() -> None:
    """By topic a drill takes what a ready pupil does in a moment, without extracts and nothing of a later grade."""
    found = drill_kinds(3, "written", topics=("intervals",))
    assert {"interval-number", "name-the-interval", "write-the-interval"} <= {one.id for one in found}
    assert all(one.since <= 3 and one.seconds <= SHORT_SECONDS and not one.extract for one in found)
    assert "invert-the-interval" not in {one.id for one in found}  # asked from grade 4


def test_a_topic_without_short_kinds_gives_what_it_has() -> None:
    """Compositions are never short, and may be asked all the same."""
    assert [one.id for one in drill_kinds(1, "written", topics=("composing",))] == ["answer-the-rhythm"]


@pytest.mark.parametrize(
    ("how", "said"),
    [
        ({}, "name --kinds or --topics"),
        ({"topics": ("nots",)}, "did you mean notes"),
        ({"kinds": ("degree-name",)}, "from grade 4"),
        ({"kinds": ("copy-the-bars",), "edition": "on-screen"}, "no on-screen form"),
        ({"topics": ("transposition",)}, "before grade 5"),
    ],
)
def test_what_a_grade_does_not_ask_is_refused(how: dict[str, tuple[str, ...]], said: str) -> None:
    edition = str(how.pop("edition", "written"))
    with pytest.raises(CannotSet, match=said):
        drill_kinds(1, edition, **how)


def test_an_unknown_kind_is_told_its_neighbours() -> None:
    with pytest.raises(UnknownKind, match="name-the-note"):
        drill_kinds(1, "written", kinds=("name-the-notes",))


def test_items_are_shared_evenly_and_none_comes_twice() -> None:
    """14 items over three kinds: 5, 5 and 4, all different."""
    made = drill("name-the-note", "interval-number", "value-name", count=14)
    assert sorted(Counter(one.kind for one in made.questions()).values()) == [4, 5, 5]
    assert len(set(facts(made))) == 14


def test_a_small_pack_gives_all_it_has() -> None:
    """At grade 1 there are eight different signatures (four keys in two clefs), whatever is asked for."""
    made = drill("name-the-signature", grade=1, count=30)
    assert len(set(facts(made))) == len(facts(made)) == 8


def test_versions_have_the_same_blueprint_and_other_notes() -> None:
    """Versions A and B ask the same kinds for the same marks, and share no question."""
    dealt = Dealt()
    a = drill("name-the-note", "write-the-interval", seed=1, dealt=dealt)
    b = drill("name-the-note", "write-the-interval", seed=2, dealt=dealt)
    assert [(one.kind, one.marks) for one in a.questions()] == [(one.kind, one.marks) for one in b.questions()]
    assert not set(facts(a)) & set(facts(b))


def test_versions_of_a_small_pack_are_the_same_cards_dealt_again() -> None:
    """Eight signatures make version A, and the same eight version B: nothing is left out of either."""
    dealt = Dealt()
    a, b = (drill("name-the-signature", grade=1, count=8, seed=seed, dealt=dealt) for seed in (1, 2))
    assert set(facts(a)) == set(facts(b))
    assert facts(a) != facts(b)


def test_the_same_seed_gives_the_same_drill() -> None:
    assert as_json(drill("name-the-note", seed=5)) == as_json(drill("name-the-note", seed=5))
    assert as_json(drill("name-the-note", seed=5)) != as_json(drill("name-the-note", seed=6))


def test_too_many_and_too_few_items_are_refused() -> None:
    with pytest.raises(CannotSet, match="1 to 60 items, not 61"):
        drill("name-the-note", count=61)
    with pytest.raises(CannotSet, match="2 to 60 items, not 1"):
        drill("name-the-note", "value-name", count=1)


@pytest.mark.parametrize("edition", ["written", "on-screen"])
def test_every_kind_makes_a_drill_that_can_be_stored_and_marked(edition: str) -> None:
    """Whatever the grade 5 asks can be drilled, read back from its JSON and marked like a paper."""
    for kind in kinds().values():
        if edition not in kind.forms:
            continue
        made = read_paper(as_json(drill(kind.id, grade=5, count=2, edition=edition)))
        report = mark_script(made, fill(made, ability=6.0, seed=1))
        assert report.of == made.total, kind.id


def group(*names: str, grades: tuple[int, ...], count: int = 6) -> Paper:
    return set_group(
        kinds=drill_kinds(max(grades), "written", topics=names),
        grades=grades,
        edition="written",
        count=count,
        seed=1,
        melodies=composed_melodies(),
        write_music=music_writer(),
    )


def test_a_group_sheet_has_a_block_for_each_grade_easiest_first() -> None:
    """Each block asks what its own grade may ask; kinds that all ask are in every block."""
    made = group("intervals", grades=(4, 1, 3))
    assert [one.title for one in made.sections] == ["Grade 1", "Grade 3", "Grade 4"]
    for section, grade in zip(made.sections, (1, 3, 4), strict=True):
        assert {one.grade for one in section.questions} == {grade}
        assert len(section.questions) == 6
        assert "interval-number" in {one.kind for one in section.questions}
        assert all(kinds()[one.kind].since <= grade for one in section.questions)
    assert as_json(read_paper(as_json(made))) == as_json(made)


def test_a_grade_of_the_group_that_asks_nothing_of_it_is_named() -> None:
    with pytest.raises(CannotSet, match="grade 2, written: nothing of that is asked before grade 5"):
        group("transposition", grades=(2, 5))
