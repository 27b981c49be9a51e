"""Scores of every kind the model holds, made by hypothesis, and one that holds a hard case of everything."""

from __future__ import annotations

from hypothesis import strategies as st

from stavewright.score.event import ACCIDENTALS, GRACES, MARKS, Chord, Gap, Note, Rest
from stavewright.score.stave import BAR_LINES, Bar, Bracket, Direction, Score, Stave
from stavewright.theory.duration import VALUES, Duration, Tuplet
from stavewright.theory.metre import ALL_TIMES, COMMON, CUT, TimeSignature
from stavewright.theory.pitch import Pitch

CROTCHET, QUAVER, SEMIQUAVER, MINIM = (Duration(v) for v in ("crotchet", "quaver", "semiquaver", "minim"))
WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Cn", "Co")), min_size=1, max_size=6).map(
    str.strip
)
# Words as the reader gives them back: not empty, no doubled spaces.
PLAIN_WORDS = st.sampled_from(["a", "b", "?", "dolce", "a & b", 'the "first"', "x < y", "Größe"])

pitches = st.builds(Pitch, st.sampled_from("CDEFGAB"), st.integers(-2, 2), st.integers(2, 6))
tuplets = st.none() | st.sampled_from([Tuplet(3, 2), Tuplet(2, 3), Tuplet(5, 4), Tuplet(6, 4), Tuplet(7, 4)])
durations = st.builds(Duration, st.sampled_from(VALUES), st.integers(0, 2), tuplets)
marks = st.lists(st.sampled_from(MARKS), max_size=3, unique=True).map(tuple)
accidentals = st.none() | st.sampled_from(ACCIDENTALS)
beams = st.none() | st.integers(1, 3)
stems = st.none() | st.sampled_from(["up", "down"])
labels = st.none() | PLAIN_WORDS

notes = st.builds(
    Note,
    pitches,
    durations,
    id=st.just(""),
    accidental=accidentals,
    tie=st.booleans(),
    beam=beams,
    stem=stems,
    marks=marks,
    grace=st.none() | st.none() | st.sampled_from(GRACES),
    slur=st.none() | st.sampled_from(["start", "stop", "both", "s1"]),
    lyric=st.none() | st.sampled_from(["la", "Mor-", "gen", "O", "&c."]),
    label=labels,
)


@st.composite
def any_chords(draw, least=1):
    several = draw(st.lists(pitches, min_size=least, max_size=4, unique_by=lambda p: p.diatonic))
    several.sort(key=lambda p: p.diatonic)
    signs = draw(st.tuples(*(accidentals for _ in several)))
    return Chord(
        tuple(several), draw(durations), accidentals=signs, tie=draw(st.booleans()), beam=draw(beams), stem=draw(stems),
        marks=draw(marks), slur=draw(st.none() | st.sampled_from(["start", "stop"])), label=draw(labels),
    )  # fmt: skip


rests = st.builds(Rest, durations, whole_bar=st.booleans(), beam=st.none(), label=labels)
gaps = st.builds(Gap, durations, label=labels)
events = st.one_of(notes, notes, any_chords(), rests, gaps)
times = st.none() | st.sampled_from([*ALL_TIMES, COMMON, CUT])
directions = st.builds(
    Direction,
    st.sampled_from(
        [
            "tempo",
            "dynamic",
            "text",
            "crescendo",
            "diminuendo",
            "segno",
            "coda",
            "fine",
            "da-capo",
            "dal-segno",
            "octave-up",
        ]
    ),
    at=st.integers(0, 5),
    text=st.sampled_from(["mf", "p", "sfz", "Allegro", "a & b <c>", ""]),
    until=st.none() | st.integers(0, 6),
    until_bar=st.integers(0, 2),
    above=st.booleans(),
)


@st.composite
def bars(draw):
    voices = draw(st.lists(st.lists(events, max_size=6).map(tuple), min_size=1, max_size=2).map(tuple))
    return Bar(
        voices,
        line=draw(st.sampled_from(BAR_LINES)),
        repeat_start=draw(st.booleans()),
        time=draw(times),
        fifths=draw(st.none() | st.integers(-7, 7)),
        clef=draw(st.none() | st.sampled_from(["treble", "bass", "alto", "tenor"])),
        directions=draw(st.lists(directions, max_size=2).map(tuple)),
        free=True,
        ending=draw(st.none() | st.integers(1, 2)),
    )


@st.composite
def scores(draw):
    """Any score at all: bars need not add up and signs need not be right."""
    length = draw(st.integers(1, 3))
    staves = tuple(
        Stave(
            draw(st.sampled_from(["treble", "bass", "alto", "tenor"])),
            tuple(draw(bars()) for _ in range(length)),
            fifths=draw(st.none() | st.integers(-7, 7)),
            time=draw(times),
            name=draw(st.just("") | WORDS),
            show_clef=draw(st.booleans()),
            signs=draw(st.just(()) | st.lists(pitches, max_size=3).map(tuple)),
        )
        for _ in range(draw(st.integers(1, 3)))
    )
    return Score(
        staves,
        join=draw(st.sampled_from(["none", "brace", "bracket"])),
        numbered=draw(st.booleans()),
        anacrusis=draw(st.booleans()),
    )


def note(text: str, duration: Duration = CROTCHET, **more) -> Note:
    return Note(Pitch.parse(text), duration, **more)


def silent(beside: Bar, number: int) -> Bar:
    rest = Rest(Duration("semibreve"), id=f"b{number}", whole_bar=True)
    return Bar(((rest,),), line=beside.line, repeat_start=beside.repeat_start, ending=beside.ending)


def hard_case() -> Score:
    """Everything the score model has a name for, on two staves, written as the rules of notation ask."""
    three = TimeSignature(3, 4)
    third = Duration("quaver", tuplet=Tuplet(3, 2))
    upper = (
        Bar(
            ((note("D5", QUAVER, id="n0", beam=1, lyric="Mor-"), note("E5", QUAVER, id="n1", beam=1, lyric="gen")),),
            free=True,
            directions=(Direction("tempo", text="Allegro", above=True), Direction("dynamic", text="mf")),
        ),
        Bar(
            (
                (
                    note("F#5", id="n2", slur="start", marks=("staccato", "accent")),
                    note("G5", QUAVER, id="n3", beam=1),
                    note("A5", SEMIQUAVER, id="n4", beam=1),
                    note("B5", SEMIQUAVER, id="n5", beam=1),
                    note("C#6", id="n6", accidental="sharp", slur="stop", tie=True),
                ),
                (note("D4", Duration("minim", 1), id="m1", stem="down"),),
            ),
            directions=(Direction("crescendo", at=1, until=3), Direction("octave-up", at=4, until=4, above=True)),
        ),
        Bar(
            (
                (
                    note("C#6", id="n7"),
                    Note(Pitch.parse("B5"), QUAVER, id="g1", grace="acciaccatura"),
                    note("A5", QUAVER, id="n8", beam=1, marks=("trill",)),
                    note("G5", QUAVER, id="n9", beam=1, marks=("turn", "tenuto")),
                    note("F#5", id="n10", marks=("fermata", "up-bow"), label="a"),
                ),
            ),
            line="repeat-end",
            repeat_start=True,
            ending=1,
        ),
        Bar(
            (
                (
                    note("G4", third, id="n11", beam=1),
                    note("A4", third, id="n12", beam=1),
                    note("B4", third, id="n13", beam=1),
                    Chord(
                        (Pitch.parse("G4"), Pitch.parse("B4"), Pitch.parse("D5")),
                        MINIM,
                        id="c1",
                        marks=("arpeggio",),
                        tie=True,
                    ),
                ),
            ),
            ending=2,
            directions=(Direction("text", at=0, text="dolce"), Direction("diminuendo", at=1, until=1, until_bar=0)),
        ),
        Bar(
            (
                (
                    Chord((Pitch.parse("G4"), Pitch.parse("B4"), Pitch.parse("D5")), CROTCHET, id="c2"),
                    Rest(CROTCHET, id="r1"),
                    note("E#5", id="n14", accidental="sharp", marks=("strong-accent", "down-bow")),
                ),
            ),
            line="double",
        ),
        Bar(
            ((note("Bb4", MINIM, id="n15"), Gap(MINIM)),),
            time=COMMON,
            fifths=-2,
            directions=(Direction("fine"),),
        ),
        Bar(
            (
                (
                    note("Bbb4", Duration("minim", 2), id="n16", accidental="flat-flat"),
                    note("F##5", QUAVER, id="n17", accidental="double-sharp"),
                ),
            ),
            line="final",
        ),
    )
    lower = (
        Bar(((Rest(CROTCHET, id="b0"),),), free=True),
        *(silent(upper[i], i) for i in range(1, 5)),
        Bar(((note("Bb3", MINIM, id="b5"), note("D4", MINIM, id="b6")),), clef="tenor", time=COMMON, fifths=-2),
        Bar(((Rest(Duration("semibreve"), id="b7", whole_bar=True),),), line="final"),
    )  # fmt: skip
    return Score(
        (
            Stave("treble", upper, fifths=2, time=three, name="Violin"),
            Stave("bass", lower, fifths=2, time=three, name="Cello"),
        ),
        join="bracket",
        brackets=(Bracket("n2", "n6", "X"),),
        numbered=True,
        anacrusis=True,
    )
