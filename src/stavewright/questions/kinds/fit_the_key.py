"""Add the accidentals that put a melody of bare letters into a key."""

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
from stavewright.questions.setting.picking import pick, pick_key
from stavewright.questions.setting.rewritable import meant, plain_melody, sign_over_a_bar_line, with_pitches
from stavewright.questions.setting.scales import spelled_notes
from stavewright.questions.showing.extract import own_blocks, spoken_extract
from stavewright.questions.showing.rewritten import written_melody
from stavewright.questions.solving.careless_signs import careless_versions, heard_text, without_signs
from stavewright.questions.solving.scales import RAISE
from stavewright.questions.solving.transposing import Version, notes_of, version_of
from stavewright.questions.solving.transposing import written as fully_written
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import NameText, ScaleForm
from stavewright.score.stave import Score
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import MOST_SIGNS, Key, key_of, signature_text
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import scale_names

_TRIES = 12
_BARS = (2, 2, 4)
_FEWEST = 2
_TWO_WAYS = "melodic minor"


class FitTheKey(Facts, frozen=True, forbid_unknown_fields=True):
    """A melody printed with neither signature nor accidentals, and the scale whose notes it is to have.

    Raises:
        BadDocument: the form is the melodic minor, whose 6th and 7th depend on the way the melody goes.
    """

    melody: ScoreDocument
    tonic: NameText
    form: ScaleForm
    credit: Line = ""

    def __post_init__(self) -> None:
        if self.form not in ("major", "natural minor", "harmonic minor"):
            raise BadDocument(f"a melody cannot be fitted to the {self.form} note by note: use harmonic or natural")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if melodies is None:
        return None
    forms = [form for form in scope.minor_forms if form != _TWO_WAYS]
    for _ in range(_TRIES):
        key = pick_key(scope, rng)
        if key is None or not key.fifths or (key.is_minor and not forms):
            continue
        form = pick(rng, forms, scope.fresh.get("minor_forms", ())) if key.is_minor else "major"
        found = plain_melody(melodies, scope, rng, bars=rng.choice(_BARS), key=key)
        if found is None:
            continue
        stave = replace(found.score.staves[0], fifths=None)
        bare = with_accidentals(with_pitches(replace(found.score, staves=(stave,)), _natural))
        alters = {name[0]: NoteName.parse(name).alter for name in spelled_notes(key.tonic, form, "up")}
        wanted = with_accidentals(_spelt(bare, alters))
        signs = sum(note.accidental is not None for note in wanted.notes())
        has_seventh = any(note.pitch.name == key.leading_note for note in wanted.notes())
        if signs >= _FEWEST and (has_seventh or form != "harmonic minor") and not sign_over_a_bar_line(wanted, 0):
            facts = FitTheKey(document_of(bare), key.tonic.text, form, found.credit)
            return Draft(facts, structs.replace(meant(wanted), clef=None))
    return None


def _natural(pitch: Pitch) -> Pitch:
    return pitch.altered(-pitch.alter)


def _spelt(bare: Score, alters: dict[str, int]) -> Score:
    return with_pitches(bare, lambda pitch: pitch.altered(alters[pitch.step]))


def _score(facts: FitTheKey) -> Score:
    return score_of(facts.melody)


def _key(facts: FitTheKey) -> Key:
    return Key(NoteName.parse(facts.tonic), "major" if facts.form == "major" else "minor")


def _name(facts: FitTheKey) -> str:
    key = _key(facts)
    return key.text if facts.form == "major" else f"{key.text}, {facts.form.removesuffix(' minor')} form"


def _pose(facts: FitTheKey, wording: Wording) -> Posed:
    score = _score(facts)
    if wording.choosing:
        blocks = own_blocks(facts.melody, wording, credit=facts.credit)
        return Posed((TextBlock(wording.say(f"Which answer puts this melody into {_name(facts)}?")), *blocks))
    ask = f"Add the accidentals that put this melody into {_name(facts)}. Do not write a key signature."
    values = tuple(dict.fromkeys(note.duration.type for note in notes_of(score)))
    alt = wording.say(spoken_extract(score))
    source = (TextBlock(facts.credit, id="credit"),) if facts.credit else ()
    return Posed((TextBlock(wording.say(ask)), *source), NotesForm(facts.melody, len(notes_of(score)), values, alt=alt))


def _in_scale(facts: FitTheKey, names: tuple[NoteName, ...], name: str = "", remedy: str = "") -> Version:
    """The melody with each letter as a scale spells it."""
    alters = {one.step: one.alter for one in names}
    score = _score(facts)
    pitches = [note.pitch.altered(alters[note.pitch.step] - note.pitch.alter) for note in notes_of(score)]
    return version_of(score, None, pitches, name, remedy)


def _right(facts: FitTheKey) -> Version:
    return _in_scale(facts, scale_names(NoteName.parse(facts.tonic), facts.form))


def _written(score: Score, version: Version) -> Value:
    """A version as it is written; the clef is printed, so that no answer need name it."""
    return structs.replace(fully_written(score, version), clef=None)


def _solve(facts: FitTheKey) -> tuple[Answer, ...]:
    score, right = _score(facts), _right(facts)
    used = ", ".join(dict.fromkeys(note.pitch.name.text for note in right.notes if note.pitch.alter))
    reason = f"In {_name(facts)} these notes are altered: {used or 'none'}. Each bar needs its own signs."
    return (answer(_written(score, right), heard_text(score, right), reason),)


def _slips(facts: FitTheKey) -> tuple[Slip, ...]:
    score = _score(facts)
    return tuple(
        slip(one.name, _written(score, one), heard_text(score, one), one.remedy, steady=one.steady)
        for one in _wrong(facts)
    )


def _wrong(facts: FitTheKey) -> Iterator[Version]:
    score, right, key = _score(facts), _right(facts), _key(facts)
    tonic = key.tonic
    if facts.form == "harmonic minor":
        yield _in_scale(facts, scale_names(tonic, "natural minor"), "leading note forgotten", RAISE)
        hint = "The key signature is that of the minor key; only the 7th is raised besides."
        yield replace(_in_scale(facts, scale_names(tonic, "major"), "major for minor", hint), steady=True)
    elif facts.form == "natural minor":
        hint = "The natural form keeps to the key signature: the 7th is not raised."
        yield _in_scale(facts, scale_names(tonic, "harmonic minor"), "7th raised", hint)
    else:
        hint = "The last step of a major scale is a semitone: the 7th belongs just below the tonic."
        names = tuple(
            name if name.index != key.leading_note.index else NoteName(name.step, name.alter - 1)
            for name in scale_names(tonic, "major")
        )
        yield _in_scale(facts, names, "leading note forgotten", hint)
    yield from careless_versions(score, right)
    hint = f"{key.text} has {signature_text(key.fifths)}: say them before you write."
    for away in (1, -1):
        fifths = key.fifths + away
        if abs(fifths) <= MOST_SIGNS:
            other = key_of(fifths, "major")
            names = tuple(
                NoteName(one.step, one.alter + other.alter_of(one.step) - key.alter_of(one.step))
                for one in scale_names(tonic, facts.form)
            )
            if all(abs(name.alter) <= 2 for name in names):
                more = abs(fifths) > abs(key.fifths)
                one = _in_scale(facts, names, f"one sign too {'many' if more else 'few'}", hint)
                yield replace(one, steady=True)
    yield without_signs(right, "no accidental at all", hint)


def _work(facts: FitTheKey, method: str) -> tuple[Step, ...]:
    key, right, score = _key(facts), _right(facts), _score(facts)
    signs = ", ".join(sign.text for sign in key.signature)
    steps = [Step(f"{key.text} has {signature_text(key.fifths)}: {signs}.", (), signs)]
    if facts.form == "harmonic minor":
        steps.append(
            Step(f"The harmonic form raises the 7th as well: {key.leading_note.full_text}.", (), key.leading_note.short)
        )
    pairs = zip(notes_of(score), right.notes, strict=True)
    ids = tuple(old.id for old, new in pairs if new.accidental and old.id)
    steps.append(Step("Go through the notes bar by bar and put the sign before each of those letters.", ids, "mark"))
    steps.append(Step("Within a bar one sign does for a line or space; the bar line ends it.", (), "bar by bar"))
    last = right.notes[-1].pitch.name
    end = f"it ends on {last.text}{', the tonic' if last == key.tonic else ''}"
    steps.append(Step(f"Check: sing it in {key.text}; {end}.", (), ""))
    return tuple(steps)


def _draw(facts: FitTheKey, value: Value) -> Score:
    return written_melody(_score(facts), value, None)


def _difficulty(facts: FitTheKey) -> float:
    """More signs, the harmonic form and the C clefs make it harder (common practice)."""
    score = _score(facts)
    form = {"major": 0.0, "natural minor": 0.2, "harmonic minor": 0.5}[facts.form]
    return -0.9 + 0.12 * abs(_key(facts).fifths) + form + 0.3 * (score.staves[0].clef in ("alto", "tenor"))


KIND = Kind(
    id="fit-the-key",
    topic="keys",
    since=3,
    title="Fit the key",
    facts=FitTheKey,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"fit-the-key/{facts.form}",
    pool=lambda scope: None,
    seconds=90,
    marking=Marking("minus-one-per-fault", heading=True),
    marks=3,
    draw=_draw,
    asks=lambda facts: frozenset({f"scale:{facts.tonic} {facts.form}", f"signature:{_key(facts).text}"}),
)
