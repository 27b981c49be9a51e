"""music21's own answer to each question on notes, values and metre: (its answer, ours) for one printed document."""

from __future__ import annotations

from music21 import clef, duration, instrument, interval, note, pitch

from services.printed_documents import (
    TYPES,
    Document,
    bars,
    exact,
    interval_words,
    length,
    metre,
    named,
    sounding,
    spelt,
    total,
    value_words,
)

CLEFS = {"treble": clef.TrebleClef, "bass": clef.BassClef, "alto": clef.AltoClef, "tenor": clef.TenorClef}
_SIGNED = {"sharp": 1, "flat": -1, "natural": 0, "double-sharp": 2, "flat-flat": -2, None: 0}
C4 = pitch.Pitch("C4")


def name_the_note(one: Document):
    """From the place on the stave under music21's clef, and the sign before it; and as it is spelt in the document."""
    found = pitch.Pitch()
    found.diatonicNoteNum = CLEFS[one.facts["clef"]]().lowestLine + one.facts["place"]
    found.accidental = _SIGNED[one.facts["accidental"]]
    return (named(found), found.nameWithOctave), (one.text, one.pitches[0].nameWithOctave)


def write_the_note(one: Document):
    """The nth note of its letter above middle C or below it, counted up or down one by one."""
    reach = one.facts["reach"]
    letter = one.facts["step"]
    found = [pitch.Pitch(f"{letter}{octave}") for octave in range(10)]
    above = [p for p in found if p.diatonicNoteNum > C4.diatonicNoteNum]
    below = [p for p in reversed(found) if p.diatonicNoteNum < C4.diatonicNoteNum]
    wanted = C4 if reach == 0 else (above[reach - 1] if reach > 0 else below[-reach - 1])
    wanted = pitch.Pitch(f"{letter}{wanted.octave}")
    if one.facts["alter"]:
        wanted.accidental = one.facts["alter"]
    return [wanted.nameWithOctave], [p.nameWithOctave for p in one.answers[0].pitches]


def which_clef(one: Document):
    place, step = one.facts["place"], one.facts["step"]
    fitting = []
    for name in one.facts["clefs"]:
        found = pitch.Pitch()
        found.diatonicNoteNum = CLEFS[name]().lowestLine + place
        if found.step == step:
            fitting.append(f"{name} clef")
    return fitting, [one.text]


def accidental_in_force(one: Document):
    """Read from the printed signs alone: music21's signature, then each bar's own signs, ties carrying them over."""
    marked = None
    signature = bars(one.shown)[0].keySignature
    tied: dict[str, int] = {}
    for number, row in enumerate(one.facts["bars"], 1):
        force: dict[str, int] = {}
        for place, written in enumerate(row, 1):
            found = pitch.Pitch()
            found.diatonicNoteNum = CLEFS[one.facts["clef"]]().lowestLine + written["place"]
            spot = found.nameWithOctave
            by_key = signature.accidentalByStep(found.step) if signature else None
            alter = force.get(spot, tied.get(spot, by_key.alter if by_key else 0))
            if "accidental" in written:
                alter = force[spot] = _SIGNED[written["accidental"]]
            tied = {spot: alter} if written.get("tie") else {}
            found.accidental = alter
            heard = bars(one.shown)[number - 1].notes[place - 1].pitch
            if heard.nameWithOctave != found.nameWithOctave:
                return found.nameWithOctave, heard.nameWithOctave
            if (number, place) == (one.facts["bar"], one.facts["note"]):
                marked = found
    return named(marked), one.text


def tone_or_semitone(one: Document):
    first, second = (heard.pitch for heard in one.notes)
    return {1: "semitone", 2: "tone"}[abs(interval.Interval(first, second).chromatic.semitones)], one.text


def same_pitch_other_clef(one: Document):
    there = bars(one.answers[0])[0].clef
    want = [p.nameWithOctave for p in one.shown.pitches], CLEFS[one.facts["other"]]().lowestLine
    return want, ([p.nameWithOctave for p in one.answers[0].pitches], there.lowestLine)


def enharmonic_twin(one: Document):
    """Every note of another letter within two alterations that sounds the same; each is accepted, and no other."""
    shown = one.pitches[0]
    wanted = set()
    for away in (-2, -1, 1, 2):
        for alter in range(-2, 3):
            found = pitch.Pitch()
            found.diatonicNoteNum = shown.diatonicNoteNum + away
            found.accidental = alter
            if found.ps == shown.ps:
                wanted.add(found.nameWithOctave)
    return wanted, {p.nameWithOctave for score in one.answers for p in score.pitches}


def value_name(one: Document):
    (heard,) = list(one.shown.recurse().notesAndRests)
    return value_words(heard.duration) + (" rest" if heard.isRest else ""), one.text


def draw_the_value(one: Document):
    """What music21 calls the sign that is drawn, and the name that was asked for."""
    facts = one.facts
    (heard,) = list(one.answers[0].recurse().notesAndRests)
    asked = ("", "dotted ", "double-dotted ")[facts.get("dots", 0)] + facts["value"]
    return value_words(heard.duration) + " rest" * heard.isRest, asked + " rest" * facts.get("rest", False)


def stem_direction(one: Document):
    """Which stems music21 would turn, the middle line down: one of the accepted answers."""
    facts = one.facts
    found = CLEFS[facts["clef"]]()
    wanted = []
    for number, written in enumerate(facts["notes"], 1):
        head = pitch.Pitch()
        head.diatonicNoteNum = found.lowestLine + written["place"]
        right = found.getStemDirectionForPitches(head) == written["stem"]
        if right == (facts.get("pick", "wrong") == "right"):
            wanted.append(number)
    accepted = [[place["note"] for place in answer["value"][0]["places"]] for answer in one.json["answers"]]
    return wanted, wanted if wanted in accepted else accepted


def how_many_in(one: Document):
    facts = one.facts
    whole, part = length(facts["whole"], facts["whole_dots"]), length(facts["part"], facts["part_dots"])
    return whole / part, one.model["number"]


def total_value(one: Document):
    return total(one.notes), total(sounding(one.answers[0]))


def time_signature_meaning(one: Document):
    time = metre(one.facts["time"])
    beat = value_words(time.beatDuration)
    said = {
        "beats": str(time.beatCount),
        "value": beat,
        "meaning": f"{time.beatCount} {beat}{'' if time.beatCount == 1 else 's'} in a bar",
        "figures": time.ratioString,
    }
    ours = one.text
    if one.facts["ask"] == "meaning":
        ours = f"{ours.split()[0]} {' '.join(w for w in ours.split()[1:] if w.rstrip('s') in _BEATS or w == 'dotted')}"
        return f"{time.beatCount} {beat}", ours.rstrip("s") if time.beatCount > 1 else ours
    return said[one.facts["ask"]], ours


_BEATS = set(TYPES)


def describe_the_metre(one: Document):
    time = metre(one.facts["time"])
    return time.classification.lower(), one.text


def add_the_time_signature(one: Document):
    """Every bar is as long as each accepted time signature says."""
    sums = {total(bar.notesAndRests) for bar in bars(one.shown)}
    accepted = {exact(metre(text).barDuration.quarterLength) for text in one.texts if "/" in text}
    return sums, accepted


def add_the_bar_lines(one: Document):
    """With the answer's bar lines every bar is full; an upbeat and the last bar make one together."""
    found = bars(one.answers[0])
    full = found[0].timeSignature.barDuration.quarterLength
    sums = [total(bar.notesAndRests) for bar in found]
    if sums[0] < full:
        sums = [*sums[1:-1], sums[0] + sums[-1]]
    return {full}, set(sums)


def complete_the_bar(one: Document):
    """With any accepted answer every bar is as long as its time signature says."""
    full = metre(one.facts["time"]).barDuration.quarterLength
    sums = {total(bar.notesAndRests) for score in one.answers for bar in bars(score)}
    return {full}, sums


def _made(value) -> note.GeneralNote:
    """A bare note or rest of music21's, of one of our values."""
    made = note.Rest() if value.get("rest") else note.Note("B4")
    made.duration = duration.Duration(type=TYPES[value["type"]], dots=value.get("dots", 0))
    if "tuplet" in value:
        made.duration.appendTuplet(duration.Tuplet(value["tuplet"]["actual"], value["tuplet"]["normal"]))
    return made


def beam_the_bar(one: Document):
    """music21's own beaming of the unbeamed bar is among those accepted."""
    row = [_made(value) for value in one.facts.get("row", one.facts.get("bar"))]
    beams = metre(one.facts["time"]).getBeams(row)
    groups, run = [], []
    for place, found in enumerate(beams):
        kind = found.beamsList[0].type if found is not None and len(found.beamsList) else None
        if kind in ("start", "continue", "stop"):
            run.append(place)
        if kind == "stop":
            groups.append(tuple(run))
            run = []
    accepted = []
    for answer in one.json["answers"]:
        by_group: dict[int, list[int]] = {}
        for place, value in enumerate(answer["value"][0]["rhythm"]):
            if "beam" in value:
                by_group.setdefault(value["beam"], []).append(place)
        accepted.append(sorted(tuple(run) for run in by_group.values() if len(run) > 1))
    return sorted(groups), sorted(groups) if sorted(groups) in accepted else accepted


def interval_number(one: Document):
    low, high = one.pitches
    return interval.Interval(low, high).generic.undirected, one.model["number"]


def name_the_interval(one: Document):
    return interval_words(*one.pitches), one.text


def interval_in_a_melody(one: Document):
    """Bars by their printed numbers as music21 reads them."""
    by_number = {bar.number: sounding(bar) for bar in bars(one.shown)}
    facts = one.facts
    ends = [by_number[facts[f"{which}_bar"]][facts[f"{which}_note"] - 1].pitch for which in ("first", "second")]
    return interval_words(*sorted(ends, key=lambda p: (p.diatonicNoteNum, p.ps))), one.text


def write_the_interval(one: Document):
    """The interval from the given note to the one that is written; without a quality, the key's own note."""
    facts = one.facts
    given, written = pitch.Pitch(spelt(facts["given"])), one.answers[0].pitches[-1]
    low, high = (written, given) if facts["below"] else (given, written)
    found = interval.Interval(low, high)
    if not facts["quality"]:
        from services.printed_documents import key_named

        kept = key_named(facts["key"]).accidentalByStep(written.step)
        return (facts["number"], kept.alter if kept else 0), (found.generic.undirected, written.alter)
    return f"{facts['quality']}{facts['number']}", found.name


_FAMILIES = (
    ("keyboard", instrument.KeyboardInstrument),
    ("woodwind", instrument.WoodwindInstrument),
    ("brass", instrument.BrassInstrument),
    ("percussion", instrument.Percussion),
    ("strings", instrument.StringInstrument),
)
_NAMES = {
    "double bass": "Contrabass", "cor anglais": "English Horn", "cello": "Violoncello", "side drum": "Snare Drum",
    "french horn": "Horn", "cymbals": "Cymbals", "tambourine": "Tambourine",
}  # fmt: skip


def family(name: str) -> str:
    found = instrument.fromString(_NAMES.get(name, name))
    return next(said for said, class_ in _FAMILIES if isinstance(found, class_))


def instrument_facts(one: Document):
    """Families only: reeds, clefs and directions are not in music21."""
    facts = one.facts
    if facts["ask"] != "family":
        return None, None
    if facts["name"]:
        return family(facts["name"]), one.text
    return [name for name in facts["among"] if family(name) == facts["what"]], [one.text]
