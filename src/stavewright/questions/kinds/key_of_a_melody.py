"""Name the key of an extract whose signature, last note and leading note prove it."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.picking import pick_clef, pick_key
from stavewright.questions.showing.extract import extract_blocks
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.event import Chord, Note
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import MOST_SIGNS, Key, key_of, nearest_key, signature_text
from stavewright.theory.key_proof import KeyProof, prove_key
from stavewright.theory.pitch import NoteName


class KeyOfAMelody(Facts, frozen=True, forbid_unknown_fields=True):
    """The extract as it is printed, the block it is printed under, and the line that names its source.

    `minors` says whether the pupil knows minor keys: where not, nothing is said of them.
    """

    extract: ScoreDocument
    block: str = "extract"
    credit: str = ""
    minors: bool = True


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    minors = any(key.is_minor for key in scope.keys)
    if stimulus is not None:
        key = stimulus.extract.key
        if key is None or key not in scope.keys:
            return None
        return Draft(KeyOfAMelody(stimulus.document, stimulus.block, minors=minors), key.text)
    if melodies is None:
        return None
    wanted = pick_key(scope, rng)
    extract = melodies.melody(scope, rng, bars=4, clef=pick_clef(scope, rng), key=wanted)
    if extract is None or extract.key is None:
        return None
    facts = KeyOfAMelody(document_of(extract.score), block="", credit=extract.credit, minors=minors)
    return Draft(facts, extract.key.text)


def _pose(facts: KeyOfAMelody, wording: Wording) -> Posed:
    blocks = extract_blocks(facts.extract, wording, block=facts.block, credit=facts.credit)
    if wording.choosing:
        return Posed((TextBlock("In which key is this music?"), *blocks))
    ask = f"In which key is this music?{' Say whether it is major or minor.' if facts.minors else ''}"
    return Posed((TextBlock(ask), *blocks), WordsForm("word"))


def _notes(facts: KeyOfAMelody) -> list[Note | Chord]:
    return list(score_of(facts.extract).sounding())


def _fifths(facts: KeyOfAMelody) -> int:
    return facts.extract.staves[0].fifths or 0


def _proof(facts: KeyOfAMelody) -> KeyProof:
    # The lowest note of a chord at the end is its bass, which decides.
    return prove_key([event.pitches[0] for event in _notes(facts)], _fifths(facts))


def _solve(facts: KeyOfAMelody) -> tuple[Answer, ...]:
    proof = _proof(facts)
    count = signature_text(_fifths(facts))
    if proof.key is not None:
        reason = f"The signature has {count}; {proof.reason}."
        return (answer(Value(words=proof.key.text), proof.key.text, reason),)
    return tuple(
        answer(Value(words=key.text), key.text, f"Either key with {count} is accepted: {proof.reason}.")
        for key in proof.candidates
    )


def _key(facts: KeyOfAMelody) -> Key:
    return _proof(facts).candidates[0]


def _on(tonic: NoteName, mode: str) -> Key:
    """The key a pupil names on a note: in the other mode where this one has too many signs."""
    signs = {"major": tonic.fifths, "minor": tonic.fifths - 3}
    other = "minor" if mode == "major" else "major"
    fitting = [one for one in (mode, other) if abs(signs[one]) <= MOST_SIGNS]
    return Key(tonic, fitting[0]) if fitting else nearest_key(tonic, mode)


def _slips(facts: KeyOfAMelody) -> tuple[Slip, ...]:
    key = _key(facts)
    first = _notes(facts)[0].pitches[0].name
    leading = "Look for the raised 7th: it tells the minor key from its relative major."
    wrong = [
        ("relative without looking for the leading note", key.relative, leading),
        ("first note taken for the tonic", _on(first, key.mode), "The last note says more than the first."),
        ("major and minor mixed", key.parallel, "Compare the signature with the keys you know on this tonic."),
    ]
    for fifths in (key.fifths + 1, key.fifths - 1):
        if abs(fifths) <= MOST_SIGNS:
            wrong.append(("signature miscounted", key_of(fifths, key.mode), "Count the sharps or flats once more."))
    return tuple(
        slip(name, Value(words=one.text), one.text, remedy)
        for name, one, remedy in wrong
        if facts.minors or not one.is_minor
    )


def _work(facts: KeyOfAMelody, method: str) -> tuple[Step, ...]:
    key = _key(facts)
    major, minor = key_of(key.fifths, "major"), key_of(key.fifths, "minor")
    notes = _notes(facts)
    last = notes[-1].pitches[0].name
    ending = Step(f"The last note is {last.text}.", (notes[-1].id,) if notes[-1].id else (), last.short)
    if not facts.minors:
        count = signature_text(key.fifths)
        return (
            Step(f"The signature has {count}: {major.text}.", (), major.short),
            ending,
            Step(f"So the key is {key.text}.", (), key.short),
            Step("Check: the last note must be the tonic of your key, its note 1.", (), ""),
        )
    leading = tuple(note.id for note in notes if note.pitches[0].name == minor.leading_note and note.id)
    found = (
        f"It has {minor.leading_note.full_text}, the raised 7th of {minor.text}."
        if leading
        else f"It has no {minor.leading_note.full_text}, the raised 7th of {minor.text}."
    )
    also, check = "", "Check: the last note must be the tonic of your key."
    if _proof(facts).key is None:
        also = f", or {key.relative.text}: the notes do not prove which"
        check = "Check: could both keys have this signature and these notes?"
    return (
        Step(
            f"The signature has {signature_text(key.fifths)}: {major.text} or {minor.text}.",
            (),
            f"{major.short} / {minor.short}",
        ),
        Step(found, leading, minor.leading_note.short),
        ending,
        Step(f"So the key is {key.text}{also}.", (), key.short),
        Step(check, (), ""),
    )


def _neighbours(facts: KeyOfAMelody) -> tuple[Value, ...]:
    key = _key(facts)
    near = [key.fifths + step for step in (-3, -2, 2, 3) if abs(key.fifths + step) <= MOST_SIGNS]
    return tuple(Value(words=key_of(fifths, key.mode).text) for fifths in near)


def _difficulty(facts: KeyOfAMelody) -> float:
    """More signs, a minor key, and a first note that is not the tonic make it harder (common practice)."""
    key = _key(facts)
    off = _notes(facts)[0].pitches[0].name != key.tonic
    return -0.8 + 0.2 * abs(key.fifths) + 0.5 * key.is_minor + 0.2 * off


KIND = Kind(
    id="key-of-a-melody",
    topic="keys",
    since=1,
    title="Key of a melody",
    facts=KeyOfAMelody,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"key-of-a-melody/{_key(facts).mode}",
    pool=lambda scope: None,
    seconds=45,
    extract=True,
    neighbours=_neighbours,
    asks=lambda facts: frozenset({f"key-of-extract:{_key(facts).text}"}),
)
