"""Write the next link of a sequence: the same pattern moved once more by as many steps, within the key."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from msgspec.structs import replace as changed

from stavewright.questions.documents import Answer, NotesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.bars import beamed, pick_time, rhythm_bar
from stavewright.questions.setting.picking import fits, pick, pick_clef
from stavewright.questions.showing.extract import spoken_extract
from stavewright.questions.showing.rewritten import written_melody
from stavewright.questions.solving.transposing import Version, notes_of, version_of, written
from stavewright.questions.values import Value, WrittenNote, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.score.check import signature_alter
from stavewright.score.event import Gap, Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration
from stavewright.theory.interval import between, ordinal
from stavewright.theory.key import Key, key_of
from stavewright.theory.pitch import Pitch
from stavewright.theory.transposition import transpose

_TRIES = 30
_FEWEST, _MOST = 3, 6
_SHIFTS = (1, -1, -1, 2, -2)
_MOVES = (1, -1, 1, -1, 2, -2, 3, -3)


class ContinueTheSequence(Facts, frozen=True, forbid_unknown_fields=True):
    """Two bars as they are printed, the second the first moved within the key.

    Raises:
        BadDocument: not two bars of one stave, or the second bar is not the first one moved.
    """

    music: ScoreDocument

    def __post_init__(self) -> None:
        stave = score_of(self.music).staves[0]
        if len(self.music.staves) != 1 or len(stave.bars) != 2 or _shift(self) is None:
            raise BadDocument("a sequence is two bars on one stave, the second the first one moved by steps")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    key = pick(rng, scope.major_keys, [k for k in scope.major_keys if k.tonic.short in scope.fresh.get("majors", ())])
    clef = pick_clef(scope, rng)
    low, high = scope.range_of(clef)
    time = pick_time(scope, rng, ("simple", "compound"))
    for _ in range(_TRIES):
        row = beamed(rhythm_bar(scope, rng, time, tuplets=False), time)
        shift = rng.choice(_SHIFTS)
        if not _FEWEST <= len(row) <= _MOST:
            continue
        steps = [rng.randint(low.diatonic, high.diatonic)]
        for _ in row[1:]:
            steps.append(steps[-1] + rng.choice(_MOVES))
        links = [[_in_key(step + shift * link, key) for step in steps] for link in range(3)]
        if len(set(steps)) < 2 or not all(fits(link, scope, clef) for link in links):
            continue
        bars = tuple(_bar(row, link, number) for number, link in enumerate(links[:2], 1))
        stave = Stave(clef, bars, fifths=key.fifths, time=time)
        notes = tuple(
            WrittenNote(p.step, p.alter, p.octave, value.type, value.dots)
            for p, value in zip(links[2], row, strict=True)
        )
        return Draft(
            ContinueTheSequence(document_of(Score((stave,)))), Value(notes=notes, clef=clef, signature=key.fifths)
        )
    return None


def _in_key(step: int, key: Key) -> Pitch:
    bare = Pitch.from_diatonic(step)
    return Pitch(bare.step, key.alter_of(bare.step), bare.octave)


def _bar(row: Sequence[WrittenValue], pitches: Sequence[Pitch], number: int) -> Bar:
    notes = zip(row, pitches, strict=True)
    return Bar((tuple(Note(p, v.duration, f"b{number}n{at}", beam=v.beam) for at, (v, p) in enumerate(notes, 1)),))


def _score(facts: ContinueTheSequence) -> Score:
    return score_of(facts.music)


def _one(facts: ContinueTheSequence, index: int = 0) -> Score:
    """One of the two bars, as music of its own."""
    score = _score(facts)
    stave = score.staves[0]
    return Score((Stave(stave.clef, (stave.bars[index],), fifths=stave.fifths, time=stave.time),))


def _row(facts: ContinueTheSequence, index: int) -> list[Pitch]:
    return [note.pitch for note in notes_of(_one(facts, index))]


def _shift(facts: ContinueTheSequence) -> int | None:
    """How many steps the second bar is moved; None where it is no sequence."""
    first, second = _row(facts, 0), _row(facts, 1)
    if len(first) != len(second) or len(first) < 2:
        return None
    moved = {b.diatonic - a.diatonic for a, b in zip(first, second, strict=True)}
    return moved.pop() if len(moved) == 1 and moved != {0} else None


def _moved(facts: ContinueTheSequence, pitches: Sequence[Pitch], by: Sequence[int]) -> list[Pitch]:
    """Pitches moved by steps, with the sharps and flats of the signature."""
    fifths = _score(facts).staves[0].fifths or 0
    found = []
    for pitch, step in zip(pitches, by, strict=True):
        bare = Pitch.from_diatonic(pitch.diatonic + step)
        found.append(Pitch(bare.step, signature_alter(bare.step, fifths), bare.octave))
    return found


def _version(facts: ContinueTheSequence, pitches: Sequence[Pitch]) -> Version:
    one = _one(facts)
    return version_of(one, one.staves[0].fifths, pitches)


def _value(facts: ContinueTheSequence, version: Version) -> Value:
    return changed(written(_one(facts), version), bar_lines=None)


def _text(version: Version) -> str:
    return ", ".join(note.pitch.name.text for note in version.notes)


def _far(shift: int) -> str:
    return f"a {ordinal(abs(shift) + 1)} {'higher' if shift > 0 else 'lower'}"


def _pose(facts: ContinueTheSequence, wording: Wording) -> Posed:
    score = _score(facts)
    shown = StaveBlock(facts.music, wording.say(spoken_extract(score)))
    if wording.choosing:
        ask = "These two bars begin a sequence. Which bar comes next, if the sequence goes on in the same key?"
        return Posed((TextBlock(wording.say(ask)), shown))
    ask = "These two bars begin a sequence. Write the next bar, so that the sequence goes on in the same key."
    stave = score.staves[0]
    count = len(notes_of(_one(facts)))
    room = Bar((tuple(Gap(Duration("semibreve"), f"g{place}") for place in range(1, count + 2)),), free=True)
    empty = Score((Stave(stave.clef, (room,), fifths=stave.fifths),))
    form = NotesForm(document_of(empty), count, free=True, alt=wording.say(f"An empty bar, {stave.clef} clef."))
    return Posed((TextBlock(wording.say(ask)), shown), form)


def _right(facts: ContinueTheSequence) -> list[Pitch]:
    second = _row(facts, 1)
    return _moved(facts, second, [_shift(facts) or 0] * len(second))


def _solve(facts: ContinueTheSequence) -> tuple[Answer, ...]:
    version = _version(facts, _right(facts))
    reason = f"Each bar stands {_far(_shift(facts) or 0)} than the one before, with the notes of the key."
    return (answer(_value(facts, version), _text(version), reason),)


def _exact(facts: ContinueTheSequence) -> list[Pitch]:
    """The second bar moved by the exact interval between the first notes: it leaves the key."""
    first, second = _row(facts, 0), _row(facts, 1)
    gap = between(first[0], second[0])
    return [transpose(pitch, gap, up=(_shift(facts) or 0) > 0) for pitch in second]


def _slips(facts: ContinueTheSequence) -> tuple[Slip, ...]:
    first, second, shift = _row(facts, 0), _row(facts, 1), _shift(facts) or 0
    count = len(second)
    right = _right(facts)
    far = shift + (1 if shift > 0 else -1)
    turned = [second[0].diatonic + shift - (pitch.diatonic - second[0].diatonic) - pitch.diatonic for pitch in second]
    key = "Stay in the key: count lines and spaces, not semitones."
    wrong = [
        ("moved exactly, out of the key", _exact(facts), key),
        ("moved one step too far", _moved(facts, second, [far] * count), "Move as far as from bar 1 to bar 2."),
        ("last bar again", second, "A sequence moves on: every link is higher or lower than the one before."),
        ("back to the first bar", first, "Go on in the same direction as from bar 1 to bar 2."),
        ("turned upside down", _moved(facts, second, turned), "Keep the shape: what went up must go up again."),
        ("shape lost at the end", _moved(facts, second, [shift] * (count - 1) + [shift + 1]), "Check the last note."),
    ]
    found: list[Slip] = []
    for name, pitches, remedy in wrong:
        version = _version(facts, pitches)
        if pitches != right and all(_value(facts, version) != one.value[0] for one in found):
            found.append(slip(name, _value(facts, version), _text(version), remedy))
    return tuple(found)


def _work(facts: ContinueTheSequence, method: str) -> tuple[Step, ...]:
    shift = _shift(facts) or 0
    first, second = (notes_of(_one(facts, index)) for index in range(2))
    key = key_of(_score(facts).staves[0].fifths or 0, "major")
    names = ", ".join(pitch.name.text for pitch in _right(facts))
    far = _far(shift)
    return (
        Step(f"Compare the first notes of the bars: the second bar is {far}.", (first[0].id, second[0].id), far),
        Step(f"Move every note of bar 2 in the same way: {names}.", tuple(note.id for note in second), names),
        Step("Keep the rhythm: the same values in the same order.", (), ""),
        Step(f"Check: every note belongs to {key.text}, so no accidental is needed.", (), ""),
    )


def _draw(facts: ContinueTheSequence, value: Value) -> Score:
    one = _one(facts)
    return written_melody(one, value, one.staves[0].fifths)


def _difficulty(facts: ContinueTheSequence) -> float:
    """Moving by a 3rd is harder than by a 2nd; more notes are more to move (common practice)."""
    return -1.0 + 0.5 * (abs(_shift(facts) or 0) - 1) + 0.15 * len(_row(facts, 0))


KIND = Kind(
    id="continue-the-sequence",
    topic="reading",
    since=3,
    title="Continue the sequence",
    facts=ContinueTheSequence,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"continue-the-sequence/{_far(_shift(facts) or 0)}",
    pool=lambda scope: None,
    seconds=60,
    marking=Marking("minus-one-per-fault", values=True),
    marks=3,
    draw=_draw,
)
