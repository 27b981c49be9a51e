"""Music that is hard to draw, one score a case: shared by the tests and by whoever looks at the pictures."""

from __future__ import annotations

from dataclasses import replace

from stavewright.score.event import Chord, Event, Gap, Note, Rest
from stavewright.score.stave import Bar, Bracket, Direction, Score, Stave, single
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

SHORT = {
    "b": "breve",
    "1": "semibreve",
    "2": "minim",
    "4": "crotchet",
    "8": "quaver",
    "s": "semiquaver",
    "d": "demisemiquaver",
}


def d(code: str, tuplet: tuple[int, int] | None = None) -> Duration:
    """A value from its short name: "4." is a dotted crotchet."""
    dots = code.count(".")
    return Duration(SHORT[code.rstrip(".")], dots, Tuplet(*tuplet) if tuplet else None)


def n(
    pitch: str, code: str = "4", beam: int | None = None, tuplet: tuple[int, int] | None = None, **more: object
) -> Note:
    """A note from short names."""
    return Note(Pitch.parse(pitch), d(code, tuplet), beam=beam, **more)  # type: ignore[arg-type]


def melody(
    clef: str, fifths: int | None, time: str | None, *bars: tuple[Event, ...] | Bar, last: str = "final", **more: object
) -> Score:
    """A melody on one stave, accidentals and ids written."""
    made = [bar if isinstance(bar, Bar) else Bar((bar,)) for bar in bars]
    made[-1] = replace(made[-1], line=last)
    stave = Stave(clef, tuple(made), fifths, TimeSignature.parse(time) if time else None)
    return with_ids(with_accidentals(Score((stave,), **more)))  # type: ignore[arg-type]


def cases() -> dict[str, Score]:
    """Every case by name."""
    found: dict[str, Score] = {}
    for clef, low in (("treble", "F4"), ("bass", "A2"), ("alto", "G3"), ("tenor", "E3")):
        for fifths in (7, -7):
            found[f"signature {clef} {fifths}"] = melody(clef, fifths, "C", (n(low, "1"),))
    found["bare row"] = with_ids(single("treble", tuple(n(p, "1") for p in ("F4", "A3", "C6", "E5"))))
    found["labels"] = with_ids(
        single(
            "bass",
            (n("G2", "1", label="(a)"), n("C4", "1", label="(b)"), Gap(d("1"), label="(c)"), n("E2", "1", label="(d)")),
        )
    )
    found["no clef"] = with_ids(
        Score(
            (
                Stave(
                    "alto",
                    (Bar((tuple(n(p, "1") for p in ("C4", "D4", "E4")),), line="none", free=True),),
                    show_clef=False,
                ),
            )
        )
    )
    found["accidentals"] = with_accidentals(
        with_ids(
            single(
                "treble",
                (
                    n("F##4"),
                    n("Bbb4"),
                    n("F4"),
                    n("B4"),
                    Chord((Pitch.parse("C#4"), Pitch.parse("D#4"), Pitch.parse("F#4"), Pitch.parse("A#4")), d("2")),
                ),
            )
        )
    )
    found["melody"] = melody(
        "treble",
        2,
        "3/4",
        Bar(
            (
                (
                    n("D5", "4", marks=("accent",)),
                    n("E5", "8", 1, slur="start"),
                    n("F#5", "8", 1),
                    n("G5", "8", 2),
                    n("E5", "8", 2, slur="stop"),
                ),
            ),
            directions=(
                Direction("tempo", 0, "Allegro moderato (\u2669 = 96)"),
                Direction("dynamic", 0, "mf"),
                Direction("crescendo", 1, until=4),
            ),
        ),
        (n("F#5", "4.", marks=("tenuto",)), n("D5", "8"), n("A4", "4", tie=True)),
        (
            n("A4", "8", 1),
            n("B4", "8", 1),
            n("C#5", "8", 2, marks=("staccato",)),
            n("D5", "8", 2, marks=("staccato",)),
            Rest(d("4")),
        ),
        Bar(
            ((n("D5", "2.", marks=("fermata",)),),),
            directions=(Direction("text", 0, "rit."), Direction("dynamic", 0, "pp")),
        ),
        numbered=True,
    )
    long = [
        (n("G4", "8", 1), n("A4", "8", 1), n("B4", "8", 2), n("C5", "8", 2), n("D5", "4"), n("B4", "4"))
        for _ in range(8)
    ]
    found["eight bars"] = melody("treble", 1, "4/4", *long, numbered=True)
    found["compound"] = melody(
        "bass",
        -3,
        "12/8",
        tuple(n(p, "8", 1 + i // 3) for i, p in enumerate("Eb3 F3 G3 Ab3 Bb3 C4 Bb3 Ab3 G3 F3 Eb3 D3".split())),
        (n("Eb3", "2."), n("Bb2", "4."), Rest(d("4")), Rest(d("8"))),
    )
    found["irregular"] = melody(
        "treble",
        0,
        "5/8",
        (n("A4", "8", 1), n("B4", "8", 1), n("C5", "8", 1), n("D5", "8", 2), n("E5", "8", 2)),
        (n("E5", "s", 1), n("D5", "s", 1), n("C5", "8", 1), n("B4", "8", 1), n("A4", "4")),
    )
    found["tuplets"] = melody(
        "treble",
        0,
        "2/4",
        (
            n("C5", "8", 1, (3, 2)),
            n("D5", "8", 1, (3, 2)),
            n("E5", "8", 1, (3, 2)),
            n("F5", "4", None, (3, 2)),
            n("G5", "8", None, (3, 2)),
        ),
        (
            *(n(p, "s", 1, (5, 4)) for p in "C5 D5 E5 F5 G5".split()),
            *(n("C5", "8", 2, (3, 2)), Rest(d("8", (3, 2)), beam=2), n("E5", "8", 2, (3, 2))),
        ),
    )
    found["duplets"] = melody(
        "treble",
        -1,
        "6/8",
        (
            n("F4", "8", 1, (2, 3)),
            n("G4", "8", 1, (2, 3)),
            n("A4", "8", 2, (4, 3)),
            n("Bb4", "8", 2, (4, 3)),
            n("C5", "8", 2, (4, 3)),
            n("D5", "8", 2, (4, 3)),
        ),
    )
    found["ornaments"] = melody(
        "treble",
        -2,
        "4/4",
        (
            n("Bb4", "4", marks=("trill",)),
            n("C5", "4", marks=("turn",)),
            n("D5", "4", marks=("mordent",)),
            n("Eb5", "4", marks=("upper-mordent",)),
        ),
        (
            n("G5", "8", grace="acciaccatura"),
            n("F5", "2"),
            n("E5", "s", grace="appoggiatura"),
            n("D5", "s", grace="appoggiatura"),
            n("C5", "4", marks=("inverted-turn",)),
            n("D5", "4", marks=("up-bow",)),
        ),
    )
    found["values"] = melody(
        "tenor",
        None,
        "4/2",
        (n("G3", "b"),),
        (n("A3", "2.."), n("B3", "8"), n("C4", "1")),
        (Rest(d("1"), whole_bar=True),),
    )
    found["changes"] = melody(
        "treble",
        3,
        "C|",
        (n("A4", "2"), n("C#5", "2")),
        Bar(((n("F5", "4"), n("A5", "4"), n("C6", "4")),), fifths=-4, time=TimeSignature.parse("3/4")),
        Bar(((n("F3", "2."),),), clef="bass", fifths=0),
        Bar(((n("C3", "2."),),), line="double"),
    )
    found["road map"] = melody(
        "treble",
        0,
        "2/4",
        Bar(((n("C5", "2"),),), directions=(Direction("segno", 0),)),
        Bar(((n("E5", "2"),),), repeat_start=True),
        Bar(((n("G5", "2"),),), line="repeat-end", ending=1),
        Bar(((n("C5", "2"),),), line="double", ending=2, directions=(Direction("fine", 0),)),
        Bar(((n("B4", "2"),),), directions=(Direction("dal-segno", 0, "D.S. al Fine"),)),
    )
    found["brackets"] = with_ids(
        melody(
            "treble",
            1,
            "4/4",
            (n("G4", "4", id="a"), n("C6", "4", id="b"), n("D5", "4", id="c"), n("E5", "4", id="e")),
            (n("E5", "2", id="f"), n("A3", "2", id="g")),
            brackets=(Bracket("a", "b", "X"), Bracket("e", "g", "Y")),
        )
    )
    piano_top = Stave(
        "treble",
        (
            Bar(
                (
                    (n("B4", "2", stem="up"), n("C5", "2", stem="up")),
                    (n("G4", "4", stem="down"), n("F4", "4", stem="down"), n("E4", "2", stem="down")),
                )
            ),
            Bar(((Chord((Pitch.parse("D4"), Pitch.parse("G4"), Pitch.parse("B4")), d("1")),),), line="final"),
        ),
        1,
        TimeSignature.parse("C"),
    )
    piano_low = Stave(
        "bass",
        (
            Bar(((n("G2", "2"), n("C3", "2")),)),
            Bar(((Chord((Pitch.parse("G2"), Pitch.parse("D3")), d("1"), marks=("arpeggio",)),),), line="final"),
        ),
        1,
        TimeSignature.parse("C"),
    )
    found["piano"] = with_ids(with_accidentals(Score((piano_top, piano_low), join="brace", numbered=True)))
    found["voices"] = with_ids(
        with_accidentals(
            Score(
                (
                    Stave("treble", piano_top.bars, 1, TimeSignature.parse("C"), name="S A"),
                    Stave("bass", piano_low.bars, 1, TimeSignature.parse("C"), name="T B"),
                ),
                join="bracket",
            )
        )
    )
    found["words"] = melody(
        "treble",
        0,
        "3/4",
        (n("G4", "4", lyric="The"), n("C5", "4", lyric="ri-"), n("D5", "4", lyric="ver")),
        (n("E5", "2", lyric="runs"), n("C5", "4", lyric="& <on>")),
    )
    found["pick-up"] = melody(
        "treble",
        0,
        "3/4",
        Bar(((n("G4", "4"),),), free=True),
        (n("C5", "4"), n("B4", "4"), n("C5", "4")),
        Bar(((n("D5", "2"),),), free=True),
        numbered=True,
        anacrusis=True,
    )
    found["to write on"] = Score(
        (Stave("alto", (Bar(((Gap(d("1")),),), line="final", free=True),), -3, TimeSignature.parse("4/4")),)
    )
    blank = Bar(((Gap(d("1")),),), line="none", free=True)
    found["bare lines"] = Score((Stave("treble", (blank,), show_clef=False),))
    found["octave"] = melody(
        "treble", 0, "2/4", Bar(((n("C6", "4"), n("G5", "4")),), directions=(Direction("octave-up", 0, until=1),))
    )
    return found
