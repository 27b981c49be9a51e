"""Scores as MEI: nothing lost, nothing added, nothing of the outside let in."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import groupby

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engraving.hard_cases import cases, d, melody, n
from stavewright.engraving.errors import EngravingError
from stavewright.engraving.mei import encode
from stavewright.score.event import Chord, Gap, Note, Rest
from stavewright.score.stave import Bar, Bracket, Direction, Score, Stave, single
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

MEI = "{http://www.music-encoding.org/ns/mei}"
XML_ID = "{http://www.w3.org/XML/1998/namespace}id"


def read(score: Score, prefix: str = "q1") -> ET.Element:
    return ET.fromstring(encode(score, prefix).text)


def tags(root: ET.Element, name: str) -> list[ET.Element]:
    return list(root.iter(MEI + name))


@pytest.mark.parametrize("name", list(cases()))
def test_every_event_is_written_once_under_its_prefix(name: str) -> None:
    """Every note, chord, rest and gap of a score stands in the MEI once, with an id of its own picture."""
    score = cases()[name]
    encoded = encode(score, "q7")
    root = ET.fromstring(encoded.text)
    ids = [element.get(XML_ID) for element in root.iter() if element.get(XML_ID)]
    assert len(ids) == len(set(ids))
    assert all(one is not None and one.startswith("q7") for one in ids)
    assert set(encoded.ids) <= set(ids)
    assert len(encoded.ids) == sum(1 for _ in score.events())
    heads = sum(len(event.pitches) for event in score.sounding())
    assert len(tags(root, "note")) == heads == encoded.heads


def test_beams_are_exactly_the_groups_of_the_score() -> None:
    """Notes are beamed where the score says so and nowhere else; a rest inside a group stays under its beam."""
    bar = (
        n("C5", "8", 1),
        Rest(d("8")),
        n("E5", "8", 1),
        n("F5", "8"),
        n("G5", "8", 2),
        n("A5", "8", 2),
        n("B5", "4", 3),
    )
    root = read(melody("treble", 0, "4/4", bar))
    groups = [[child.tag.removeprefix(MEI) for child in beam] for beam in tags(root, "beam")]
    assert groups == [["note", "rest", "note"], ["note", "note"]]


@pytest.mark.parametrize(
    ("codes", "tuplet", "expected"),
    [
        (["8", "8", "8"] * 2, (3, 2), [3, 3]),
        (["4", "8"] * 2, (3, 2), [2, 2]),
        (["8", "s", "s", "8"], (3, 2), [2, 2]),
        (["8", "8"], (3, 2), [2]),
        (["8", "8"] * 2, (2, 3), [2, 2]),
        (["8"] * 4, (4, 3), [4]),
        (["s"] * 6, (6, 4), [6]),
        (["s"] * 7, (7, 4), [7]),
        (["8.", "s", "8"], (3, 2), [3]),
    ],
)
def test_irregular_groups_are_complete(codes: list[str], tuplet: tuple[int, int], expected: list[int]) -> None:
    """An irregular group ends when its face values make as many equal values as its figure says (Gehrkens §55)."""
    row = tuple(n("C5", code, None, tuplet) for code in codes)
    root = read(single("treble", row))
    assert [len(tags(one, "note")) for one in tags(root, "tuplet")] == expected
    assert {(one.get("num"), one.get("numbase")) for one in tags(root, "tuplet")} == {(str(tuplet[0]), str(tuplet[1]))}


def test_mixed_values_under_one_beam_are_one_group() -> None:
    """Quaver, two semiquavers, quaver under one beam are one triplet of quavers, not two of semiquavers."""
    row = tuple(n("C5", code, 1, (3, 2)) for code in ("8", "s", "s", "8"))
    assert [len(tags(one, "note")) for one in tags(read(single("treble", row)), "tuplet")] == [4]


def test_two_triplets_under_one_beam() -> None:
    """Two triplets of semiquavers beamed together keep their own figures inside the one beam."""
    row = tuple(n("C5", "s", 1, (3, 2)) for _ in range(6))
    root = read(single("treble", row))
    assert len(tags(root, "beam")) == 1
    assert [len(tags(one, "note")) for one in tags(tags(root, "beam")[0], "tuplet")] == [3, 3]


def test_the_figure_of_a_group_keeps_clear_of_the_labels_below() -> None:
    """A letter or a number under a note of a triplet is not run through by its bracket."""
    row = [n("B4", "4", None, (3, 2)) for _ in range(3)]
    assert tags(read(single("treble", tuple(row))), "tuplet")[0].get("bracket.place") is None
    row[2] = replace(row[2], label="X")
    marked = tags(read(single("treble", tuple(row))), "tuplet")[0]
    assert (marked.get("num.place"), marked.get("bracket.place")) == ("above", "above")


def test_a_beam_across_the_end_of_a_tuplet_is_refused() -> None:
    row = (n("C5", "8", None, (3, 2)), n("D5", "8", 1, (3, 2)), n("E5", "8", 1, (3, 2)), n("F5", "8", 1))
    with pytest.raises(EngravingError, match="stave 1, bar 1: a beam and a tuplet overlap"):
        encode(single("treble", row), "q1")


def test_ties_join_equal_pitches_also_in_chords_and_over_the_bar() -> None:
    """A tie joins a note to the next of the same pitch (Gehrkens §28); in chords only the pitches both have."""
    c, e, g = Pitch("C", 0, 5), Pitch("E", 0, 5), Pitch("G", 0, 5)
    one, two = Chord((c, e), d("1"), tie=True), Chord((c, g), d("1"))
    score = Score((Stave("treble", (Bar(((one,),), free=True), Bar(((two,),), free=True))),))
    found = [(note.get("pname"), note.get("tie")) for note in tags(read(score), "note")]
    assert found == [("c", "i"), ("e", None), ("c", "t"), ("g", None)]


def test_only_the_printed_accidentals_are_written() -> None:
    """The sign on the page is what the score prints; a sharp from the signature gets none."""
    root = read(cases()["melody"])
    assert [note.get("accid") for note in tags(root, "note") if note.get("accid")] == []
    root = read(cases()["accidentals"])
    assert [note.get("accid") for note in tags(root, "note")] == ["x", "ff", "n", "n", "s", "s", "s", "s"]


def test_a_change_of_signature_cancels_the_old_one_and_the_clef_turns_before_the_bar_line() -> None:
    """A new signature is preceded by the naturals that cancel the old; a new clef stands before the bar line."""
    root = read(cases()["changes"])
    changes = [key for key in tags(root, "keySig") if key.get("cancelaccid")]
    assert [key.get("sig") for key in changes] == ["4f", "0"]
    second = tags(root, "measure")[1]
    assert [clef.get("shape") for clef in tags(second, "clef")] == ["F"]


def test_a_hidden_clef_still_reads_the_notes() -> None:
    """With the clef left to the pupil, the notes stand where the clef would put them, and no clef is seen."""
    clefs = tags(read(cases()["no clef"]), "clef")
    assert [(one.get("shape"), one.get("line"), one.get("visible")) for one in clefs] == [("C", "3", "false")]


def test_hostile_words_stay_words() -> None:
    """Words are escaped: they cannot add elements or attributes to the music."""
    evil = '"/><note pname="c" oct="4" dur="1"/><x a="&'
    bar = Bar(
        ((n("C5", "1", label=evil, lyric=evil),),), directions=(Direction("tempo", 0, evil), Direction("text", 0, evil))
    )
    root = read(Score((Stave("treble", (bar,), name=evil),)))
    assert len(tags(root, "note")) == 1
    assert "".join(tags(root, "tempo")[0].itertext()) == evil


@pytest.mark.parametrize(
    ("score", "said"),
    [
        (single("treble", (n("C5", "1", label="a\x00b"),)), r"U\+0000"),
        (single("treble", (n("C5", "1", id="a b"),)), "may hold only letters"),
        (single("treble", (n("C5", "1", id="x"), n("C5", "1", id="x"))), "stands twice"),
        (single("treble", (Note(Pitch("C", 0, 12), Duration("minim")),)), "octave 12"),
        (single("treble", (n("C5", "1", slur="stop"),)), "none has started"),
        (single("treble", (n("C5", "1", slur="start"),)), "never stops"),
        (
            Score((Stave("treble", (Bar(((n("C5", "1"),),)),)),), brackets=(Bracket("a", "b"),)),
            "no event of the score has",
        ),
        (
            Score((Stave("treble", (Bar(((n("C5", "1"),),), directions=(Direction("text", 3, "x"),)),)),)),
            "which is not there",
        ),
        (
            Score((Stave("treble", (Bar(((n("C5", "1"),),), directions=(Direction("crescendo", 0),)),)),)),
            "needs `until`",
        ),
        (Score((Stave("treble", (Bar(((n("C5", "1"),),)),), fifths=9),)), "at most 7"),
    ],
)
def test_what_cannot_be_written_is_refused_by_name(score: Score, said: str) -> None:
    """What MEI cannot hold is an error that says what and where, never a silent loss."""
    with pytest.raises(EngravingError, match=said):
        encode(score, "q1")


@pytest.mark.parametrize("prefix", ["", "1a", "a b", '"', "a\n"])
def test_a_prefix_that_cannot_begin_an_id_is_refused(prefix: str) -> None:
    with pytest.raises(EngravingError, match="must begin with a letter"):
        encode(single("treble", (n("C5"),)), prefix)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.builds(
            Note,
            st.builds(Pitch, st.sampled_from("CDEFGAB"), st.integers(-2, 2), st.integers(2, 6)),
            st.builds(Duration, st.sampled_from(["breve", "minim", "quaver", "hemidemisemiquaver"]), st.integers(0, 2)),
            beam=st.one_of(st.none(), st.integers(1, 3)),
            grace=st.sampled_from([None, None, "acciaccatura", "appoggiatura"]),
            tie=st.booleans(),
            label=st.one_of(
                st.none(), st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Cn")), max_size=4)
            ),
        )
        | st.builds(Rest, st.builds(Duration, st.just("crotchet")))
        | st.builds(Gap, st.builds(Duration, st.just("crotchet"))),
        min_size=1,
        max_size=8,
    )
)
def test_any_row_of_events_comes_through(events: list[Note | Rest | Gap]) -> None:
    """Whatever stands in a bar, the MEI is well formed and has the same notes, rests and gaps.

    A beam is a run of neighbours: two that cross each other are refused by name (the test after this one).
    """
    runs = [list(run) for _, run in groupby(events, key=lambda event: getattr(event, "beam", None))]
    apart = [
        replace(event, beam=number) if isinstance(event, Note) and event.beam else event
        for number, run in enumerate(runs, 1)
        for event in run
    ]
    root = read(single("treble", tuple(apart)))
    found = [len(tags(root, tag)) for tag in ("note", "rest", "space")]
    assert found == [sum(isinstance(event, kind) for event in events) for kind in (Note, Rest, Gap)]


def test_two_beams_that_cross_are_refused_by_name() -> None:
    crossing = tuple(replace(n("C5"), duration=Duration("quaver"), beam=beam) for beam in (1, 2, 1, 2))
    with pytest.raises(EngravingError, match="overlap, or two beams"):
        encode(single("treble", crossing), "q1")
