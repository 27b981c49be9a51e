"""MusicXML read as a score: there and back unchanged, foreign files as they are written, refusals by name."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from exchange.any_score import hard_case
from exchange.sound_score import sound_scores
from stavewright.exchange.errors import BadMusicXML, NotUnderstood
from stavewright.exchange.musicxml_read import from_musicxml, read_musicxml
from stavewright.exchange.musicxml_write import to_musicxml
from stavewright.score.event import Chord, Gap, Note, Rest


@settings(max_examples=150, deadline=None)
@given(sound_scores())
def test_there_and_back_changes_nothing(score):
    """A score written as MusicXML and read again is the same score, sign for sign."""
    assert from_musicxml(to_musicxml(score)) == score


def test_the_hard_case_comes_back_whole():
    assert from_musicxml(to_musicxml(hard_case())) == hard_case()


def test_text_and_bytes_are_read_alike():
    text = to_musicxml(hard_case())
    assert from_musicxml(text) == from_musicxml(text.encode()) == from_musicxml(text.encode("utf-8-sig"))
    assert from_musicxml(text.replace("UTF-8", "UTF-16").encode("utf-16")) == hard_case()


def document(*notes: str, attributes: str = "", after: str = "") -> str:
    inside = "".join(f"<note>{one}</note>" for one in notes)
    return (
        '<score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list>'
        f'<part id="P1"><measure number="1"><attributes><divisions>4</divisions>{attributes}</attributes>'
        f"{inside}{after}</measure></part></score-partwise>"
    )


def sounding(step: str = "G", more: str = "", kind: str = "quarter", length: object = 4, octave: object = 4) -> str:
    pitch = f"<pitch><step>{step}</step><octave>{octave}</octave></pitch>"
    return f"{pitch}<duration>{length}</duration><voice>1</voice><type>{kind}</type>{more}"


def events(text: str):
    return from_musicxml(text).staves[0].bars[0].voices


def test_a_file_without_signs_gets_those_its_notes_need():
    """A file that names F sharp by sound only is printed with the sharp it needs (Gehrkens 1914 §24)."""
    text = document(sounding("F").replace("<octave>", "<alter>1</alter><octave>"), sounding("F"))
    assert [note.accidental for note in from_musicxml(text).notes()] == ["sharp", "natural"]


def test_a_rest_as_long_as_its_bar_is_the_whole_bar_rest():
    """Old files write a silent bar of 3/4 as a rest of three crotchets without a value."""
    text = document(
        "<rest/><duration>12</duration>", attributes="<time><beats>3</beats><beat-type>4</beat-type></time>"
    )
    (rest,) = events(text)[0]
    assert rest.whole_bar


def test_a_chord_is_written_from_the_lowest_up():
    top = sounding("C", octave=5)
    low = "<chord/>" + sounding("G")
    (chord,) = events(document(top, low))[0]
    assert isinstance(chord, Chord)
    assert [pitch.short for pitch in chord.pitches] == ["G4", "C5"]


def test_two_voices_and_an_empty_stretch():
    """The second voice begins a beat late: the beat before it is left empty on the stave."""
    late = "<backup><duration>4</duration></backup>" + f"<note>{sounding('E').replace('<voice>1', '<voice>2')}</note>"
    first, second = events(document(sounding(), sounding(), after=late))
    assert [type(event) for event in first] == [Note, Note]
    assert [type(event) for event in second] == [Gap, Note]


def test_a_clef_at_the_end_of_a_bar_belongs_to_the_next():
    bass = "<attributes><clef><sign>F</sign><line>4</line></clef></attributes>"
    time = "<time><beats>1</beats><beat-type>4</beat-type></time>".replace("<beats>1", "<beats>2")
    text = document(sounding(), sounding(), attributes=time, after=bass)
    text = text.replace("</measure>", f'</measure><measure number="2"><note>{sounding()}</note></measure>')
    bars = from_musicxml(text).staves[0].bars
    assert (bars[0].clef, bars[1].clef) == (None, "bass")


def test_two_staves_of_one_part_are_joined_by_a_brace():
    left = (
        "<backup><duration>4</duration></backup>"
        f"<note>{sounding('C', '<staff>2</staff>').replace('<voice>1', '<voice>5')}</note>"
    )
    first, second = (
        "<clef number='1'><sign>G</sign><line>2</line></clef>",
        "<clef number='2'><sign>F</sign><line>4</line></clef>",
    )
    clefs = f"<staves>2</staves>{first}{second}"
    score = from_musicxml(document(sounding(more="<staff>1</staff>"), attributes=clefs, after=left))
    assert [stave.clef for stave in score.staves] == ["treble", "bass"]
    assert score.join == "brace"


def test_pages_chords_and_verses_are_left_out_and_said_so():
    verses = "<lyric number='1'><text>one</text></lyric><lyric number='2'><text>two</text></lyric>"
    text = document(
        sounding(more=verses), after="<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>"
    )
    reading = read_musicxml(text)
    assert reading.left_out == ("a second verse", "chord symbols")
    assert next(from_musicxml(text).notes()).lyric == "one"


ELEVEN = "<time-modification><actual-notes>11</actual-notes><normal-notes>8</normal-notes></time-modification>"


@pytest.mark.parametrize(
    ("note", "reason"),
    [
        (sounding(kind="quarter", length=3), "a crotchet that lasts 3/4"),
        (sounding(more="<accidental>quarter-sharp</accidental>"), "the accidental 'quarter-sharp'"),
        (sounding(more="<notehead>diamond</notehead>"), "a notehead 'diamond'"),
        (sounding(more="<notations><ornaments><tremolo>3</tremolo></ornaments></notations>"), "'tremolo'"),
        (sounding(more="<notations><glissando type='start'/></notations>"), "'glissando'"),
        ("<cue/>" + sounding(), "'cue'"),
        ("<unpitched/><duration>4</duration>", "'unpitched'"),
        (sounding().replace("<octave>", "<alter>0.5</alter><octave>"), "altered by 0.5"),
        (sounding().replace("<octave>", "<alter>3</alter><octave>"), "altered by 3"),
        (sounding(kind="long"), "type 'long'"),
        (sounding(kind="whole", length=16, more="<dot/>" * 4), "4 dots"),
        (sounding(more=ELEVEN), "tuplet of 11"),
    ],
)  # fmt: skip
def test_what_is_not_understood_is_refused_with_the_reason(note, reason):
    """Nothing is guessed: the bar and the cause are named."""
    with pytest.raises(NotUnderstood) as refusal:
        from_musicxml(document(note))
    assert "bar 1" in str(refusal.value)
    assert reason in str(refusal.value)


@pytest.mark.parametrize(
    ("attributes", "reason"),
    [
        (
            "<clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>",
            "treble an octave lower",
        ),
        ("<clef><sign>G</sign><line>2</line><clef-octave-change>-2</clef-octave-change></clef>", "octave number -2"),
        ("<clef><sign>percussion</sign></clef>", "percussion"),
        ("<time><beats>3+2</beats><beat-type>8</beat-type></time>", "3+2/8"),
        ("<time><beats>13</beats><beat-type>8</beat-type></time>", "13/8"),
        ("<key><key-step>C</key-step><key-alter>1</key-alter></key>", "fifths"),
        ("<key><fifths>9</fifths></key>", "9 signs"),
        ("<staff-details><staff-lines>1</staff-lines></staff-details>", "1 lines"),
    ],
)
def test_a_stave_that_is_not_ours_is_refused_with_the_reason(attributes, reason):
    with pytest.raises(NotUnderstood, match=reason.replace("+", r"\+")):
        from_musicxml(document(sounding(), attributes=attributes))


def test_other_bars_of_a_reading_are_kept():
    bad = sounding(more="<notations><glissando type='start'/></notations>")
    text = document(bad).replace("</measure>", f'</measure><measure number="2"><note>{sounding()}</note></measure>')
    bars = read_musicxml(text).staves[0].bars
    assert bars[0].bar is None
    assert "glissando" in bars[0].reason
    assert bars[1].bar is not None


@pytest.mark.parametrize(
    ("broken", "words"),
    [
        (sounding("H"), "step is 'H'"),
        (sounding(octave=11), "octave is '11'"),
        (sounding(octave="x"), "octave is 'x'"),
        (sounding(length=-4), "duration is '-4'"),
        (sounding(length="\u00b2"), "duration is '\u00b2'"),
        (sounding(length=10**12), "duration is '1000000000000'"),
        (sounding().replace("<octave>", "<alter>much</alter><octave>"), "alter is 'much'"),
    ],
)
def test_a_broken_number_is_named_with_its_place(broken, words):
    with pytest.raises(BadMusicXML) as fault:
        from_musicxml(document(broken))
    assert words in str(fault.value)
    assert "part P1, measure 1" in str(fault.value)


def test_an_endless_gap_is_refused():
    """A forward of a thousand million beats would otherwise be written as gaps without end."""
    forward = "<forward><duration>999999999</duration><voice>1</voice></forward>"
    with pytest.raises(NotUnderstood, match="empty stretch"):
        from_musicxml(document(sounding(), after=forward + f"<note>{sounding()}</note>"))


def test_parts_of_unequal_length_are_refused():
    text = document(sounding()).replace("</part>", '</part><part id="P2"><measure/><measure/></part>')
    with pytest.raises(BadMusicXML, match="different numbers of bars"):
        from_musicxml(text)


def test_a_document_without_music_is_refused():
    with pytest.raises(BadMusicXML, match="no bars"):
        from_musicxml("<score-partwise/>")


def test_a_silent_hidden_rest_is_a_gap():
    hidden = document(sounding(), "<rest/><duration>4</duration><type>quarter</type>")
    hidden = hidden.replace("<note><rest/>", '<note print-object="no"><rest/>')
    assert [type(event) for event in events(hidden)[0]] == [Note, Gap]
    assert not any(isinstance(event, Rest) for event in events(hidden)[0])


def test_one_part_and_its_first_bars_can_be_read_alone():
    """The bars read alone are the bars read with all the others; what follows the part is not even parsed."""
    text = to_musicxml(hard_case())
    whole = read_musicxml(text)
    assert read_musicxml(text, parts={0}).staves == whole.staves[:1]
    assert read_musicxml(text, parts={1}).staves == whole.staves[1:]
    assert read_musicxml(text, parts={1}, until=3).staves[0].bars == whole.staves[1].bars[:3]
    middle = read_musicxml(text, parts={0}, since=3, until=6).staves[0].bars
    assert [bar.bar is None for bar in middle] == [True, True, True, False, False, False]
    assert [(bar.time, bar.fifths) for bar in middle] == [(bar.time, bar.fifths) for bar in whole.staves[0].bars[:6]]
    beyond = text.replace("</part>\n</score-partwise>", "</part>" + " " * 300_000 + "<broken")
    assert read_musicxml(beyond, parts={0}).staves == whole.staves[:1]
    with pytest.raises(BadMusicXML):
        read_musicxml(beyond)


def test_a_tenor_part_is_read_as_it_sounds():
    """A treble clef with a small 8: the notes are known, so an extract can be set in a clef of ours."""
    clef = "<clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>"
    (bar,) = read_musicxml(document(sounding(octave=3), attributes=clef)).staves[0].bars
    assert bar.clef == "treble an octave lower"
    assert [note.pitch.short for note in bar.bar.events] == ["G3"]
