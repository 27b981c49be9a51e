"""`stavewright kinds`: the question kinds."""

from __future__ import annotations

import click

EPILOG = """\
\b
Examples:
  stavewright kinds
  stavewright kinds --topic scales
  stavewright kinds --json
"""


@click.command(epilog=EPILOG)
@click.option("--topic", help="Only kinds of this topic.")
@click.option("--json", "as_document", is_flag=True, help="One JSON document a line.")
def kinds(topic: str | None, as_document: bool) -> None:
    """List the question kinds: topic, first grade, forms, and how many different questions each holds by grade."""
    from stavewright.questions.catalogue import kinds as all_kinds
    from stavewright.syllabus.scope import GRADES, scope_for

    found = [kind for kind in all_kinds().values() if topic in (None, kind.topic)]
    if not found:
        topics = sorted({kind.topic for kind in all_kinds().values()})
        raise click.UsageError(f"no topic {topic!r}; the topics are {', '.join(topics)}")
    for kind in found:
        pools = {grade: kind.pool(scope_for(grade)) for grade in GRADES if grade >= kind.since}
        if as_document:
            import json

            line = {"id": kind.id, "topic": kind.topic, "since": kind.since, "title": kind.title}
            click.echo(json.dumps({**line, "forms": dict(kind.forms), "pool": {str(g): n for g, n in pools.items()}}))
            continue
        sizes = " ".join(f"g{grade}:{'many' if size is None else size}" for grade, size in pools.items())
        forms = "/".join(f"{edition} {form}" for edition, form in kind.forms.items())
        click.echo(f"{kind.id:<24} {kind.topic:<14} from grade {kind.since}  {forms:<36} pool {sizes}")
