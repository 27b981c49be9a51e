"""The published MusicXML 4.0 schema, put together from two test packages, for tests to hold our documents against."""

from __future__ import annotations

from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path

from lxml import etree

# The schema is the W3C's musicxml.xsd as the `musicxml` package carries it. Its own xml.xsd does not declare the xml
# namespace, so that one comes from the `xmlschema` package, and the six xlink attributes are declared here.
_XLINK = """<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" targetNamespace="http://www.w3.org/1999/xlink"
  xmlns="http://www.w3.org/1999/xlink">
  <xs:attribute name="href" type="xs:anyURI"/><xs:attribute name="type" type="xs:string"/>
  <xs:attribute name="role" type="xs:token"/><xs:attribute name="title" type="xs:token"/>
  <xs:attribute name="show" type="xs:token"/><xs:attribute name="actuate" type="xs:token"/>
</xs:schema>"""


def _package(name: str) -> Path:
    spec = find_spec(name)
    assert spec is not None
    assert spec.origin is not None
    return Path(spec.origin).parent


@lru_cache(maxsize=1)
def schema() -> etree.XMLSchema:
    text = (_package("musicxml") / "generate_classes" / "musicxml_4_0.xsd").read_text(encoding="utf-8")
    files = {
        "xml.xsd": (_package("xmlschema") / "schemas" / "XML" / "xml.xsd").read_bytes(),
        "xlink.xsd": _XLINK.encode(),
    }

    class Nearby(etree.Resolver):
        def resolve(self, url, public_id, context):
            return self.resolve_string(files[url.rsplit("/", 1)[-1]], context)

    parser = etree.XMLParser(no_network=True)
    parser.resolvers.add(Nearby())
    return etree.XMLSchema(etree.fromstring(text.encode(), parser))


def faults_of(document: str) -> list[str]:
    """What the schema finds wrong with a document; an empty list when it is valid."""
    checked = schema()
    checked.validate(etree.fromstring(document.encode()))
    return [f"line {one.line}: {one.message}" for one in checked.error_log]
