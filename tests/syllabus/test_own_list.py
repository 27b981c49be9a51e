"""A teacher's own list: added, hidden, moved, own themes and colours; as a document and as a table; all or nothing."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.own_list import (
    Move,
    OwnList,
    OwnTerm,
    OwnTheme,
    apply,
    faults_of,
    read_own_list,
    write_own_list,
)
from stavewright.syllabus.own_list_csv import guarded, read_csv, unguarded, write_csv
from stavewright.syllabus.terms import LANGUAGES, all_terms
from stavewright.syllabus.themes import all_themes

DAWN = OwnTheme("dawn", "Dawn", "DW", "#ffe0cc", "dots-fine")
FRESCO = OwnTerm("Fresco", "Italian", "fresh", "dawn", 2, accepted=("cool", "new"), said="FRES-koh")
OWN = OwnList(
    add=(FRESCO,),
    hide=("Tosto|Italian", "Bis|German"),
    move={
        "Lento|Italian": Move(level=1),
        "Grave|Italian": Move(theme="sad", core=False),
        "Volante|Italian": Move(theme="dawn"),
    },
    themes=(DAWN, OwnTheme("loud", "Loud", "LO", "#4a0010", "solid")),
)


def test_the_own_list_lies_over_the_list() -> None:
    listed = apply(OWN)
    by_key = {term.key: term for term in listed.terms}
    assert len(listed.terms) == len(all_terms()) - 2 + 1
    assert "Tosto|Italian" not in by_key
    assert by_key["Lento|Italian"].level == 1
    assert by_key["Lento|Italian"].theme == "tempo slow"
    assert (by_key["Grave|Italian"].theme, by_key["Grave|Italian"].core) == ("sad", False)
    assert (by_key["Fresco|Italian"].meanings, by_key["Fresco|Italian"].family) == (("fresh", "cool", "new"), "own")
    assert listed.themes["dawn"].title == "Dawn"
    assert listed.themes["loud"].colour == "#4a0010"
    assert listed.themes["loud"].scale == "loudness"
    assert all_themes()["loud"].colour != "#4a0010"
    assert apply(OwnList()).terms == all_terms()


def test_the_document_comes_back_as_it_was() -> None:
    assert read_own_list(write_own_list(OWN)) == OWN
    assert write_own_list(OwnList()) == b"{}"


def test_the_table_comes_back_as_it_was() -> None:
    assert read_csv(write_csv(OWN), OWN) == OWN
    assert read_csv(write_csv(OwnList())) == OwnList()


def test_what_a_table_does_not_name_stays() -> None:
    own = read_csv("term,language,grade,shown\nLento,Italian,1,\nTosto,Italian,,no\n")
    assert own == OwnList(hide=("Tosto|Italian",), move={"Lento|Italian": Move(level=1)})


def test_a_table_as_other_spreadsheets_write_it() -> None:
    text = "\ufeffTerm;Language;Meaning;Theme\r\nFresco;Italian;fresh;calm and simple\r\n\r\n"
    assert read_csv(text).add == (OwnTerm("Fresco", "Italian", "fresh", "calm and simple"),)


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-issimo", "@sum", "\tx", "\rx", "'=x", "''", "'", "it's", "", "plain"])
def test_a_cell_never_begins_a_formula(cell: str) -> None:
    assert not guarded(cell).startswith(("=", "+", "-", "@", "\t", "\r"))
    assert unguarded(guarded(cell)) == cell


def test_no_cell_of_a_written_table_is_a_formula() -> None:
    evil = OwnTerm("=cmd", "Italian", "@sum(1)", "sad", 1, accepted=("+1",), source="-1")
    own = OwnList(add=(evil,))
    cells = [cell for row in csv.reader(io.StringIO(write_csv(own))) for cell in row]
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@"))]
    assert "'-issimo" in cells
    assert read_csv(write_csv(own)) == own


@pytest.mark.parametrize(
    "text, said",
    [
        ("", "row 1: no column 'term'"),
        ("term,meaning\nx,y", "row 1: no column 'language'"),
        ("term,language,colour\nx,Italian,y", "no column is called 'colour'"),
        ("term,language,term\nx,Italian,y", "'term' stands twice"),
        ("term,language\n,Italian", "row 2, column term: empty"),
        ("term,language\nLento,Martian", "row 2, column language: 'Martian'"),
        ("term,language,grade\nLento,Italian,6", "row 2, column grade: '6'"),
        ("term,language,theme\nLento,Italian,snail", "row 2, column theme: 'snail'"),
        ("term,language,core\nLento,Italian,maybe", "row 2, column core: 'maybe'"),
        ("term,language,meaning\nLento,Italian,fast", "row 2, column meaning: 'fast' is 'slow' in the list"),
        ("term,language\nFresco,Italian", "row 2, column meaning: empty"),
        ("term,language\nLento,Italian\nLENTO,Italian", "row 3, column term: LENTO (Italian) is in row 2 already"),
        ("term,language\nLento,Italian,7", "row 2 has 3 cells"),
        ('term,language\n"Lento,Italian', "not a table"),
        ("term,language,meaning,theme,shown\nFresco,Italian,fresh,sad,no", "column shown"),
        (f"term,language,meaning,theme\n{'x' * 81},Italian,fresh,sad", "column term: longer than 80"),
        (f"term,language,meaning,theme,other\nXo,Italian,fresh,sad,{'x|' * 21}", "column other: at most 20"),
        ("term,language,meaning,theme\nFres|co,Italian,fresh,sad", "no |"),
    ],
)
def test_faults_of_a_table_name_row_and_column(text: str, said: str) -> None:
    with pytest.raises(BadSyllabus) as fault:
        read_csv(text)
    assert said in str(fault.value)


def test_all_faults_of_a_table_are_told_together() -> None:
    with pytest.raises(BadSyllabus, match=r"row 2, column grade.*row 3, column theme.*row 4, column language"):
        read_csv("term,language,grade,theme\nLento,Italian,9,\nLargo,Italian,,x\nVivo,Latinish,,\n")


@pytest.mark.parametrize(
    "document, said",
    [
        (b"{", "not JSON"),
        (b'{"hidden": []}', "unknown field"),
        (b'{"hide": ["Nope|Italian"]}', "no term 'Nope|Italian'"),
        (b'{"hide": ["Lento|Italian", "Lento|Italian"]}', "twice"),
        (b'{"hide": ["Lento|Italian"], "move": {"Lento|Italian": {"level": 1}}}', "is hidden"),
        (b'{"move": {"Lento|Italian": {"level": 6}}}', "<= 5"),
        (b'{"move": {"Lento|Italian": {"theme": "snail"}}}', "no theme 'snail'"),
        (b'{"add": [{"term": "Lento", "language": "Italian", "meaning": "x", "theme": "sad"}]}', "in the list already"),
        (b'{"add": [{"term": "Xo", "language": "Elvish", "meaning": "x", "theme": "sad"}]}', "language must be"),
        (b'{"add": [{"term": "Xo", "language": "Italian", "theme": "sad"}]}', "meaning"),
        (b'{"themes": [{"id": "d", "title": "D", "tag": "SL", "colour": "#ffffff", "pattern": "grid"}]}', "tag 'SL'"),
        (b'{"themes": [{"id": "d", "title": "D", "tag": "DD", "colour": "#808080", "pattern": "grid"}]}', "contrast"),
        (b'{"themes": [{"id": "d", "title": "D", "tag": "DD", "colour": "red", "pattern": "grid"}]}', "not a colour"),
    ],
)
def test_faults_of_a_document(document: bytes, said: str) -> None:
    with pytest.raises(BadSyllabus) as fault:
        read_own_list(document)
    assert said in str(fault.value)


def test_an_own_list_that_does_not_fit_is_not_laid_over() -> None:
    with pytest.raises(BadSyllabus, match="no term"):
        apply(OwnList(hide=("Nope|Italian",)))


_TEXT = st.text(st.sampled_from("abxyzéÖß =+-@',;\"\u2019\t0"), min_size=1, max_size=12).map(str.strip).filter(bool)
_TERMS = st.builds(
    OwnTerm,
    term=_TEXT,
    language=st.sampled_from(LANGUAGES),
    meaning=_TEXT,
    theme=st.sampled_from(sorted(all_themes())),
    level=st.integers(1, 5),
    core=st.booleans(),
    accepted=st.lists(_TEXT, max_size=2).map(tuple),
)


@settings(max_examples=40, deadline=None)
@given(st.lists(_TERMS, max_size=3), st.sets(st.sampled_from([term.key for term in all_terms()]), max_size=3))
def test_every_list_that_fits_comes_back_from_document_and_table(add: list[OwnTerm], hide: set[str]) -> None:
    """What is written is read back the same, whatever the letters; what does not fit is never written."""
    order = [term.key for term in all_terms()]
    own = OwnList(tuple(add), tuple(sorted(hide, key=order.index)))
    if list(faults_of(own)):
        with pytest.raises(BadSyllabus):
            write_csv(own)
        return
    assert read_own_list(write_own_list(own)) == own
    assert read_csv(write_csv(own)) == own
