"""The way through the music: ways worked by hand, each wrong rule, and music21 as a second opinion on repeats."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.hand_written import extract
from questions.rules_of_kinds import slip_texts
from stavewright.exchange.musicxml_write import to_musicxml
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.road_map import KIND, RoadMap
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.roads import Road, offered, with_road
from stavewright.questions.solving.road import Rules, played, stretches
from stavewright.questions.values import Value
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for
from stavewright.wiring import composed_melodies

ID = "road-map"
EIGHT = extract(" | ".join(["C5/1 D5/1"] * 8), "2/4")
ABA = Road(((1, 4), (1, 8), (1, 4)), ((1, 4),), fine=4, jump="da-capo")


def music(road: Road):
    return document_of(with_road(EIGHT, road))


# Worked by hand from Gehrkens, Music Notation and Terminology (1914) §36 (repeat), §37 (first and second endings),
# §39 (D.C., D.S., Fine, coda); that repeats are not taken again after D.C. is common practice.
@pytest.mark.parametrize(
    ("road", "way"),
    [
        (Road((), ((1, 4),)), [(1, 4), (1, 8)]),
        (Road((), ((3, 6),)), [(1, 6), (3, 8)]),
        (Road((), ((1, 4), (5, 8))), [(1, 4), (1, 8), (5, 8)]),
        (Road((), ((1, 4),), ending=4), [(1, 4), (1, 3), (5, 8)]),
        (Road((), fine=2, jump="da-capo"), [(1, 8), (1, 2)]),
        (Road((), ((1, 4),), fine=4, jump="da-capo"), [(1, 4), (1, 8), (1, 4)]),
        (Road((), ((5, 8),), fine=4, jump="da-capo"), [(1, 8), (5, 8), (1, 4)]),
        (Road((), fine=6, jump="dal-segno", segno=3), [(1, 8), (3, 6)]),
        (Road((), jump="da-capo", leave=4), [(1, 6), (1, 4), (7, 8)]),
        (Road((), jump="dal-segno", segno=2, leave=4), [(1, 6), (2, 4), (7, 8)]),
        (Road((), ((1, 4),), ending=4, fine=6, jump="da-capo"), [(1, 4), (1, 3), (5, 8), (1, 3), (5, 6)]),
    ],
)
def test_ways_worked_by_hand(road, way):
    assert list(stretches(played(music(road)))) == way


@pytest.mark.parametrize(
    ("rules", "count"),
    [
        (Rules(), 16),
        (Rules(again=True), 20),
        (Rules(repeats=False), 12),
        (Rules(fine=False), 20),
        (Rules(early=True), 8),
        (Rules(jump=False), 12),
        (Rules(repeats=False, jump=False), 8),
    ],
)
def test_every_wrong_rule_on_one_way(rules, count):
    assert len(played(music(ABA), rules)) == count


def test_wrong_rules_about_endings_sign_and_coda():
    endings = music(Road((), ((1, 4),), ending=4))
    assert stretches(played(endings, Rules(endings=False))) == ((1, 4), (1, 8))
    sign = music(Road((), fine=6, jump="dal-segno", segno=3))
    assert stretches(played(sign, Rules(segno=False))) == ((1, 8), (1, 6))
    coda = music(Road((), jump="da-capo", leave=4))
    assert stretches(played(coda, Rules(coda=False))) == ((1, 6), (1, 8))


def test_slips_are_named_where_their_stretches_are_offered():
    facts = RoadMap(music(ABA), ((1, 4), (1, 4), (1, 8), (1, 8)))
    assert KIND.solve(facts)[0].value == (Value(number=16), Value(order=("a", "c", "b")))
    wrong = slip_texts(ID, facts)
    assert wrong["repeats left out"] == "12 bars: bars 1 to 8, then bars 1 to 4"
    assert wrong["went past the Fine"] == "20 bars: bars 1 to 4, then bars 1 to 8, then bars 1 to 8"
    assert wrong["stopped at the Fine the first time"] == "8 bars: bars 1 to 4, then bars 1 to 4"
    assert wrong["did not go back"] == "12 bars: bars 1 to 4, then bars 1 to 8"
    three = RoadMap(music(ABA), ((1, 4), (1, 4), (1, 4), (1, 8)))
    assert slip_texts(ID, three)["repeats taken again after D.C."].startswith("20 bars")


def test_number_and_order_are_marked_together():
    facts = RoadMap(music(ABA), ((1, 4), (1, 4), (1, 8), (1, 8)))
    draft = Draft(facts, (Value(number=16), Value(order=("a", "c", "b"))))
    question = ask(KIND, draft, id="q", grade=1, edition="written", seed=1)
    assert mark_question(question, draft.expected).marks == 3
    assert mark_question(question, (Value(number=16),)).marks == 0
    assert mark_question(question, (Value(number=15), draft.expected[1])).marks == 2
    left_out = (Value(number=12), Value(order=("c", "a")))
    assert mark_question(question, left_out).slip == "repeats left out"


def test_a_stretch_may_be_named_by_its_twin_once_its_bars_were_heard():
    """"bars 1 to 4 again" is right for bars that were played as part of a longer stretch; never before that."""
    facts = RoadMap(music(Road((), fine=4, jump="da-capo")), ((1, 4), (1, 4), (1, 8), (1, 8)))
    question = ask(KIND, Draft(facts, KIND.solve(facts)[0].value), id="q", grade=1, edition="written", seed=1)
    assert KIND.solve(facts)[0].value == (Value(number=12), Value(order=("c", "a")))
    for letters, marks in (("cb", 3), ("db", 2), ("da", 2), ("bc", 1), ("ca", 3)):
        assert mark_question(question, (Value(number=12), Value(order=tuple(letters)))).marks == marks, letters
    twice = RoadMap(music(ABA), ((1, 4), (1, 4), (1, 8), (1, 8)))
    assert {one.value[1].order for one in KIND.solve(twice)} == {("a", "c", "b"), ("a", "c", "a")}


@pytest.mark.parametrize("grade", [1, 2, 3, 5])
def test_the_setter_draws_well_written_music(grade):
    shapes = set()
    for seed in range(40):
        draft = KIND.set(scope_for(grade), Random(seed), None, composed_melodies())
        if draft is None:
            continue
        assert faults(score_of(draft.facts.music)) == []
        assert KIND.solve(draft.facts)[0].value == draft.expected
        shapes.add(KIND.skill(draft.facts))
    allowed = {1: {"repeat", "D.C."}, 2: {"repeat", "D.C.", "D.S.", "endings"}}.get(grade)
    named = {shape.removeprefix("road-map/") for shape in shapes}
    assert named == (allowed or {"repeat", "D.C.", "D.S.", "endings", "coda"})


def test_music21_plays_the_same_repeats():
    """Repeats and endings as music21 expands them from our MusicXML."""
    for road in (
        Road((), ((1, 4),)),
        Road((), ((3, 6),)),
        Road((), ((1, 4), (5, 8))),
        Road((), ((1, 4),), ending=4),
        Road((), ((1, 2),), ending=2),
    ):
        document = music(road)
        part = music21.converter.parse(to_musicxml(score_of(document)), format="musicxml").parts[0]
        bars = [one.number for one in part.expandRepeats().getElementsByClass("Measure")]
        assert len(bars) == len(played(document)), road


def test_a_tie_that_a_leap_would_cut_is_refused():
    tied = extract(" | ".join(["C5/1 D5/1~", "D5/1 D5/1"] * 4), "2/4")
    assert with_road(tied, Road(((1, 3), (1, 8)), ((1, 3),))) is None
    assert with_road(tied, Road(((1, 4), (1, 8)), ((1, 4),))) is not None


def test_what_is_offered_holds_the_way_and_something_else():
    for seed in range(50):
        among = offered(ABA, Random(seed))
        assert among.count((1, 4)) >= 2
        assert (1, 8) in among
        assert len(among) > len(ABA.stretches)


def test_nothing_is_set_without_music():
    assert KIND.set(scope_for(1), Random(1), None, None) is None
    assert KIND.solve(replace_offered()) == ()


def replace_offered() -> RoadMap:
    return RoadMap(music(ABA), ((1, 2), (3, 8)))
