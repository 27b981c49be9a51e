"""Give the reason: of several true things about an extract, the one that proves what is said of it.

The reason is picked, in both editions: a line in a pupil's own words could not be marked exactly.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from stavewright.questions.documents import Answer, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.properties import Property
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.setting.claims import claims
from stavewright.questions.setting.flat_line import flatten
from stavewright.questions.setting.in_hand import in_hand
from stavewright.questions.showing.extract import extract_blocks
from stavewright.questions.solving.finders import FINDERS, highest, moved_by, numbered
from stavewright.questions.solving.line import SungBar, line_of
from stavewright.questions.values import Place, Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES, Duration
from stavewright.theory.interval import ordinal
from stavewright.theory.key import Key, key_of, signature_text
from stavewright.theory.key_proof import prove_key

_BARS = 8
_CLAIM = {
    "minor": "This music is in {key}. How do you know that it is not in {other}?",
    "major": "This music is in {key}. How do you know that it is not in {other}?",
    "compound": "The time of this music is compound. How do you know?",
    "simple": "The time of this music is simple. How do you know?",
    "upbeat": "This music begins with an upbeat. How do you know?",
    "sequence": "Bars {bar} and {other} make a sequence. How do you know?",
    "syncopation": "There is syncopation in bar {bar}. How do you know?",
}
_REASON = {
    "minor": "It ends on {tonic} and has {leading}, the raised 7th.",
    "major": "It ends on {tonic} and no {leading} comes in it.",
    "compound": "Each beat, a {beat}, can be parted into three {part}.",
    "simple": "Each beat, a {beat}, can be parted into two {part}.",
    "upbeat": "The first bar is not full, and the last bar lacks just as much as the first one holds.",
    "sequence": "Every note comes again {far} {way}, in the same rhythm.",
    "syncopation": "A note begins off the beat and is held through the next beat.",
}


class WhySo(Facts, frozen=True, forbid_unknown_fields=True):
    """The extract as it is printed, and what is said of it.

    Raises:
        BadDocument: a claim whose reason is not known.
    """

    extract: ScoreDocument
    claim: Property
    block: str = "extract"
    credit: str = ""

    def __post_init__(self) -> None:
        if self.claim.about not in _CLAIM:
            raise BadDocument(f"a reason is asked for {', '.join(_CLAIM)}, not for {self.claim.about!r}")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    found = in_hand(scope, rng, stimulus, melodies, _BARS)
    bars = None if found is None else flatten(found.extract.score)
    if found is None or bars is None:
        return None
    fair = list(claims(found.extract, bars, scope))
    if not fair:
        return None
    about = rng.choice(sorted({claim.about for claim, _ in fair}))
    claim, words = rng.choice([one for one in fair if one[0].about == about])
    return Draft(WhySo(found.document, claim, found.block, found.credit), _REASON[about].format(**words))


def _key(facts: WhySo) -> Key | None:
    notes = [note.pitch for bar in line_of(facts.extract) for note in bar.notes]
    return prove_key(notes, facts.extract.staves[0].fifths or 0).key


def _pose(facts: WhySo, wording: Wording) -> Posed:
    claim = facts.claim
    fifths = facts.extract.staves[0].fifths or 0
    mode, other = ("minor", "major") if claim.about == "minor" else ("major", "minor")
    words = {"key": key_of(fifths, mode).text, "other": key_of(fifths, other).text}
    if claim.bar:
        words = {"bar": str(claim.bar), "other": str(claim.other)}
    ask = _CLAIM[claim.about].format(**words)
    text = f"{ask} All of these may be true: choose the one that is the reason."
    blocks = extract_blocks(facts.extract, wording, block=facts.block, credit=facts.credit)
    return Posed((TextBlock(wording.say(text)), *blocks))


def _bar(facts: WhySo, number: int) -> SungBar | None:
    return numbered(line_of(facts.extract), number)


def _reason(facts: WhySo) -> str | None:
    """The sentence that proves the claim; None where it does not hold."""
    about, line = facts.claim.about, line_of(facts.extract)
    key, time = _key(facts), line[0].time
    words: dict[str, str] = {}
    if about in ("minor", "major"):
        if key is None or key.is_minor != (about == "minor"):
            return None
        minor = key if key.is_minor else key.relative
        words = {"tonic": key.tonic.text, "leading": minor.leading_note.full_text}
    elif about in ("compound", "simple"):
        if time is None or time.kind != about:
            return None
        part = time.beat.ticks // (3 if about == "compound" else 2)
        name = next(Duration(value) for value in VALUES if Duration(value).ticks == part)
        words = {"beat": time.beat.text, "part": name.name(plural=True)}
    elif about == "upbeat" and line[0].number:
        return None
    elif about == "sequence":
        one, other = _bar(facts, facts.claim.bar), _bar(facts, facts.claim.other)
        moved = None if one is None or other is None else moved_by(one, other)
        if not moved:
            return None
        far = ordinal(abs(moved) + 1)
        words = {"far": "an octave" if far == "8th" else f"a {far}", "way": "higher" if moved > 0 else "lower"}
    elif about == "syncopation" and Place(facts.claim.bar) not in FINDERS["syncopation"](line, facts.claim):
        return None
    return _REASON[about].format(**words)


def _solve(facts: WhySo) -> tuple[Answer, ...]:
    reason = _reason(facts)
    if reason is None:
        return ()
    why = f"{_PROOF[facts.claim.about]} The other sentences would be no proof, even where they are true."
    return (answer(Value(words=reason), reason, why),)


_PROOF = {
    "minor": "Both keys have this signature: only the last note and the raised 7th tell the minor key.",
    "major": "Both keys have this signature: the last note tells, and the raised 7th of the minor key is missing.",
    "compound": "What makes a time compound is that its beats fall into threes.",
    "simple": "What makes a time simple is that its beats fall into twos.",
    "upbeat": "An upbeat is a bar that is not full, and the last bar makes up for it.",
    "sequence": "A sequence needs both: the same shape at another height, and the same rhythm.",
    "syncopation": "In syncopation a note comes off the beat and is held over the beat.",
}


def _true_but_no_reason(facts: WhySo) -> Iterator[tuple[str, str]]:
    """Sentences that are true of the music and prove nothing here, each with what it is about."""
    about, line = facts.claim.about, line_of(facts.extract)
    time = line[0].time
    notes = [note for bar in line for note in bar.notes]
    if about in ("minor", "major"):
        yield "the signature", f"Its key signature has {signature_text(facts.extract.staves[0].fifths or 0)}."
        yield "the first note", f"Its first note is {notes[0].pitch.name.text}."
    if about in ("compound", "simple") and time is not None:
        yield (
            "the lower figure",
            f"The lower figure of its time signature stands for {time.unit_value.name(plural=True)}.",
        )
        yield "how much a bar holds", f"A bar holds as much as {time.ticks // Duration('quaver').ticks} quavers."
    if about == "upbeat":
        yield "the first note", f"Its first note is a {notes[0].note.duration.text}."
        yield "the last note", f"Its last note is a {notes[-1].note.duration.text}."
    here = _bar(facts, facts.claim.bar) if facts.claim.bar else None
    if about == "sequence":
        yield "the rhythm alone", "Both bars have the same rhythm."
        yield "the place", "One bar comes straight after the other."
        if here is not None:
            yield "the number of notes", f"Both bars have {len(here.notes)} notes."
    if about == "syncopation" and here is not None:
        yield (
            "the number of notes",
            f"Bar {here.number} has {len(here.notes)} note{'' if len(here.notes) == 1 else 's'}.",
        )
        yield "the first note", f"The first note of bar {here.number} is {here.notes[0].pitch.name.text}."
    top = highest(line, facts.claim)[0]
    name = next(note.pitch.name.text for note in notes if note.place == top)
    yield "the highest note", f"Its highest note is {name}."


_FEELINGS = {"minor": "It sounds sad.", "major": "It sounds cheerful."}


def _slips(facts: WhySo) -> tuple[Slip, ...]:
    found: list[Slip] = []
    remedy = f"That may be true, but it would be so without it as well. {_PROOF[facts.claim.about]}"
    feeling = _FEELINGS.get(facts.claim.about)
    for what, sentence in _true_but_no_reason(facts):
        found.append(slip(f"true but no reason: {what}", Value(words=sentence), sentence, remedy))
    if feeling is not None:
        found.insert(
            1, slip("a feeling for a reason", Value(words=feeling), feeling, "A reason can be shown in the notes.")
        )
    return tuple(found)


def _work(facts: WhySo, method: str) -> tuple[Step, ...]:
    bars = [bar for bar in line_of(facts.extract) if bar.number in (facts.claim.bar, facts.claim.other) and bar.number]
    ids = tuple(note.note.id for bar in bars for note in bar.notes if note.note.id)
    return (
        Step("Ask of each sentence: could it be true as well if the claim were false? Then it is no reason.", (), "?"),
        Step(_PROOF[facts.claim.about], (), ""),
        Step(f"So the reason is: {_reason(facts) or ''}", ids, "proof"),
        Step("Check: find the proof in the music with your finger.", (), ""),
    )


_HARD = {
    "minor": 0.0,
    "major": 0.3,
    "compound": 0.2,
    "simple": 0.1,
    "upbeat": -0.4,
    "sequence": 0.0,
    "syncopation": 0.2,
}


def _tokens(facts: WhySo) -> frozenset[str]:
    """What the claim says: the key, the time, or the thing in the bar."""
    about = facts.claim.about
    if about in ("minor", "major"):
        return frozenset({"extract:key"})
    return facts.claim.tokens if about in ("sequence", "syncopation") else frozenset({"extract:metre"})


KIND = Kind(
    id="why-so",
    topic="reading",
    since=3,
    title="How do you know?",
    facts=WhySo,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=lambda facts: _HARD[facts.claim.about],
    skill=lambda facts: f"why-so/{facts.claim.about}",
    pool=lambda scope: None,
    seconds=45,
    extract=True,
    asks=_tokens,
    shows=_tokens,
)
