"""A teacher's own list as a table for a spreadsheet: written whole, read back as what differs from the list."""

from __future__ import annotations

import csv
import io

from msgspec import structs

from stavewright.syllabus.companions import companions
from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.meanings import fold
from stavewright.syllabus.own_list import MOST, Move, OwnList, OwnTerm, apply, faults_of
from stavewright.syllabus.terms import LANGUAGES, LEVELS, Term, all_terms
from stavewright.syllabus.themes import all_themes
from stavewright.theory.errors import together

COLUMNS = ("term", "language", "meaning", "accepted", "other", "said", "theme", "grade", "core", "shown", "source")
_NEEDED = ("term", "language")
_RISKY = ("=", "+", "-", "@", "\t", "\r", "'")
_YES = {"yes": True, "y": True, "no": False, "n": False}
_LONGEST = {"term": 80, "meaning": 200, "said": 120, "source": 200}
_MOST_PIECES = 20
_MOST_ROWS = 2 * MOST


def guarded(cell: str) -> str:
    """A cell that a spreadsheet will show and never work out: one that begins like a formula gets an apostrophe.

    >>> guarded("=1+1"), guarded("-issimo"), guarded("lento")
    ("'=1+1", "'-issimo", 'lento')
    """
    return f"'{cell}" if cell.startswith(_RISKY) else cell


def unguarded(cell: str) -> str:
    """The cell as it was before it was guarded.

    >>> unguarded("'=1+1"), unguarded("'tis")
    ('=1+1', "'tis")
    """
    return cell[1:] if cell.startswith("'") and cell[1:].startswith(_RISKY) else cell


def write_csv(own: OwnList) -> str:
    """The whole list with one's own laid over it, hidden terms too (shown: no), one term a row.

    Raises:
        BadSyllabus: the own list does not fit the list.

    >>> write_csv(OwnList()).splitlines()[0]
    'term,language,meaning,accepted,other,said,theme,grade,core,shown,source'
    """
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    said = {key: one.said for key, one in companions().items()} | {term.key: term.said for term in own.add}
    hidden = set(own.hide)
    open_list = structs.replace(own, hide=())
    for term in apply(open_list).terms:
        cells = (
            term.term, term.language, term.meaning, "|".join(term.accepted), "|".join(term.other), said[term.key],
            term.theme, str(term.level), "yes" if term.core else "no", "no" if term.key in hidden else "yes",
            term.source,
        )  # fmt: skip
        writer.writerow(map(guarded, cells))
    return out.getvalue()


def read_csv(text: str, over: OwnList | None = None) -> OwnList:
    r"""What a table changes: rows of known terms move or hide them, other rows are added, terms not named stay.

    Args:
        text: commas or semicolons, a first row of column names (term and language at least), blank cells say nothing.
        over: an own list whose themes may be used and are kept.

    Raises:
        BadSyllabus: every fault with its row and column; nothing is taken unless all is right.

    >>> read_csv("term,language,grade\nTosto,Italian,3\n").move["Tosto|Italian"].level
    3
    """
    base = over or OwnList()
    themes = {theme.id for theme in base.themes} | set(all_themes())
    known = {(term.language, fold(term.term)): term for term in all_terms()}
    add: list[OwnTerm] = []
    hide: list[str] = []
    move: dict[str, Move] = {}
    faults: list[str] = []
    met: dict[tuple[str, tuple[str, ...]], int] = {}
    for number, row in _rows(text):
        name = (row["language"], fold(row["term"]))
        wrong = _faults(row, known.get(name), themes)
        if name in met:
            wrong.append(f"column term: {row['term']} ({row['language']}) is in row {met[name]} already")
        met.setdefault(name, number)
        faults += [f"row {number}, {fault}" for fault in wrong]
        if wrong:
            continue
        term = known.get(name)
        if term is None:
            add.append(_added(row))
        elif row["shown"] and not _YES[row["shown"].lower()]:
            hide.append(term.key)
        elif (change := _change(row, term)) != Move():
            move[term.key] = change
    if faults:
        raise BadSyllabus(f"table of terms: {together(faults)}")
    own = OwnList(tuple(add), tuple(hide), move, base.themes)
    left = list(faults_of(own))
    left += [f"{len(add)} terms of your own; {MOST} is the most"] if len(add) > MOST else []
    if left:
        raise BadSyllabus(f"table of terms: {together(left)}")
    return own


def _rows(text: str) -> list[tuple[int, dict[str, str]]]:
    """Every row that is not blank, with its number as a spreadsheet counts (the names of the columns are row 1)."""
    text = text.removeprefix("\ufeff")
    first = text.partition("\n")[0]
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), delimiter=";" if ";" in first else ",", strict=True))
    except csv.Error as error:
        raise BadSyllabus(f"table of terms: not a table that can be read: {error}") from error
    header = [cell.strip().lower() for cell in lines[0]] if lines else []
    faults = [f"row 1: no column {name!r}" for name in _NEEDED if name not in header]
    faults += [f"row 1: no column is called {name!r}; known are {', '.join(COLUMNS)}" for name in header
               if name not in COLUMNS]  # fmt: skip
    faults += [f"row 1: the column {name!r} stands twice" for name in dict.fromkeys(header) if header.count(name) > 1]
    if len(lines) > _MOST_ROWS + 1:
        faults.append(f"{len(lines) - 1} rows; {_MOST_ROWS} is the most")
    if faults:
        raise BadSyllabus(f"table of terms: {together(faults)}")
    found = []
    for number, cells in enumerate(lines[1:], 2):
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) > len(header):
            faults.append(f"row {number} has {len(cells)} cells, the first row names {len(header)}")
        row = dict.fromkeys(COLUMNS, "")
        row.update(zip(header, (unguarded(cell.strip()) for cell in cells), strict=False))
        found.append((number, row))
    if faults:
        raise BadSyllabus(f"table of terms: {together(faults)}")
    return found


def _faults(row: dict[str, str], term: Term | None, themes: set[str]) -> list[str]:
    must = ("term", "language") if term else ("term", "language", "meaning", "theme")
    found = [f"column {name}: empty" for name in must if not row[name]]
    found += [f"column {name}: longer than {most} letters" for name, most in _LONGEST.items() if len(row[name]) > most]
    for name in ("accepted", "other"):
        pieces = _pieces(row[name])
        if len(pieces) > _MOST_PIECES or any(len(piece) > _LONGEST["meaning"] for piece in pieces):
            found.append(f"column {name}: at most {_MOST_PIECES} parted by |, each of {_LONGEST['meaning']} letters")
    if row["language"] and row["language"] not in LANGUAGES:
        found.append(f"column language: {row['language']!r} is not one of {', '.join(LANGUAGES)}")
    if row["theme"] and row["theme"] not in themes:
        found.append(f"column theme: {row['theme']!r} is not one of {', '.join(sorted(themes))}")
    if row["grade"] and row["grade"] not in tuple(map(str, LEVELS)):
        found.append(f"column grade: {row['grade']!r} is not 1 to 5")
    found += [
        f"column {name}: {row[name]!r} is not yes or no"
        for name in ("core", "shown")
        if row[name] and row[name].lower() not in _YES
    ]
    if term is None and row["shown"] and not _YES.get(row["shown"].lower(), True):
        found.append("column shown: a term of your own is left out rather than hidden")
    if term is not None:
        fixed = {"meaning": term.meaning, "accepted": "|".join(term.accepted), "other": "|".join(term.other),
                 "source": term.source, "said": companions()[term.key].said}  # fmt: skip
        found += [
            f"column {name}: {row[name]!r} is {had!r} in the list, and stays so; hide the term or leave the cell empty"
            for name, had in fixed.items()
            if row[name] and row[name] != had
        ]
    return found


def _added(row: dict[str, str]) -> OwnTerm:
    more = {"source": row["source"]} if row["source"] else {}
    return OwnTerm(
        row["term"], row["language"], row["meaning"], row["theme"], int(row["grade"] or 1),
        _YES[row["core"].lower()] if row["core"] else True, _pieces(row["other"]), _pieces(row["accepted"]),
        row["said"], **more,
    )  # fmt: skip


def _pieces(cell: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in cell.split("|") if part.strip())


def _change(row: dict[str, str], term: Term) -> Move:
    level = int(row["grade"]) if row["grade"] else term.level
    theme = row["theme"] or term.theme
    core = _YES[row["core"].lower()] if row["core"] else term.core
    return Move(
        None if level == term.level else level,
        None if theme == term.theme else theme,
        None if core == term.core else core,
    )
