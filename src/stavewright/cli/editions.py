"""`stavewright editions`: what each edition asks, and what differs."""

from __future__ import annotations

import click

from stavewright.cli.options import grade_option

EPILOG = """\
\b
Examples:
  stavewright editions --grade 3
  stavewright editions --grade 5 --json
"""


@click.command(epilog=EPILOG)
@grade_option()
@click.option("--json", "as_document", is_flag=True, help="One JSON document.")
def editions(grade: int, as_document: bool) -> None:
    """Say what each edition asks at a grade: marks by topic, forms of every kind, and what only one of them asks.

    So a pupil who works an older printed paper can see which of its questions still count.
    """
    from stavewright.services.compare_editions import compare, editions_at
    from stavewright.syllabus.edition import bands

    found = editions_at(grade)
    rows = compare(grade)
    if as_document:
        import json
        from dataclasses import asdict

        import msgspec

        click.echo(
            json.dumps({"editions": msgspec.to_builtins(found), "kinds": [asdict(row) for row in rows]}, indent=1)
        )
        return
    for one in found:
        click.echo(f"{one.title}: {one.says}. {one.minutes} minutes (to be confirmed by the teacher), 100 marks:")
        click.echo("  " + ", ".join(f"{topic} {marks}" for topic, marks in one.marks.items()))
    limits = bands()
    click.echo(f"Bands: pass {limits.pass_}, merit {limits.merit}, distinction {limits.distinction} (common practice).")
    click.echo("\nAsked in one edition only:")
    single = [row for row in rows if len(row.forms) < len(found)]
    for row in single:
        reasons = "; ".join(f"not {name}: {why}" for name, why in row.reasons.items())
        click.echo(f"  {row.id:<24} {'/'.join(row.forms)}  ({reasons})")
    if not single:
        click.echo("  none")
    click.echo("\nAsked in both, in another form:")
    for row in rows:
        if len(set(row.forms.values())) > 1:
            click.echo(f"  {row.id:<24} " + ", ".join(f"{name}: {form}" for name, form in row.forms.items()))
