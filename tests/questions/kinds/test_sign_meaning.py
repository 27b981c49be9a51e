"""What a sign is called and means: every sign drawn, marked by meaning, and what it is taken for."""

from __future__ import annotations

import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts
from stavewright.questions.comparing import compare
from stavewright.questions.documents import StaveBlock
from stavewright.questions.kinds.sign_meaning import KIND, SignMeaning
from stavewright.questions.reading import read_words
from stavewright.questions.showing.signs import sign_score
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.check import faults
from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.signs import all_signs, read_signs, sign_of, signs_known
from stavewright.theory.pitch import Pitch

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
ROW = ("G4", "A4", "B4")


def facts(sign: str, ask: str = "meaning", level: int = 5) -> SignMeaning:
    return SignMeaning(sign, ask, level, ROW)


# fmt: off
# sign, what is asked, what a pupil writes, right or wrong, source
CASES = [
    ("fermata", "name", "Pause", True, f"{GEHRKENS} §44"),
    ("fermata", "name", "fermata", True, "LilyPond Music Glossary, fermata"),
    ("fermata", "meaning", "hold the note longer", True, f"{GEHRKENS} §44"),
    ("tie", "meaning", "play smoothly", False, f"{GEHRKENS} §54: that is a slur"),
    ("tie", "meaning", "play once and add the values", True, f"{GEHRKENS} §54"),
    ("slur", "name", "tie", False, f"{GEHRKENS} §57"),
    ("slur", "meaning", "legato", True, f"{GEHRKENS} §57"),
    ("mf", "meaning", "fairly loud", True, f"{GEHRKENS} §120"),
    ("mf", "name", "mezzo-forte", True, f"{GEHRKENS} §120"),
    ("opening-hairpin", "meaning", "get gradually louder", True, f"{GEHRKENS} §124"),
    ("closing-hairpin", "name", "decrescendo", True, f"{GEHRKENS} §126"),
    ("cut-time", "meaning", "two half note beats in a measure", True, f"{GEHRKENS} §103; Schmidt-Jones (m11887)"),
    ("common-time", "meaning", "4/4", True, f"{GEHRKENS} §103"),
    ("staccato", "meaning", "short", True, f"{GEHRKENS} §57"),
    ("dot", "meaning", "short and detached", False, f"{GEHRKENS} §49: that dot is longer"),
    ("mordent", "name", "mordent", True, f"{GEHRKENS} §66"),
    ("upper-mordent", "name", "mordent", False, f"{GEHRKENS} §67: inverted mordent"),
    ("upper-mordent", "name", "pralltriller", True, "SMuFL: the sign without a stroke"),
    ("final-line", "name", "double bar", True, f"{GEHRKENS} §35"),
    ("triplet", "meaning", "3 notes in the time of 2", True, f"{GEHRKENS} §55"),
]
# fmt: on


@pytest.mark.parametrize("sign, ask, said, right, source", CASES)
def test_signs_are_marked_by_meaning(sign: str, ask: str, said: str, right: bool, source: str) -> None:
    answers = KIND.solve(facts(sign, ask))
    assert any(compare(Value(words=said), one.value[0], KIND.marking).same for one in answers) is right, source


@pytest.mark.parametrize("sign", all_signs())
def test_every_sign_is_drawn_and_well_written(sign: str) -> None:
    score = sign_score(sign_of(sign), "treble", tuple(map(Pitch.parse, ROW)))
    assert faults(score) == []
    plain = sign_score(sign_of("fermata"), "treble", tuple(map(Pitch.parse, ROW)))
    assert sign == "fermata" or score != plain


def test_no_two_signs_look_the_same() -> None:
    drawn = [sign_score(one, "treble", tuple(map(Pitch.parse, ROW))) for one in all_signs().values()]
    assert len(set(drawn)) == len(drawn)
    looks = [one.looks for one in all_signs().values()]
    assert len(set(looks)) == len(looks)


@pytest.mark.parametrize("sign", all_signs())
def test_neither_prompt_nor_picture_says_the_answer(sign: str) -> None:
    one = sign_of(sign)
    for ask in one.asks:
        posed = KIND.pose(facts(sign, ask), Wording("words"))
        told = " ".join(block.alt if isinstance(block, StaveBlock) else block.text for block in posed.blocks)
        for right in one.right(ask):
            assert len(right) == 1 or f" {read_words(right)} " not in f" {read_words(told)} ", right


def test_a_tie_joins_one_pitch_and_a_slur_two() -> None:
    """Gehrkens, Music Notation and Terminology (1914) §54, 57."""
    row = tuple(map(Pitch.parse, ROW))
    tied = [note.pitch for note in sign_score(sign_of("tie"), "treble", row).notes()]
    slurred = [note.pitch for note in sign_score(sign_of("slur"), "treble", row).notes()]
    assert tied[0] == tied[1]
    assert slurred[0] != slurred[1]


def test_slips_of_the_catalogue() -> None:
    """Slur and tie, the staccato dot and the dot, the accent and the hairpin, each taken for the other."""
    assert slip_texts("sign-meaning", facts("slur", "name"))["took it for a tie"] == "tie"
    assert slip_texts("sign-meaning", facts("tie", "name"))["took it for a slur"] == "slur"
    assert slip_texts("sign-meaning", facts("staccato"))["took it for a dot"] == "make the note half as long again"
    assert slip_texts("sign-meaning", facts("accent"))["took it for a diminuendo"] == "gradually getting softer"


def test_a_slip_names_only_signs_the_pupil_has_met() -> None:
    assert slip_texts("sign-meaning", facts("staccato", "name", level=1)) == {
        "took it for a dot": "dot",
        "took it for an accent": "accent",
    }


def test_the_signs_of_each_level() -> None:
    """Common practice: about 17, 33, 40, 49 and 52 signs by level, here those that a stave can show."""
    assert [len(signs_known(level)) for level in (1, 2, 3, 4, 5)] == [18, 32, 37, 45, 46]


SIGN = """[[sign]]
id = "x"
name = "x"
meaning = "y"
level = 1
family = "f"
where = "w"
looks = "l"
shown = ["mark", "accent"]
confused = []
source = "s"
"""


@pytest.mark.parametrize(
    "text, said",
    [
        ("", "there is no sign"),
        (SIGN + SIGN, "x stands twice"),
        (SIGN.replace("confused = []", 'confused = ["z"]'), "'z', which is not there"),
        (SIGN.replace('"mark"', '"smell"'), "shown by 'smell'"),
        (SIGN.replace('meaning = "y"', ""), "meaning"),
        (SIGN + 'asks = ["colour"]', "asks"),
    ],
)
def test_a_broken_table_is_refused(text: str, said: str) -> None:
    with pytest.raises(BadSyllabus) as fault:
        read_signs(text)
    assert said in str(fault.value)


def test_letters_and_lines_are_many() -> None:
    """Found in review: "Look at the letters. What does it mean?" """
    for sign, said in (("mp", "What do they mean?"), ("p", "What does it mean?"), ("fermata", "What does it mean?")):
        assert KIND.pose(facts(sign), Wording("words")).blocks[0].text.endswith(said)
    assert KIND.pose(facts("ff", "name"), Wording("words")).blocks[0].text.endswith("What are they called?")


@pytest.mark.parametrize("sign", all_signs())
def test_a_remedy_points_at_no_letter_that_is_not_printed(sign: str) -> None:
    """Found in review: the rest of a whole bar was told from a pause "above the note marked a", which was not there."""
    looks = sign_of(sign).looks
    for ask in sign_of(sign).asks:
        said = [one.remedy for one in KIND.slips(facts(sign, ask))]
        said += [step.text for step in KIND.work(facts(sign, ask), "usual")]
        assert not [text for text in said if "marked a" in text.replace(looks, "")]


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("sign-meaning")


@pytest.mark.parametrize(
    "sign, ask, said, right",
    [
        ("closing-hairpin", "name", "dim.", True),
        ("opening-hairpin", "name", "cresc", True),
        ("opening-hairpin", "name", "dim.", False),
        ("repeat", "meaning", "play it again", True),
        ("repeat", "meaning", "go back to the beginning", False),
        ("tie", "meaning", "hold the note for the length of both notes", True),
        ("tie", "meaning", "hold the note", False),
        ("fermata", "meaning", "hold the note for longer", True),
        ("accent", "meaning", "emphasize this note", True),
    ],
)
def test_pupils_own_words(sign: str, ask: str, said: str, right: bool) -> None:
    """Sayings from memory; short forms: Gehrkens, Music Notation and Terminology (1914) §124-126."""
    answers = KIND.solve(facts(sign, ask))
    assert any(compare(Value(words=said), one.value[0], KIND.marking).same for one in answers) is right
