"""How terms are said, and which are mixed up or opposite: language rules held on every line, faults refused."""

from __future__ import annotations

import re

import pytest

from stavewright.syllabus.companions import COLUMNS, companion_of, companions, read_companions
from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.terms import all_terms

TERMS = all_terms()


def words(language: str) -> list[tuple[str, str]]:
    """(word, how it is said) of every term of a language that is said word for word."""
    found = []
    for term in TERMS:
        said = companion_of(term.key).said.split()
        pieces = [piece for piece in term.term.lower().replace("...", "").split() if "." not in piece]
        if term.language == language and len(said) == len(pieces):
            found += list(zip(pieces, (one.lower() for one in said), strict=True))
    return sorted(set(found))


def test_every_term_is_said_with_a_stress() -> None:
    assert set(companions()) == {term.key for term in TERMS}
    for key, one in companions().items():
        stressed = [piece for word in one.said.split() for piece in word.split("-") if re.search("[A-Z]", piece)]
        assert 1 <= len(stressed) <= len(one.said.split()), key


# fmt: off
# language, spelling, what must be heard, what must not; rules of the languages from memory (common practice)
RULES = [
    ("Italian", r"c[eiè]", r"ch|sh", None),  # cento, but scena
    ("Italian", r"(^|[^gn])g[eiè](?!$)", r"j", None),
    ("Italian", r"gn", r"ny", r"g-n"),
    ("Italian", r"ch", r"k", r"ch"),  # che
    ("Italian", r"gh", r"g", r"j"),  # larghetto
    ("Italian", r"zz", r"t-ts|d-dz", None),
    ("Italian", r"[aeiou]ss[aeiou]", r"s-s|s-sy", r"z(?=ee-moh)"),
    ("Italian", r"tt", r"t-t", None),
    ("Italian", r"ll", r"l-l", None),
    ("Italian", r"qu", r"kw", None),
    ("Italian", r"[aeiou]s[aeiou]", r"z|s", None),
    ("Italian", r"sc[ei]", r"sh", r"sk"),
    ("French", r"(an|en|em)(t|s)?$", r"\(n\)", r"nt$"),
    ("French", r"ou", r"oo|wah|\(n\)", None),
    ("French", r"[éè]", r"ay|eh|uh|ahk", None),
    ("French", r"eux$", r"uh$", r"x"),
    ("French", r"ch", r"sh", None),
    ("French", r"gn", r"ny", None),
    ("French", r"j", r"zh", r"j"),
    ("French", r"^h", r"^[^h]", None),
    ("French", r"qu", r"k", r"kw"),
    ("German", r"sch", r"sh", None),
    ("German", r"^w", r"^v", r"^w"),
    ("German", r"^(v)(?!i[bv])", r"^f", r"^v"),
    ("German", r"^z", r"^ts", r"^z"),
    ("German", r"^st", r"^sht", None),
    ("German", r"^s[aeiouäöü]", r"^z", None),
    ("German", r"ä(?!u)", r"eh|e", None),
    ("German", r"äu|eu", r"oy", None),
    ("German", r"ö", r"ur", None),
    ("German", r"ü", r"ew", None),
    ("German", r"ei", r"i|eye|ye|y", None),
    ("German", r"ie", r"ee|ye", None),
    ("German", r"ig$", r"ikh$", None),
]
# fmt: on


@pytest.mark.parametrize("language, spelt, heard, never", RULES)
def test_the_rules_of_the_language(language: str, spelt: str, heard: str, never: str | None) -> None:
    at = [(word, said) for word, said in words(language) if re.search(spelt, word)]
    assert at or spelt in ("^h", "gn")
    for word, said in at:
        assert re.search(heard, said), (word, said)
        assert never is None or not re.search(never, said), (word, said)


@pytest.mark.parametrize(
    "key, said",
    [
        ("Cantabile|Italian", "kahn-TAH-bee-leh"),  # stress on the third from the end, Italian
        ("Comodo|Italian", "KOH-moh-doh"),
        ("Subito|Italian", "SOO-bee-toh"),
        ("Spiritoso|Italian", "spee-ree-TOH-zoh"),
        ("Con spirito|Italian", "kohn SPEE-ree-toh"),
        ("Pizzicato|Italian", "peet-tsee-KAH-toh"),
        ("Più|Italian", "PYOO"),
        ("Mezzo|Italian", "MED-dzoh"),
        ("Segno|Italian", "SEH-nyoh"),
        ("Lent|French", "LAH(N)"),
        ("Doux|French", "DOO"),
        ("Langsam|German", "LAHNG-zahm"),
        ("Zart|German", "TSAHRT"),
        ("Wild|German", "VILT"),
    ],
)
def test_stress_and_sound_of_words_with_their_own_way(key: str, said: str) -> None:
    """Dictionary stress of each, from memory."""
    assert companion_of(key).said == said


def test_pairs_that_pupils_mix_up_are_there() -> None:
    """Lists of common confusions in the brief of the terms."""
    for one, other in (
        ("Largo", "Larghetto"), ("Largo", "Allargando"), ("Ritenuto", "Ritardando"), ("Ritenuto", "Ritmico"),
        ("Calando", "Cantando"), ("Più", "Piano"), ("Tenuto", "Ritenuto"), ("Arco", "Arpeggio"),
    ):  # fmt: skip
        assert f"{other}|Italian" in companion_of(f"{one}|Italian").look_alikes


def test_opposites_and_look_alikes_are_of_two_sides() -> None:
    for key, one in companions().items():
        for other in (*one.opposites, *one.look_alikes):
            assert other in companions()
        assert all(key in companions()[other].opposites for other in one.opposites)
        assert all(key in companions()[other].look_alikes for other in one.look_alikes)


def test_how_many_have_one() -> None:
    """The figures of docs/terms.md; of the terms that papers ask, all but a few have a look-alike."""
    having = [key for key, one in companions().items() if one.look_alikes]
    assert len(having) == 508
    assert sum(bool(one.opposites) for one in companions().values()) == 239
    assert sum(bool(one.senses) for one in companions().values()) == 37
    core = {term.key for term in TERMS if term.core}
    assert len(core - set(having)) <= 0.05 * len(core)


HEAD = "\t".join(COLUMNS)
LENTO, LARGO = (next(t for t in TERMS if t.term == name) for name in ("Lento", "Largo"))


def line(term: str, said: str = "LEN-toh", alike: str = "", against: str = "", context: str = "") -> str:
    return f"{term}\tItalian\t{said}\t{alike}\t{against}\t{context}"


@pytest.mark.parametrize(
    "text, fault",
    [
        ("", "columns"),
        (f"{HEAD}\n{line('Lento', '')}", "no pronunciation"),
        (f"{HEAD}\n{line('Lento', 'len-toh')}", "stressed"),
        (f"{HEAD}\n{line('Lento', 'LÉN-toh')}", "letters"),
        (f"{HEAD}\n{line('Lento')}\n{line('Lento')}", "stands twice"),
        (f"{HEAD}\n{line('Nope')}", "no such term"),
        (f"{HEAD}\n{line('Lento')}", "Largo|Italian has no line"),
        (f"{HEAD}\n{line('Lento', alike='Nope|Italian')}\n{line('Largo')}", "no term 'Nope|Italian'"),
        (f"{HEAD}\n{line('Lento', alike='Largo|Italian')}\n{line('Largo')}", "does not have Lento|Italian"),
        (f"{HEAD}\n{line('Lento', against='Largo|Italian')}\n{line('Largo')}", "does not have Lento|Italian"),
        (f"{HEAD}\n{line('Lento', against='Lento|Italian')}\n{line('Largo')}", "its own opposites"),
        (f"{HEAD}\n{line('Lento', context='slow')}\n{line('Largo')}", "where it stands"),
        (f"{HEAD}\nLento\tItalian", "line 2 has 2 fields"),
    ],
)
def test_a_broken_table_is_refused(text: str, fault: str) -> None:
    with pytest.raises(BadSyllabus) as caught:
        read_companions(text, (LENTO, LARGO))
    assert fault in str(caught.value)
