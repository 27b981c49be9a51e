"""Files made to do harm, or broken by accident: each is refused by name, quickly, with nothing fetched."""

from __future__ import annotations

import contextlib
import io
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from exchange.any_score import hard_case
from stavewright.exchange.errors import BadMusicXML, NotUnderstood, TooLarge
from stavewright.exchange.musicxml_read import from_musicxml
from stavewright.exchange.musicxml_write import to_musicxml
from stavewright.theory.errors import StavewrightError

GOOD = to_musicxml(hard_case())
CONTAINER = (
    '<container><rootfiles><rootfile full-path="music.musicxml" '
    'media-type="application/vnd.recordare.musicxml+xml"/></rootfiles></container>'
)


def packed(files: dict[str, str | bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", method) as archive:
        for name, text in files.items():
            archive.writestr(name, text)
    return buffer.getvalue()


def laughs() -> str:
    rows = ['<!ENTITY a "ha">'] + [
        f'<!ENTITY {y} "{f"&{x};" * 10}">' for x, y in zip("abcdefgh", "bcdefghi", strict=True)
    ]
    return f"<?xml version='1.0'?><!DOCTYPE score-partwise [{''.join(rows)}]><score-partwise>&i;</score-partwise>"


OUTSIDE = '<!DOCTYPE s [<!ENTITY x SYSTEM "file:///etc/hostname">]><score-partwise><part-list>&x;</part-list></score-partwise>'
DEEP = "<score-partwise>" + "<a>" * 5000 + "</a>" * 5000 + "</score-partwise>"


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (laughs(), "ENTITY"),
        (laughs().encode("utf-16"), "ENTITY"),
        (OUTSIDE, "ENTITY"),
        ('<!DOCTYPE s [<!ATTLIST note print-object CDATA "no">]><score-partwise/>', "ATTLIST"),
        (DEEP, "not sound XML"),
        (b"\x00" * 10_000_000, "not XML"),
        (b"A" * 10_000_000, "not XML"),
        ((b"<score-partwise>" + b"<a>junk" * 1_500_000), "not sound XML"),
        (b"", "empty"),
        ("   ", "empty"),
        ("{}", "not XML"),
        ("<html><body>404</body></html>", "'html'"),
        (GOOD[: len(GOOD) // 2], "not sound XML"),
        (GOOD.encode()[:-9], "not sound XML"),
        (b"<?xml version='1.0' encoding='UTF-8'?><score-partwise>\xff\xfe</score-partwise>", "not sound XML"),
        (b"PK\x03\x04" + b"\x00" * 500, "cannot be unpacked"),
        (packed({"META-INF/container.xml": CONTAINER, "music.musicxml": GOOD})[:-40], "cannot be unpacked"),
        (packed({"readme.txt": "no music"}), "no MusicXML document"),
        (packed({"a.xml": packed({"b.xml": GOOD})}), "another packed file"),
        (packed({"META-INF/container.xml": laughs(), "music.musicxml": GOOD}), "ENTITY"),
    ],
    ids=lambda value: value if isinstance(value, str) and len(value) < 30 else "",
)
def test_each_is_refused_by_name(data, words):
    with pytest.raises(BadMusicXML, match=words):
        from_musicxml(data)


def test_a_packed_bomb_is_stopped_at_the_limit():
    """Forty megabytes of blanks pack into forty kilobytes; no more than the limit is unpacked."""
    bomb = packed({"META-INF/container.xml": CONTAINER, "music.musicxml": b" " * 40_000_000})
    assert len(bomb) < 100_000
    with pytest.raises(TooLarge, match="unpacks to more than 32000000 bytes"):
        from_musicxml(bomb)


def test_a_bomb_in_the_container_is_stopped():
    with pytest.raises(TooLarge, match="container"):
        from_musicxml(packed({"META-INF/container.xml": b" " * 1_000_000, "music.musicxml": GOOD}))


def test_a_long_file_is_refused_before_it_is_parsed():
    with pytest.raises(TooLarge, match="at most 1000 bytes"):
        from_musicxml(GOOD, limit=1000)


def test_too_many_files_are_refused():
    with pytest.raises(TooLarge, match="600 files"):
        from_musicxml(packed({f"{n}.txt": "" for n in range(600)}))


def test_a_packed_file_is_read():
    assert from_musicxml(packed({"META-INF/container.xml": CONTAINER, "music.musicxml": GOOD})) == hard_case()
    assert from_musicxml(packed({"music.xml": GOOD}, zipfile.ZIP_STORED)) == hard_case()


def test_a_usual_document_type_is_no_attack_and_is_not_fetched():
    """Most real files name the published DTD by address; it is not looked at."""
    doctype = (
        '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://127.0.0.1:9/x.dtd">'
    )
    assert from_musicxml(GOOD.replace("<score-partwise", doctype + "<score-partwise", 1)) == hard_case()


def test_a_path_out_of_the_archive_is_never_followed():
    outside = CONTAINER.replace("music.musicxml", "../../etc/passwd")
    with pytest.raises(BadMusicXML, match="no MusicXML document"):
        from_musicxml(packed({"META-INF/container.xml": outside}))


def test_timewise_and_unread_encodings_say_what_to_do():
    with pytest.raises(NotUnderstood, match="save it as score-partwise"):
        from_musicxml("<score-timewise/>")
    with pytest.raises(NotUnderstood, match="save the file as UTF-8"):
        from_musicxml(b"<?xml version='1.0' encoding='EUC-JP'?><score-partwise/>")


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_a_file_cut_or_changed_anywhere_is_read_or_refused_by_name(data):
    """Whatever is cut out of or put into a good file, the answer is a score or a named error, never a crash."""
    text = GOOD.encode()
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 60)))
    middle = data.draw(
        st.sampled_from(
            [b"", b"9", b"-1", b"<note>", b"</note>", b"\x00", b"0.5", b"<chord/>", b"99999999", "\u00b2".encode()]
        )
    )
    with contextlib.suppress(StavewrightError):
        assert from_musicxml(text[:start] + middle + text[end:]).staves


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=300))
def test_any_bytes_are_refused_by_name(data):
    with pytest.raises(StavewrightError):
        from_musicxml(data)
