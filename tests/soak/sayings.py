"""What people type, drawn by lot: talk of the site with drawn sizes, slips, spoilt messages, any signs.

Every saying comes from one `Random`, so that the name of its lot draws it again.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from random import Random

from tests.reading.site_talk import NUMBERS, WORDS
from tests.reading.test_never_raises import HOSTILE, REPEATED
from tests.reading.test_slips import slip
from tests.reading.test_write_then_read import imperial, metric
from tests.scorecard import messages

TALKS = Path(__file__).parents[1] / "talks"
PIECES = [*NUMBERS.split(), *NUMBERS.split(), *WORDS.split(), "\n", "\t", "\u00a0"]
ASKS = """
how many joints|movement joints?|where do the joints go|how wide is the gap|how many blocks|blocks to order
which mortar|is 4:1 too strong|is {n}:1 ok|mortar for it|how much sand and cement|how many bags of cement
render coats outside|render for both faces, 15 mm|how much mesh|rolls of mesh, 1 x {n} m rolls
bed joint reinforcement, how much|how many ties|ties per m2|plasterboard, how many boards|bags of adhesive
will it take {n} kN on a padstone 440 x 215|load of {n} kN|crack {n} mm, stepped, getting wider
it is {n} degrees and falling, can we lay|rain later, can I render|what to wear|mortar in the eye
u value of it|everything for this wall|how many packs of {n}|and the ties|and the mesh
"""
WALLS = """
wall {l} long {h} high|{l} x {h}|{l} by {h} wall|{l} of aircrete|gable {l} wide {h} to the apex|{a} m2
{l} internal wall|{l} parapet|free at the left, {l} long|wall A {l} x {h}, wall B {l} x {h}
two walls {l} by {h}|{l} x {h} less a door 900x2100|{l} x {h}, {n} windows 1200x1050
{t} mm thick {l}|blocks 440x215x{t}, {l} x {h}
"""
GOES_ON = """
and at {l}?|make it {l}|no, {h} high|{l} sorry|add a window {t}x{t}|what about {l}|no openings|thanks|new wall
yes|feet|metres|the second one|140 thick|both ends free|it is below dpc|external|same again|{n}|{l}|1 m longer
"""


def lines(text: str) -> list[str]:
    """The sayings of a table above."""
    return [saying for line in text.strip().splitlines() for saying in line.split("|")]


SAID_FIRST, SAID_OF_IT, SAID_AFTER = lines(ASKS), lines(WALLS), lines(GOES_ON)


@cache
def known() -> list[str]:
    """Messages that the project has labels for."""
    talks = [line[2:] for path in sorted(TALKS.glob("*.txt")) for line in path.read_text("utf-8").splitlines()
             if line.startswith("> ")]  # fmt: skip
    return [message["text"] for message in messages()] + talks


def size(lot: Random, least: int, most: int) -> str:
    """A size in one of the ways it is written, seldom one that no wall has."""
    if lot.random() < 0.05:
        return lot.choice(PIECES)
    steps = lot.randint(least // 50, most // 50) * 50
    if lot.random() < 0.2:
        return lot.choice(imperial(max(1, steps // 305), lot.randint(0, 11)))
    if lot.random() < 0.3:
        return f"{steps / 1000:g}"
    return lot.choice(metric(steps))


def filled(lot: Random, saying: str) -> str:
    """A saying with sizes drawn."""
    sizes: dict[str, Callable[[], str]] = {
        "{l}": lambda: size(lot, 600, 45000),
        "{h}": lambda: size(lot, 600, 6000),
        "{t}": lambda: lot.choice(("75", "100", "140", "150", "200", "215", "300", "1200", "0")),
        "{a}": lambda: f"{lot.randint(1, 4000) / 10:g}",
        "{n}": lambda: str(lot.choice((0, 1, 2, 3, 4, 5, 6, 8, 10, 25, 40, 72, 180))),
    }
    return re.sub(r"\{[lhtan]\}", lambda found: sizes[found[0]](), saying)


def of_the_site(lot: Random) -> str:
    """A question about a wall, or a word that goes on."""
    if lot.random() < 0.35:
        return filled(lot, lot.choice(SAID_AFTER))
    parts = [lot.choice(SAID_OF_IT), *lot.choices(SAID_FIRST, k=lot.choice((0, 1, 1, 1, 2)))]
    if lot.random() < 0.3:
        lot.shuffle(parts)
    return filled(lot, lot.choice((", ", " ", ". ", "\n", " - ")).join(parts))


def salad(lot: Random) -> str:
    """Words and numbers of the site in no order."""
    glue = lot.choice((" ", " ", " ", "", ", ", "  "))
    return glue.join(lot.choice(PIECES) for _ in range(lot.randint(1, 24)))


def with_slips(lot: Random) -> str:
    """A message with slips of the thumb."""
    text = lot.choice((of_the_site, a_known_one))(lot)
    for _ in range(lot.choice((1, 1, 2, 4))):
        slipped = slip(text, lot)
        text = slipped[0] if slipped else text
    return text


def a_known_one(lot: Random) -> str:
    """A message as it stands."""
    return lot.choice(known())


def spoilt(lot: Random) -> str:
    """A known message cut, joined, shuffled, with other numbers or signs in it."""
    text = lot.choice(known())
    for _ in range(lot.randint(1, 3)):
        words, cut = text.split(" "), lot.randint(0, len(text))
        match lot.randrange(8):
            case 0:
                lot.shuffle(words)
                text = " ".join(words)
            case 1:
                text = text[:cut] + lot.choice(known())[-lot.randint(1, 40) :]
            case 2:
                text = re.sub(r"\d+", lambda _: lot.choice(NUMBERS.split()), text)
            case 3:
                text = text[:cut] + lot.choice(PIECES) + text[cut:]
            case 4:
                text = text.replace(" ", "", lot.randint(1, 4))
            case 5:
                text = lot.choice((str.upper, str.title, str.swapcase))(text)
            case 6:
                text = text[:cut] + signs(lot, 3) + text[cut:]
            case _:
                words[lot.randrange(len(words))] = lot.choice(PIECES)
                text = " ".join(words)
    return text


def signs(lot: Random, most: int = 60) -> str:
    """Any signs that a message may carry, digits of all scripts among them."""
    pools = ((0x20, 0x7F), (0x0, 0x20), (0xA0, 0x250), (0x600, 0x700), (0x966, 0x970), (0x2000, 0x2070),
             (0x2150, 0x2190), (0x3000, 0x3100), (0xFF10, 0xFF5F), (0x1F300, 0x1F700), (0x0, 0xD800),
             (0xE000, 0x110000))  # fmt: skip
    low, high = lot.choice(pools)
    return "".join(chr(lot.randrange(low, high)) for _ in range(lot.randint(1, most)))


def mixed_signs(lot: Random) -> str:
    """Signs and words of the site side by side."""
    parts = [lot.choice((signs(lot, 8), lot.choice(PIECES))) for _ in range(lot.randint(1, 12))]
    return lot.choice(("", " ")).join(parts)


def hostile(lot: Random) -> str:
    """A message meant to do harm, at times a very long one."""
    text = lot.choice(HOSTILE).replace("\ud800", "")
    if lot.random() < 0.02:
        return (lot.choice(REPEATED) * 4000)[: lot.randint(500, 4096)]
    return lot.choice((text[:300], f"{text[:300]} {of_the_site(lot)}"))


KINDS = (of_the_site, salad, with_slips, a_known_one, spoilt, signs, mixed_signs, hostile)
SHARES = (34, 16, 14, 4, 16, 6, 6, 4)


def saying(lot: Random) -> str:
    """Anything that may be typed."""
    return lot.choices(KINDS, SHARES)[0](lot)
