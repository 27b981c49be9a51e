"""`stavewright work` at a terminal."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from stavewright.cli.main import main


def said(capsys: pytest.CaptureFixture[str], *arguments: str, code: int = 0) -> str:
    """What the command prints (to the terminal or as an error)."""
    assert main(["work", *arguments]) == code
    out = capsys.readouterr()
    return out.err if code else out.out


def test_answer_reason_alternatives_and_working(capsys: pytest.CaptureFixture[str]) -> None:
    """The answer, why it is right, what else is right, and the steps."""
    out = said(capsys, "relative-key", "D major", "ask=key")
    assert "Answer: B minor" in out
    assert "Also right:\n  B: " in out
    assert "Working:\n  1. " in out
    assert "Slips" not in out


def test_music_answers_are_music(capsys: pytest.CaptureFixture[str]) -> None:
    """An answer in notes is written as a line of music."""
    out = said(capsys, "write-the-scale", "bass", "F#", "harmonic minor", "down", "octave=2")
    assert "bass: F#3:1 E#3 D3 C#3 B2 A2 G#2 F#2" in out


def test_slips(capsys: pytest.CaptureFixture[str]) -> None:
    """--slips adds what each slip would give."""
    assert "counted the gap: perfect 5th" in said(capsys, "name-the-interval", "treble: F#4 D5", "--slips")


@pytest.mark.parametrize(("answer", "marks"), [("m6", "2 of 2"), ("minor 7th", "0 of 2"), ("sixth", "1 of 2")])
def test_an_answer_is_marked(capsys: pytest.CaptureFixture[str], answer: str, marks: str) -> None:
    """--answer marks an answer in the words a pupil uses."""
    assert f"Marks: {marks}" in said(capsys, "name-the-interval", "treble: F#4 D5", "--answer", answer)


def test_us_words(capsys: pytest.CaptureFixture[str]) -> None:
    """--words us."""
    assert "half note" in said(capsys, "value-name", "minim", "--words", "us")


def test_another_method(capsys: pytest.CaptureFixture[str]) -> None:
    """--method works it another way; one that is not known is refused."""
    usual = said(capsys, "relative-key", "D major", "ask=key")
    other = said(capsys, "relative-key", "D major", "ask=key", "--method", "by signature")
    assert usual != other
    assert "use usual or by signature" in said(capsys, "relative-key", "D major", "--method", "by ear", code=2)


def test_json(capsys: pytest.CaptureFixture[str]) -> None:
    """--json is the question document of `stavewright questions`, its music as MusicXML."""
    document = json.loads(said(capsys, "write-the-note", "treble: Bb4", "--json"))
    assert document["answers"][0]["text"] == "B flat, on the 3rd line"
    assert "score-partwise" in document["answers"][0]["musicxml"]


def test_pdf(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """--pdf prints the question with its model answer and working."""
    file = tmp_path / "worked.pdf"
    said(capsys, "name-the-interval", "treble: F#4 D5", "--pdf", str(file))
    assert file.read_bytes().startswith(b"%PDF")


def test_a_musicxml_file(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A file of music stands for the line of text; one that is not there is named."""
    from stavewright.score.compact.reading import read_music
    from stavewright.wiring import music_writer

    file = tmp_path / "melody.musicxml"
    file.write_text(music_writer()(read_music("treble 1 sharp 3/4: E4 F#4 G4 | A4 B4 D#5 | E5:2. |]")), "utf-8")
    assert "Answer: E minor" in said(capsys, "key-of-a-melody", str(file))
    assert "cannot read gone.musicxml" in said(capsys, "key-of-a-melody", "gone.musicxml", code=2)


def test_what_a_kind_needs(capsys: pytest.CaptureFixture[str]) -> None:
    """Without a question: the fields, which must be typed, and an example with its answer."""
    out = said(capsys, "write-the-scale")
    assert "* tonic: a note name" in out
    assert "  octave: a number" in out
    assert "Example:\n  stavewright work write-the-scale clef=" in out
    assert "Answer: " in out


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("name-the-noet", "treble: C4"), "did you mean name-the-note"),
        (("name-the-note", "treble: H4"), "'H4' is no English note name"),
        (("name-the-note", "clef=treble"), "also needs place"),
        (("name-the-note", "clif=treble"), "has no field 'clif'"),
        (("accidental-in-force", "treble: C4", "bar=1", "note=9"), "bar 1 has no note 9"),
        (("name-the-interval", "treble: F#4"), "also needs second"),
    ],
)
def test_bad_input_is_named(capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], message: str) -> None:
    """Bad input gives one message and exit code 2."""
    assert message in said(capsys, *arguments, code=2)


def test_a_bad_answer_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    """An answer of the wrong form says what form is wanted."""
    out = said(capsys, "how-many-in", "quaver", "minim", "--answer", "lots", code=2)
    assert "'lots' is no number" in out


def test_a_composed_answer_is_judged_line_by_line(capsys: pytest.CaptureFixture[str]) -> None:
    """Any rhythm may be right: each criterion says what was found, and the teacher has the last word."""
    asked = ("answer-the-rhythm", "time=3/4", "bars=minim crotchet | crotchet minim", "--answer")
    out = said(capsys, *asked, "crotchet minim minim")
    assert "Marks: 5 of 6, to be confirmed by the teacher" in out
    assert "bars 1 of 2: bar 2 does not add up." in out
    assert "Marks: 6 of 6" in said(capsys, *asked, "crotchet minim minim.")
