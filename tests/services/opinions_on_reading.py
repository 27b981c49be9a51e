"""music21's own answer to questions on extracts and passages in score: (its answer, ours)."""

from __future__ import annotations

from collections import Counter
from itertools import combinations, pairwise

from music21 import bar as bar_lines
from music21 import interval, note, pitch, stream
from music21.scale import Direction

from services.printed_documents import Document, bars, exact, interval_words, named, read, sounding, value_words


def _rhythm(measure: stream.Measure) -> list[tuple]:
    return [(e.isRest, e.duration.fullName, exact(e.quarterLength)) for e in measure.notesAndRests]


def _shape(one: stream.Measure, other: stream.Measure) -> set[int]:
    """By how many letters each note of a bar stands from its partner in another bar."""
    pairs = zip(sounding(one), sounding(other), strict=True)
    return {b.pitch.diatonicNoteNum - a.pitch.diatonicNoteNum for a, b in pairs}


def _same(one: stream.Measure, other: stream.Measure) -> bool:
    return [n.pitch.nameWithOctave for n in sounding(one)] == [n.pitch.nameWithOctave for n in sounding(other)]


def compare_bars(one: Document):
    """Every pair of bars that goes together in the way asked for, in music21's bars."""
    relation = one.facts["relation"]
    whole = [m for m in bars(one.shown) if m.number]
    found = []
    for a, b in combinations(whole, 2):
        if _rhythm(a) != _rhythm(b) or not sounding(a):
            continue
        notes = [[n.pitch.diatonicNoteNum for n in sounding(m)] for m in (a, b)]
        steps = [[y - x for x, y in pairwise(row)] for row in notes]
        fits = {
            "same-notes": _same(a, b),
            "same-rhythm": not _same(a, b),
            "sequence": b.number == a.number + 1 and len(notes[0]) > 2 and len(_shape(a, b)) == 1 and not _same(a, b),
            "inversion": len(notes[0]) > 2 and any(steps[0]) and steps[0] == [-step for step in steps[1]],
        }[relation]
        if fits:
            found.append([a.number, b.number])
    ours = [[place["bar"] for place in answer["value"][0]["places"]] for answer in one.json["answers"]]
    return sorted(found), sorted(ours)


def name_the_form(one: Document):
    """As many phrases as the question says, of the same length, lettered by what is in them."""
    whole = [m for m in bars(one.shown) if m.number]
    count = 3 if "three phrases" in one.json["prompt"][0]["text"] else 4
    size = len(whole) // count
    letters: dict[str, str] = {}
    form = ""
    for at in range(0, len(whole), size):
        said = repr([[(e.fullName, e.quarterLength) for e in m.notesAndRests] for m in whole[at : at + size]])
        form += letters.setdefault(said, "ABCD"[len(letters)])
    ends = [str(size * n) for n in range(1, count + 1)]
    return f"{form}; the phrases end in bars {', '.join(ends[:-1])} and {ends[-1]}", one.text


def proof_read(one: Document):
    """Bars too long or too short, stems against the middle line of the clef, and the last bar line; not signatures."""
    if "signature" in one.text:
        return None, None
    found = {}
    measures = bars(one.shown)
    for measure in measures:
        middle = (measure.clef or measure.getContextByClass("Clef")).lowestLine + 4
        want, got = exact(measure.barDuration.quarterLength), exact(measure.duration.quarterLength)
        if got != want and measure.number:
            found[measure.number] = "too many beats in the bar" if got > want else "too few beats in the bar"
        for n in sounding(measure):
            if n.stemDirection == "unspecified" or n.pitch.diatonicNoteNum == middle:
                continue
            if (n.stemDirection == "down") != (n.pitch.diatonicNoteNum > middle):
                found[measure.number] = "a stem that points the wrong way"
    last = measures[-1].rightBarline
    if last is None or last.type != "final":
        found[measures[-1].number] = "a single bar line at the end"
    assert isinstance(last, bar_lines.Barline | None)
    return "; ".join(f"bar {number}: {what}" for number, what in sorted(found.items())), one.text


_ORDINALS = ("unison", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th", "9th", "10th", "11th", "12th", "13th")


def _said(one: pitch.Pitch, other: pitch.Pitch) -> tuple[str, str]:
    """The number of an interval, and its whole name: "3rd", "minor 3rd"; an octave is an 8th."""
    whole = interval_words(*sorted((one, other), key=lambda p: (p.diatonicNoteNum, p.ps))).replace("octave", "8th")
    return whole.split()[-1], whole


def _true(one: Document, said: dict) -> bool | None:
    """Whether a statement holds, by music21; None where it cannot say."""
    rows = {m.number: sounding(m) for m in bars(one.shown)}
    every = [n for row in rows.values() for n in row]
    about, word = said["about"], said.get("word", "")
    measures = {m.number: m for m in bars(one.shown)}
    one_bar = rows.get(said.get("bar", 0), [])
    if about in ("highest", "lowest"):
        best = (max if about == "highest" else min)(every, key=lambda n: n.pitch.ps)
        return named(best.pitch) == word
    if about == "rest":
        return any(e.isRest for e in measures[said["bar"]].notesAndRests)
    if about == "upbeat":
        return measures[min(measures)].paddingLeft > 0
    if about == "same-rhythm":
        return _rhythm(measures[said["bar"]]) == _rhythm(measures[said["other"]])
    if about == "same-notes":
        a, b = measures[said["bar"]], measures[said["other"]]
        return _rhythm(a) == _rhythm(b) and _same(a, b)
    if about == "sequence":
        a, b = measures[said["bar"]], measures[said["other"]]
        return _rhythm(a) == _rhythm(b) and len(_shape(a, b)) == 1 and not _same(a, b)
    if about == "step":
        return all(abs(b.pitch.diatonicNoteNum - a.pitch.diatonicNoteNum) == 1 for a, b in pairwise(one_bar))
    if about == "dotted":
        return any(n.duration.dots for n in one_bar)
    if about == "largest-leap":
        pairs = [pair for row in rows.values() for pair in pairwise(row)]
        return _ORDINALS[max(abs(b.pitch.diatonicNoteNum - a.pitch.diatonicNoteNum) for a, b in pairs)] == word
    if about == "interval":
        return word in _said(one_bar[0].pitch, one_bar[1].pitch)
    if about == "octave":
        low, high = (f(n.pitch.diatonicNoteNum for n in every) for f in (min, max))
        return high - low <= 7
    return None


def true_of_the_extract(one: Document):
    """Those statements that music21 can judge itself."""
    said = {"abcdefgh"[at]: _true(one, statement) for at, statement in enumerate(one.facts["statements"])}
    theirs = {letter: true for letter, true in said.items() if true is not None}
    return (theirs, {letter: letter in one.model["choices"] for letter in theirs}) if theirs else (None, None)


def why_so(one: Document):
    """The facts that the reason states, found by music21 in the printed music."""
    claim = one.facts["claim"]
    about = claim["about"]
    measures = {m.number: m for m in bars(one.shown)}
    first = measures[min(measures)]
    if about in ("simple", "compound"):
        time = first.timeSignature
        parts = time.beatDivisionCount
        part = value_words(time.beatDivisionDurations[0])
        words = {1: "one", 2: "two", 3: "three"}[parts]
        beat = value_words(time.beatDuration)
        return f"Each beat, a {beat}, can be parted into {words} {part}s.", one.text
    if about == "upbeat":
        last = measures[max(measures)]
        fits = first.paddingLeft > 0 and exact(first.duration.quarterLength + last.duration.quarterLength) == exact(
            first.barDuration.quarterLength
        )
        return fits, one.text.startswith("The first bar is not full")
    if about in ("minor", "major"):
        fifths = first.keySignature
        scale = fifths.asKey("minor" if about == "minor" else "major")
        minor = fifths.asKey("minor")
        leading = minor.tonic.transpose(interval.Interval("-m2"))
        names = Counter(n.pitch.name for m in measures.values() for n in sounding(m))
        last = sounding(measures[max(measures)])[-1].pitch.name
        said = f"It ends on {_words(scale.tonic)} and " + (
            f"has {_words(leading, full=True)}, the raised 7th."
            if about == "minor"
            else f"no {_words(leading, full=True)} comes in it."
        )
        fits = last == scale.tonic.name and bool(names[leading.name]) is (about == "minor")
        return (said, fits), (one.text, True)
    if about == "sequence":
        (moved,) = _shape(measures[claim["bar"]], measures[claim["other"]])
        far = "an octave" if abs(moved) == 7 else f"a {_ORDINALS[abs(moved)]}"
        return f"Every note comes again {far} {'higher' if moved > 0 else 'lower'}, in the same rhythm.", one.text
    return None, None


def _words(one: pitch.Pitch, *, full: bool = False) -> str:
    return f"{named(one)} natural" if full and not one.alter else named(one)


def _voices(score: stream.Score) -> list[list[tuple[str, float]]]:
    """The notes of every voice from the top, a stave of two voices read as two."""
    rows = []
    for part in score.parts:
        measures = part.getElementsByClass(stream.Measure)
        split = any(m.voices for m in measures)
        for voice in range(2 if split else 1):
            row = []
            for m in measures:
                inside = m.voices[voice] if split else m
                row += [(n.pitch, n.quarterLength) for n in inside.recurse().getElementsByClass(note.Note)]
            rows.append(row)
    return rows


def short_and_open_score(one: Document):
    """Every voice of the passage, the tenor an octave higher or lower, in music21's reading of both layouts."""
    octave = interval.Interval("P8" if one.facts["to"] == "open" else "P-8")
    given, made = _voices(one.shown), _voices(one.answers[0])
    moved = [
        [((p.transpose(octave) if place == 2 else p).nameWithOctave, length) for p, length in row]
        for place, row in enumerate(given)
    ]
    return moved, [[(p.nameWithOctave, length) for p, length in row] for row in made]


def which_transposition(one: Document):
    """The note that is not the interval away, in two printed versions of one melody."""
    facts = one.facts
    pictures = [read(block["musicxml"]) for block in one.json["prompt"] if block.get("musicxml")]
    if len(pictures) != 2:
        return None, None
    size = interval.Interval(facts["interval"])
    by = size if facts["up"] else size.reverse()
    found = []
    for old, new in zip(*map(bars, pictures), strict=True):
        for place, (a, b) in enumerate(zip(sounding(old), sounding(new), strict=True), 1):
            if a.pitch.transpose(by).nameWithOctave != b.pitch.nameWithOctave:
                found.append((old.number, place))
    return found, [(p["bar"], p["note"]) for p in one.model["places"]]


def continue_the_sequence(one: Document):
    """Every note of bar 2 moved by music21's scale of the signature as bar 1 was moved, the rhythm kept."""
    first, second = bars(one.shown)
    scale = first.keySignature.asKey("major").getScale()
    (shift,) = _shape(first, second)
    way = Direction.ASCENDING if shift > 0 else Direction.DESCENDING
    theirs = [
        (scale.nextPitch(n.pitch, way, stepSize=abs(shift)).nameWithOctave, n.quarterLength) for n in sounding(second)
    ]
    return theirs, [(n.pitch.nameWithOctave, n.quarterLength) for n in sounding(one.answers[0])]


def count_in_the_extract(one: Document):
    """The thing counted in the printed music as music21 reads it."""
    about, word = one.facts["thing"]["about"], one.facts["thing"].get("word", "")
    every = sounding(one.shown)
    begun = [n for n in every if n.tie is None or n.tie.type == "start"]
    counted = {
        "struck": lambda: len(begun),
        "name": lambda: sum(named(n.pitch) == word for n in begun),
        "value": lambda: sum(value_words(n.duration) == word for n in every),
        "tie": lambda: sum(n.tie is not None and n.tie.type in ("start", "continue") for n in every),
        "rest": lambda: sum(e.isRest for m in bars(one.shown) for e in m.notesAndRests),
        "accidental": lambda: sum(
            n.pitch.accidental is not None and bool(n.pitch.accidental.displayStatus) for n in every
        ),
        "dotted": lambda: sum(n.duration.dots > 0 for n in every),
        "marked": lambda: sum(any(type(a).__name__.lower() == word for a in n.articulations) for n in every),
        "bars": lambda: sum(m.number > 0 for m in bars(one.shown)),
    }
    return counted[about](), one.model["number"]
