"""The same paper as LilyPond source, for comparison only: the same sentences and pictures in the same order."""

from __future__ import annotations

import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

from stavewright.papers.documents import Paper
from stavewright.questions.asking import facts_of, native
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import FullQuestion, StaveBlock, TextBlock
from stavewright.questions.score_mirror import score_of
from stavewright.score.event import Chord, Event, Note, Rest
from stavewright.score.stave import Score, Stave
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch

_VALUES = {
    "breve": "\\breve", "semibreve": "1", "minim": "2", "crotchet": "4", "quaver": "8", "semiquaver": "16",
    "demisemiquaver": "32", "hemidemisemiquaver": "64",
}  # fmt: skip
_ALTERS = {0: "", 1: "s", -1: "f", 2: "ss", -2: "ff", 3: "sss", -3: "fff"}
Item = str | Score


def items(paper: Paper, document: str) -> Iterator[Item]:
    """The sentences and pictures of one of our three documents, in order."""
    seen: set[tuple[str, str]] = set()
    for question in paper.questions():
        yield from _prompt(question, seen)
        if document == "paper":
            yield from _form(question)
        elif document == "model-answers":
            yield question.answers[0].text + ": " + question.answers[0].reason
            yield from _drawn(question)
            yield from (step.text for step in question.working)
        else:
            yield from (f"{one.text}: {one.reason}" for one in question.answers)
            yield from (f"{slip.name}: {slip.text}. {slip.remedy}" for slip in question.slips)


def _prompt(question: FullQuestion, seen: set[tuple[str, str]]) -> Iterator[Item]:
    for block in question.prompt:
        if isinstance(block, TextBlock):
            yield block.text
        elif isinstance(block, StaveBlock):
            place = (question.group.id if question.group else question.id, block.id)
            if not block.id or place not in seen:
                seen.add(place)
                yield score_of(block.score)


def _form(question: FullQuestion) -> Iterator[Item]:
    form = question.response[0]
    given = getattr(form, "given", None)
    if given is not None:
        yield score_of(given)
    for option in getattr(form, "options", ()):
        yield score_of(option.score) if option.score is not None else f"{option.id} {option.text}"


def _drawn(question: FullQuestion) -> Iterator[Score]:
    kind = kind_of(question.kind)
    value = native(question, question.answers[0].value[0])
    if kind.draw is not None and value.form in ("notes", "rhythm"):
        yield kind.draw(facts_of(question), value)


def source(paper: Paper, document: str) -> str:
    """A LilyPond file of one document."""
    lines = ['\\version "2.25.12"', '\\language "english"', "#(ly:set-option 'log-file #f)"]
    lines.append("\\paper { indent = 0 tagline = ##f ragged-right = ##t }")
    for item in items(paper, document):
        lines.append(f"\\markup \\wordwrap-string #{_text(item)}" if isinstance(item, str) else _score(item))
    return "\n".join(lines)


def _text(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _score(score: Score) -> str:
    staves = "\n".join(_stave(stave) for stave in score.staves)
    group = "\\new PianoStaff <<" if score.join == "brace" else "<<"
    return f"\\score {{ {group} {staves} >> \\layout {{ }} }}"


def _stave(stave: Stave) -> str:
    key = ""
    if stave.fifths:
        tonic = Key.from_signature(stave.fifths, "major").tonic
        key = f"\\key {tonic.step.lower()}{_ALTERS[tonic.alter]} \\major"
    time = f"\\time {stave.time.figures}" if stave.time is not None else "\\omit Staff.TimeSignature \\cadenzaOn"
    bars = []
    for bar in stave.bars:
        voices = [_voice(voice) for voice in bar.voices]
        bars.append(voices[0] if len(voices) == 1 else "<< { " + " } \\\\ { ".join(voices) + " } >>")
    if stave.time is None:
        music = ' \\bar "|" '.join(bars)
    else:
        short = stave.bars[0].free and sum(e.ticks for e in stave.bars[0].events) < stave.time.ticks
        music = " ".join(bars)
        if short:
            time += " \\cadenzaOn"
            music = ' \\bar "|" '.join(bars)
    return f"\\new Staff {{ \\clef {stave.clef} {key} {time} {music} }}"


def _voice(events: tuple[Event, ...]) -> str:
    found = []
    for place, event in enumerate(events):
        value = _VALUES[event.duration.type] + "." * event.duration.dots
        tuplet = event.duration.tuplet
        if tuplet is not None:
            value += f"*{tuplet.normal}/{tuplet.actual}"
        if isinstance(event, Note | Chord):
            pitches = [_pitch(pitch) for pitch in event.pitches]
            text = (pitches[0] if len(pitches) == 1 else "<" + " ".join(pitches) + ">") + value
            text += "~" if event.tie else ""
            text += _beam(events, place)
        elif isinstance(event, Rest):
            text = "r" + value
        else:
            text = "s" + value
        found.append(text)
    return " ".join(found)


def _beam(events: tuple[Event, ...], place: int) -> str:
    def group(index: int) -> int | None:
        return getattr(events[index], "beam", None) if 0 <= index < len(events) else None

    mine = group(place)
    if mine is None:
        return ""
    first, last = group(place - 1) != mine, group(place + 1) != mine
    return "" if first == last else "[" if first else "]"


def _pitch(pitch: Pitch) -> str:
    octave = pitch.octave - 3
    return pitch.step.lower() + _ALTERS[pitch.alter] + ("'" * octave if octave >= 0 else "," * -octave)


def compile_all(sources: dict[str, str]) -> dict[str, int]:
    """Compile the documents with the LilyPond wheel in one process; the size of each PDF.

    Raises:
        RuntimeError: LilyPond did not make one of them.
    """
    import lilypond

    with tempfile.TemporaryDirectory() as folder:
        for name, text in sources.items():
            (Path(folder) / f"{name}.ly").write_text(text, "utf-8")
        names = [f"{name}.ly" for name in sources]
        done = subprocess.run(
            [str(lilypond.executable()), "--loglevel=ERROR", "--pdf", *names],
            cwd=folder,
            capture_output=True,
            check=False,
        )
        sizes = {}
        for name in sources:
            made = Path(folder) / f"{name}.pdf"
            if not made.exists():
                raise RuntimeError(f"LilyPond made no {name}.pdf: {done.stderr.decode()[-500:]}")
            sizes[name] = made.stat().st_size
        return sizes
