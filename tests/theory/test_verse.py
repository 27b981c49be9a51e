"""Lines of verse: what is read comes back as it was written, feet hold every syllable, faults are named."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stavewright.theory.verse import SIGNS, Syllable, VerseError, feet, line_words, metre_of, read_line, written_line

SYLLABLES = st.builds(
    Syllable,
    st.sampled_from(("la", "di", "day,", "oh!")),
    st.sampled_from(("weak", *SIGNS.values())),
)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(SYLLABLES, st.booleans()), min_size=1, max_size=3))
def test_what_is_written_is_read_again(row):
    """A line comes back as it was written, its feet hold every syllable once and in order."""
    line = [Syllable("Hey", "strong")]
    line += [Syllable(one.text, one.stress, goes_on) for one, goes_on in row[:-1]] + [row[-1][0]]
    again = read_line(written_line(line))
    assert list(again) == line
    upbeat, found = feet(again)
    assert [*upbeat, *(one for foot in found for one in foot)] == line
    assert all(foot[0].beats and not any(one.beats for one in foot[1:]) for foot in found)


# Scanned by hand.
@pytest.mark.parametrize(
    ("line", "upbeat", "sizes", "metre"),
    [
        ("*Twin-kle, *twin-kle, *lit-tle *star,", 0, [2, 2, 2, 1], "falling duple"),
        ("The *year's at the *spring,", 1, [3, 1], "rising triple"),
        ("My *kite has *caught the *morn-ing *breeze", 1, [2, 2, 2, 1], "rising duple"),
        ("*Splash in the *pud-dles and *stamp in the *rain,", 0, [3, 3, 3, 1], "falling triple"),
        ("And the *gar-den is *still", 2, [3, 1], "rising triple"),
        ("~In the *for-ests ~of the *night,", 0, [2, 2, 2, 1], "falling duple"),
        ("The *north ^wind doth *blow,", 1, [3, 1], "rising triple"),
    ],
)
def test_lines_scanned_by_hand(line, upbeat, sizes, metre):
    before, row = feet(read_line(line))
    assert (len(before), [len(foot) for foot in row]) == (upbeat, sizes)
    assert metre_of([read_line(line)]) == metre


def test_words_are_put_together_again():
    assert line_words(read_line("*Lis-ten, my *chil-dren, and *you shall *hear")) == (
        "Listen, my children, and you shall hear"
    )
    assert [one.sung for one in read_line("*Lis-ten, *all")] == ["Lis-", "ten,", "all"]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("", "0 syllables"),
        ("*Up", "1 syllables"),
        ("a b", "no strong syllable"),
        ("~a b", "no strong syllable"),
        ("*a- b", "cannot be read"),
        ("*a **b", "cannot be read"),
        ("*a ,", "cannot be read"),
        ("the the the *sun", "at most 2 before the first"),
        ("*a b c d e *f", "4 from one to the next"),
        ("*a " * 17, "17 syllables"),
    ],
)
def test_lines_that_cannot_be_read_are_refused(line, said):
    with pytest.raises(VerseError, match=said):
        read_line(line)
