"""music21's own answer to each question on keys, scales, chords, transposition and extracts: (its answer, ours)."""

from __future__ import annotations

from itertools import pairwise

from music21 import chord, interval, key, pitch, roman, scale, stream

from services.printed_documents import (
    Document,
    bars,
    exact,
    interval_words,
    key_named,
    key_words,
    named,
    sounding,
    spelt,
    value_words,
)

_SCALES = {
    "major": scale.MajorScale, "natural minor": scale.MinorScale, "harmonic minor": scale.HarmonicMinorScale,
    "melodic minor": scale.MelodicMinorScale,
}  # fmt: skip
_ROMANS = ("I", "II", "III", "IV", "V", "VI", "VII")
_DEGREES = ("tonic", "supertonic", "mediant", "subdominant", "dominant", "submediant", "leading note")


def name_the_signature(one: Document):
    shown = bars(one.shown)[0].keySignature
    return key_words(key.KeySignature(shown.sharps if shown else 0).asKey(one.facts["mode"])), one.text


def write_the_signature(one: Document):
    """The signs in their order; the octaves are not in music21."""
    wanted = [p.name for p in key_named(one.facts["key"]).alteredPitches]
    signs = {"sharp": "#", "flat": "-"}
    return wanted, [note["step"] + signs[note["accidental"]] for note in one.model["notes"]]


def relative_key(one: Document):
    found = key_named(one.facts["key"]).relative
    if one.facts["ask"] == "key":
        return key_words(found), one.text
    count = abs(found.sharps)
    sort = "sharp" if found.sharps > 0 else "flat"
    return (f"{count} {sort}{'' if count == 1 else 's'}" if count else "no sharps or flats"), one.text


def key_of_a_melody(one: Document):
    """The signature's major or minor: the one whose tonic is the last note."""
    signature = bars(one.shown)[0].keySignature
    sharps = signature.sharps if signature else 0
    last = one.notes[-1].pitch
    either = [key.KeySignature(sharps).asKey(mode) for mode in ("major", "minor")]
    return [key_words(k) for k in either if k.tonic.name == last.name], [one.text]


def scale_row(facts) -> list[str]:
    """The scale as music21 makes it, with octaves."""
    form = facts["form"].replace("harmonic or melodic", "harmonic")
    low = pitch.Pitch(f"{spelt(facts['tonic'])}{facts['octave']}")
    high = low.transpose("P8")
    made = _SCALES[form](low)
    up = made.getPitches(low, high, direction=scale.Direction.ASCENDING)
    down = made.getPitches(low, high, direction=scale.Direction.DESCENDING)
    row = {"up": up, "down": down, "both": [*up, *down[1:]]}[facts["direction"]]
    return [p.nameWithOctave for p in row]


def write_the_scale(one: Document):
    return scale_row(one.facts), [p.nameWithOctave for p in one.answers[0].pitches]


def complete_the_scale(one: Document):
    """The missing notes as the model answer, drawn into the row, has them: the whole row is the scale."""
    return scale_row(one.facts), [p.nameWithOctave for p in one.answers[0].pitches]


def _degree(found: pitch.Pitch, in_key: key.Key) -> int:
    number, sign = in_key.getScaleDegreeAndAccidentalFromPitch(found)
    assert sign is None or (in_key.mode == "minor" and number in (6, 7) and sign.alter > 0), (found, in_key)
    return number


def _marked(one: Document) -> pitch.Pitch:
    return one.notes[one.facts["place"].get("marked", 0)].pitch


def _of_degree(number: int, in_key: key.Key) -> str:
    """The note of a degree: in minor keys the 7th is raised (the harmonic form)."""
    made = scale.HarmonicMinorScale(in_key.tonic) if in_key.mode == "minor" else in_key
    return named(made.pitchFromDegree(number))


def degree_number(one: Document):
    in_key = key_named(one.facts["key"])
    if one.facts["place"] is None:
        return _of_degree(one.facts["degree"], in_key), one.text
    return _degree(_marked(one), in_key), one.model["number"]


def degree_name(one: Document):
    in_key = key_named(one.facts["key"])
    if one.facts["place"] is None:
        return _of_degree(_DEGREES.index(one.facts["name"]) + 1, in_key), one.text
    return _DEGREES[_degree(_marked(one), in_key) - 1], one.text


def name_the_tonic_triad(one: Document):
    found = chord.Chord(one.pitches)
    return f"{named(found.root())} {found.quality}", one.text


def write_the_tonic_triad(one: Document):
    """A close root-position triad of the key's own quality on its tonic."""
    found = chord.Chord(one.answers[0].pitches)
    in_key = key_named(one.facts["key"])
    notes = sorted(found.pitches)
    said = found.root().name, found.quality, found.inversion(), notes[-1].ps - notes[0].ps < 12
    return (in_key.tonic.name, in_key.mode, 0, True), said


def _label(one: Document) -> str:
    found = roman.romanNumeralFromChord(chord.Chord(one.pitches), key_named(one.facts["key"]))
    return _ROMANS[found.scaleDegree - 1] + ("", "b", "c")[found.inversion()]


def primary_triads(one: Document):
    return _label(one), one.text


def chord_and_inversion(one: Document):
    return _label(one), one.text


def name_the_cadence(one: Document):
    """The last two sonorities as degrees of the key; the names of the four cadences are common practice."""
    found = [c for c in one.shown.chordify().recurse().getElementsByClass(chord.Chord) if c.pitches]
    in_key = key_named(one.facts["key"])
    before, last = (roman.romanNumeralFromChord(c, in_key).scaleDegree for c in found[-2:])
    names = {(5, 1): "perfect", (4, 1): "plagal", (5, 6): "interrupted"}
    return f"{names.get((before, last), 'imperfect' if last == 5 else '?')} cadence", one.text


def transpose_the_melody(one: Document):
    size = interval.Interval(one.facts["interval"])
    by = size if one.facts["up"] else size.reverse()
    wanted = [(n.pitch.transpose(by).nameWithOctave, n.quarterLength) for n in one.notes]
    return wanted, [(n.pitch.nameWithOctave, n.quarterLength) for n in sounding(one.answers[0])]


def _leap(row) -> int:
    return max((abs(a.pitch.diatonicNoteNum - b.pitch.diatonicNoteNum) for a, b in pairwise(row)), default=0)


def _whole_rhythm(bar: stream.Measure) -> list[tuple]:
    return [(e.isRest, e.duration.type, e.duration.dots, exact(e.quarterLength)) for e in bar.notesAndRests]


def find_in_the_extract(one: Document):
    """Those searches that music21 can make itself; (None, None) for the others."""
    search = one.facts["search"]
    about = search["about"]
    found_bars = {bar.number: bar for bar in bars(one.shown)}
    rows = {number: sounding(bar) for number, bar in found_bars.items()}
    places = one.model["places"]
    if about in ("highest", "lowest"):
        every = [(n.pitch.ps, number, index) for number, row in rows.items() for index, n in enumerate(row, 1)]
        best = (max if about == "highest" else min)(every)[0]
        want = [(number, index) for ps, number, index in every if ps == best]
        return want, [(p["bar"], p["note"]) for p in places]
    tests = {
        "rest": lambda number: any(e.isRest for e in found_bars[number].notesAndRests),
        "tuplet": lambda number: any(
            t.numberNotesActual == search.get("number", 3) for n in rows[number] for t in n.duration.tuplets
        ),
        "value": lambda number: any(value_words(n.duration) == search.get("word") for n in rows[number]),
        "same-rhythm": lambda number: (
            number != search["bar"] and _whole_rhythm(found_bars[number]) == _whole_rhythm(found_bars[search["bar"]])
        ),
        "interval": lambda number: any(
            search["word"] in (said, said.split()[-1])
            for said in (
                interval_words(*sorted((a.pitch, b.pitch), key=lambda p: (p.diatonicNoteNum, p.ps)))
                for a, b in pairwise(rows[number])
            )
        ),
    }
    if about == "largest-leap":
        sizes = {number: _leap(row) for number, row in rows.items()}
        return [n for n, size in sizes.items() if size == max(sizes.values())], [p["bar"] for p in places]
    if about not in tests:
        return None, None
    return [number for number in found_bars if number and tests[about](number)], [p["bar"] for p in places]
