"""partitura and pychord as further opinions, over the documents that `stavewright questions` prints."""

from __future__ import annotations

import io
from typing import Any

import partitura
import pytest
from partitura.directions import parse_direction
from pychord.analyzer import find_chords_from_notes

from services.printed_documents import Document, documents, grades
from stavewright.syllabus.terms import all_terms


def rows(document: str) -> list[Any]:
    """(MIDI number, length in crotchets) of every note, as partitura reads them."""
    score = partitura.load_musicxml(io.BytesIO(document.encode()))
    return [
        (int(one["pitch"]), round(float(one["duration_quarter"]), 6))
        for part in score.parts
        for one in sorted(part.note_array(), key=lambda one: (one["onset_quarter"], one["pitch"]))
    ]


def shown(one: Document) -> list[Any]:
    (found,) = [block["musicxml"] for block in one.json["prompt"] if block.get("musicxml")]
    return rows(found)


def answered(one: Document) -> list[Any]:
    return rows(one.json["answers"][0]["musicxml"])


@pytest.mark.parametrize("grade", grades("total-value"))
def test_partitura_adds_up_the_values(grade: int) -> None:
    """One note of the answer lasts as long as all notes shown."""
    for one in documents("total-value", grade, 20):
        assert sum(length for _, length in shown(one)) == sum(length for _, length in answered(one))


@pytest.mark.parametrize("grade", grades("same-pitch-other-clef"))
def test_partitura_hears_the_same_pitches_in_another_clef(grade: int) -> None:
    for one in documents("same-pitch-other-clef", grade, 20):
        assert [heard for heard, _ in shown(one)] == [heard for heard, _ in answered(one)]


@pytest.mark.parametrize("grade", grades("copy-the-bars"))
def test_partitura_reads_a_copy_as_the_same_music(grade: int) -> None:
    """Every note of the copy, and each bar's key signature and metre, as partitura reads them from the signs."""
    for one in documents("copy-the-bars", grade, 20):
        assert shown(one) == answered(one)
        heads = [_heads(found) for found in (one.json["prompt"][1]["musicxml"], one.json["answers"][0]["musicxml"])]
        assert heads[0] == heads[1]


def _heads(document: str) -> list[Any]:
    """Key signatures, metres and bars of a document, with their places, as partitura reads them."""
    (part,) = partitura.load_musicxml(io.BytesIO(document.encode())).parts
    return [
        *((one.start.t, one.fifths) for one in part.iter_all(partitura.score.KeySignature)),
        *((one.start.t, one.beats, one.beat_type) for one in part.iter_all(partitura.score.TimeSignature)),
        *((one.start.t, one.end.t) for one in part.iter_all(partitura.score.Measure)),
        *((one.start.t, one.sign, one.line) for one in part.iter_all(partitura.score.Clef)),
    ]


def test_partitura_hears_a_transposition() -> None:
    """Every note moves by the semitones of the interval, and keeps its length."""
    semitones = {"P1": 0, "m2": 1, "M2": 2, "m3": 3, "M3": 4, "P4": 5, "P5": 7, "m6": 8, "M6": 9, "m7": 10, "M7": 11}
    for one in documents("transpose-the-melody", 5, 20):
        by = semitones[one.facts["interval"]] * (1 if one.facts["up"] else -1)
        assert [(heard + by, length) for heard, length in shown(one)] == answered(one)


@pytest.mark.parametrize("grade", grades("name-the-tonic-triad"))
def test_pychord_names_the_tonic_triad(grade: int) -> None:
    """pychord's name of the three notes from the root up: "F#m" is F sharp minor."""
    for one in documents("name-the-tonic-triad", grade, 60):
        notes = [name.rstrip("0123456789") for name in one.facts["notes"]]
        if any(name[1:] in ("##", "bb") for name in notes):
            continue  # pychord does not know double signs
        names = {str(found) for found in find_chords_from_notes(notes)}
        root = notes[0] + ("m" if one.text.endswith("minor") else "")
        assert root in names, (notes, names)


# What partitura's grammar of directions takes a word for, and the themes that belong to it.
ABOUT = {
    "DecreasingTempoDirection": {"getting slower"},
    "IncreasingTempoDirection": {"getting faster"},
    "ResetTempoDirection": {"back to a speed"},
    "IncreasingLoudnessDirection": {"getting louder"},
    "DecreasingLoudnessDirection": {"getting softer"},
    "ConstantLoudnessDirection": {"loud", "soft"},
    "ConstantArticulationDirection": {"articulation"},
}
OTHERWISE = {
    "Rubato": "freedom of time, not only pressing on: Gehrkens, Music Notation and Terminology (1914) §113",
    "Dolce": "sweetly is a manner, in dictionaries and in Gehrkens (1914) §130; partitura makes it a loudness",
    "Dolcissimo": "as dolce",
    "Delicato": "delicately, as dolce",
    "Energico": "with energy is a manner too",
    "Sostenuto": "sustained is a touch: Gehrkens (1914) §130; partitura makes it a loudness",
}


@pytest.mark.filterwarnings("ignore")
def test_partitura_knows_what_a_term_is_about() -> None:
    """Changes of speed and loudness, loudness and touch: partitura's class of a word fits our theme for it."""
    found = {}
    for term in all_terms():
        kinds = {type(one).__name__ for one in parse_direction(term.term.lower())}
        if term.language == "Italian" and len(kinds) == 1 and (kind := kinds.pop()) in ABOUT:
            found[term.term] = term.theme in ABOUT[kind]
    assert {name for name, fits in found.items() if not fits} == set(OTHERWISE)
    assert len(found) >= 30, len(found)
