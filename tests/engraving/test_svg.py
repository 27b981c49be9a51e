"""Pictures of music: every trap of the engraver that was met, as a test."""

from __future__ import annotations

import re
import subprocess
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from itertools import pairwise

import pytest
import verovio

from engraving.hard_cases import cases, d, melody, n
from stavewright.engraving import svg as svg_module
from stavewright.engraving.errors import EngravingError
from stavewright.engraving.mei import encode
from stavewright.engraving.svg import STAVE_SIZES, Picture, engrave, point_at
from stavewright.engraving.text_width import advance
from stavewright.engraving.toolkit import SPACE, draw, weights
from stavewright.score.event import Gap
from stavewright.score.stave import Bar, Bracket, Direction, Score, Stave
from stavewright.theory.clef import clef

IDS = re.compile(r' id="([^"]*)"')


def drawn(name: str, prefix: str = "q1", **more: object) -> Picture:
    return engrave(cases()[name], prefix=prefix, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("name", list(cases()))
def test_notes_in_are_notes_out(name: str) -> None:
    """As many note heads are drawn as the score has, each under its own id."""
    score = cases()[name]
    found = drawn(name, stave_mm=7, width_mm=160)
    assert found.places.note_heads == sum(len(event.pitches) for event in score.sounding())
    for event in score.sounding():
        assert found.ids[event.id] in found.places.spots


def test_a_note_that_is_lost_on_the_way_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    """Notes in, notes out: a picture with fewer notes than the score is never handed on."""

    def forgetful(text: str, name: str, options: dict[str, object]) -> str:
        return draw(re.sub(r"<note .*?/>", "", text, count=1), name, options)

    monkeypatch.setattr(svg_module, "draw", forgetful)
    with pytest.raises(EngravingError, match="4 notes went in and 3 came out"):
        drawn("bare row")


def test_an_empty_picture_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    """A toolkit without fonts draws a picture of size nought: that is refused, never shown."""
    empty = '<svg id="x"><defs></defs><svg class="definition-scale" viewBox="0 0 0 0"></svg></svg>'
    monkeypatch.setattr(svg_module, "draw", lambda *_: empty)
    with pytest.raises(EngravingError, match="empty picture"):
        drawn("bare row")


def test_a_toolkit_in_another_thread_finds_its_fonts() -> None:
    """The first picture of a new thread is the same as that of the main thread, to the byte."""
    expected = drawn("melody").svg
    with ThreadPoolExecutor(1) as pool:
        assert pool.submit(lambda: drawn("melody").svg).result() == expected


def test_threads_never_get_each_other_s_pictures() -> None:
    """Three threads engraving at once each get the pictures they asked for."""
    names = ["melody", "tuplets", "piano", "values", "changes"]
    expected = {name: drawn(name).svg for name in names}
    wrong: list[str] = []

    def work(start: int) -> None:
        for turn in range(12):
            name = names[(start + turn) % len(names)]
            if drawn(name).svg != expected[name]:
                wrong.append(name)

    threads = [threading.Thread(target=work, args=(start,)) for start in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert wrong == []


def test_two_pictures_of_one_page_share_no_id() -> None:
    """Every id, the glyphs' too, begins with or carries the prefix of its picture."""
    one, other = drawn("melody", "q1").svg, drawn("melody", "q2").svg
    assert not set(IDS.findall(one)) & set(IDS.findall(other))
    assert all("q1" in found for found in IDS.findall(one))
    assert all(f'"#{found}"' in one for found in IDS.findall(one) if found.startswith("E") and "-q1" in found)


def test_the_same_score_gives_the_same_bytes_whatever_was_drawn_before() -> None:
    """Options, scale and ids of an earlier picture leave no trace in the next."""
    first = drawn("melody", stave_mm=7).svg
    drawn("piano", stave_mm=16, width_mm=150)
    drawn("melody", "q9", stave_mm=10, options={"scale": 40, "spacingLinear": 0.5})
    assert drawn("melody", stave_mm=7).svg == first


def test_no_pitch_leaks_into_the_picture() -> None:
    """The drawing names no pitch, value or sign: neither in ids nor in attributes (it would give answers away)."""
    for name in cases():
        found = drawn(name).svg
        assert "pname" not in found
        assert "data-" not in found
        classes = set(re.findall(r'class="([^"]*)"', found))
        assert not {one for one in classes if re.fullmatch(r"[a-gA-G]([#b]|sharp|flat)?\d?", one)}


def test_nothing_a_strict_page_refuses() -> None:
    """No style element, no style attribute, no script: the picture stands inline under a strict content policy."""
    for name in cases():
        found = drawn(name).svg
        assert "<style" not in found
        assert " style=" not in found
        assert "<script" not in found
        assert "Times, serif" not in found
        assert 'font-family="Leland"' not in found


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ({"nonsense": 1}, "did not take the option nonsense"),
        ({"font": "Nowhere"}, "no music font 'Nowhere'"),
        ({"stemWidth": 9.0}, "did not take the option stemWidth"),
    ],
)
def test_what_verovio_says_yes_to_and_ignores(options: dict[str, object], said: str) -> None:
    """Verovio answers True to unknown options, unknown fonts and values out of range; we do not."""
    with pytest.raises(EngravingError, match=said):
        drawn("melody", options=options)
    assert drawn("melody").places.note_heads == 13


def test_text_that_is_not_mei_is_an_error() -> None:
    with pytest.raises(EngravingError, match="not well formed"):
        draw("<mei", "q1", {})


def test_verovio_has_nothing_to_complain_of(capfd: pytest.CaptureFixture[str]) -> None:
    """Its complaints go to the error stream only: for all hard cases there are none."""
    for name in cases():
        drawn(name, width_mm=160)
    found = capfd.readouterr()
    assert found.out + found.err == ""


@pytest.mark.parametrize("stave_mm", STAVE_SIZES)
def test_a_stave_is_as_high_as_asked(stave_mm: float) -> None:
    """720 units are one stave: the five lines measure exactly what was asked for, at every size."""
    found = drawn("melody", stave_mm=stave_mm, width_mm=160)
    units = found.view.right - found.view.left
    assert found.stave_mm == stave_mm
    for box in found.places.staves:
        assert (box.bottom - box.top) * found.width_mm / units == pytest.approx(stave_mm, rel=1e-3)


@pytest.mark.parametrize("stave_mm", STAVE_SIZES)
@pytest.mark.parametrize("name", ["eight bars", "piano", "melody", "compound", "road map"])
def test_large_staves_wrap_and_never_run_off_the_page(name: str, stave_mm: float) -> None:
    """Systems wrap to the width of the page; no picture is ever wider."""
    found = drawn(name, stave_mm=stave_mm, width_mm=160)
    assert found.width_mm <= 160.01
    assert found.stave_mm == stave_mm


def test_systems_are_of_nearly_equal_length() -> None:
    """Eight equal bars fall into two systems of four, not five and three."""
    found = drawn("eight bars", stave_mm=7, width_mm=160)
    tops = [bar.top for bar in found.places.bars]
    assert [tops.count(top) for top in sorted(set(tops))] == [4, 4]


def test_a_bar_longer_than_the_page_makes_the_stave_smaller() -> None:
    """Nothing is cut off or squeezed together: the whole picture becomes smaller."""
    row = melody("treble", 0, None, tuple(n("C5", "1") for _ in range(14)))
    found = engrave(row, prefix="q1", stave_mm=14, width_mm=120)
    assert found.width_mm <= 120.01
    assert found.stave_mm < 14
    xs = sorted(spot.x for spot in found.places.spots.values())
    assert min(b - a for a, b in pairwise(xs)) > 300


def test_a_long_row_without_bar_lines_goes_on_in_the_next_line() -> None:
    """A row of notes or gaps longer than the page is cut between beams into lines, with no bar line at the cut."""
    events = tuple(n("C5", "8", 1 + i // 3, id=f"n{i}") for i in range(30))
    row = Score((Stave("treble", (Bar((events,), line="final", free=True),), 0),))
    found = engrave(row, prefix="q1", width_mm=90)
    assert found.stave_mm == 7
    assert len(found.places.systems) > 1
    assert found.origins == (0,) * len(found.places.bars)
    assert found.svg.count('class="barLine"') <= len(found.places.bars)
    framed = point_at(found, bars=[0])
    assert framed.svg.count("<rect") == found.svg.count("<rect") + len(found.places.bars)
    for _, after in pairwise(found.places.bars):
        firsts = [i for i in range(30) if after.left < found.places.spots[f"q1_n{i}"].x < after.right]
        assert firsts


def test_large_print_has_bolder_lines() -> None:
    """Stave lines and stems grow bolder than in proportion at 14 and 16 mm (for low vision)."""
    assert weights(7) == {}
    assert weights(16)["staffLineWidth"] > weights(10)["staffLineWidth"] > 0.15


def test_a_stave_to_write_on_fills_the_width_with_room_above_and_below() -> None:
    """An empty stave is as wide as the page and leaves two thirds of a stave above and below for ledger lines."""
    found = drawn("to write on", stave_mm=8, width_mm=150, fit="full")
    assert 148 <= found.width_mm <= 150.01
    assert found.above_mm >= 0.66 * 8
    assert found.below_mm >= 0.66 * 8


@pytest.mark.parametrize("name", ["bare row", "no clef", "signature tenor 7", "signature alto -7"])
def test_notes_stand_on_the_lines_and_spaces_their_clef_gives_them(name: str) -> None:
    """Half a space is 90 units: each head stands at its pitch's place above the bottom line, clef shown or hidden."""
    score = cases()[name]
    found = drawn(name)
    bottom = found.places.staves[0].bottom
    for note in score.notes():
        expected = clef(score.staves[0].clef).place(note.pitch)
        assert (bottom - found.places.spots[found.ids[note.id]].y) / 90 == expected


def test_a_signature_drawn_sign_by_sign_keeps_each_place() -> None:
    """A pupil's own signature is drawn where the pupil put each sign, wrong places included."""
    from stavewright.theory.pitch import Pitch

    signs = (Pitch("C", 1, 5), Pitch("F", 1, 4))
    stave = Stave("treble", (Bar(((Gap(d("1")),),), line="none", free=True),), signs=signs)
    found = engrave(Score((stave,)), prefix="q1")
    places = re.findall(r'class="keyAccid"[^>]*><use [^>]*translate\((\d+), (\d+)\)', found.svg)
    assert len(places) == 2
    assert (int(places[1][1]) - int(places[0][1])) / 90 == 4


def test_labels_stand_under_the_middle_of_their_notes() -> None:
    """A letter under a note is centred on its head, and upright."""
    found = drawn("labels")
    spots = [found.places.spots[found.ids[f"n{i}"]].x for i in (1, 2, 4)]
    labels = re.findall(
        r'class="dir"[^>]*><text stroke="none" x="(\d+)" text-anchor="middle" y="\d+" font-style="normal"', found.svg
    )
    margin = re.search(r'page-margin" transform="translate\((\d+)', found.svg)
    assert margin
    assert [int(x) + int(margin.group(1)) for x in labels] == [pytest.approx(x, abs=1) for x in spots]


def test_bracket_letters_are_seen() -> None:
    """A bracket over notes carries its letter, above the bracket."""
    found = drawn("brackets")
    assert re.findall(r'font-weight="bold">([XY])</text>', found.svg) == ["X", "Y"]
    assert set(found.places.brackets) == {"q1-k1", "q1-k2"}


def test_bar_numbers_are_printed_when_asked_for_and_only_then() -> None:
    """Numbers 1 to 4 with `numbered`, a pick-up not counted; none without."""
    number = re.compile(r'class="mNum".*?px">(\d+)<')
    assert number.findall(drawn("melody").svg) == ["1", "2", "3", "4"]
    assert number.findall(drawn("pick-up").svg) == ["1", "2"]
    assert number.findall(engrave(replace(cases()["melody"], numbered=False), prefix="q1").svg) == []


def test_bar_numbers_stand_clear_of_first_and_second_time_brackets() -> None:
    """A bar number beside the figure of a bracket would be read as one number with it: it goes above the bracket."""
    first, second = Bar(((n("A4", "2"),),), ending=1, line="repeat-end"), Bar(((n("B4", "2"),),), ending=2)
    svg = engrave(melody("treble", 0, "2/4", (n("G4", "2"),), first, second, numbered=True), prefix="q1").svg
    tops = [int(y) for y in re.findall(r'class="voltaBracket">.*?<path d="M-?\d+ (-?\d+) ', svg)]
    numbers = [int(y) for y in re.findall(r'class="mNum"[^>]*><text stroke="none" (?:x="-?\d+" )?y="(-?\d+)"', svg)]
    assert len(tops) == 2
    assert len(numbers) == 3
    assert numbers[0] > max(tops)
    assert all(number < min(tops) for number in numbers[1:])


@pytest.mark.parametrize("narrower", [1.01, 1.03, 1.06, 1.1, 1.15])
def test_music_a_little_too_long_for_a_line_leaves_no_bar_over(narrower: float) -> None:
    """Eight bars stand on one line or on two of four, never seven and a stretched eighth."""
    full = tuple(n(pitch, "s", 1) for pitch in ("A4", "C5", "E5", "C5", "B4", "A4"))
    tune = melody("treble", 3, "3/8", *[full, (n("A4", "4."),)] * 4, numbered=True)
    natural = engrave(tune, prefix="q1")
    found = engrave(tune, prefix="q1", width_mm=natural.width_mm / narrower)
    starts = [at for at, bar in enumerate(found.places.bars) if bar.left < 1000]
    assert starts in ([0], [0, 4])
    assert found.stave_mm > 6.6


def test_words_that_hold_at_the_end_of_a_bar_end_there() -> None:
    """ "To Coda" and "D.S. al Coda" end at the bar line; segno and coda stand clear of the bar number beside them."""
    row = (n("G4"), n("A4"))
    signs = [("segno", 0, ""), ("text", 1, "To Coda"), ("dal-segno", 1, "D.S. al Coda"), ("coda", 0, "")]
    bars = [Bar((row,), directions=(Direction(kind, at, said, above=True),)) for kind, at, said in signs]
    found = engrave(melody("treble", 0, "2/4", *bars, numbered=True), prefix="q1").svg
    staves = [int(x) for x in re.findall(r'class="staff"><path d="M-?\d+ -?\d+ L(\d+) ', found)]
    for words, bar in (("To Coda", 1), ("D.S. al Coda", 2)):
        (x,) = re.findall(rf'x="(-?\d+)" y="-?\d+" font-size="0px"><tspan class="text"><tspan [^>]*>{words}<', found)
        width = 405 * advance(words)
        assert staves[bar] - SPACE < int(x) + width < staves[bar], words
    glyphs = [int(x) for x in re.findall(r'class="repeatMark"[^>]*><use [^>]*translate\((-?\d+),', found)]
    assert [glyph - start > 90 for glyph, start in zip(glyphs, (0, staves[2]), strict=True)] == [True, True]


def test_long_tempo_words_stay_inside_the_picture() -> None:
    """Words over a short line are moved and made smaller, never cut at the edge."""
    found = drawn("melody", stave_mm=16, width_mm=150)
    tempo = re.search(r'class="tempo"[^>]*><text stroke="none" x="(\d+)"', found.svg)
    assert tempo
    assert 0 <= int(tempo.group(1)) < 700


def test_tempo_words_stand_clear_of_beams() -> None:
    """Words over a high beam are moved above it."""
    high = tuple(n(p, "s", 1, stem="up") for p in ("A5", "G5", "F5", "E5"))
    bar = Bar(((*high, n("C5", "4")),), directions=(Direction("tempo", 0, "Andante"),))
    found = engrave(melody("treble", 0, "2/4", bar), prefix="q1").svg
    words = re.search(r'class="tempo"[^>]*><text stroke="none" x="-?\d+" y="(-?\d+)"', found)
    beams = re.findall(r'<polygon points="([^"]*)"', found)
    assert words
    assert beams
    top = min(float(point.split(",")[1]) for beam in beams for point in beam.split())
    assert float(words.group(1)) < top - 50


def test_pointed_notes_have_a_ring_beside_their_colour() -> None:
    """Notes pointed at are ringed as well as coloured: colour alone tells a colour-blind reader nothing."""
    plain = drawn("melody")
    lit = point_at(plain, ["n1", "n3"], bars=[1])
    assert lit.svg.count("<ellipse") == plain.svg.count("<ellipse") + 2
    assert lit.svg.count('color="#1F4E79"') == 2
    assert lit.svg.count("<rect") == plain.svg.count("<rect") + 1
    with pytest.raises(EngravingError, match="no note or rest 'zz'"):
        point_at(plain, ["zz"])
    with pytest.raises(EngravingError, match="no bar 9"):
        point_at(plain, bars=[8])


def test_the_same_bytes_in_another_process_with_another_hash_seed() -> None:
    """A picture is a function of its score: two processes with different hash seeds draw the same bytes."""
    program = (
        "import sys; sys.path.insert(0, 'tests')\n"
        "from engraving.hard_cases import cases\n"
        "from stavewright.engraving.svg import engrave\n"
        "import hashlib\n"
        "drawn = ''.join(engrave(s, prefix='q1', width_mm=150).svg for s in cases().values())\n"
        "print(hashlib.sha256(drawn.encode()).hexdigest())"
    )
    runs = [
        subprocess.run([sys.executable, "-c", program], env={"PYTHONHASHSEED": seed}, capture_output=True, check=True)
        for seed in ("1", "2")
    ]
    assert runs[0].stdout == runs[1].stdout != b""


def test_a_toolkit_is_made_once_a_thread() -> None:
    """Making a toolkit is dear: a second picture in the same thread makes no second one."""
    drawn("bare row")
    made: list[object] = []
    real = verovio.toolkit

    def counted(*args: object) -> object:
        made.append(1)
        return real(*args)

    verovio.toolkit, kept = counted, verovio.toolkit
    try:
        drawn("bare row")
        drawn("labels")
    finally:
        verovio.toolkit = kept
    assert made == []


@pytest.mark.parametrize("bad", [0.0, -7.0])
def test_sizes_that_cannot_be(bad: float) -> None:
    with pytest.raises(EngravingError, match="does not fit"):
        drawn("bare row", stave_mm=bad)
    with pytest.raises(EngravingError, match="does not fit"):
        drawn("bare row", stave_mm=7, width_mm=10)


def test_a_tie_that_leads_to_no_note_is_drawn_all_the_same() -> None:
    """What a pupil wrote is seen: a tie into nothing, or to another pitch, is a short curve behind its note."""
    for row in ((n("C5", "2", tie=True), Gap(d("2"))), (n("C5", "2", tie=True), n("D5", "2"))):
        found = engrave(melody("treble", 0, "6/4", Bar((row,), free=True)), prefix="q1")
        assert len(re.findall(r'class="lv"><path', found.svg)) == 1


def test_ornaments_have_their_own_signs() -> None:
    """A mordent has the stroke through it (SMuFL E56D), an upper mordent has none (E56C); turns E567 and E568."""
    found = drawn("ornaments").svg
    signs = re.findall(r'class="(?:mordent|trill|turn)"[^>]*><use xlink:href="#(E...)', found)
    assert signs == ["E566", "E567", "E56D", "E56C", "E568"]


def test_pictures_stay_small() -> None:
    """No font is put into a picture: the hard cases are below 30 kB each (an embedded one adds 37 to 390 kB)."""
    for name in cases():
        found = drawn(name).svg
        assert "font-face" not in found
        assert len(found) < 30_000


def test_only_the_bar_lines_of_the_score_are_drawn() -> None:
    """A row of bare notes has no bar line and no time signature; a melody has those it was given."""
    bare = drawn("bare row").svg
    assert 'class="meterSig"' not in bare
    assert not re.search(r'class="barLine"><path', bare)
    assert len(re.findall(r'class="barLine"><path', drawn("melody").svg)) == 4


def test_encoding_is_pure() -> None:
    """The MEI of a score is the same text every time."""
    score = melody("treble", 1, "3/4", (n("G4"), n("A4"), n("B4")))
    assert encode(score, "q1") == encode(score, "q1")


def test_a_bracket_over_one_note_is_drawn_clear_of_its_stem() -> None:
    """The engraver leaves out a bracket whose ends are one note: it is drawn all the same, with its letter."""
    score = melody("treble", 0, "3/4", (n("G4"), n("A4"), n("B5")))
    ids = [note.id for note in score.notes()]
    both = replace(score, brackets=(Bracket(ids[2], ids[2], "A"), Bracket(ids[0], ids[1], "B")))
    found = engrave(both, prefix="q1")
    (lone,), (wide,) = found.places.brackets["q1-k1"], found.places.brackets["q1-k2"]
    spot = found.places.spots[found.ids[ids[2]]]
    assert lone.left < spot.x < lone.right
    assert lone.right - lone.left < wide.right - wide.left
    assert lone.bottom < min(spot.heads) - 3.5 * SPACE
    assert found.view.top < lone.top
    assert ">A</text>" in found.svg
    assert ">B</text>" in found.svg
