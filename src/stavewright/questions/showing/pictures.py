"""A whole picture of music in words: what is printed, sign by sign, without the names that a question may ask."""

from __future__ import annotations

from stavewright.questions.showing.describing import where, with_sign
from stavewright.questions.showing.shapes import shape
from stavewright.score.event import Chord, Event, Gap, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.accidental import sign_name, sign_text
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import signature_text

_LONGEST = 1900


def picture(score: Score, *, shapes: bool = False) -> str:
    """Say what a picture of music shows: clefs, signatures, and every note by place, sign and shape.

    Shapes are left out where all notes have the same one, unless `shapes` asks for them: where values are the thing
    asked, a pupil who cannot see the picture needs them. A score too long to say is cut short at a whole bar.

    >>> from stavewright.score.stave import single
    >>> from stavewright.theory.duration import Duration
    >>> from stavewright.theory.pitch import Pitch
    >>> picture(single("treble", (Note(Pitch("B", -1, 4), Duration("minim"), accidental="flat"),)))
    'The treble clef. A note on the 3rd line, with a flat before it.'
    """
    lengths = {(event.duration, isinstance(event, Rest)) for event in score.events() if not isinstance(event, Gap)}
    said: list[str] = []
    for number, stave in enumerate(score.staves, 1):
        name = f"Stave {number}. " if len(score.staves) > 1 else ""
        said.append(name + heading(stave))
        for index, bar in enumerate(stave.bars):
            count = f"Bar {score.bar_number(index)}: " if len(stave.bars) > 1 else ""
            said.append(count + _bar(bar, stave.clef, shapes=shapes or len(lengths) > 1))
    kept: list[str] = []
    for sentence in said:
        if sum(map(len, kept)) + len(sentence) + len(kept) > _LONGEST:
            break
        kept.append(sentence)
    return " ".join(kept)


def heading(stave: Stave) -> str:
    """What stands at the beginning of a stave: clef, key signature, time signature.

    >>> from stavewright.theory.metre import TimeSignature
    >>> heading(Stave("bass", (Bar(((),)),), fifths=2, time=TimeSignature(3, 8)))
    'The bass clef, 2 sharps in the key signature, 3/8 time.'
    """
    parts = [f"The {stave.clef} clef" if stave.show_clef else "No clef"]
    if stave.signs:
        bottom = CLEFS[stave.clef]
        signs = (f"a {sign_text(sign_name(s.alter))} {where(bottom.place(s))}" for s in stave.signs)
        parts.append("in the key signature " + ", ".join(signs))
    elif stave.fifths:
        parts.append(f"{signature_text(stave.fifths)} in the key signature")
    if stave.time is not None:
        parts.append(f"{stave.time.text} time")
    return ", ".join(parts) + "."


def _bar(bar: Bar, clef: str, *, shapes: bool) -> str:
    shown = bar.clef or clef
    voices = []
    for voice in bar.voices:
        events = []
        for at, event in enumerate(voice):
            following = voice[at + 1] if at + 1 < len(voice) else None
            events.append(_event(event, following, shown, shapes=shapes))
        voices.append("; ".join(events))
    said = ". Second voice: ".join(voices) + "."
    return said[0].upper() + said[1:]


def _event(event: Event, following: Event | None, clef: str, *, shapes: bool) -> str:
    place = CLEFS[clef].place
    if isinstance(event, Gap):
        return "an empty place"
    if isinstance(event, Rest):
        return "a rest" + (f", {shape(event.duration, rest=True)}" if shapes else "")
    if isinstance(event, Chord):
        places = " and ".join(with_sign(place(p), a) for p, a in zip(event.pitches, event.accidentals, strict=True))
        found = f"a chord {places}"
    else:
        found = f"a note {with_sign(place(event.pitch), event.accidental)}"
        found = f"a grace {found[2:]}" if event.grace else found
    if shapes:
        found += f", {shape(event.duration)}"
    if event.duration.tuplet is not None:
        name = event.duration.tuplet.name
        found += f", in {'an' if name[0] == 'o' else 'a'} {name}"
    if event.tie:
        found += ", tied to the next"
    if event.beam is not None and isinstance(following, Note | Chord | Rest) and following.beam == event.beam:
        found += ", on one beam with the next"
    return found
