"""music21's own answer to questions on terms, signs, instruments and voices in score: (its answer, ours).

music21 has a table of usual tempos for tempo words, English names of the dynamic letters, lowest notes, families and
transpositions of instruments, and plays ornaments, repeats and jumps by rules of its own.
"""

from __future__ import annotations

from itertools import pairwise

from music21 import articulations, dynamics, instrument, interval, key, note, pitch, stream, tempo

from services.opinions_on_notes import _NAMES
from services.printed_documents import TYPES, Document, bars, key_named, sounding, spelt
from stavewright.syllabus.meanings import same_meaning

_LETTERS = {long: short for short, long in dynamics.longNames.items()}
_LOUD = {"mezzo piano": "mezzopiano", "mezzo forte": "mezzoforte"}
_EXTREME = {"extremely soft": "as soft as possible", "extremely loud": "as loud as possible"}


def _letters(term: str) -> str | None:
    """music21's letters for the name of a loudness; None for any other term."""
    name = term.partition("|")[0].lower()
    return _LETTERS.get(_LOUD.get(name, name))


def _english(letters: str | None) -> str | None:
    """music21's English for dynamic letters, its "extremely" in our words."""
    found = dynamics.englishNames.get(letters or "")
    return _EXTREME.get(found, found) if found else None


def _same(theirs: str, one: Document) -> str:
    """Our answer, said in music21's words where the two mean the same."""
    return theirs if any(same_meaning(theirs, text) for text in one.texts) else one.text


def term_meaning(one: Document):
    """The loudness words only."""
    english = _english(_letters(one.facts["term"]))
    return (None, None) if english is None else (english, _same(english, one))


def meaning_term(one: Document):
    """The loudness words only: the letters of the term that is the answer."""
    letters = _letters(one.facts["term"])
    return (None, None) if letters is None else (letters, _letters(one.text))


def term_match(one: Document):
    """Each loudness word is joined to music21's English for it."""
    pairs = dict(one.model["pairs"])
    theirs, ours = {}, {}
    for place, term in enumerate(one.facts["terms"]):
        english = _english(_letters(term))
        if english is not None:
            letter = "abcdefgh"[place]
            said = one.facts["meanings"]["abcdefgh".index(pairs[letter])]
            theirs[term], ours[term] = english, english if same_meaning(said, english) else said
    return (theirs, ours) if theirs else (None, None)


def _loudness(term: str) -> float | None:
    letters = _letters(term)
    return None if letters is None else dynamics.Dynamic(letters).volumeScalar


def _speed(term: str) -> float | None:
    return tempo.defaultTempoValues.get(term.partition("|")[0].lower())


def terms_in_order(one: Document):
    """By music21's loudness of dynamics, or its usual number for tempo words."""
    measure = _loudness if one.facts["scale"] == "loudness" else _speed
    sizes = [measure(term) for term in one.facts["among"]]
    if None in sizes:
        return None, None
    order = sorted(range(len(sizes)), key=lambda at: sizes[at], reverse=not one.facts.get("rising", True))
    return ["abcdefgh"[at] for at in order], one.model["order"]


def _about(term: str) -> str:
    """What a term is about, by where music21 has it: its tempos, dynamics, articulations or techniques; "?" nowhere."""
    name = term.partition("|")[0]
    if _speed(term):
        return "speed"
    if _letters(term) or hasattr(dynamics, name):
        return "loudness"
    found = getattr(articulations, name, None)
    if found is None:
        return "?"
    return "playing" if issubclass(found, articulations.TechnicalIndication) else "touch"


def term_odd_one_out(one: Document):
    """Three words that music21 has in one place and one that it has in another."""
    kinds = [_about(term) for term in one.facts["among"]]
    odd = [at for at, what in enumerate(kinds) if kinds.count(what) == 1]
    if "?" in kinds or len(odd) != 1:
        return None, None
    return one.facts["among"][odd[0]].partition("|")[0], one.text


def sign_meaning(one: Document):
    """The dynamic letters only: their name and their English."""
    letters = one.facts["sign"]
    if letters not in dynamics.longNames:
        return None, None
    if one.facts["ask"] == "name":
        long = dynamics.longNames[letters]
        return long, long if long in {text.replace(" ", "") for text in one.texts} else one.text
    english = _english(letters)
    return (None, None) if english is None else (english, _same(english, one))


def _dynamics(one: Document) -> list[tuple[int, float, str]]:
    """(bar, offset, letters) of every dynamic sign, in order."""
    return [
        (bar.number, found.offset, found.value)
        for bar in bars(one.shown)
        for found in bar.getElementsByClass(dynamics.Dynamic)
    ]


def _hairpins(one: Document) -> list[tuple[int, str]]:
    words = {"Crescendo": "gradually getting louder", "Diminuendo": "gradually getting softer"}
    return [
        (found.getFirst().measureNumber, words[type(found).__name__])
        for found in one.shown.recurse().getElementsByClass(dynamics.DynamicWedge)
    ]


def perform_the_extract(one: Document):
    """The loudness that holds in a bar, and its hairpin; speeds and touches are words that music21 does not explain."""
    aspect, bar = one.facts["aspect"], one.facts["bar"]
    if aspect == "loudness":
        held = [letters for number, _, letters in _dynamics(one) if number <= bar]
        english = _english(held[-1])
        return english, _same(english, one)
    if aspect == "change":
        said = next(words for number, words in _hairpins(one) if number == bar)
        return said, _same(said, one)
    return None, None


def term_in_extract(one: Document):
    """Dynamic letters and hairpins: what they mean, or which bar has them."""
    what, bar, meaning = one.facts["what"], one.facts["bar"], one.facts.get("meaning", "")
    if what == "letters":
        found = [(number, _english(letters)) for number, _, letters in _dynamics(one)]
    elif what == "lines":
        found = _hairpins(one)
    else:
        return None, None
    if meaning:
        places = [number for number, said in found if said and same_meaning(said, meaning)]
        return [f"bar {number}" for number in places], [one.text]
    said = next((said for number, said in found if number == bar), None)
    return (None, None) if said is None else (said, _same(said, one))


def _mark(beat: str, number: int) -> tempo.MetronomeMark:
    made = note.Note()
    made.duration.type = TYPES[beat.replace("dotted ", "")]
    made.duration.dots = int("dotted" in beat)
    return tempo.MetronomeMark(number=number, referent=made.duration)


def metronome_mark(one: Document):
    """The same speed with another beat, as music21 counts it."""
    facts = one.facts
    mark = _mark(facts["beat"], facts["number"])
    if facts["ask"] == "same":
        other = _mark(facts["other"], 60).referent
        return f"{facts['other']} = {round(mark.getEquivalentByReferent(other).number)}", one.text
    if facts["ask"] == "meaning":
        beats = 60 / mark.durationToSeconds(mark.referent)
        return f"{round(beats)} {facts['beat']} beats in a minute", one.text
    return None, None


_SHAPES = {
    "+0-0": "turn", "-0+0": "inverted turn", "0-0": "lower mordent", "0+0": "upper mordent",
}  # fmt: skip
"""What an ornament plays: the note (0), the one above (+), the one below (-). Gehrkens, Music Notation and Terminology
(1914) §65-72."""


def ornament_name(one: Document):
    """The sign as music21 plays it: which notes come, and in which order; a small note by its stroke."""
    (marked,) = [n for n in one.notes if n.expressions] or [None]
    graces = [n for n in one.shown.recurse().notes if n.duration.isGrace]
    if graces:
        return ("acciaccatura" if graces[0].duration.slash else "appoggiatura"), one.text
    if marked is None:
        return None, None
    measure = stream.Measure([key.KeySignature(0)])
    plain = note.Note(marked.pitch, quarterLength=1)
    measure.append(plain)
    before, main, after = marked.expressions[0].realize(plain, keySig=key.KeySignature(0), inPlace=False)
    row = [*before, *([main] if main is not None else []), *after]
    steps = [n.pitch.diatonicNoteNum - marked.pitch.diatonicNoteNum for n in row]
    shape = "".join({0: "0", 1: "+", -1: "-"}[step] for step in steps)
    if len(shape) > 4 and set(pairwise(shape)) <= {("0", "+"), ("+", "0")}:
        return "trill", one.text
    return _SHAPES.get(shape, shape), one.text


def road_map(one: Document):
    """music21 plays repeats, endings, D.C. and D.S. through: the bars by what is in them."""
    printed = {bar.number: _inside(bar) for bar in bars(one.shown)}
    theirs = [_inside(bar) for bar in one.shown.parts[0].expandRepeats().getElementsByClass(stream.Measure)]
    _, _, way = one.text.partition(": ")
    ours = []
    for stretch in way.split(", then "):
        ends = [int(word) for word in stretch.split() if word.isdigit()]
        ours += [printed[number] for number in range(ends[0], ends[-1] + 1)]
    return theirs, ours


def _inside(bar: stream.Measure) -> list[tuple[str, float]]:
    return [("rest" if e.isRest else e.nameWithOctave, float(e.quarterLength)) for e in bar.notesAndRests]


def place_the_sign(one: Document):
    """The notes that the rule in words means, found by music21 in the printed music."""
    facts, rule = one.facts, one.facts["rule"]
    rows = {bar.number: sounding(bar) for bar in bars(one.shown)}
    every = [(number, at, n) for number, row in rows.items() for at, n in enumerate(row, 1)]
    if rule == "each":
        type_ = TYPES[facts["value"]]
        found = [(b, at) for b, at, n in every if b == facts["bar"] and n.duration.type == type_]
    elif rule == "first":
        found = [(number, 1) for number in rows]
    elif rule == "longest":
        most = max(n.quarterLength for _, _, n in every)
        found = [(b, at) for b, at, n in every if n.quarterLength == most]
    elif rule == "tie":
        found = [
            place for (b, at, n), (c, to, m) in pairwise(every) if n.pitch == m.pitch for place in ((b, at), (c, to))
        ]
    elif rule == "slur":
        found = [(facts["bar"], 1), (facts["bar"], len(rows[facts["bar"]]))]
    else:
        return None, None
    return found, [(p["bar"], p["note"]) for p in one.model["places"]]


def _instrument(name: str) -> instrument.Instrument:
    return instrument.fromString(_NAMES.get(name, name))


def _lowest(name: str) -> float:
    """The lowest note as it sounds, by music21's lowest written note and its transposition."""
    found = _instrument(name)
    low = found.lowestNote
    return (low.transpose(found.transposition) if found.transposition else low).ps


def instruments_in_order(one: Document):
    """By music21's lowest notes."""
    order = sorted(one.facts["among"], key=_lowest, reverse=not one.facts["rising"])
    return ", ".join(order), one.text


def can_it_play(one: Document):
    """Whether it goes too low, by music21's lowest notes; it knows no highest notes and no wrong clefs."""
    facts = one.facts
    if "clef" in one.text:
        return None, None
    found = _instrument(facts["name"])
    heard = [pitch.Pitch(spelt(name)) for name in facts["notes"]]
    if not facts.get("sounding") and found.transposition:
        heard = [p.transpose(found.transposition) for p in heard]
    return min(p.ps for p in heard) < _lowest(facts["name"]), one.text == "no, it goes too low"


_NOT_THERE = (
    "clarinet in E flat", "contrabassoon", "guitar", "xylophone", "cornet in B flat", "cornet in E flat", "flugelhorn",
    "alto flute",
)  # fmt: skip
"""music21 has no such instrument, or no transposition for it."""
_NUMBERS = {1: "unison", 2: "2nd", 3: "3rd", 4: "4th", 5: "5th", 6: "6th", 7: "7th", 8: "octave"}


def _how(name: str) -> str:
    moved = _instrument(name).transposition
    if moved is None:
        return "as written"
    size = interval.Interval(moved.name)
    number = size.generic.undirected
    said = f"a {size.niceName.split()[0].lower()} {_NUMBERS.get(number, f'{number}th')}"
    said = "an octave" if size.name == "P8" else said
    return f"{said} {'higher' if moved.direction.value > 0 else 'lower'} than written"


def transposing_or_not(one: Document):
    """By the transposition in music21's table of instruments."""
    facts = one.facts
    if facts.get("name") in _NOT_THERE:
        return None, None
    if facts.get("name"):
        return _how(facts["name"]), one.text
    moves = [name for name in facts["among"] if (_how(name) != "as written") == (facts["odd"] == "does")]
    return moves, [one.text]


def sounding_pitch(one: Document):
    """Every note by the transposition in music21's table of instruments."""
    facts = one.facts
    moved = None if facts["instrument"] in _NOT_THERE else _instrument(facts["instrument"]).transposition
    if moved is None:
        return None, None
    by = moved if facts["to"] == "sounding" else moved.reverse()
    wanted = [(n.pitch.transpose(by).nameWithOctave, n.quarterLength) for n in one.notes]
    return wanted, [(n.pitch.nameWithOctave, n.quarterLength) for n in sounding(one.answers[0])]


def key_for_the_player(one: Document):
    """How many signs the key has that music21's instrument reads; past seven signs it has no such key."""
    facts = one.facts
    moved = None if facts["instrument"] in _NOT_THERE else _instrument(facts["instrument"]).transposition
    concert = key_named(facts["concert"])
    if moved is None:
        return None, None
    theirs = concert.transpose(moved.reverse()).sharps
    signs = one.model["notes"]
    ours = -len(signs) if signs and signs[0]["accidental"] == "flat" else len(signs)
    return (None, None) if abs(theirs) > 7 else (theirs, ours)
