"""`stavewright tunes`: real melodies, from installed collections or a folder of one's own."""

from __future__ import annotations

from time import perf_counter

import click

EPILOG = """\
\b
Examples:
  stavewright tunes index
  stavewright tunes index --why
  stavewright tunes folder my-music
"""


@click.group(epilog=EPILOG)
def tunes() -> None:
    """Find real melodies to set questions on."""


@tunes.command()
@click.option("--why", is_flag=True, help="Also say why tunes and bars were left out.")
def index(why: bool) -> None:
    """Look through the installed collections once, so that papers can be set on their tunes."""
    from stavewright.cli.progress import bar
    from stavewright.tunes.credit import collection_of
    from stavewright.wiring import find_tunes

    begun = perf_counter()
    with bar("Looking through the tunes") as progress:
        found, path = find_tunes(progress)
    for name, census in found.census.items():
        collection = collection_of(name)
        title = name if collection is None else " ".join((collection.composer, collection.title)).strip()
        skipped = sum(census.skipped.values())
        click.echo(f"{title:<48} {census.read:5} lines read {skipped:3} skipped {census.provable:5} extracts")
        if why:
            for reason, count in census.skipped.items():
                click.echo(f"    skipped {count:5}: {reason}")
            for reason, count in census.bars_left_out.items():
                click.echo(f"    bars left out {count:5}: {reason}")
    click.echo(f"{len(found.choirs)} ends of phrases in four parts, for questions on chords")
    click.echo(f"{len(found.entries)} extracts in {perf_counter() - begun:.1f} s; index in {path}")


@tunes.command()
@click.argument("folder", type=click.Path(exists=True, file_okay=False))
def folder(folder: str) -> None:
    """Say what a FOLDER of MusicXML gives, and which of its files are not understood and why."""
    from pathlib import Path

    from stavewright.exchange.musicxml_read import read_musicxml
    from stavewright.tunes.own_folder import OwnFolder

    found = OwnFolder.read(Path(folder), read_musicxml)
    for name, reason in found.refused:
        click.echo(f"not understood: {name}: {reason}")
    for credit in dict.fromkeys(credit for _, credit, _ in found.passages):
        count = sum(credit == one for _, one, _ in found.passages)
        click.echo(f"{count:4} extracts: {credit}")
    click.echo(f"{len(found.passages)} extracts in all")
