"""How a teacher sets words to a melody, and the melodies that a known wrong rule gives."""

from __future__ import annotations

from collections.abc import Iterator

from stavewright.questions.documents import Step
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.solving.verse_report import bars_of, struck
from stavewright.questions.solving.verse_rhythm import Setting
from stavewright.questions.solving.verse_slips import wrong_rhythms
from stavewright.questions.solving.verse_tune import Song, degrees, first_setting, home, written
from stavewright.questions.solving.verse_tune_report import rhythm_of
from stavewright.questions.solving.verse_work import stressed_words
from stavewright.theory.degree import note_of_degree
from stavewright.theory.pitch import Pitch

Wrong = tuple[str, ScoreDocument, str]
_DOWN = 2
"""Octaves: so much lower no voice can sing its melody."""
_HARD = 6
"""Steps of a 7th."""


def spoilt_tunes(song: Song) -> Iterator[Wrong]:
    """Every wrong rule with the melody it gives and what to tell the pupil; some may do no harm to these words."""
    setting, steps = first_setting(song), degrees(song.lines, 0)
    home_name = song.key.tonic.text
    yield (
        "not ended on the tonic",
        document_of(written(song, setting, [*steps[:-1], 2])),
        f"End on {home_name}, the tonic.",
    )
    yield (
        "range forgotten",
        document_of(written(song, setting, steps, octaves=-_DOWN)),
        f"Know the lowest and the highest note of the {song.voice.name}.",
    )
    yield (
        "one note all through",
        document_of(written(song, setting, [0] * len(steps))),
        "Let the tune rise and fall; sing it to hear.",
    )
    hard = len(steps) // 2
    leap = [*steps[:hard], steps[hard - 1] + _HARD, *steps[hard + 1 :]]
    yield "a leap that is hard to sing", document_of(written(song, setting, leap)), "Leap by a 3rd, 4th or 5th instead."
    if song.key.is_minor:
        below = home(song.key, song.voice).diatonic - 1
        seventh = Pitch.from_diatonic(below)
        natural = {len(steps) - 2: Pitch(seventh.step, song.key.alter_of(seventh.step), seventh.octave)}
        yield (
            "leading note not raised",
            document_of(written(song, setting, steps, natural)),
            f"In {song.key.text} raise the 7th that rises to the tonic: {song.key.leading_note.text}.",
        )
    for name, wrong, remedy in wrong_rhythms(song.lines, song.time, setting):
        yield name, document_of(written(song, wrong, _fitted(steps, wrong))), remedy


def _fitted(steps: list[int], setting: Setting) -> list[int]:
    """The same tune for a rhythm of fewer or more notes: its close is kept."""
    count = sum(not value.rest for value in setting.row)
    return [*(steps[:-2] * 2)[: count - 2], *steps[-2:]]


def tune_steps(song: Song, model: ScoreDocument) -> tuple[Step, ...]:
    """The steps to the model melody, each pointing at the notes of it that it speaks of."""
    stave = score_of(model).staves[0]
    row, bar_lines = rhythm_of(stave, song.time)
    notes = struck(bars_of(row, bar_lines, song.time))
    words = [syllable for line in song.lines for syllable in line]
    ids = [f"a{note.index + 1}" for note in notes]
    beats = tuple(id_ for syllable, id_ in zip(words, ids, strict=True) if syllable.beats)
    halfway = ids[len(song.lines[0]) - 1]
    chord = ", ".join(note_of_degree(song.key, number).text for number in (1, 3, 5))
    tonic, dominant = song.key.tonic.text, note_of_degree(song.key, 5).text
    voice = song.voice
    span = f"{voice.low.name.text} to {voice.high.name.text}"
    marked = " / ".join(map(stressed_words, song.lines))
    return (
        Step("Say the lines aloud and mark the syllables you lean on; each of them belongs on a beat.", beats, marked),
        Step(f"Write the rhythm first: {song.time.text} means {song.time.meaning()}.", (), song.time.text),
        Step(f"Begin on a note of the tonic chord of {song.key.text}: {chord}.", (ids[0],), chord),
        Step(f"End line 1 on a note of the chord on {dominant} or of the tonic chord.", (halfway,), dominant),
        Step(f"End on {tonic}, from the note above or below it.", tuple(ids[-2:]), tonic),
        Step(f"Fill the rest by step and small leaps, within the {voice.name}'s {span}.", (), span),
        Step("Check: count syllables and notes, add up each bar, and sing it with the words.", (), ""),
    )
