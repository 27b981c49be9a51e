"""Write the signature of a named key: the right signs, in order, each on its own line or space in the clef."""

from __future__ import annotations

from collections.abc import Iterable
from random import Random

from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick, pick_clef
from stavewright.questions.setting.signature import laid_out, signed_keys
from stavewright.questions.showing.describing import where as where_on_stave
from stavewright.questions.showing.signature import drawn_signature, signature_stave
from stavewright.questions.solving.signatures import ORDER, borrowed, layouts, octave_off, signs_text, written_signs
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, KeyText
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import MOST_SIGNS, Key, signature_layout, signature_signs, signature_text
from stavewright.theory.pitch import Pitch


class WriteTheSignature(Facts, frozen=True, forbid_unknown_fields=True):
    """A key by name ("F sharp minor"), and the clef under which its signature is to be written."""

    clef: ClefName
    key: KeyText


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    everything, fresh = signed_keys(scope)
    key = pick(rng, everything, fresh)
    clef = pick_clef(scope, rng)
    return Draft(WriteTheSignature(clef, key.text), laid_out(key, clef))


def _pose(facts: WriteTheSignature, wording: Wording) -> Posed:
    if wording.choosing:
        return Posed((TextBlock(f"Which is the key signature of {facts.key}?"),))
    given = document_of(signature_stave(facts.clef, gap="n1"))
    alt = wording.say(f"An empty stave with the {facts.clef} clef.")
    return Posed((TextBlock(f"Write the key signature of {facts.key}."),), NotesForm(given, free=True, alt=alt))


def _layout(facts: WriteTheSignature) -> tuple[Pitch, ...]:
    return layouts(Key.parse(facts.key).fifths, facts.clef)[0]


def _solve(facts: WriteTheSignature) -> tuple[Answer, ...]:
    fifths = Key.parse(facts.key).fifths
    signs, *others = layouts(fifths, facts.clef)
    always = "on this place" if len(signs) == 1 else "in this order and on these places"
    reason = f"{facts.key} has {signature_text(fifths)}, always written {always}."
    found = [answer(written_signs(signs), signs_text(signs), reason)]
    for other in others:
        also = "Sharps in the tenor clef are also printed in the same shape as in the other clefs."
        found.append(answer(written_signs(other), signs_text(other), also))
    return tuple(found)


def _slips(facts: WriteTheSignature) -> tuple[Slip, ...]:
    key = Key.parse(facts.key)
    signs = _layout(facts)
    found: list[Slip] = []

    def add(name: str, wrong: Iterable[Pitch], remedy: str, *, steady: bool = False) -> None:
        wrong = tuple(wrong)
        found.append(slip(name, written_signs(wrong), signs_text(wrong), remedy, steady=steady))

    if len(signs) > 1:
        add("wrong order", signs[::-1], f"The order is always {ORDER[key.fifths > 0]}.", steady=True)
    moved = octave_off(facts.clef, signs)
    if moved:
        add("a sign in the wrong octave", moved, "Each sign has one place of its own in this clef: learn the pattern.")
    other = "bass" if facts.clef == "treble" else "treble"
    remedy = f"This is the {facts.clef} clef: find the line or space of the first sign again."
    add(f"laid out as in the {other} clef", borrowed(facts.clef, other, key.fifths), remedy, steady=True)
    for name, fifths, hint in _other_signatures(key):
        if abs(fifths) <= MOST_SIGNS:
            add(name, signature_layout(fifths, CLEFS[facts.clef]), hint)
    if key.is_minor:
        low = CLEFS[facts.clef].bottom_line.diatonic + 1
        leading = key.leading_note
        raised = Pitch.from_diatonic(low + (leading.index - low) % 7, leading.alter)
        hint = "The raised 7th is never in the signature: it is written beside its note."
        add("raised 7th in the signature", (*signs, raised), hint)
    return tuple(found)


def _other_signatures(key: Key) -> list[tuple[str, int, str]]:
    away = 1 if key.fifths > 0 else -1
    parallel = key.tonic.fifths if key.is_minor else key.tonic.fifths - 3
    found = [
        ("one sign too few", key.fifths - away, "Count the signs again: there is one more."),
        ("one sign too many", key.fifths + away, "Count the signs again: there is one fewer."),
        ("sharps and flats mixed", -key.fifths, "Ask first whether this key has sharps or flats."),
    ]
    if key.is_minor:
        hint = f"Three semitones above {key.tonic.text} is the major key with the same signature."
        return [("signature of the major key on the same note", parallel, hint), *found]
    return [*found, ("signature of the minor key on the same note", parallel, "The question asks for the major key.")]


def _work(facts: WriteTheSignature, method: str) -> tuple[Step, ...]:
    key = Key.parse(facts.key)
    steps: list[Step] = []
    major = key.relative if key.is_minor else key
    if key.is_minor:
        text = f"The relative major starts three semitones above {key.tonic.text}: {major.text}."
        steps.append(Step(text, (), major.short))
    signs = signature_signs(key.fifths)
    count = signature_text(key.fifths)
    if method == "circle of fifths":
        way = "up" if key.fifths > 0 else "down"
        fifths = "fifth" if abs(key.fifths) == 1 else "fifths"
        steps.append(Step(f"{major.tonic.text} is {abs(key.fifths)} {fifths} {way} from C: {count}.", (), count))
    elif key.fifths > 0:
        text = f"The last sharp is a semitone below {major.tonic.text}: {signs[-1].text}. That makes {count}."
        steps.append(Step(text, (), count))
    elif len(signs) == 1:
        steps.append(Step("F major has one flat, B flat.", (), count))
    else:
        text = f"The last flat but one has the name of the key, {major.tonic.text}; one more makes {count}."
        steps.append(Step(text, (), count))
    order = "Write it" if len(signs) == 1 else "Write them in order"
    steps.append(Step(f"{order}: {signs_text(_layout(facts))}.", (), " ".join(sign.step for sign in signs)))
    first = _layout(facts)[0]
    which = first.name.text if len(signs) == 1 else f"the first one, {first.name.text},"
    where = where_on_stave(CLEFS[facts.clef].place(first))
    steps.append(Step(f"In the {facts.clef} clef {which} is {where}.", (), ""))
    steps.append(Step("Check: count the signs, and read the letter of each one in this clef.", (), ""))
    return tuple(steps)


def _difficulty(facts: WriteTheSignature) -> float:
    """More signs, the minor key and the less read clefs each make it harder (common practice)."""
    key = Key.parse(facts.key)
    clef = {"treble": 0.0, "bass": 0.1, "alto": 0.4, "tenor": 0.6}[facts.clef]
    return -1.0 + 0.22 * abs(key.fifths) + 0.4 * key.is_minor + clef


def _draw(facts: WriteTheSignature, value: Value) -> Score:
    return drawn_signature(facts.clef, value)


def _pool(scope: Scope) -> int:
    return sum(1 for key in scope.keys if key.fifths) * len(scope.clefs)


KIND = Kind(
    id="write-the-signature",
    topic="keys",
    since=1,
    title="Write a key signature",
    facts=WriteTheSignature,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"write-the-signature/{facts.key}",
    pool=_pool,
    seconds=40,
    marking=Marking("minus-one-per-fault"),
    marks=2,
    draw=_draw,
    asks=lambda facts: frozenset({f"signature:{facts.key}"}),
    methods=("usual", "circle of fifths"),
)
