"""Rewrite a melody with accidentals in the place of its key signature, or with a key signature."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from random import Random

from msgspec import structs

from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Line, ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.picking import pick_key
from stavewright.questions.setting.rewritable import meant, plain_melody, sign_over_a_bar_line
from stavewright.questions.showing.extract import own_blocks
from stavewright.questions.showing.rewritten import empty_melody, written_melody
from stavewright.questions.solving.careless_signs import careless_versions, heard_text, without_signs
from stavewright.questions.solving.transposing import Version, notes_of, version_of
from stavewright.questions.solving.transposing import written as fully_written
from stavewright.questions.solving.transposing_work import near_versions
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import KeyText
from stavewright.score.event import Note
from stavewright.score.stave import Score
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import MOST_SIGNS, Key, signature_alter, signature_text

_TRIES = 10
_BARS = 2
_FEWEST = 2


class WithAndWithoutSignature(Facts, frozen=True, forbid_unknown_fields=True):
    """The melody as it is printed, with the signature of its key or without any, and that key.

    Raises:
        BadDocument: the key has no signature, or the melody prints another one.
    """

    melody: ScoreDocument
    key: KeyText
    credit: Line = ""

    def __post_init__(self) -> None:
        key = Key.parse(self.key)
        printed = self.melody.staves[0].fifths
        if not key.fifths or printed not in (None, key.fifths):
            raise BadDocument(f"{self.key} and a printed signature of {printed} do not go together: name its own key")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if melodies is None:
        return None
    adding = rng.random() < 0.5
    for _ in range(_TRIES):
        key = pick_key(scope, rng)
        if key is None or not key.fifths:
            continue
        found = plain_melody(melodies, scope, rng, bars=_BARS, key=key)
        if found is None:
            continue
        signed = with_accidentals(_under(found.score, key.fifths))
        bare = with_accidentals(_under(found.score, None))
        if sum(_by_signature(note, key) for note in signed.notes()) < _FEWEST or sign_over_a_bar_line(bare, 0):
            continue
        if sign_over_a_bar_line(signed, key.fifths):
            continue
        shown, wanted = (bare, signed) if adding else (signed, bare)
        facts = WithAndWithoutSignature(document_of(shown), key.text, found.credit)
        return Draft(facts, structs.replace(meant(wanted), clef=None))
    return None


def _under(score: Score, fifths: int | None) -> Score:
    return replace(score, staves=(replace(score.staves[0], fifths=fifths),))


def _by_signature(note: Note, key: Key) -> bool:
    """Whether the signature alone makes the note sharp or flat."""
    return note.accidental is None and bool(key.alter_of(note.pitch.step))


def _score(facts: WithAndWithoutSignature) -> Score:
    return score_of(facts.melody)


def _adding(facts: WithAndWithoutSignature) -> bool:
    return facts.melody.staves[0].fifths is None


def _wanted_fifths(facts: WithAndWithoutSignature) -> int | None:
    return Key.parse(facts.key).fifths if _adding(facts) else None


def _pose(facts: WithAndWithoutSignature, wording: Wording) -> Posed:
    score = _score(facts)
    blocks = own_blocks(facts.melody, wording, credit=facts.credit)
    how = f"with the key signature of {facts.key}" if _adding(facts) else "without a key signature"
    if wording.choosing:
        return Posed(
            (TextBlock(wording.say(f"Which answer is this melody written {how}, sounding the same?")), *blocks)
        )
    more = "and leave out the accidentals that are no longer needed" if _adding(facts) else "but with accidentals"
    values = tuple(dict.fromkeys(note.duration.type for note in notes_of(score)))
    given = document_of(empty_melody(score))
    alt = wording.say("An empty stave with the clef, time signature, bar lines and rests of the melody.")
    form = NotesForm(given, len(notes_of(score)), values, alt=alt)
    ask = f"Rewrite this melody {how}, {more}. It must sound the same."
    return Posed((TextBlock(wording.say(ask)), *blocks), form)


def _right(facts: WithAndWithoutSignature) -> Version:
    score = _score(facts)
    return version_of(score, _wanted_fifths(facts), [note.pitch for note in notes_of(score)])


def _written(score: Score, version: Version) -> Value:
    """A version as it is written; the clef is printed, so that no answer need name it."""
    return structs.replace(fully_written(score, version), clef=None)


def _signs(version: Version) -> str:
    count = sum(note.accidental is not None for note in version.notes)
    return f"{count} accidental{'' if count == 1 else 's'}" if count else "no accidental"


def _solve(facts: WithAndWithoutSignature) -> tuple[Answer, ...]:
    score, right = _score(facts), _right(facts)
    needs = f"needs {_signs(right)}"
    if right.fifths is not None:
        reason = f"With {signature_text(right.fifths)} in the signature it {needs}."
    else:
        reason = f"Without the signature it {needs}: one in each bar for every line or space."
    return (answer(_written(score, right), heard_text(score, right), reason),)


def _slips(facts: WithAndWithoutSignature) -> tuple[Slip, ...]:
    score = _score(facts)
    return tuple(
        slip(one.name, _written(score, one), heard_text(score, one), one.remedy, steady=one.steady)
        for one in _wrong(facts)
    )


def _wrong(facts: WithAndWithoutSignature) -> Iterator[Version]:
    score, right = _score(facts), _right(facts)
    key = Key.parse(facts.key)
    yield from careless_versions(score, right)
    if not _adding(facts):
        old = tuple(
            replace(note, accidental=was.accidental) for note, was in zip(right.notes, score.notes(), strict=True)
        )
        hint = "The signature is gone: each note that it changed needs its own sign now."
        yield Version("signature forgotten", None, old, hint, steady=True)
        last = key.signature[-1].step
        short = tuple(
            replace(n, accidental=None) if n.pitch.step == last and n.pitch.alter == key.alter_of(last) else n
            for n in right.notes
        )
        yield Version("last sign of the signature forgotten", None, short, "Count the signs of the signature.")
        hint = "The question says: without a key signature."
        yield Version("signature kept", key.fifths, old, hint, steady=True)
        return
    if any(note.accidental for note in right.notes):
        hint = "A note that is not as the signature makes it keeps a sign of its own."
        yield without_signs(right, "signs dropped that are still needed", hint)
    none = without_signs(right, "signature not written", "Write the key signature first.")
    yield Version(none.name, 0, none.notes, none.remedy, steady=True)
    hint = f"{facts.key} has {signature_text(key.fifths)}."
    for away in (1, -1):
        fifths = key.fifths + away
        if abs(fifths) <= MOST_SIGNS:
            name = f"one sign too {'many' if abs(fifths) > abs(key.fifths) else 'few'}"
            yield Version(name, fifths, right.notes, hint, steady=True)


def _work(facts: WithAndWithoutSignature, method: str) -> tuple[Step, ...]:
    score, right = _score(facts), _right(facts)
    key = Key.parse(facts.key)
    names = ", ".join(sign.text for sign in key.signature)
    changed = [note for note in notes_of(score) if note.pitch.alter == key.alter_of(note.pitch.step) != 0]
    ids = tuple(note.id for note in changed if note.id)
    steps = [Step(f"The signature of {key.text} has {signature_text(key.fifths)}: {names}.", (), names)]
    own = [note for note in notes_of(score) if note.pitch.alter != signature_alter(key.fifths, note.pitch.step)]
    if _adding(facts):
        steps.append(Step("These notes need no sign of their own any more.", ids, "cross out"))
    else:
        steps.append(Step("These notes were changed by the signature: each needs a sign now.", ids, "mark"))
        steps.append(Step("Within a bar one sign does for a line or space; the bar line ends it.", (), "bar by bar"))
    if own:
        still = list(dict.fromkeys(note.pitch.name.full_text for note in own))
        said = ", ".join(still)
        ids = tuple(note.id for note in own if note.id)
        look = "look at it with care" if len(still) == 1 else "look at them with care"
        steps.append(Step(f"The signature does not give {said}: {look}.", ids, said))
    steps.append(Step(f"The rewritten melody has {_signs(right)}.", (), ""))
    steps.append(Step("Check: name each note before and after; they must be the same.", (), ""))
    return tuple(steps)


def _neighbours(facts: WithAndWithoutSignature) -> tuple[Value, ...]:
    return near_versions(_score(facts), _right(facts))


def _draw(facts: WithAndWithoutSignature, value: Value) -> Score:
    return written_melody(_score(facts), value, None)


def _difficulty(facts: WithAndWithoutSignature) -> float:
    """More signs to write, a longer signature and the C clefs make it harder (common practice)."""
    score, right = _score(facts), _right(facts)
    signs = sum(note.accidental is not None for note in right.notes)
    clef = score.staves[0].clef in ("alto", "tenor")
    return -0.8 + 0.08 * min(signs, 10) + 0.1 * abs(Key.parse(facts.key).fifths) + 0.3 * clef


KIND = Kind(
    id="with-and-without-signature",
    topic="keys",
    since=2,
    title="With and without a key signature",
    facts=WithAndWithoutSignature,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"with-and-without-signature/{'with' if _adding(facts) else 'without'}",
    pool=lambda scope: None,
    seconds=150,
    marking=Marking("minus-one-per-fault", values=True, heading=True),
    marks=4,
    draw=_draw,
    neighbours=_neighbours,
    shows=lambda facts: frozenset() if _adding(facts) else frozenset({f"signature:{facts.key}"}),
    asks=lambda facts: frozenset({f"signature:{facts.key}"}) if _adding(facts) else frozenset(),
)
