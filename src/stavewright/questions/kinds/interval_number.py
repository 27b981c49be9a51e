"""Give the number of an interval: above the tonic first, then between any two notes."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, NumberForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Fifths, Word
from stavewright.questions.setting.interval_pairs import above_tonic, anywhere, pair_count
from stavewright.questions.setting.picking import pick_key
from stavewright.questions.showing.two_notes import notes_block, two_notes
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, PitchText
from stavewright.syllabus.scope import Scope
from stavewright.theory.interval import ordinal
from stavewright.theory.pitch import STEPS, Pitch
from stavewright.theory.transposition import transpose

_NAMES = {1: "unison", 8: "octave"}


class IntervalNumber(Facts, frozen=True, forbid_unknown_fields=True):
    """Two notes in the order they are printed, under a clef and perhaps a signature; `key` where one is a tonic."""

    clef: ClefName
    first: PitchText
    second: PitchText
    together: bool
    key: Word | None = None
    fifths: Fifths | None = None


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    key = pick_key(scope, rng) if scope.intervals.above_tonic else None
    found = anywhere(scope, rng) if key is None else above_tonic(scope, rng, key)
    if found is None:
        return None
    clef, interval, low = found
    notes = [low.short, transpose(low, interval).short]
    together = interval.number > 1 and rng.random() < 0.5
    fifths = key.fifths if key is not None and rng.random() < 0.5 else None
    if key is None and not together and rng.random() < 0.4:
        notes.reverse()
    facts = IntervalNumber(clef, notes[0], notes[1], together, key.text if key else None, fifths)
    return Draft(facts, interval.number_text)


def _pose(facts: IntervalNumber, wording: Wording) -> Posed:
    first, second = _notes(facts)
    block = notes_block(two_notes(facts.clef, first, second, together=facts.together, fifths=facts.fifths))
    said = f"The key is {facts.key}, and the lower note is its tonic. " if facts.key else ""
    if wording.choosing:
        return Posed((TextBlock(f"{said}Which number does this interval have? (1 is a unison, 8 an octave.)"), block))
    ask = f"{said}Give the number of this interval (1 for a unison, 8 for an octave)."
    return Posed((TextBlock(ask), block), NumberForm())


def _notes(facts: IntervalNumber) -> tuple[Pitch, Pitch]:
    return Pitch.parse(facts.first), Pitch.parse(facts.second)


def _rising(facts: IntervalNumber) -> tuple[Pitch, Pitch]:
    low, high = sorted(_notes(facts), key=lambda pitch: (pitch.diatonic, pitch.midi))
    return low, high


def _number(facts: IntervalNumber) -> int:
    """Count the lines and spaces from the lower note to the higher, both ends too."""
    low, high = _rising(facts)
    return high.diatonic - low.diatonic + 1


def _text(number: int) -> str:
    return _NAMES.get(number, ordinal(number))


def _solve(facts: IntervalNumber) -> tuple[Answer, ...]:
    low, high = _rising(facts)
    number = _number(facts)
    why = f"From {low.step} up to {high.step}, both counted, there are {number} letters."
    if number == 1:
        why = f"Both notes stand on one place, {low.step}."
    found = [answer(Value(number=number), _text(number), why)]
    if number > 8:
        simple = (number - 2) % 7 + 2
        name = f"compound {_text(simple)}"
        found.append(answer(Value(number=simple), name, f"The {_text(number)} is a {name}, and this is its number."))
    return tuple(found)


def _slips(facts: IntervalNumber) -> tuple[Slip, ...]:
    low, high = _rising(facts)
    number = _number(facts)
    found: list[Slip] = []

    def add(name: str, wrong: int, remedy: str) -> None:
        if 1 <= wrong <= 20:
            found.append(slip(name, Value(number=wrong), _text(wrong), remedy))

    add("counted the gap", number - 1, "The note you start on is 1: count it, and the last note too.")
    add("counted one too many", number + 1, "Say each letter once: the first note is 1, the next letter is 2.")
    add("counted semitones", abs(high.midi - low.midi), "Count letters, or lines and spaces, not keys of the keyboard.")
    simple = (number - 2) % 7 + 2 if number > 8 else number
    add("turned upside down", 9 - simple, "Start from the lower note and count up.")
    if simple != 8:
        add("counted lines only", (number + 1) // 2, "Count the spaces as well as the lines.")
    return tuple(found)


def _work(facts: IntervalNumber, method: str) -> tuple[Step, ...]:
    low, high = _rising(facts)
    number = _number(facts)
    first, second = _notes(facts)
    lower_id = "n1" if facts.together or first.diatonic <= second.diatonic else "n2"
    letters = [STEPS[(low.diatonic + n) % 7] for n in range(number)]
    counted = ", ".join(f"{letter} {n}" for n, letter in enumerate(letters, 1))
    steps = [Step(f"Start on the lower note, {low.step}, and call it 1.", (lower_id,), f"{low.step} = 1")]
    if number == 1:
        steps.append(Step(f"The other note has the same place, {high.step}: the interval is a unison.", (), "1"))
    else:
        steps.append(Step(f"Count every letter up to {high.step}: {counted}.", (), f"{high.step} = {number}"))
        article = "an" if number in (8, 11) else "a"
        steps.append(Step(f"So the number is {number}: the interval is {article} {_text(number)}.", (), ""))
    steps.append(Step("Check: count the lines and spaces on the stave. Sharps and flats do not change the number."))
    return tuple(steps)


def _neighbours(facts: IntervalNumber) -> tuple[Value, ...]:
    return tuple(Value(number=_number(facts) + away) for away in (-2, 2, 3) if _number(facts) + away > 0)


def _difficulty(facts: IntervalNumber) -> float:
    """Wide intervals, C clefs and notes in falling order make it harder (common practice)."""
    first, second = _notes(facts)
    falling = first.diatonic > second.diatonic
    return -1.8 + 0.06 * _number(facts) + 0.2 * (facts.clef in ("alto", "tenor")) + 0.15 * falling


def _pool(scope: Scope) -> int:
    """Above a tonic: together or not, signature or not; else together, rising or falling (no unison is together)."""
    if scope.intervals.above_tonic:
        return 4 * pair_count(scope)
    return 3 * pair_count(scope) - pair_count(scope, unisons=True)


def _shows(facts: IntervalNumber) -> frozenset[str]:
    return frozenset({f"signature:{facts.key}"}) if facts.key and facts.fifths is not None else frozenset()


KIND = Kind(
    id="interval-number",
    topic="intervals",
    since=1,
    title="Give the number of an interval",
    facts=IntervalNumber,
    forms={"written": "number", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"interval-number/{_number(facts)}",
    pool=_pool,
    seconds=12,
    neighbours=_neighbours,
    shows=_shows,
)
