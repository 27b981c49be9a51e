"""The notes: each topic's rules in plain words, by the grade that adds them, with what shows and tests each."""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from importlib.resources import files

from msgspec import Struct, ValidationError, convert

from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.notes_facts import with_facts
from stavewright.syllabus.scope import GRADES

TOPICS = (
    "notes", "values", "metre", "keys", "scales", "intervals", "chords", "transposition", "terms", "instruments",
    "reading", "composing",
)  # fmt: skip
"""The topics in the order of the booklet; each has its own file."""


class Rule(Struct, frozen=True, forbid_unknown_fields=True):
    """One rule: its sentences, the kinds of question that need it, and what shows it.

    `say` are paragraphs; facts in braces are worked out by theory (`notes_facts`). `figures` and `tables` name
    pictures and tables that are computed; `examples` are kinds of which one question is set and worked (the first of
    `kinds` where left out). A rule that widens kinds of earlier ones names them in `practice`, and in `holds` a pattern
    that the facts or the answer of a question must hold to be on it.
    """

    id: str
    since: int
    title: str
    say: tuple[str, ...]
    kinds: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()
    tables: tuple[str, ...] = ()
    examples: tuple[str, ...] | None = None
    practice: tuple[str, ...] = ()
    holds: str = ""

    def sentences(self) -> tuple[str, ...]:
        """Its paragraphs with every fact worked out."""
        return tuple(with_facts(one) for one in self.say)

    @property
    def shown(self) -> tuple[str, ...]:
        """The kinds of which a question is worked beside it."""
        return self.practised[:1] if self.examples is None else self.examples

    @property
    def practised(self) -> tuple[str, ...]:
        """The kinds that practise it: its own, or those of earlier rules that it widens."""
        return self.kinds or self.practice

    def is_on(self, facts: bytes, answer: str) -> bool:
        """Whether a question is really on what this rule adds: its facts or its answer hold what they must.

        >>> alto = Rule("alto", 4, "The alto clef", ("Yes.",), practice=("name-the-note",), holds='"alto"')
        >>> alto.is_on(b'{"clef":"alto","place":3}', "B"), alto.is_on(b'{"clef":"bass","place":3}', "D")
        (True, False)
        """
        return not self.holds or re.search(self.holds, f"{facts.decode()}\n{answer}") is not None


class Topic(Struct, frozen=True, forbid_unknown_fields=True):
    """The rules of one topic, in the order of the booklet, under its title."""

    title: str
    rule: tuple[Rule, ...]
    id: str = ""


def read_topic(text: str, topic: str) -> Topic:
    r"""Read one topic's rules.

    Raises:
        BadSyllabus: with every fault: a field that is not known, a rule that stands twice or comes before an earlier
            grade's, no sentence, a fact that theory cannot work out.

    >>> text = 'title = "Keys"\n[[rule]]\nid = "a"\nsince = 1\ntitle = "A"\nsay = ["{signs D major}."]'
    >>> read_topic(text, "keys").rule[0].sentences()
    ('2 sharps.',)
    """
    try:
        found = convert({**tomllib.loads(text), "id": topic}, Topic)
    except (ValidationError, tomllib.TOMLDecodeError) as error:
        raise BadSyllabus(f"notes/{topic}.toml: {error}") from error
    faults: list[str] = []
    seen: set[str] = set()
    last = 1
    for rule in found.rule:
        where = f"rule {rule.id!r}"
        if rule.id in seen:
            faults.append(f"{where} stands twice")
        seen.add(rule.id)
        if rule.since not in GRADES:
            faults.append(f"{where}: no grade {rule.since}")
        if rule.since < last:
            faults.append(f"{where} is of grade {rule.since} and stands after one of grade {last}")
        last = max(last, rule.since)
        if not rule.say:
            faults.append(f"{where} says nothing")
        try:
            rule.sentences()
        except BadSyllabus as error:
            faults.append(f"{where}: {error}")
    if faults:
        raise BadSyllabus(f"notes/{topic}.toml: {'; '.join(faults)}")
    return found


@lru_cache(maxsize=16)
def topic_notes(topic: str) -> Topic:
    """The rules of a topic.

    Raises:
        BadSyllabus: no such topic, or its file is broken.

    >>> topic_notes("notes").rule[0].since
    1
    """
    if topic not in TOPICS:
        raise BadSyllabus(f"no notes on {topic!r}: the topics are {', '.join(TOPICS)}")
    text = files("stavewright.syllabus").joinpath(f"data/notes/{topic}.toml").read_text("utf-8")
    return read_topic(text, topic)


def rules_for(grade: int, topic: str) -> tuple[Rule, ...]:
    """The rules of a topic that a grade needs: its own and those of every grade before it."""
    return tuple(rule for rule in topic_notes(topic).rule if rule.since <= grade)
