"""Text into tokens that tile it: joined, the tokens are the text."""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

_FOLD = str.maketrans(
    {
        **dict.fromkeys("×✕✖", "x"),
        **dict.fromkeys("–—−‐‑", "-"),
        **dict.fromkeys("’‘′`´", "'"),
        **dict.fromkeys("″”“", '"'),
        **dict.fromkeys("\u00a0\u2009\u202f", " "),
        **dict.fromkeys("º˚", "°"),
        "，": ",",
        "．": ".",
        "：": ":",
        "∶": ":",
        "≈": "~",
        "≥": ">",
        "≤": "<",
    }
)
FRACTIONS = {"½": 1 / 2, "¼": 1 / 4, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3}
FRACTIONS |= {"⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8}
_F = "".join(FRACTIONS)
_KINDS = (
    rf"(?P<number>(?:(?<![\w.,])\.)?[0-9]+(?:[.,][0-9]+)*)|(?P<fraction>[{_F}])"
    rf"|(?P<word>(?:(?![{_F}])[^\W\d_])+(?:'(?:(?![{_F}])[^\W\d_])+)?)"
)
_LIST = re.compile(r"(?<![\w.,])[0-9]{1,2}(?:,[0-9]{1,2}){2,}(?![\w.,])")
_TOKEN = re.compile(rf"{_KINDS}|(?P<space>\s+)|(?P<mark>.)", re.DOTALL)
_SOLID = re.compile(rf"\s*(?:{_KINDS}|(?P<mark>\S))")
_NAMES = {n: name for name, n in _SOLID.groupindex.items()}
MARK = _SOLID.groupindex["mark"]


class Token(NamedTuple):
    """A piece of the text. `text` is folded: lower case, one kind of dash, quote and cross."""

    kind: str
    text: str
    start: int
    end: int
    spaced: bool  # something blank (or the beginning) stands before it


def fold(text: str) -> str:
    """Lower case and plain marks, code point for code point."""
    lowered = text.lower()
    if len(lowered) != len(text):
        lowered = "".join(c.lower() if len(c.lower()) == 1 else c for c in text)
    if not lowered.isascii():
        lowered = "".join(str(unicodedata.decimal(c)) if c.isdecimal() else c for c in lowered)
    folded = lowered.translate(_FOLD).replace("-and-a-", " and a ").replace("-and-", " and ")
    if folded.count(",") > 1:  # 'at 2,7,12 and 17': three of them are no decimal
        folded = _LIST.sub(lambda found: found[0].replace(",", " "), folded)
    return folded


def cut(folded: str) -> list[Token]:
    """The tokens of a folded text without the blanks: this is the first thing that is done to a message."""
    found = []
    last = -1
    for match in _SOLID.finditer(folded):
        n = match.lastindex or MARK
        start, end = match.span(n)
        found.append(_token(Token, (_NAMES[n], match[n], start, end, start != last)))
        last = end
    return found


_token = tuple.__new__


def tokens(text: str) -> list[Token]:
    """All tokens, blanks among them."""
    folded, found, spaced = fold(text), [], True
    for match in _TOKEN.finditer(folded):
        kind = match.lastgroup or "mark"
        found.append(Token(kind, match.group(), *match.span(), spaced))
        spaced = kind == "space"
    return found


def solid(text: str) -> list[Token]:
    """The tokens without the blanks."""
    return cut(fold(text))
