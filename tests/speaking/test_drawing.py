"""Drawings: no words upon words, nothing off the paper, one list of strokes, pictures as looked at."""

from __future__ import annotations

import subprocess
import sys
from io import BytesIO
from itertools import combinations
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageStat

from bot.speaking.dimensions import arrange, say
from bot.speaking.drawing import NoDrawing, elevation, png, svg
from bot.speaking.fonts import length
from bot.speaking.strokes import Line, Paper, Text, dashes
from tests.speaking.walls import AAC, ALL, FEET, FIVE, GABLE, LONG, RENDERED, door, m, whole, window

PICTURES = Path(__file__).parents[1] / "pictures"
LOOKED_AT = {"rendered": RENDERED, "five": FIVE, "gable": GABLE, "feet": FEET, "long": LONG}


def boxes(paper: Paper) -> list[tuple[str, float, float, float, float]]:
    """Words with the room that they take."""
    found = []
    for text in (stroke for stroke in paper.strokes if isinstance(stroke, Text)):
        back = {"left": 0.0, "middle": text.length / 2, "right": text.length}[text.anchor]
        x, y, half = text.at[0], text.at[1], text.size * 0.36
        if text.upright:
            found.append((text.words, x - half, y - text.length / 2, x + half, y + text.length / 2))
        else:
            found.append((text.words, x - back, y - half, x - back + text.length, y + half))
    return found


def check(paper: Paper) -> None:
    """Words on paper, and none upon another."""
    for words, left, top, right, bottom in boxes(paper):
        assert left >= 0, words
        assert right <= paper.width, words
        assert 0 <= top < bottom <= paper.height, words
    for a, b in combinations(boxes(paper), 2):
        apart = a[3] <= b[1] or b[3] <= a[1] or a[4] <= b[2] or b[4] <= a[2]
        assert apart, f"{a[0]!r} stands upon {b[0]!r}"


@pytest.mark.parametrize("name", ALL)
def test_words_are_clear_of_each_other(name: str) -> None:
    check(elevation(*whole(ALL[name])))


@settings(max_examples=100, deadline=None)
@given(data=st.data(), length=st.floats(0.8, 60), height=st.floats(0.4, 6), feet=st.booleans())
def test_any_wall_can_be_drawn(data: Any, length: float, height: float, feet: bool) -> None:
    holes, at = [], 0.0
    for _ in range(data.draw(st.integers(0, 5))):
        at += data.draw(st.floats(0.0, 3))
        wide = data.draw(st.floats(0.3, 3))
        if at + wide > length:
            break
        tall = data.draw(st.floats(0.2, 1.0)) * height
        kind = data.draw(st.sampled_from(["door", "window", "opening"]))
        hole = {"kind": kind, "width": m(wide), "height": m(tall), "from_left": m(at)}
        holes.append(hole)
        at += wide
    area = sum(h["width"]["value"] * h["height"]["value"] for h in holes)
    if area >= length * height * 0.95:
        holes = []
    sizes = {"length": m(length), "height": m(height)}
    if feet:
        sizes = {name: {"value": size["value"] / 0.3048, "unit": "ft"} for name, size in sizes.items()}
    more = {"finish": "render"} if data.draw(st.booleans()) else {}
    ends = data.draw(st.sampled_from([["return", "free"], ["column", "column"], ["free", "return"]]))
    check(elevation(*whole({**sizes, "openings": holes, "block": AAC, "ends": ends, **more})))


@pytest.mark.parametrize("name", LOOKED_AT)
def test_pictures_are_as_they_were_looked_at(name: str) -> None:
    """References in tests/pictures were looked at by eye; smoothing may differ between builds of Pillow."""
    drawn = Image.open(BytesIO(png(*whole(LOOKED_AT[name]))))
    with Image.open(PICTURES / f"{name}.png") as kept:
        assert drawn.size == kept.size
        difference = ImageChops.difference(drawn, kept)
    assert ImageStat.Stat(difference).mean[0] < 1.5
    strong = sum(difference.histogram()[96:])
    assert strong < 0.004 * drawn.width * drawn.height


def test_picture_is_grey_and_1200_wide() -> None:
    picture = Image.open(BytesIO(png(*whole(RENDERED))))
    assert (picture.mode, picture.width) == ("L", 1200)


def test_joint_is_drawn_at_its_place() -> None:
    """A row of the picture above the wall's foot: black, white, black about the centre line of each joint."""
    question, found = whole(RENDERED)
    paper = elevation(question, found)
    places = [
        stroke.at[0] for stroke in paper.strokes if isinstance(stroke, Text) and stroke.words.startswith("J")
    ]
    wall = [
        stroke
        for stroke in paper.strokes
        if isinstance(stroke, Line) and stroke.width == 5 and not stroke.dash
    ]
    foot = wall[0]
    left, right = foot.start[0] + 40, foot.end[0] - 40
    for place, said in zip(places, found.results["joints"]["joint_positions"], strict=True):
        assert (place - left) / (right - left) * 10.2 == pytest.approx(said.to("m"), abs=0.001)


def test_every_position_of_the_answer_stands_on_the_drawing() -> None:
    question, found = whole(RENDERED)
    words = " ".join(
        stroke.words for stroke in elevation(question, found).strokes if isinstance(stroke, Text)
    )
    for place in found.results["joints"]["joint_positions"]:
        assert f"{place.value:g}" in words
    for sign in ("movement joint", "slip tie", "bed joint reinforcement", "mesh patch"):
        assert sign in words


def test_legend_names_only_what_is_drawn() -> None:
    words = [s.words for s in elevation(*whole({"length": m(5), "height": m(2.4), "openings": []})).strokes
             if isinstance(s, Text)]  # fmt: skip
    assert not [text for text in words if "joint" in text or "mesh" in text or "tie" in text]


def test_vectors_hold_the_same_words() -> None:
    question, found = whole(FIVE)
    root = ElementTree.fromstring(svg(question, found))  # noqa: S314 (our own text)
    spoken = ["".join(node.itertext()) for node in root.iter("{http://www.w3.org/2000/svg}text")]
    assert spoken == [s.words for s in elevation(question, found).strokes if isinstance(s, Text)]


def test_no_length_no_drawing() -> None:
    question, found = whole({"area": {"value": 20, "unit": "m²"}}, topic="blocks")
    with pytest.raises(NoDrawing, match="length"):
        png(question, found)


@pytest.mark.parametrize(
    ("size", "feet", "said"),
    [(2040, False, "2.04"), (900, False, "0.9"), (6000, False, "6"), (1828.8, True, "6′"),
     (2019.3, True, "6′ 7½″"), (76.2, True, "3″"), (12.7, True, "½″")],
)  # fmt: skip
def test_sizes_are_said_as_on_a_drawing(size: float, feet: bool, said: str) -> None:
    """1 in is 25.4 mm: 6 ft 7½ in is 79.5 × 25.4 = 2019.3 mm."""
    assert say(size, feet) == said


def test_labels_keep_apart() -> None:
    wanted = [(float(x), "12.34") for x in range(0, 600, 40)]
    placed = arrange(wanted, 32, 3)
    for a, b in combinations(placed, 2):
        if a.level == b.level:
            assert abs(a.middle - b.middle) >= length("12.34", 32)


def test_broken_line_is_as_long_as_its_strokes_and_gaps() -> None:
    pieces = dashes((0, 0), (100, 0), (20, 10))
    assert pieces == [((0, 0), (20, 0)), ((30, 0), (50, 0)), ((60, 0), (80, 0)), ((90, 0), (100, 0))]


@pytest.mark.parametrize("letter", "²³×½≥éЖ¼¾′″≤°–")
def test_font_has_the_letters(letter: str) -> None:
    """A letter that is missing is drawn as the box of an unknown one."""
    from bot.speaking.fonts import face

    unknown = face(64).getmask("\ue123").getbbox(), bytes(face(64).getmask("\ue123"))
    assert (face(64).getmask(letter).getbbox(), bytes(face(64).getmask(letter))) != unknown


def test_plain_question_loads_no_picture_library() -> None:
    code = (
        "import sys; from bot.cli import main; main(['ask', '10 m aircrete wall how many joints']); "
        "print([name for name in ('PIL', 'reportlab') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip().endswith("[]")


def test_doors_and_windows_are_where_they_were_said() -> None:
    """Elevation of 10 m: a 1 m door at 2 m begins at a fifth of the wall."""
    paper = elevation(*whole({"length": m(10), "height": m(2.5), "openings": [door(2, 1000), window(6)]}))
    named = {s.words: s.at[0] for s in paper.strokes if isinstance(s, Text) and s.words in ("door", "window")}
    foot = next(s for s in paper.strokes if isinstance(s, Line) and s.width == 5)
    left, right = foot.start[0] + 40, foot.end[0] - 40
    assert (named["window"] - left) / (right - left) == pytest.approx(0.66, abs=0.001)
