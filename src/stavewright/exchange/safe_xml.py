"""The one door for MusicXML from outside: unpacked and parsed with nothing fetched and nothing expanded."""

from __future__ import annotations

import re
import zlib
from io import BytesIO
from typing import Any, Final
from zipfile import BadZipFile, ZipFile

from lxml import etree

from stavewright.exchange.errors import BadMusicXML, NotUnderstood, TooLarge

__all__ = ["LIMIT", "opened"]

LIMIT: Final = 32_000_000
"""Most bytes of MusicXML read from one file, packed or unpacked."""

MOST_FILES: Final = 500
_CONTAINER: Final = "META-INF/container.xml"
_CONTAINER_LIMIT: Final = 65_536
_DECLARED: Final = re.compile(rb"<\?xml[^>]{0,200}?encoding\s*=\s*[\"']([A-Za-z0-9._-]{1,40})[\"']")
_UTF8: Final = frozenset(("utf-8", "utf8", "us-ascii", "ascii"))
_OTHERS: Final = frozenset(("utf-16", "utf-16le", "utf-16be", "iso-8859-1", "iso-8859-15", "windows-1252"))
_DECLARATIONS: Final = (b"<!ENTITY", b"<!ELEMENT", b"<!ATTLIST", b"<!NOTATION")
_PIECE: Final = 1 << 18
_SAFE: Final[dict[str, Any]] = {
    "resolve_entities": False,
    "no_network": True,
    "load_dtd": False,
    "dtd_validation": False,
    "huge_tree": False,
    "remove_comments": True,
    "remove_pis": True,
}
_RIGHT: Final = "give a MusicXML file as a notation program saves it (.musicxml, .xml or .mxl)"


def opened(data: bytes | str, *, limit: int = LIMIT, last_part: int | None = None) -> etree._Element:
    """The root element of a MusicXML document, from plain or packed (.mxl) bytes or from text.

    Nothing is fetched, no entity is declared or expanded, and no more than ``limit`` bytes are unpacked or parsed.
    With ``last_part`` what follows the part of that index is not parsed.

    Raises:
        TooLarge: the data, or what it unpacks to, is longer than ``limit``.
        BadMusicXML: the data is not a sound document whose root is ``score-partwise``.
        NotUnderstood: the document is ``score-timewise``, or in an encoding that is not read.

    Source: W3C, MusicXML 4.0 (2021), compressed .mxl files.

    >>> opened("<score-partwise version='4.0'/>").get("version")
    '4.0'
    """
    raw = data.encode("utf-8", "surrogatepass") if isinstance(data, str) else bytes(data)
    if len(raw) > limit:
        raise TooLarge(f"the file is {len(raw)} bytes long", right=f"give one of at most {limit} bytes")
    if raw[:4] == b"PK\x03\x04":
        raw = _unpacked(raw, limit)
    root = parsed(raw if isinstance(data, bytes) else _without_declaration(raw), last_part)
    if root.tag == "score-timewise":
        raise NotUnderstood("the document is score-timewise", right="save it as score-partwise")
    if root.tag != "score-partwise":
        raise BadMusicXML(f"the document is {str(root.tag)[:60]!r}, not a MusicXML score", right=_RIGHT)
    return root


def _without_declaration(raw: bytes) -> bytes:
    return re.sub(rb"^\s*<\?xml[^>]{0,200}\?>", b"", raw, count=1)


def _first_words(utf8: bytes) -> str:
    """How a file begins, as a person would read it."""
    return repr(utf8[:20].decode("utf-8", "replace").split("\n")[0].strip())


def parsed(raw: bytes, last_part: int | None = None) -> etree._Element:
    """The root element of any small XML document, parsed with everything dangerous switched off.

    Raises:
        BadMusicXML: not XML, cut short, too deep, or with a document type that declares things of its own.
        NotUnderstood: an encoding that is not read.
    """
    utf8 = _as_utf8(raw)
    start = utf8.lstrip()[:1]
    if start != b"<":
        what = "the file is empty"
        if utf8.strip():
            what = f"the file begins with {_first_words(utf8)}, which is not XML"
        raise BadMusicXML(what, right=_RIGHT)
    for declaration in _DECLARATIONS:
        if declaration in utf8:
            what = f"the document type declares something of its own ({declaration.decode()[2:]})"
            raise BadMusicXML(what, right="take the declarations out; MusicXML needs none")
    try:
        if last_part is not None:
            return _up_to(utf8.lstrip(), last_part)
        return etree.fromstring(utf8.lstrip(), etree.XMLParser(encoding="utf-8", **_SAFE))
    except etree.XMLSyntaxError as error:
        line = getattr(error, "lineno", None)
        raise BadMusicXML(
            f"the file is not sound XML: {error.msg}", where=f"line {line}" if line else "", right=_RIGHT
        ) from error


def _up_to(utf8: bytes, last_part: int) -> etree._Element:
    """Parse piece by piece until the wanted part is complete."""
    parser = etree.XMLPullParser(events=("end",), tag="part", encoding="utf-8", **_SAFE)
    ended = 0
    for start in range(0, len(utf8), _PIECE):
        parser.feed(utf8[start : start + _PIECE])
        for _, part in parser.read_events():
            ended += 1
            if ended > last_part and not isinstance(part, tuple) and part is not None:
                return part.getroottree().getroot()
    return parser.close()


def _as_utf8(raw: bytes) -> bytes:
    if raw[:3] == b"\xef\xbb\xbf":
        return raw[3:]
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        name = "utf-16"
    else:
        found = _DECLARED.match(raw[:300].lstrip())
        name = found.group(1).decode("ascii").lower() if found else "utf-8"
    if name in _UTF8:
        return raw
    if name not in _OTHERS:
        raise NotUnderstood(f"the encoding {name!r} is not read", right="save the file as UTF-8")
    try:
        return _without_declaration(raw.decode(name).encode("utf-8"))
    except UnicodeError as error:
        raise BadMusicXML(f"the file is not in the encoding it declares, {name}", right="save it as UTF-8") from error


def _unpacked(raw: bytes, limit: int) -> bytes:
    try:
        with ZipFile(BytesIO(raw)) as archive:
            names = archive.namelist()
            if len(names) > MOST_FILES:
                raise TooLarge(f"the .mxl file holds {len(names)} files", right=f"at most {MOST_FILES} are read")
            music = _member(archive, _root_file(archive, names), limit)
    except (BadZipFile, NotImplementedError, RuntimeError, zlib.error, EOFError, OSError) as error:
        raise BadMusicXML(f"the .mxl file cannot be unpacked: {error}", right=_RIGHT) from error
    if music[:4] == b"PK\x03\x04":
        raise BadMusicXML("the .mxl file holds another packed file", right=_RIGHT)
    return music


def _root_file(archive: ZipFile, names: list[str]) -> str:
    if _CONTAINER in names:
        container = parsed(_member(archive, _CONTAINER, _CONTAINER_LIMIT))
        for found in container.iter("{*}rootfile"):
            path = found.get("full-path", "")
            if path in names and found.get("media-type", "musicxml").endswith(("musicxml", "musicxml+xml", "xml")):
                return path
    for name in names:
        if name.lower().endswith((".musicxml", ".xml")) and not name.startswith("META-INF/"):
            return name
    raise BadMusicXML("the .mxl file holds no MusicXML document", right=_RIGHT)


def _member(archive: ZipFile, name: str, limit: int) -> bytes:
    with archive.open(name) as member:
        data = member.read(limit + 1)
    if len(data) > limit:
        raise TooLarge(f"{name[:60]!r} unpacks to more than {limit} bytes", right="give a smaller file")
    return data
