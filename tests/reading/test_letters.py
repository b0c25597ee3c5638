"""Tokens tile the text: nothing is searched for, so nothing is passed over (the first law of reading)."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from bot.reading.letters import fold, solid, tokens
from tests.reading.lots import lots
from tests.reading.site_talk import MESSAGES
from tests.scorecard import messages


def tiles(text: str) -> None:
    """Tokens stand end to end, and each is the folded text of its place."""
    found = tokens(text)
    assert [t.start for t in found] == [0, *(t.end for t in found)][: len(found)]
    assert (found[-1].end if found else 0) == len(text)
    folded = fold(text)
    assert len(folded) == len(text)
    assert "".join(t.text for t in found) == folded
    assert all(t.text == folded[t.start : t.end] and t.text for t in found)
    assert "".join(t.text for t in solid(text)) == "".join(t.text for t in found if t.kind != "space")


@lots(300)
@given(st.text())
@example("İSTANBUL 4½ x ²")  # a letter that grows when it is made small
@example("ǅ ﬁ ß 10\u202fm")
@example("\x00\x1b[2J\r\n")
def test_tokens_tile_any_text(text: str) -> None:
    tiles(text)


@lots(150)
@given(MESSAGES)
def test_tokens_tile_talk_of_the_site(text: str) -> None:
    tiles(text)


def test_tokens_tile_the_corpus() -> None:
    for message in messages():
        tiles(message["text"])


@pytest.mark.parametrize("digit", "0123456789")
def test_every_digit_stands_in_a_number(digit: str) -> None:
    for text in (digit, f"x{digit}", f"{digit}x", f"a{digit}b", f"£{digit}", f"_{digit}_", f"½{digit}"):
        assert any(t.kind == "number" and digit in t.text for t in tokens(text)), text
