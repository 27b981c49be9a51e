"""Write the key signature that a transposing player reads when the music sounds in a named key."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Word
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_key
from stavewright.questions.setting.players import players, read_by
from stavewright.questions.setting.signature import laid_out
from stavewright.questions.showing.describing import where
from stavewright.questions.showing.signature import drawn_signature, signature_stave
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import KeyText
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import sign_name
from stavewright.theory.clef import CLEFS
from stavewright.theory.instrument import INSTRUMENTS, Instrument
from stavewright.theory.interval import Interval
from stavewright.theory.key import MOST_SIGNS, Key, key_of, nearest_key, signature_layout, signature_text
from stavewright.theory.transposition import transpose_key

_TRIES = 20
# Horn parts are often printed without a signature (common practice), so no signature can be asked of them.
_UNSIGNED = frozenset({"horn in F"})
_OTHERS = (("m3", "A"), ("M2", "B flat"), ("P5", "F"))


class KeyForThePlayer(Facts, frozen=True, forbid_unknown_fields=True):
    """A transposing instrument, and the key in which the music sounds.

    Raises:
        BadDocument: the instrument is unknown, does not transpose, or is written without signatures.
    """

    instrument: Word
    concert: KeyText

    def __post_init__(self) -> None:
        one = INSTRUMENTS.get(self.instrument)
        if one is None or one.transposes is None or self.instrument in _UNSIGNED:
            raise BadDocument(f"{self.instrument!r} is no transposing instrument with key signatures of its own")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    everyone = [one for one in players(scope) if one.name not in _UNSIGNED]
    if not everyone:
        return None
    intervals = sorted({one.transposes.short for one in everyone if one.transposes is not None})
    size = rng.choice(intervals)
    known = {key.fifths for key in scope.keys}
    for _ in range(_TRIES):
        player = rng.choice([one for one in everyone if one.transposes is not None and one.transposes.short == size])
        concert = pick_key(scope, rng)
        if concert is None:
            return None
        fifths = read_by(player, concert)
        if fifths and fifths in known:
            meant = laid_out(key_of(fifths, concert.mode), player.clefs[0])
            return Draft(KeyForThePlayer(player.name, concert.text), meant)
    return None


def _player(facts: KeyForThePlayer) -> Instrument:
    return INSTRUMENTS[facts.instrument]


def _concert(facts: KeyForThePlayer) -> Key:
    return Key.parse(facts.concert)


def _interval(facts: KeyForThePlayer) -> Interval:
    found = _player(facts).transposes
    if found is None:
        raise BadDocument(f"the {facts.instrument} does not transpose")
    return found


def _pose(facts: KeyForThePlayer, wording: Wording) -> Posed:
    player = _player(facts)
    head = f"The {player.name} {player.transposition_text}. The music is to sound in {facts.concert}."
    if wording.choosing:
        ask = f"{head} Which key signature does the part for the {player.name} have?"
        return Posed((TextBlock(wording.say(ask)),))
    given = document_of(signature_stave(player.clefs[0], gap="n1"))
    ask = f"{head} Write the key signature of the part for the {player.name}."
    alt = wording.say(f"An empty stave with the {player.clefs[0]} clef.")
    return Posed((TextBlock(wording.say(ask)),), NotesForm(given, free=True, alt=alt))


def _value(facts: KeyForThePlayer, fifths: int) -> Value:
    signs = signature_layout(fifths, CLEFS[_player(facts).clefs[0]])
    return Value(notes=tuple(WrittenNote(p.step, octave=p.octave, accidental=sign_name(p.alter)) for p in signs))


def _solve(facts: KeyForThePlayer) -> tuple[Answer, ...]:
    player, concert = _player(facts), _concert(facts)
    found = []
    for key in player.keys_of_part(concert):
        why = (
            f"The {player.name} {player.transposition_text}, so its part is written in {key.text}: "
            f"{signature_text(key.fifths)}."
        )
        found.append(answer(_value(facts, key.fifths), signature_text(key.fifths), why))
    return tuple(found)


def _slips(facts: KeyForThePlayer) -> tuple[Slip, ...]:
    player, concert, interval = _player(facts), _concert(facts), _interval(facts)
    found: list[Slip] = []

    def add(name: str, key: Key, remedy: str, *, steady: bool = False) -> None:
        found.append(slip(name, _value(facts, key.fifths), signature_text(key.fifths), remedy, steady=steady))

    written = "lower" if player.sounds_higher else "higher"
    hint = f"It sounds {_sounds(player)} than written, so it must be written {written} than it sounds."
    add("wrong direction", transpose_key(concert, interval, up=player.sounds_higher), hint)
    hint = "A transposing player reads another key than the one that sounds."
    add("concert key kept", concert, hint)
    right = player.key_of_part(concert)
    for size, pitch in _OTHERS:
        if size != interval.short:
            other = transpose_key(concert, Interval.parse(size), up=not player.sounds_higher)
            hint = f"Look at the interval again: it is a {interval.text}."
            add(f"moved as for an instrument in {pitch}", other, hint)
    turned = nearest_key(right.tonic, "major" if right.is_minor else "minor")
    add("major and minor mixed up", turned, f"The mode stays: {concert.mode} stays {concert.mode}.")
    return tuple(found)


def _neighbours(facts: KeyForThePlayer) -> tuple[Value, ...]:
    """Signatures of one sign more and one fewer."""
    right = _player(facts).key_of_part(_concert(facts)).fifths
    return tuple(_value(facts, right + by) for by in (-1, 1) if abs(right + by) <= MOST_SIGNS)


def _work(facts: KeyForThePlayer, method: str) -> tuple[Step, ...]:
    player, concert, interval = _player(facts), _concert(facts), _interval(facts)
    key = player.key_of_part(concert)
    way = "down" if player.sounds_higher else "up"
    signs = signature_layout(key.fifths, CLEFS[player.clefs[0]])
    place = CLEFS[player.clefs[0]].place(signs[0]) if signs else 0
    count = signature_text(key.fifths)
    first = f"; the first, {signs[0].name.text}, is {where(place)}" if signs else ""
    return (
        Step(f"The {player.name} {player.transposition_text}.", (), f"sounds {_sounds(player)}"),
        Step(f"So its part is written a {interval.text} {way} from what sounds.", (), f"{interval.short} {way}"),
        Step(
            f"A {interval.text} {way} from {concert.tonic.text} is {key.tonic.text}: the part is in {key.text}.",
            (),
            f"{concert.short} > {key.short}",
        ),
        Step(f"{key.text} has {count}{first}.", (), count),
        Step(
            f"Check: when the player reads {key.tonic.text}, a {interval.text} {_sounds(player)} sounds: "
            f"{concert.tonic.text}."
        ),
    )


def _sounds(player: Instrument) -> str:
    return "higher" if player.sounds_higher else "lower"


def _draw(facts: KeyForThePlayer, value: Value) -> Score:
    return drawn_signature(_player(facts).clefs[0], value)


def _difficulty(facts: KeyForThePlayer) -> float:
    """Wider intervals, upward transposition, minor keys and more signs make it harder (common practice)."""
    key = _player(facts).key_of_part(_concert(facts))
    return (
        -0.3
        + {"M2": 0.0, "m3": 0.3, "P5": 0.2}.get(_interval(facts).short, 0.3)
        + 0.2 * _player(facts).sounds_higher
        + 0.1 * abs(key.fifths)
        + 0.2 * key.is_minor
    )


def _pool(scope: Scope) -> int:
    known = {key.fifths for key in scope.keys}
    everyone = [one for one in players(scope) if one.name not in _UNSIGNED]
    return sum(read_by(one, key) in known - {0} for one in everyone for key in scope.keys) or 2


KIND = Kind(
    id="key-for-the-player",
    topic="transposition",
    since=5,
    title="The key signature for a player",
    facts=KeyForThePlayer,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: (
        f"key-for-the-player/{_interval(facts).short} {'up' if _player(facts).sounds_higher else 'down'}"
    ),
    pool=_pool,
    seconds=60,
    marking=Marking("minus-one-per-fault"),
    marks=2,
    draw=_draw,
    neighbours=_neighbours,
    shows=lambda facts: frozenset({f"instrument:{facts.instrument}"}),
)
