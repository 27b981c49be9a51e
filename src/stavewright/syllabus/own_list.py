"""A teacher's or pupil's own list: terms added, hidden or moved, and own themes and colours, over the list as it is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

import msgspec
from msgspec import Meta, Struct, structs

from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.meanings import fold
from stavewright.syllabus.terms import LANGUAGES, LEVELS, Term, all_terms
from stavewright.syllabus.themes import Theme, all_themes, look_faults
from stavewright.theory.errors import together

OWN = "own list"
MOST = 2000
_Word = Annotated[str, Meta(min_length=1, max_length=80)]
_Text = Annotated[str, Meta(min_length=1, max_length=200)]
_Level = Annotated[int, Meta(ge=min(LEVELS), le=max(LEVELS))]
_Many = Annotated[tuple[_Text, ...], Meta(max_length=20)]


class OwnTerm(Struct, frozen=True, forbid_unknown_fields=True):
    """A term that the list does not have: at least its name, language, meaning and theme."""

    term: _Word
    language: _Word
    meaning: _Text
    theme: _Word
    level: _Level = 1
    core: bool = True
    other: _Many = ()
    accepted: _Many = ()
    said: Annotated[str, Meta(max_length=120)] = ""
    source: _Text = OWN

    @property
    def key(self) -> str:
        """The term and its language."""
        return f"{self.term}|{self.language}"


class Move(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Where a term goes: another grade, another theme, asked by papers or not; what is not said stays."""

    level: _Level | None = None
    theme: _Word | None = None
    core: bool | None = None


class OwnTheme(Struct, frozen=True, forbid_unknown_fields=True):
    """A theme of one's own, or (with the id of a theme of the list) how that theme shall look."""

    id: _Word
    title: _Word
    tag: str
    colour: str
    pattern: str


class OwnList(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """What differs from the list: terms added, keys hidden, keys moved, themes of one's own or in other colours."""

    add: Annotated[tuple[OwnTerm, ...], Meta(max_length=MOST)] = ()
    hide: Annotated[tuple[str, ...], Meta(max_length=MOST)] = ()
    move: Annotated[dict[str, Move], Meta(max_length=MOST)] = msgspec.field(default_factory=dict)
    themes: Annotated[tuple[OwnTheme, ...], Meta(max_length=60)] = ()


class Listed(Struct, frozen=True):
    """The list that results: terms in order, and themes by id."""

    terms: tuple[Term, ...]
    themes: dict[str, Theme]


def read_own_list(data: bytes, where: str = "own list") -> OwnList:
    r"""Read an own list from JSON.

    Raises:
        BadSyllabus: not such a document, or one that does not fit the list; every fault is told.

    >>> read_own_list(b'{"hide": ["Tosto|Italian"]}').hide
    ('Tosto|Italian',)
    """
    try:
        own = msgspec.json.decode(data, type=OwnList)
    except msgspec.ValidationError as error:
        raise BadSyllabus(f"{where}: {error}; an own list has {', '.join(OwnList.__struct_fields__)}") from error
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise BadSyllabus(f"{where}: not JSON: {error}") from error
    faults = list(faults_of(own))
    if faults:
        raise BadSyllabus(f"{where}: {together(faults)}")
    return own


def write_own_list(own: OwnList) -> bytes:
    """An own list as JSON, the same bytes for the same list.

    >>> write_own_list(OwnList(hide=("Tosto|Italian",)))
    b'{"hide":["Tosto|Italian"]}'
    """
    return msgspec.json.encode(own, order="deterministic")


def faults_of(own: OwnList) -> Iterator[str]:
    """What in an own list does not fit the list, in words."""
    known = {(term.language, fold(term.term)) for term in all_terms()}
    keys = {term.key for term in all_terms()}
    themes = {theme.id for theme in own.themes} | set(all_themes())
    seen: set[tuple[str, tuple[str, ...]]] = set()
    for term in own.add:
        name = (term.language, fold(term.term))
        if name in known:
            yield f"{term.key} is in the list already: move it, or hide it"
        if name in seen:
            yield f"{term.key} is added twice"
        if not name[1]:
            yield f"{term.key} has no letters"
        seen.add(name)
        if term.language not in LANGUAGES:
            yield f"{term.key}: the language must be one of {', '.join(LANGUAGES)}"
        yield from _theme_faults(term.key, term.theme, themes)
        for field in ("term", "meaning", "source"):
            if not getattr(term, field).strip():
                yield f"{term.key}: no {field}"
        texts = (term.term, term.meaning, term.said, term.source, *term.other, *term.accepted)
        if any(text != text.strip() or not text.isprintable() or "|" in text for text in texts):
            yield f"{term.key}: no |, no line breaks, no blanks at an end of a text"
    added = {term.key for term in own.add}
    yield from (f"hide: no term {key!r} in the list" for key in own.hide if key not in keys)
    yield from (f"hide: {key} twice" for key in dict.fromkeys(own.hide) if own.hide.count(key) > 1)
    for key, move in own.move.items():
        if key in added:
            yield f"move: {key} is your own: change it where it is added"
        elif key not in keys:
            yield f"move: no term {key!r} in the list"
        elif key in own.hide:
            yield f"move: {key} is hidden"
        if move.theme is not None:
            yield from _theme_faults(key, move.theme, themes)
    yield from _looks(own)


def _theme_faults(key: str, theme: str, themes: set[str]) -> Iterator[str]:
    if theme not in themes:
        yield f"{key}: no theme {theme!r}; known are {', '.join(sorted(themes))}"


def _looks(own: OwnList) -> Iterator[str]:
    for theme in own.themes:
        yield from look_faults(theme.id, theme.tag, theme.colour, theme.pattern)
    ids = [theme.id for theme in own.themes]
    yield from (f"the theme {id_!r} stands twice" for id_ in dict.fromkeys(ids) if ids.count(id_) > 1)
    tags = [theme.tag for theme in _themes(own).values()]
    yield from (f"the tag {tag!r} is that of two themes" for tag in dict.fromkeys(tags) if tags.count(tag) > 1)


def _themes(own: OwnList) -> dict[str, Theme]:
    found = dict(all_themes())
    for one in own.themes:
        old = found.get(one.id)
        if old is None:
            found[one.id] = Theme(one.id, one.title, one.tag, one.colour, one.pattern, "label")
        else:
            found[one.id] = structs.replace(
                old, title=one.title, tag=one.tag, colour=one.colour, pattern=one.pattern
            )
    return found


def apply(own: OwnList) -> Listed:
    """The list with one's own laid over it: hidden terms gone, moved terms changed, own terms at the end.

    Raises:
        BadSyllabus: the own list does not fit; every fault is told.

    >>> moved = apply(OwnList(move={"Tosto|Italian": Move(level=2)}))
    >>> next(term.level for term in moved.terms if term.key == "Tosto|Italian")
    2
    """
    faults = list(faults_of(own))
    if faults:
        raise BadSyllabus(f"{OWN}: {together(faults)}")
    hidden = set(own.hide)
    kept = [_moved(term, own.move.get(term.key)) for term in all_terms() if term.key not in hidden]
    mine = [
        Term(t.term, t.other, t.language, t.meaning, t.accepted, t.theme, t.level, t.core, t.source, confirmed=False)
        for t in own.add
    ]
    return Listed((*kept, *mine), _themes(own))


def _moved(term: Term, move: Move | None) -> Term:
    if move is None:
        return term
    changed = {name: value for name in Move.__struct_fields__ if (value := getattr(move, name)) is not None}
    return structs.replace(term, **changed)
