"""The ABC reader, construct by construct, by the ABC music standard 2.1 (2011) where nothing else is named."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stavewright.score.event import Chord, Note, Rest
from stavewright.theory.errors import StavewrightError
from stavewright.tunes.abc_header import fifths_of, metre_of, transcriber_of
from stavewright.tunes.abc_read import read_tune, tune_texts
from stavewright.tunes.errors import NotUnderstoodTune


def tune(music: str, *, key: str = "C", metre: str = "4/4", unit: str = "1/8"):
    return read_tune(f"X:1\nT:A tune\nM:{metre}\nL:{unit}\nK:{key}\n{music}\n")


def events(music: str, **header):
    return [event for bar in tune(music, **header).bars for event in bar.bar.events]


def written(music: str, **header) -> list[str]:
    """Pitch and value of each event, as "G4 crotchet"."""
    out = []
    for event in events(music, **header):
        name = "rest" if isinstance(event, Rest) else "+".join(pitch.short for pitch in event.pitches)
        out.append(f"{name} {event.duration.text}")
    return out


def test_letters_and_octaves():
    assert [w.split()[0] for w in written("C,C c c' c,, C'")] == ["C3", "C4", "C5", "C6", "C3", "C5"]


def test_lengths():
    assert [w.split(" ", 1)[1] for w in written("A A2 A4 A/ A/2 A/4 A// A3 A3/2 A6 A7")] == [
        "quaver", "crotchet", "minim", "semiquaver", "semiquaver", "demisemiquaver", "demisemiquaver",
        "dotted crotchet", "dotted quaver", "dotted minim", "double-dotted minim",
    ]  # fmt: skip


def test_dotted_pairs():
    assert [w.split(" ", 1)[1] for w in written("A>B c<d e2>>f2 (g)>.a")] == [
        "dotted quaver", "semiquaver", "semiquaver", "dotted quaver", "double-dotted crotchet", "semiquaver",
        "dotted quaver", "semiquaver",
    ]  # fmt: skip


def test_triplets_and_duplets():
    assert written("(3ABc d") == ["A4 triplet quaver", "B4 triplet quaver", "C5 triplet quaver", "D5 quaver"]
    assert written("(2AB c", metre="6/8")[:2] == ["A4 duplet quaver", "B4 duplet quaver"]
    assert written("(3:2:2A2B c")[:3] == ["A4 triplet crotchet", "B4 triplet quaver", "C5 quaver"]


def test_an_accidental_holds_to_the_bar_line_at_its_own_place():
    """Gehrkens, Music Notation and Terminology (1914) §24."""
    assert [w.split()[0] for w in written("^FGFE|FGAB", key="C")] == ["F#4", "G4", "F#4", "E4", "F4", "G4", "A4", "B4"]
    assert [w.split()[0] for w in written("=FGF^F", key="G")] == ["F4", "G4", "F4", "F#4"]
    assert [w.split()[0] for w in written("__B^^F=B", key="C")] == ["Bbb4", "F##4", "B4"]


def test_a_tie_carries_an_accidental_over_the_bar_line():
    """Gehrkens, Music Notation and Terminology (1914) §25."""
    row = events("^F4-|FF3|")
    assert [note.pitch.short for note in row] == ["F#4", "F#4", "F4"]
    assert [note.tie for note in row] == [True, False, False]


def test_the_same_letter_an_octave_off_is_not_guessed():
    """Programs differ on whether a sign holds in other octaves: such a bar is left out."""
    (bar,) = tune("^Ffga|").bars
    assert bar.bar is None
    assert "octave" in bar.reason


def test_a_dash_between_two_pitches_is_no_tie():
    assert [note.tie for note in events("G-A A-A B")] == [False, False, True, False, False]


@pytest.mark.parametrize(
    ("key", "fifths"),
    [
        ("G", 1), ("Bb", -2), ("F#", 6), ("Am", 0), ("E Minor", 1), ("Ador", 1), ("D Mixolydian", 1), ("Gmix", 0),
        ("Glyd", 2), ("Bphr", 1), ("AMix", 2), ("F# Minor", 3), ("Cm", -3), ("D Major", 2), ("Amin", 0),
    ],
)  # fmt: skip
def test_keys_and_modes(key, fifths):
    """Signature of each mode, counted from its major (common practice)."""
    assert fifths_of(key) == fifths


@pytest.mark.parametrize("key", ["Hp", "Dmix=c", "Bn", "EM", "Q", "", "C#lyd"])
def test_keys_that_are_not_read(key):
    with pytest.raises(NotUnderstoodTune):
        fifths_of(key)


def test_metres():
    assert [metre_of(text).text for text in ("C", "C|", "6/8", "4/4")] == ["C", "cut C", "6/8", "4/4"]
    with pytest.raises(NotUnderstoodTune, match="'none'"):
        metre_of("none")


def test_bar_lines_and_endings():
    bars = tune("|:c8|d8|1e8:|2f8||g8::a8:|b8|]").bars
    assert [bar.bar.line for bar in bars] == [
        "single", "single", "repeat-end", "double", "repeat-end", "repeat-end", "final",
    ]  # fmt: skip
    assert [bar.bar.repeat_start for bar in bars] == [True, False, False, False, False, True, False]
    assert [bar.bar.ending for bar in bars] == [None, None, 1, 2, None, None, None]
    assert [bar.strain for bar in bars] == [True, False, False, False, True, True, True]


def test_bars_need_not_be_full():
    bars = tune("AB|c8|d6:|").bars
    assert [bar.bar.free for bar in bars] == [True, False, True]


def test_chords_rests_slurs_and_marks():
    row = events("[CEG]2 z2 (.A TB) Hc|")
    assert isinstance(row[0], Chord)
    assert isinstance(row[1], Rest)
    assert [(note.slur, note.marks) for note in row[2:]] == [
        ("start", ("staccato",)), ("stop", ("trill",)), (None, ("fermata",)),
    ]  # fmt: skip


def test_grace_notes_take_no_time():
    row = events("{cd}e2 {/f}g2|")
    assert [(e.grace, e.ticks > 0) for e in row if isinstance(e, Note)] == [
        ("appoggiatura", False), ("appoggiatura", False), (None, True), ("acciaccatura", False), (None, True),
    ]  # fmt: skip


def test_words_and_fields_between_lines_are_no_notes():
    row = written('"Am"A "^slow"B|\nw: not no-tes\nP:B\nN:also not\n[L:1/4]c|% nor this\nd`e|', unit="1/8")
    assert row == ["A4 quaver", "B4 quaver", "C5 crotchet", "D5 crotchet", "E5 crotchet"]


@pytest.mark.parametrize(
    ("music", "reason"),
    [
        ("A~B|", "roll"),
        ("A kB|", "mark 'k'"),
        ("A5|", "no single note"),
        ("A*B|", r"'\*'"),
        ("(5ABcde|", "tuplet of 5"),
        ("x8|", "unseen rest"),
        ("A>|B", "across a bar line"),
        (">A|", "without a first note"),
        ("A/11|", "length"),
        ("A" + "9" * 5000 + "|", "the symbol '9'"),
        ("A" + "/" * 5000 + "|", "the symbol '/'"),
        ("AB[K:G]c|", "middle of a bar"),
    ],
)
def test_what_is_not_understood_says_why(music, reason):
    with pytest.raises(NotUnderstoodTune, match=reason):
        raise NotUnderstoodTune(next(bar.reason for bar in tune(music).bars if bar.bar is None))


def test_one_bad_bar_leaves_the_others():
    assert [bar.bar is None for bar in tune("c8|A~B|d8|").bars] == [False, True, False]


@pytest.mark.parametrize(
    ("header", "reason"),
    [
        ("X:1\nM:4/4\nabc", "without a key"),
        ("X:1\nK:C\nabc", "without a metre"),
        ("X:1\nM:4/4\nV:1\nK:C\nabc", "voices"),
        ("X:1\nM:4/4\nK:C\nV:2\nabc", "voices"),
        ("X:1\nM:4/4\nK:C\nab&c", "voices"),
        ("X:1\nM:4/4\nL:one\nK:C\nabc", "unit length"),
        ("X:1\nM:4/4\nK:C\n", "music"),
        ("X:1\nM:4/4\nK:C\n" + "c" * 50_000, "50014 characters"),
    ],
)
def test_whole_tunes_refused(header, reason):
    with pytest.raises(NotUnderstoodTune, match=reason):
        read_tune(header)


@pytest.mark.parametrize(
    ("field", "name"),
    [
        ("Ann Example * www.example.org * 2009", "Ann Example"),
        ('"Transcribed by Ann Example, ann@example.org"', "Ann Example"),
        ("Contributed by Ann Example,  ann:example.org", "Ann Example"),
        ("Contributed by Ann Example. ann:example.org 29june02", "Ann Example"),
        (" 1997 by Ann Example <ann@example.org>", "Ann Example"),
        ("20020507 Ann Example <ann@example.org>", "Ann Example"),
        ("Contributed 20080902 by Ann Example Ann.Example:example.org", "Ann Example"),
        ("transcribed by Ann B. Example, 8/22/96", "Ann B. Example"),
        ("Transcription by A.B.Example (ann@example.org)", "A. B. Example"),
        ("Transcribed by A. LEE EXAMPLE", "A. Lee Example"),
        ("Ann Example, 5/8/2002 <ann:example.org>", "Ann Example"),
        ("transcribed by annie", "annie"),
        ("Transcribed by ann.example@example.org", "Ann Example"),
        ("axy@example.org", ""),
        ("abc 1.6", ""),
        ("", ""),
        ("usually played in D Mixolydian", ""),
        ("The last note of the first strain should be G2", ""),
    ],
)
def test_the_transcriber_is_named_without_an_address(field, name):
    assert transcriber_of(["a remark", field]) == name


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet="ABCdefg'^_=,/123 |:[](){}<>-~\"!%\\\n.zKML", max_size=60))
def test_any_text_is_read_or_refused_by_name(music):
    """Whatever stands in a tune, the answer is bars or a named refusal."""
    try:
        bars = tune(music).bars
    except StavewrightError:
        return
    assert all((bar.bar is None) == bool(bar.reason) for bar in bars)


def test_a_book_is_cut_into_tunes():
    assert [text[:3] for text in tune_texts("% a word\n\nX:1\nK:C\nabc\n\nX:2\nK:G\n")] == ["X:1", "X:2"]
