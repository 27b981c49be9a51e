"""What time signatures mean, in figures and signs, held against published tables."""

from __future__ import annotations

import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.time_signature_meaning import ASKED, KIND, TimeSignatureMeaning
from stavewright.questions.reading import read_words
from stavewright.questions.wording import Wording

OMT = "Open Music Theory (version 1), meter"
GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"

# fmt: off
# printed, beats, value of a beat, the whole, source
CASES = [
    ("2/4", "2", "crotchet", "2 crotchet beats in a bar", OMT),
    ("3/4", "3", "crotchet", "3 crotchet beats in a bar", OMT),
    ("4/4", "4", "crotchet", "4 crotchet beats in a bar", OMT),
    ("C", "4", "crotchet", "4 crotchet beats in a bar", f"{GEHRKENS} §103"),
    ("cut C", "2", "minim", "2 minim beats in a bar", f"{GEHRKENS} §103"),
    ("3/2", "3", "minim", "3 minim beats in a bar", OMT),
    ("3/8", "3", "quaver", "3 quaver beats in a bar", "from memory: 3/8 as simple triple"),
    ("6/8", "2", "dotted crotchet", "2 dotted crotchet beats in a bar", OMT),
    ("9/8", "3", "dotted crotchet", "3 dotted crotchet beats in a bar", OMT),
    ("12/8", "4", "dotted crotchet", "4 dotted crotchet beats in a bar", OMT),
    ("6/4", "2", "dotted minim", "2 dotted minim beats in a bar", OMT),
    ("9/16", "3", "dotted quaver", "3 dotted quaver beats in a bar", OMT),
    ("5/4", "5", "crotchet", "5 crotchet beats in a bar", f"{GEHRKENS} §107"),
]
# fmt: on


@pytest.mark.parametrize("time, beats, value, whole, source", CASES)
def test_published_meanings(time: str, beats: str, value: str, whole: str, source: str) -> None:
    assert texts("time-signature-meaning", TimeSignatureMeaning(time, "beats"))[0] == beats, source
    assert texts("time-signature-meaning", TimeSignatureMeaning(time, "value"))[0] == value, source
    assert texts("time-signature-meaning", TimeSignatureMeaning(time, "meaning"))[0] == whole, source


def test_other_ways_to_say_it() -> None:
    """Common practice: the figure or the word, with or without "beats"; in compound time also the short notes."""
    said = texts("time-signature-meaning", TimeSignatureMeaning("6/8", "meaning"))
    read = {read_words(one) for one in said}
    for words in ("two dotted crotchets in a bar", "2 dotted crotchet beats", "6 quavers in a bar", "six quavers"):
        assert read_words(words) in read
    assert "6 quaver beats in a bar" not in said
    assert {"three", "3 beats"} <= set(texts("time-signature-meaning", TimeSignatureMeaning("3/4", "beats")))


@pytest.mark.parametrize("time", ["5/4", "7/8"])
@pytest.mark.parametrize("form", ["words", "choice"])
def test_irregular_time_is_not_asked_for_main_beats(time: str, form: str) -> None:
    """7/8 is felt in three unequal beats by many, so the main beats would be a matter of opinion (from memory)."""
    asked = [KIND.pose(TimeSignatureMeaning(time, ask), Wording(form, "uk")).blocks[0].text for ask in ASKED[:3]]
    assert not any("main beat" in text for text in asked)
    unit = {"5/4": "crotchet", "7/8": "quaver"}[time]
    assert asked[0] == f"How many {unit} beats are in a bar with this time signature?"


def test_what_the_signs_stand_for() -> None:
    """Gehrkens, Music Notation and Terminology (1914) §103."""
    assert texts("time-signature-meaning", TimeSignatureMeaning("C", "figures")) == ["4/4"]
    assert texts("time-signature-meaning", TimeSignatureMeaning("cut C", "figures")) == ["2/2"]
    with pytest.raises(BadDocument, match="printed in figures"):
        TimeSignatureMeaning("3/4", "figures")
    with pytest.raises(BadDocument, match="'speed'"):
        TimeSignatureMeaning("3/4", "speed")


def test_slips_of_the_catalogue() -> None:
    """Figures swapped; a compound beat read from the lower figure; C and cut C."""
    assert slip_texts("time-signature-meaning", TimeSignatureMeaning("3/2", "beats"))["figures swapped"] == "2"
    assert slip_texts("time-signature-meaning", TimeSignatureMeaning("2/4", "meaning"))["figures swapped"] == (
        "4 minim beats in a bar"
    )
    assert slip_texts("time-signature-meaning", TimeSignatureMeaning("6/8", "value")) == {
        "took the lower figure for the beat": "quaver",
        "dot left out": "crotchet",
        "beats counted from the upper figure": "dotted crotchet",
        "figures swapped": "crotchet",
    }
    assert (
        slip_texts("time-signature-meaning", TimeSignatureMeaning("6/8", "beats"))["took the lower figure for the beat"]
        == "6"
    )
    assert slip_texts("time-signature-meaning", TimeSignatureMeaning("C", "figures"))["C and cut C mixed up"] == "2/2"


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("time-signature-meaning")


def test_the_lower_figure_taken_for_a_compound_beat_is_named() -> None:
    """The catalogue's own slip: six quavers fill 6/8, but they are not its beats (common practice)."""
    slips = slip_texts("time-signature-meaning", TimeSignatureMeaning("6/8", "meaning"))
    assert slips["took the lower figure for the beat"] == "6 quaver beats in a bar"
    assert "took the lower figure for the beat" not in slip_texts(
        "time-signature-meaning", TimeSignatureMeaning("3/4", "meaning")
    )


@pytest.mark.parametrize("time", ["3/4", "6/8", "C", "cut C", "5/4"])
def test_every_reason_is_a_sentence(time: str) -> None:
    """Found in review: reasons of simple time began with a small letter."""
    for one in KIND.solve(TimeSignatureMeaning(time, "meaning")):
        assert one.reason[0] == one.reason[0].upper()
        assert one.reason.endswith(".")
