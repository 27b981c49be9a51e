"""Rewrite a melody an octave higher or lower, in the same clef or another."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from random import Random

from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Line, ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.picking import fits
from stavewright.questions.setting.rewritable import meant, plain_melody, sign_over_a_bar_line, with_pitches
from stavewright.questions.showing.describing import where
from stavewright.questions.showing.extract import own_blocks
from stavewright.questions.showing.rewritten import empty_melody, written_melody
from stavewright.questions.solving.transposing import Version, notes_of, signature_of, signed_notes, version_of, written
from stavewright.questions.solving.transposing_work import near_versions
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS, Clef
from stavewright.theory.key import signature_alter
from stavewright.theory.pitch import Pitch

_TRIES = 8
_BARS = 2
_LOWEST, _HIGHEST = -10, 18


class OctaveShift(Facts, frozen=True, forbid_unknown_fields=True):
    """The melody as it is printed, the clef to write it in, and the direction of the octave."""

    melody: ScoreDocument
    clef: ClefName
    up: bool
    credit: Line = ""


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if melodies is None:
        return None
    for _ in range(_TRIES):
        found = plain_melody(melodies, scope, rng, bars=_BARS)
        if found is None or sign_over_a_bar_line(found.score, found.score.staves[0].fifths or 0):
            continue
        ways = []
        for up in (True, False):
            moved = with_pitches(found.score, partial(Pitch.shifted, octaves=1 if up else -1))
            pitches = [note.pitch for note in moved.notes()]
            ways += [(up, clef, moved) for clef in scope.clefs if fits(pitches, scope, clef)]
        if ways:
            up, clef, moved = rng.choice(ways)
            new = replace(moved, staves=(replace(moved.staves[0], clef=clef),))
            return Draft(OctaveShift(document_of(found.score), clef, up, found.credit), meant(new))
    return None


def _score(facts: OctaveShift) -> Score:
    return score_of(facts.melody)


def _stave(facts: OctaveShift) -> Score:
    """The melody as it stands, under the clef to write in: its notes mean nothing there."""
    score = _score(facts)
    return replace(score, staves=(replace(score.staves[0], clef=facts.clef),))


def _way(facts: OctaveShift) -> str:
    return "higher" if facts.up else "lower"


def _pose(facts: OctaveShift, wording: Wording) -> Posed:
    score = _score(facts)
    blocks = own_blocks(facts.melody, wording, credit=facts.credit)
    same = facts.clef == score.staves[0].clef
    where_to = f"in the {facts.clef} clef" if not same else "in the same clef"
    if wording.choosing:
        ask = f"Which answer is this melody an octave {_way(facts)}, {where_to}?"
        return Posed((TextBlock(wording.say(ask)), *blocks))
    values = tuple(dict.fromkeys(note.duration.type for note in notes_of(score)))
    given = document_of(empty_melody(_stave(facts), signature_of(score)))
    said = f"An empty stave with the {facts.clef} clef, the same signatures, bar lines and rests."
    form = NotesForm(given, len(notes_of(score)), values, alt=wording.say(said))
    ask = f"Rewrite this melody an octave {_way(facts)}, {where_to}. Keep the values and the signs."
    return Posed((TextBlock(wording.say(ask)), *blocks), form)


def _moved(facts: OctaveShift, octaves: int) -> Version:
    score = _stave(facts)
    return version_of(score, signature_of(score), [note.pitch.shifted(octaves) for note in notes_of(score)])


def _right(facts: OctaveShift) -> Version:
    return _moved(facts, 1 if facts.up else -1)


def _text(version: Version) -> str:
    return ", ".join(note.pitch.text for note in version.notes)


def _solve(facts: OctaveShift) -> tuple[Answer, ...]:
    right = _right(facts)
    first = right.notes[0].pitch
    place = where(CLEFS[facts.clef].place(first))
    reason = f"Every note keeps its name, an octave {_way(facts)}: the first one, {first.name.text}, stands {place}."
    return (answer(written(_stave(facts), right), _text(right), reason),)


def _slips(facts: OctaveShift) -> tuple[Slip, ...]:
    score, stave = _score(facts), _stave(facts)
    fifths = signature_of(score)
    right = _right(facts)
    clef, old = CLEFS[facts.clef], CLEFS[score.staves[0].clef]
    way = 1 if facts.up else -1
    found: list[Slip] = []

    def add(name: str, pitches: list[Pitch], remedy: str) -> None:
        if all(_LOWEST <= clef.place(pitch) <= _HIGHEST and abs(pitch.alter) <= 2 for pitch in pitches):
            wrong = version_of(stave, fifths, pitches)
            found.append(slip(name, written(stave, wrong), _text(wrong), remedy, steady=True))

    octave = "An octave is eight letters: count the first note as 1, and the new one as 8."
    pitches = [note.pitch for note in notes_of(score)]
    if clef is not old:
        kept = [_on_the_line(clef, old.place(pitch), pitch, fifths or 0) for pitch in pitches]
        add("kept the line", kept, f"In the {clef.name} clef each line has another letter: name the notes first.")
        add("left at the same pitch", pitches, f"Find middle C in both clefs, then go an octave {_way(facts)}.")
    add("two octaves", [pitch.shifted(2 * way) for pitch in pitches], octave)
    add("wrong direction", [pitch.shifted(-way) for pitch in pitches], "Read again: higher or lower?")
    if signed_notes(score):
        bare = replace(right, notes=tuple(replace(note, accidental=None) for note in right.notes))
        hint = "Copy each sign with its note: an octave away it is needed just the same."
        found.append(slip("signs dropped", written(stave, bare), _text(bare), hint))
    for extra in (way, -way):
        off = [Pitch.from_diatonic(note.pitch.diatonic + extra) for note in right.notes]
        add("off by a place", [one.altered(signature_alter(fifths or 0, one.step)) for one in off], octave)
    return tuple(found)


def _on_the_line(clef: Clef, place: int, pitch: Pitch, fifths: int) -> Pitch:
    """The note that a line or space of another clef is, with the sign that was printed before it, if any."""
    bare = clef.pitch_at(place)
    return bare.altered(signature_alter(fifths, bare.step) + pitch.alter - signature_alter(fifths, pitch.step))


def _work(facts: OctaveShift, method: str) -> tuple[Step, ...]:
    score = _score(facts)
    old, right = notes_of(score), _right(facts)
    clef, was = CLEFS[facts.clef], CLEFS[score.staves[0].clef]
    first, new = old[0].pitch, right.notes[0].pitch
    ids = (old[0].id,) if old[0].id else ()
    steps = [Step(f"The first note is {first.name.text}, {where(was.place(first))}.", ids, first.name.symbol)]
    if clef is was:
        side = "up" if facts.up else "down"
        steps.append(Step(f"Count eight letters {side} with it as 1: the same letter again.", ids, "1 ... 8"))
    else:
        middle = Pitch("C", 0, 4)
        said = f"Middle C is {where(was.place(middle))} in the {was.name} clef and {where(clef.place(middle))} in the "
        steps.append(Step(f"{said}{clef.name} clef.", (), "C"))
    steps.append(Step(f"An octave {_way(facts)} it stands {where(clef.place(new))}.", (), where(clef.place(new))))
    apart = signed_notes(score)
    if apart:
        names = ", ".join(dict.fromkeys(note.pitch.name.full_text for note in apart))
        steps.append(
            Step(f"Keep the signs, as on {names}.", tuple(note.id for note in apart if note.id), "copy the signs")
        )
    steps.append(Step("The other notes follow in the same shape, with the same values.", (), ""))
    end = right.notes[-1].pitch
    steps.append(Step(f"Check the last note: {end.name.text}, {where(clef.place(end))}.", (), ""))
    return tuple(steps)


def _neighbours(facts: OctaveShift) -> tuple[Value, ...]:
    return near_versions(_stave(facts), _right(facts))


def _draw(facts: OctaveShift, value: Value) -> Score:
    return written_melody(_stave(facts), value, signature_of(_score(facts)))


def _difficulty(facts: OctaveShift) -> float:
    """Another clef, the C clefs and signs to carry along make it harder (common practice)."""
    score = _score(facts)
    old = score.staves[0].clef
    c_clefs = len({old, facts.clef} & {"alto", "tenor"})
    return -0.6 + 0.5 * (old != facts.clef) + 0.4 * c_clefs + 0.1 * min(len(signed_notes(score)), 4)


def _skill(facts: OctaveShift) -> str:
    return f"octave-shift/{_score(facts).staves[0].clef}-{facts.clef} {'up' if facts.up else 'down'}"


KIND = Kind(
    id="octave-shift",
    topic="notes",
    since=3,
    title="An octave higher or lower",
    facts=OctaveShift,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=_skill,
    pool=lambda scope: None,
    seconds=120,
    marking=Marking("minus-one-per-fault", values=True),
    marks=4,
    draw=_draw,
    neighbours=_neighbours,
)
