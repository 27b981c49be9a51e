"""Response forms on the page: empty for the pupil, filled in as a pupil wrote, or with the model answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from msgspec.structs import replace as struct_replace

from stavewright.engraving.gallery import Gallery, has_gaps, in_ink
from stavewright.engraving.layout import Choice, Item, Lines, Options, Pairs, Words
from stavewright.engraving.saying import Say, value_words
from stavewright.engraving.score_lines import cut_lines, is_room
from stavewright.engraving.svg import Fit
from stavewright.questions.asking import facts_of, native
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import (
    ChoiceForm,
    ChoicesForm,
    ChordsForm,
    Form,
    FullQuestion,
    NotesForm,
    NumberForm,
    Option,
    OrderForm,
    PairsForm,
    PlacesForm,
    RhythmForm,
    ScoreForm,
    StaveBlock,
    TextBlock,
    WordsForm,
)
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value
from stavewright.score.event import Gap
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.duration import Duration
from stavewright.theory.errors import StavewrightError

WORD_MM: Final = {"word": 42.0, "phrase": 84.0, "line": 0.0}
_GAP_ROOM: Final = 2.6
_BARS_A_LINE: Final = 4
_BELOW: Final = 0.6
"""Room below a stave to compose on, in staves: for dynamics and slurs."""
_BLANK: Final = Score(
    (Stave("treble", (Bar(((Gap(Duration("semibreve")),),), line="none", free=True),), show_clef=False),)
)


@dataclass(frozen=True, slots=True)
class Filling:
    """What to put into a form: nothing, a pupil's values, or the model answer's."""

    values: tuple[Value, ...] = ()
    model: bool = False

    def at(self, place: int) -> Value | None:
        """The value of the form at that place."""
        return self.values[place] if place < len(self.values) else None


EMPTY: Final = Filling()


@dataclass(frozen=True, slots=True)
class FormSetter:
    """Sets response forms: pictures from the `gallery`, words by `say`, within `width` mm; letters take `char` mm."""

    gallery: Gallery
    say: Say
    char: float

    def items(
        self, question: FullQuestion, width: float, filling: Filling = EMPTY, *, terse: bool = False
    ) -> list[Item]:
        """The forms of a question, one below the other. `terse` leaves out "Mark one answer" (said once above)."""
        out: list[Item] = []
        terse = terse or any(isinstance(block, TextBlock) and "Mark " in block.text for block in question.prompt)
        for place, form in enumerate(question.response):
            out += self._form(question, form, width, filling.at(place), filling.model, terse)
        return out

    def _form(
        self, question: FullQuestion, form: Form, width: float, value: Value | None, model: bool, terse: bool
    ) -> list[Item]:
        if isinstance(form, ChoiceForm | ChoicesForm):
            return [self._options(form, width, value, model, terse)]
        if isinstance(form, PairsForm):
            return [self._pairs(form, value)]
        again = self._again(question, form, width)
        drawn = self._drawn(question, form, width, value, model)
        if drawn:
            return [*again, *drawn]
        said = self.say(value_words(value)) if value is not None else ""
        if isinstance(form, NotesForm | RhythmForm | ScoreForm):
            room = [*again, *self._stave(question, form, width)]
            return [*room, Words(said, "pencil")] if said else room
        return self._lines(form, width, said, value)

    def _lines(self, form: Form, width: float, said: str, value: Value | None) -> list[Item]:
        written = (said,) if said else ()
        if isinstance(form, WordsForm):
            room = WORD_MM.get(form.size, 84.0) * self.char / 1.95
            return [Lines(1, width if room == 0 else min(room, width), written=written)]
        if isinstance(form, NumberForm):
            return [Lines(1, 22 * self.char / 1.95, tail=self.say(form.unit), written=written)]
        if isinstance(form, OrderForm):
            choices = [self._choice(option, None, width / 2) for option in form.items]
            rows = self._columns([self._need(option) for option in form.items], width)
            order = tuple(value.order or ()) if value else ()
            what = "" if value else self.say("Write the letters in order.")
            return [
                Options(tuple(Choice(one.letter, one.text, one.picture, "none") for one in choices), rows, what),
                Lines(len(form.items), 14.0, written=order),
            ]
        if isinstance(form, ChordsForm):
            chords = tuple(value.chords or ()) if value else ()
            head = [Words(self.say("Choose from: ") + ", ".join(form.choices), "quiet")] if form.choices else []
            return [*head, Lines(form.slots, 22.0, written=chords)]
        if isinstance(form, PlacesForm):
            return self._places(form, said, value)
        return [Lines(1, 0.0, written=written)]

    def _places(self, form: PlacesForm, said: str, value: Value | None) -> list[Item]:
        count = form.how_many or 1
        if form.what in ("bars", "numbers"):
            places = value.places or () if value else ()
            numbers = [str(place.bar if form.what == "bars" else place.note) for place in places]
            lead = self.say(("Bar" if form.what == "bars" else "Note") + ("" if count == 1 else "s"))
            return [Lines(1, 22.0 + 14.0 * count, lead=lead, written=(", ".join(numbers),) if numbers else ())]
        if form.what == "notes":
            return [Lines(1, 30.0 + 24.0 * count, lead=self.say("Bar and note"), written=(said,) if said else ())]
        return [Lines(1, 40.0 + 12.0 * count, lead=self.say("Answer"), written=(said,) if said else ())]

    def _options(
        self, form: ChoiceForm | ChoicesForm, width: float, value: Value | None, model: bool, terse: bool
    ) -> Options:
        picked: tuple[str, ...] = ()
        if value is not None:
            picked = value.choices or ((value.choice,) if value.choice else ())
        word = "right" if model else "picked"
        columns = self._columns([self._need(option) for option in form.options], width)
        wide = width / columns - 7.2 * self.char
        made = tuple(self._choice(one, word if one.id in picked else "", wide) for one in form.options)
        if isinstance(form, ChoiceForm):
            head = "Mark one answer."
        else:
            head = f"Mark {form.how_many} answers." if form.how_many else "Mark every right answer."
        return Options(made, columns, "" if terse or model else self.say(head))

    def _need(self, option: Option) -> float:
        need = 13 * self.char / 1.95 + len(option.text) * self.char
        if option.score is not None:
            need = max(need, self.gallery.of(score_of(option.score)).width_mm + 7.2 * self.char)
        return need

    def _columns(self, needs: list[float], width: float) -> int:
        most = int(width // (max(needs, default=width) + 3))
        return columns_for(len(needs), max(1, most), 5)

    def _choice(self, option: Option, mark: str | None, width: float) -> Choice:
        picture = None
        if option.score is not None:
            drawn = self.gallery.of(score_of(option.score), max(width, 30.0), "natural")
            picture = self.gallery.shown(drawn, option.alt or f"The music of answer {option.id}.")[0]
        return Choice(option.id, self.say(option.text), picture, mark or "")

    def _pairs(self, form: PairsForm, value: Value | None) -> Pairs:
        left = tuple(Choice(one.id, self.say(one.text)) for one in form.left)
        right = tuple(Choice(one.id, self.say(one.text)) for one in form.right)
        joined: list[tuple[int, int]] = []
        for one, other in value.pairs or () if value else ():
            starts = [i for i, option in enumerate(form.left) if option.id == one]
            ends = [i for i, option in enumerate(form.right) if option.id == other]
            joined += [(a, b) for a in starts for b in ends]
        return Pairs(left, right, tuple(joined))

    def _drawn(self, question: FullQuestion, form: Form, width: float, value: Value | None, model: bool) -> list[Item]:
        if value is None or not isinstance(form, NotesForm | RhythmForm | ScoreForm):
            return []
        score = self.music(question, value)
        if score is None:
            return []
        picture = self.gallery.of(score, width)
        if not model:
            picture = in_ink(picture, all_of_it=not isinstance(form, NotesForm))
        alt = self.say("The model answer." if model else f"The pupil wrote: {value_words(value)}.")
        return list(self.gallery.shown(picture, alt))

    def music(self, question: FullQuestion, value: Value) -> Score | None:
        """A value as music, where the question's kind can draw it; None where it says it in words."""
        kind = kind_of(question.kind)
        if value.score is not None:
            return score_of(value.score)
        if kind.draw is None:
            return None
        try:
            return kind.draw(facts_of(question), native(question, value))
        except StavewrightError:
            return None

    def _again(self, question: FullQuestion, form: Form, width: float) -> list[Item]:
        """The bar that is to be written again, above the stave to write it on."""
        if not isinstance(form, RhythmForm) or form.what != "beams" or form.given is None:
            return []
        score = score_of(form.given)
        if _is_empty(score) or any(isinstance(one, StaveBlock) and one.score == form.given for one in question.prompt):
            return []
        shown = self.gallery.of(score, width)
        return list(self.gallery.shown(shown, self.say(form.alt or "A bar to write again.")))

    def _stave(self, question: FullQuestion, form: NotesForm | RhythmForm | ScoreForm, width: float) -> list[Item]:
        given = form.given
        if given is None:
            on_it = isinstance(form, RhythmForm) and form.what in ("rests", "bar-lines")
            if on_it and any(isinstance(block, StaveBlock) for block in question.prompt):
                return []
            score, alt = _BLANK, "An empty stave to write on."
        elif isinstance(form, RhythmForm) and form.what == "beams" and not _is_empty(score_of(given)):
            score, alt = _empty_like(score_of(given)), "An empty stave to write on."
        elif any(isinstance(block, StaveBlock) and block.score == given for block in question.prompt):
            return []
        else:
            score, alt = score_of(given), getattr(form, "alt", "") or "A stave to write on."
        whole = not (isinstance(form, RhythmForm) and form.what == "values")
        if isinstance(form, ScoreForm) and given is not None:
            return self._lines_to_fill(score, self.say(alt), width)
        if isinstance(form, RhythmForm) and form.what == "values" and self._long(question, width):
            return self._lines_to_fill(score, self.say(alt), width, bars=len(score.staves[0].bars) // 2)
        shown = self.gallery.shown(self.gallery.of(score, *self._room(score, given, width, whole=whole)), self.say(alt))
        return [*shown, *shown] if isinstance(form, ScoreForm) and given is None else list(shown)

    def _long(self, question: FullQuestion, width: float) -> bool:
        """Whether the music of the prompt, of four bars or more, takes more than one line: so does the answer."""
        scores = [score_of(block.score) for block in question.prompt if isinstance(block, StaveBlock)]
        return any(len(one.staves[0].bars) >= 4 and self.gallery.of(one).width_mm > width for one in scores)

    def _lines_to_fill(self, score: Score, alt: str, width: float, bars: int = _BARS_A_LINE) -> list[Item]:
        """A stave to compose on, no more than so many bars a line where whole bars are empty."""
        pieces = [score]
        if sum(is_room(bar) for bar in score.staves[0].bars) >= bars:
            pieces = list(cut_lines(score, bars))
        shown: list[Item] = []
        for number, piece in enumerate(pieces, 1):
            said = alt if number == 1 else f"The stave goes on, line {number} of {len(pieces)}."
            drawn = self.gallery.shown(self.gallery.of(piece, width, "full"), said)
            shown += [struct_replace(one, sink=_BELOW * self.gallery.stave_mm) for one in drawn]
        return shown

    def _room(self, score: Score, given: ScoreDocument | None, width: float, *, whole: bool) -> tuple[float, Fit]:
        """How wide an answer stave is: room for every note to write, the whole width when that is much."""
        if given is None:
            return (width if whole else 8.0 * self.gallery.stave_mm), "full"
        gaps = sum(isinstance(event, Gap) for event in score.events())
        natural = self.gallery.of(score).width_mm
        wanted = natural + gaps * _GAP_ROOM * self.gallery.stave_mm * (0.5 if gaps > 3 else 1.0)
        if not has_gaps(score):
            return width, "auto"
        return (width, "full") if wanted > 0.7 * width else (max(wanted, 6.5 * self.gallery.stave_mm), "full")


def _is_empty(score: Score) -> bool:
    return all(isinstance(event, Gap) for event in score.events())


def _empty_like(score: Score) -> Score:
    """An empty bar with the clef and signatures of a score."""
    stave = score.staves[0]
    room = Bar(((Gap(Duration("semibreve")),),), free=True)
    return Score((Stave(stave.clef, (room,), stave.fifths, stave.time),))


def columns_for(count: int, most: int, limit: int) -> int:
    """Into how many columns so many things fall, rows as few and as even as may be; at most `most` and `limit`.

    >>> [columns_for(4, most, 5) for most in (1, 2, 3, 4)], columns_for(5, 4, 5), columns_for(6, 4, 4)
    ([1, 2, 2, 4], 3, 3)
    """
    rows = -(-count // max(1, min(most, limit, count)))
    return -(-count // rows)
