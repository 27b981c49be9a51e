"""Name a written scale: its tonic and its form."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Fifths
from stavewright.questions.setting.scale_rows import on_paper, printed_count, printed_scale
from stavewright.questions.setting.scales import DIRECTIONS
from stavewright.questions.showing.scale_rows import row_block
from stavewright.questions.solving.scale_rows import in_other_clefs, row_pitches, scale_of
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, Written
from stavewright.syllabus.scope import Scope
from stavewright.theory.errors import StavewrightError
from stavewright.theory.key import Key, key_of, signature_text
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import MINOR_FORMS, semitones

_MINOR = "minor"


class NameTheScale(Facts, frozen=True, forbid_unknown_fields=True):
    """A scale as it is printed: clef, signature (None prints none), eight notes, or fifteen up and down.

    `minors` says that it may be a minor scale, so that the form is asked for.
    """

    clef: ClefName
    fifths: Fifths | None
    notes: Annotated[tuple[Written, ...], Meta(min_length=8, max_length=15)]
    minors: bool = True


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    found = printed_scale(scope, rng, directions=DIRECTIONS)
    if found is None:
        return None
    notes = on_paper(found.pitches, found.clef, found.fifths)
    return Draft(NameTheScale(found.clef, found.fifths, notes, bool(scope.minor_forms)), found.name)


def _pose(facts: NameTheScale, wording: Wording) -> Posed:
    block = row_block(facts.clef, facts.fifths, facts.notes)
    if wording.choosing:
        return Posed((TextBlock("Which scale is this?"), block))
    ask = "Name this scale. If it is minor, name its form too." if facts.minors else "Name this scale."
    return Posed((TextBlock(ask), block), WordsForm("phrase"))


def _read(facts: NameTheScale) -> tuple[NoteName, str, str]:
    return scale_of(row_pitches(facts.clef, facts.fifths, facts.notes))


def _solve(facts: NameTheScale) -> tuple[Answer, ...]:
    tonic, form, way = _read(facts)
    name = f"{tonic.text} {form}"
    where = ", ".join(f"{low} and {high}" for low, high in semitones(form, ascending=way != "down"))
    found = [answer(Value(words=name), name, f"It runs from {tonic.text}, with semitones between degrees {where}.")]
    if form != "major":
        turned = f"{tonic.text} minor, {form.removesuffix(' minor')}"
        found.append(answer(Value(words=turned), turned, "The same scale, its form named last."))
    if form == "natural minor" and way == "down":
        melodic = f"{tonic.text} melodic minor"
        found.append(answer(Value(words=melodic), melodic, "Coming down, the melodic form has the same notes."))
    return tuple(found)


def _slips(facts: NameTheScale) -> tuple[Slip, ...]:
    tonic, form, _ = _read(facts)
    key = _key(tonic, form)
    found: list[Slip] = []

    def add(name: str, wrong: str, remedy: str, *, steady: bool = False) -> None:
        found.append(slip(name, Value(words=wrong), wrong, remedy, steady=steady))

    if form == "major":
        hint = "Count from note 1 to note 3: four semitones are major."
        if facts.minors:
            add("minor for major", f"{tonic.text} harmonic minor", hint)
    else:
        add("major for minor", f"{tonic.text} major", "Count from note 1 to note 3: three semitones are minor.")
        for other in MINOR_FORMS:
            if other != form:
                add(f"{other} for {form}", f"{tonic.text} {other}", "Look at notes 6 and 7, both up and down.")
    relative = key.relative
    name = f"{relative.tonic.text} {'major' if relative.mode == 'major' else 'harmonic minor'}"
    if facts.minors:
        add(f"named by the relative {relative.mode}", name, "A scale is named by the note it starts on.")
    first = facts.notes[0]
    for clef, wrong in in_other_clefs(facts.clef, first):
        hint = f"This is the {facts.clef} clef: name the first note before you name the scale."
        add(f"read in the {clef} clef", f"{wrong.text} {form}", hint)
    if facts.fifths and tonic.alter:
        add("sign of the tonic left out", f"{tonic.step} {form}", "Look at the key signature: it changes the tonic.")
    return tuple(found)


def _key(tonic: NoteName, form: str) -> Key:
    return Key(tonic, "major" if form == "major" else _MINOR)


def _work(facts: NameTheScale, method: str) -> tuple[Step, ...]:
    pitches = row_pitches(facts.clef, facts.fifths, facts.notes)
    tonic, form, way = scale_of(pitches)
    rising = pitches if way != "down" else pitches[::-1]
    ids = _ids(way, len(pitches))
    third = rising[2].midi - rising[0].midi
    mode = "major" if third == 4 else _MINOR
    steps = [
        Step(f"It begins and ends on {tonic.text}: that is the tonic.", (ids[0], ids[7]), tonic.short),
        Step(
            f"From {rising[0].name.text} up to {rising[2].name.text}, note 3, are {third} semitones: {mode}.",
            (ids[0], ids[2]),
            mode,
        ),
    ]
    key = _key(tonic, form)
    if mode == _MINOR:
        steps.append(_form_step(rising[5:7], key, form, way, ids))
    steps.append(Step(f"So it is {tonic.text} {form}.", (), f"{tonic.short} {form}"))
    find = "find it in the scale" if abs(key.fifths) == 1 else "find them in the scale"
    if not key.fifths:
        find = "only raised notes have a sign" if any(pitch.alter for pitch in pitches) else "no note has a sign"
    steps.append(Step(f"Check: {key.text} has {signature_text(key.fifths)}; {find}."))
    return tuple(steps)


def _form_step(pair: tuple[Pitch, ...], key: Key, form: str, way: str, ids: tuple[str, ...]) -> Step:
    sixth, seventh = (pitch.name for pitch in pair)
    raised = [name.full_text for name in (sixth, seventh) if not key.holds(name)]
    kind = form.removesuffix(" minor")
    if not raised:
        said = f"Notes 6 and 7, {sixth.text} and {seventh.text}, are as in the key signature: the {kind} form."
    elif len(raised) == 1:
        said = f"Only note 7 is raised, to {raised[0]}: the {kind} form."
    else:
        down = ", and not raised coming down" if way == "both" else ""
        said = f"Notes 6 and 7 are raised, to {raised[0]} and {raised[1]}{down}: the {kind} form."
    return Step(said, ids[5:7], kind)


def _ids(way: str, count: int) -> tuple[str, ...]:
    """The ids of the notes from the lower tonic up."""
    if way == "down":
        return tuple(f"n{number}" for number in range(8, 0, -1))
    return tuple(f"n{number}" for number in range(1, count + 1))


def _neighbours(facts: NameTheScale) -> tuple[Value, ...]:
    """The same form a fifth or two away."""
    tonic, form, _ = _read(facts)
    key = _key(tonic, form)
    found = []
    for away in (-2, -1, 1, 2):
        try:
            near = key_of(key.fifths + away, key.mode)
        except StavewrightError:
            continue
        found.append(Value(words=f"{near.tonic.text} {form}"))
    return tuple(found)


def _difficulty(facts: NameTheScale) -> float:
    """Minor forms, more signs, coming down and the C clefs add up (common practice)."""
    tonic, form, way = _read(facts)
    minor = {"major": 0.0, "natural minor": 0.5, "harmonic minor": 0.4, "melodic minor": 0.6}[form]
    signs = 0.08 * abs(_key(tonic, form).fifths)
    return -1.4 + minor + signs + 0.2 * (way == "down") + 0.3 * (facts.clef in ("alto", "tenor"))


def _pool(scope: Scope) -> int:
    return printed_count(scope, directions=DIRECTIONS)


def _shows(facts: NameTheScale) -> frozenset[str]:
    tonic, form, _ = _read(facts)
    return frozenset({f"scale:{tonic.text} {form}"})


KIND = Kind(
    id="name-the-scale",
    topic="scales",
    since=1,
    title="Name the scale",
    facts=NameTheScale,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"name-the-scale/{_read(facts)[1]}",
    pool=_pool,
    seconds=30,
    marking=Marking("all-or-nothing"),
    neighbours=_neighbours,
    asks=_shows,
    shows=_shows,
)
