"""Numbers as they are typed: digits, commas, fractions, words. Ambiguity is kept as candidates."""

from __future__ import annotations

from typing import NamedTuple

from bot.reading.letters import FRACTIONS, Token

# Words of number make one number together, by rules of their own; they are no list that may grow.
_UP_TO_NINE = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_TO_FIFTEEN = ("ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen")
_TO_NINETEEN = ("sixteen", "seventeen", "eighteen", "nineteen")
_BY_TEN = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_ONES = {word: n for n, word in enumerate((*_UP_TO_NINE, *_TO_FIFTEEN, *_TO_NINETEEN))}
_ONES |= {"nil": 0, "nought": 0}
_TENS = {word: 10 * n for n, word in enumerate(_BY_TEN, 2)} | {"fourty": 40}
_DIGIT = {**{k: v for k, v in _ONES.items() if v < 10}, "oh": 0, "o": 0}
_PART = {"half": 0.5, "quarter": 0.25, "third": 1 / 3}
_PARTS_OF = {"eighth": 1 / 8, "sixteenth": 1 / 16}
_AND = {"and", "n", "an", "&"}
_LAKH = dict.fromkeys(("lakh", "lakhs", "lac", "lacs"), 1e5) | dict.fromkeys(("crore", "crores"), 1e7)
_TIMES = {"hundred": 1e2, "thousand": 1e3, "million": 1e6, **_LAKH}
WORDS = frozenset({*_ONES, *_TENS, *_TIMES, "half", "quarter", "dozen", "couple", "pair"})


_BEGINS = frozenset(
    {*_ONES, *_TENS, *_PARTS_OF, "half", "quarter", "dozen", "couple", "pair", "hundred", "thousand"}
)

LONGEST = 12  # digits and marks of the longest number that anybody means


class Number(NamedTuple):
    """Candidate values of one number and where it stands (token indices, end excluded)."""

    values: tuple[float, ...]
    first: int
    last: int
    decimal: bool = False
    comma: bool = False
    spelt: bool = False
    grouped: bool = False


def digits(text: str) -> tuple[tuple[float, ...], bool, bool]:
    """Candidates of a run of digits with marks; whether it has a decimal mark, and a comma as one."""
    marks = [c for c in text if c in ".,"]
    if len(text) > LONGEST:
        return (), False, False
    if not marks:
        return (float(text),), False, False
    if text[0] in ".,":
        return ((float("0." + text[1:]),), True, False) if len(marks) == 1 else ((), False, False)
    parts = text.replace(",", ".").split(".")
    if len(marks) == 1:
        decimal = float(f"{parts[0]}.{parts[1]}")
        if len(parts[1]) == 3 and len(parts[0]) <= 3 and parts[0] != "0":
            return (decimal, float("".join(parts))), True, marks[0] == ","
        return (decimal,), True, marks[0] == ","
    thousands = all(len(p) == 3 for p in parts[1:]) and len(parts[0]) <= 3
    lakhs = marks[0] == "," and all(len(p) == 2 for p in parts[1:-1]) and len(parts[-1]) == 3  # 1,00,000
    if len(set(marks)) == 1 and (thousands or (lakhs and len(parts[0]) <= 2)):
        return (float("".join(parts)),), False, False
    if len(set(marks[:-1])) == 1 and marks[-1] != marks[0] and all(len(p) == 3 for p in parts[1:-1]):
        return (float("".join(parts[:-1]) + "." + parts[-1]),), True, marks[-1] == ","
    return (), False, False  # 1.2.3 or 1,2,3: not one number


def _fraction(t: list[Token], i: int) -> tuple[float, int] | None:
    """½ or 1/2 at i."""
    if i < len(t) and t[i].kind == "fraction":
        return FRACTIONS[t[i].text], i + 1
    if (
        i + 2 < len(t) and t[i].kind == "number" and t[i + 1].text == "/" and t[i + 2].kind == "number"
        and not t[i + 1].spaced and not t[i + 2].spaced and t[i].text.isdigit()
        and t[i + 2].text in {"2", "3", "4", "8", "16"} and int(t[i].text) < int(t[i + 2].text)
    ):  # fmt: skip
        return int(t[i].text) / int(t[i + 2].text), i + 3
    return None


def number(t: list[Token], i: int) -> Number | None:
    """The number that begins at token i, or None."""
    if i >= len(t):
        return None
    token = t[i]
    if token.kind == "word":
        return spelt(t, i)
    alone = _fraction(t, i)
    if alone:
        return Number((alone[0],), i, alone[1], decimal=True)
    if token.kind != "number":
        return None
    values, decimal, comma = digits(token.text)
    if not values:
        return None
    end = i + 1
    if end < len(t) and t[end].text in _TIMES:
        return Number((round(values[0] * _TIMES[t[end].text], 6),), i, end + 1)
    if not decimal and end + 1 < len(t) and t[end].text == "point" and t[end + 1].text.isdigit():
        return Number((float(f"{token.text}.{t[end + 1].text}"),), i, end + 2, decimal=True)
    if not decimal:
        more = _fraction(t, end)
        if more is None and end + 1 < len(t) and (t[end].text != "and" or t[end + 1].text == "a"):
            more = and_part(t, end)
        glued_mark = end < len(t) and t[end].text == "-" and not t[end].spaced
        if more is None and glued_mark:
            more = _fraction(t, end + 1)
        if more and values[0] < 1000:
            return Number((values[0] + more[0],), i, more[1], decimal=True)
        if (
            end < len(t) and t[end].kind == "number" and t[end].spaced and len(t[end].text) == 3
            and t[end].text.isdigit() and len(token.text) <= 3 and token.text[0] != "0"
            and _thousands(t, i)
        ):  # fmt: skip
            return Number((float(token.text + t[end].text),), i, end + 1, grouped=True)
    return Number(values, i, end, decimal, comma)


def _thousands(t: list[Token], i: int) -> bool:
    """Whether '13 200' at i is one number: millimetres follow, or the other of a pair is set so too."""
    after = t[i + 2] if i + 2 < len(t) else None
    if i and t[i - 1].text in {"x", "by", "*"}:
        return i >= 3 and t[i - 2].kind == "number" and t[i - 3].kind == "number"
    if after is None:
        return False
    if after.text in {"x", "by", "*"}:
        return (
            i + 4 < len(t)
            and t[i + 3].kind == "number"
            and t[i + 4].kind == "number"
            and len(t[i + 4].text) == 3
        )
    further = t[i + 3].text if i + 3 < len(t) else ""
    if after.text == "mm":
        return not further.startswith(
            ("block", "thick", "brick", "dense", "aircrete", "wide", "blk", "wall", "aac")
        )
    return after.text in {"long", "length", "lg", "high", "height", "run", "overall", "tall"}


def _below_hundred(t: list[Token], i: int) -> tuple[int, int] | None:
    if i >= len(t):
        return None
    word = t[i].text
    if word in _TENS:
        value, j = _TENS[word], i + 1
        k = j + 1 if j < len(t) and t[j].text == "-" else j
        if k < len(t) and 0 < _ONES.get(t[k].text, 0) < 10:
            return value + _ONES[t[k].text], k + 1
        return value, j
    if word in _ONES:
        return _ONES[word], i + 1
    return None


def _run_on(value: int, first: str, second: str) -> bool:
    """Whether 'seven sixty two' or 'nineteen eighty one' is one number, said as figures in hundreds."""
    if second in _TENS:
        return (0 < value <= 21 and first != "ten") or (first == "ten" and _TENS[second] >= 20)
    return 0 < value < 10 and 10 <= _ONES.get(second, 0) < 20


def and_part(t: list[Token], j: int) -> tuple[float, int] | None:
    """'and a half', 'n half', 'and three quarters' at j, and the place behind it."""
    if j + 1 >= len(t) or t[j].text not in _AND:
        return None
    k = j + 2 if t[j + 1].text == "a" else j + 1
    if k >= len(t):
        return None
    if t[k].text == "three" and k + 1 < len(t) and t[k + 1].text in {"quarter", "quarters"}:
        return 0.75, k + 2
    if t[k].text == "threequarters":
        return 0.5 + 0.25, k + 1
    if t[k].text in _PART and (t[k].text == "half" or k == j + 2):
        return _PART[t[k].text], k + 1
    return None


_LOTS = {"dozen": 12.0, "hundred": 100.0, "thousand": 1000.0, "hundreds": 100.0, "thousands": 1000.0}


def _of_a_lot(t: list[Token], i: int) -> Number | None:
    """'half a dozen', 'two dozen', 'a couple of hundred', 'two and a half thousand', 'half a thousand'."""
    count, j = None, i + 1
    if t[i].text == "half":
        count, j = 0.5, i + 2 if i + 1 < len(t) and t[i + 1].text == "a" else i + 1
    elif t[i].text in {"couple", "pair"}:
        count, j = 2.0, i + 2 if i + 1 < len(t) and t[i + 1].text == "of" else i + 1
    elif t[i].text in _ONES and 0 < _ONES[t[i].text] < 16:
        count, part = float(_ONES[t[i].text]), and_part(t, i + 1)
        count, j = (count + part[0], part[1]) if part is not None else (count, i + 1)
        if part is None and (j >= len(t) or t[j].text != "dozen"):
            return None  # 'two hundred and fifteen' is read as it goes on
    if count is None or j >= len(t) or t[j].text not in _LOTS:
        return None
    return Number((count * _LOTS[t[j].text],), i, j + 1, spelt=True)


def spelt(t: list[Token], i: int) -> Number | None:
    """A number in words: 'seven point two', 'three and a half', 'nine hundred', 'two hundred and fifteen'."""
    word = t[i].text
    if word not in _BEGINS:
        return None
    lot = _of_a_lot(t, i)
    if lot is not None:
        return lot
    if word in {"half", "quarter"}:
        end = i + 1
        return Number((_PART[word],), i, end, decimal=True, spelt=True)
    if (
        word in _PARTS_OF
        and i + 1 < len(t)
        and (
            t[i + 1].text in {"inch", "in"}
            or (t[i + 1].text == "of" and i + 2 < len(t) and t[i + 2].text in {"an", "a"})
        )
    ):
        return Number(
            (_PARTS_OF[word],), i, i + 3 if t[i + 1].text == "of" else i + 1, decimal=True, spelt=True
        )
    if word == "dozen":
        return Number((12.0,), i, i + 1, spelt=True)
    if word in {"couple", "pair"}:
        end = i + 2 if i + 1 < len(t) and t[i + 1].text == "of" else i + 1
        return Number((2.0,), i, end, spelt=True)
    if word in {"hundred", "thousand"}:
        value = 100.0 if word == "hundred" else 1000.0
        rest = _below_hundred(t, i + 2) if i + 1 < len(t) and t[i + 1].text == "and" else None
        return (
            Number((value + rest[0],), i, rest[1], spelt=True)
            if rest
            else Number((value,), i, i + 1, spelt=True)
        )
    start = _below_hundred(t, i)
    if start is None:
        return None
    value, j = float(start[0]), start[1]
    more = _below_hundred(t, j) if j < len(t) and _run_on(start[0], t[i].text, t[j].text) else None
    if more is not None and not (more[1] < len(t) and t[more[1]].text in {"hundred", "thousand"}):
        return Number((value * 100 + more[0],), i, more[1], spelt=True)
    if j < len(t) and t[j].text in _LAKH:
        return Number((value * _LAKH[t[j].text],), i, j + 1, spelt=True)
    if j < len(t) and t[j].text in {"hundred", "thousand"}:
        value *= 100 if t[j].text == "hundred" else 1000
        j += 1
        k = j + 1 if j < len(t) and t[j].text == "and" else j
        more = _below_hundred(t, k)
        if more is not None:
            value, j = value + more[0], more[1]
            if j < len(t) and t[j].text == "hundred":  # two thousand four hundred and fifty
                value += more[0] * 99
                j += 1
                rest = _below_hundred(t, j + 1) if j < len(t) and t[j].text == "and" else _below_hundred(t, j)
                if rest is not None:
                    value, j = value + rest[0], rest[1]
        return Number((value,), i, j, spelt=True)
    if j < len(t) and value < 16 and t[j].text.rstrip("s") in _PARTS_OF:
        k = j + 3 if j + 2 < len(t) and t[j + 1].text == "of" and t[j + 2].text in {"an", "a"} else j + 1
        return Number((value * _PARTS_OF[t[j].text.rstrip("s")],), i, k, decimal=True, spelt=True)
    if j < len(t) and value in {1, 3} and t[j].text in {"quarter", "quarters"}:
        return Number((value / 4,), i, j + 1, decimal=True, spelt=True)
    if j + 1 < len(t) and t[j].text == "point" and (t[j + 1].text in _DIGIT or t[j + 1].text in _TENS):
        tail, j = "", j + 1
        while j < len(t) and (t[j].text in _DIGIT or (not tail and t[j].text in _TENS)):
            tail += str(_DIGIT.get(t[j].text, _TENS.get(t[j].text)))
            j += 1
        return Number((float(f"{value:g}.{tail}"),), i, j, decimal=True, spelt=True)
    part = and_part(t, j)
    if part is not None:
        return Number((value + part[0],), i, part[1], decimal=True, spelt=True)
    return Number((value,), i, j, spelt=True)
