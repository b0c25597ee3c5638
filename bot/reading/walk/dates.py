"""Prices, addresses, telephone numbers, dates and times, found by their looks before anything is measured."""

from __future__ import annotations

import re
from bisect import bisect_left
from typing import NamedTuple

# Patterns of digits and English words; another language needs patterns of its own, not other words in these.
_MONTH = r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec)[a-z]*"
_DAY = r"(?:mon|tues|wednes|thurs|fri|satur|sun)day"
_ORDER = r"(?:st|nd|rd|th)"
_HOUR = r"(?:\d\b(?!')|(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)\b)"
_PRICE = (
    r"[£$€]\s?\d[\d.,]*\d",
    r"[£$€]\s?\d",
    r"\d[\d.,]*\s?(?:quid|euros?|bucks)\b",
    r"\d+p\b",
)
_ADDRESS = (r"https?://\S+", r"www\.\S+", r"\S+@\S+\.\w+")
_TELEPHONE = (
    r"(?:\+\d{1,3}[ -]?)?\(?\d{3,5}\)?[ -]\d{3}[ -]?\d{4}(?!\d)",
    r"(?:\+\d{1,3}[ -]?\(?\d{3,5}|\(?0\d{2,4})\)?[ -]\d{3}[ -]?\d{3}(?!\d)",  # and no block of 440 215 100
    r"(?<!\d)[+0]\d{9,12}(?!\d)",
)
_SHORTEST = 9  # digits of a telephone number
_DATE_IN_FIGURES = (r"\d{1,2}[/.-]\d{1,2}[/.-]\d{2,4}(?!\d)",)
_DATE = (
    r"\d{1,2}/(?:0\d|1[0-2])(?![\d/])",
    r"0\d/\d{1,2}(?![\d/])",
    rf"\d{{1,2}}{_ORDER}?\s(?:of\s)?{_MONTH}\b(?:\s(?:19|20)\d\d)?",
    rf"{_MONTH}\s\d{{1,2}}{_ORDER}\b",
    rf"{_DAY}\s(?:the\s)?\d{{1,2}}{_ORDER}?\b",
    rf"\d{{1,2}}{_ORDER}\sof\b",
)
_YEAR = (r"\b(?:in|since|from|around|about)\s(?:19|20)\d\d(?!\s?(?:mm|m|x|long|high|wide))\b",)
_CENTURIES = ("n 19", "n 20", "e 19", "e 20", "m 19", "m 20", "d 19", "d 20", "t 19", "t 20")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_TIME = (
    r"\d{1,2}(?:[:.]\d{2})?\s?(?:am|pm)\b",
    r"(?<![\d:])(?:0?[2-9]|1\d|2[0-3]):[0-5]\d(?![\d:])",
    rf"\bhalf {_HOUR}",
    r"\bat (?:half|quarter) (?:past|to) \w+",
)
_SCALE = (r"\bscale\s(?:of\s)?1\s?[:/]\s?\d+", r"\b1:(?:25|50|100|200|500|1250)\b")
_BAR = (r"#\s?\d{1,2}\b(?!\s?(?:mm|m|ft|in)\b)",)


class Look(NamedTuple):
    """How something looks, what it is, and letters of which some stand in every one: most texts have none."""

    why: str
    looks: tuple[str, ...]
    hints: tuple[str, ...] = ()
    digits: int = 1


LOOKS = (
    Look("the number of a bar or a drawing", _BAR, ("#",)),
    Look("the scale of a drawing", _SCALE, ("scale", "1:"), digits=2),
    Look("a price", _PRICE, ("£", "$", "€", "quid", "euro", "bucks", *(f"{n}p" for n in range(10)))),
    Look("an address", _ADDRESS, ("://", "www.", "@"), digits=0),
    Look("a phone number", _TELEPHONE, digits=_SHORTEST),
    Look("a date", _DATE_IN_FIGURES, digits=4),
    Look("a date", _DATE, (*_MONTHS, "day", "/", "st of", "nd of", "rd of", "th of")),
    Look("a date", _YEAR, _CENTURIES, digits=4),
    Look("a time", _TIME, ("am", "pm", ":", "half ", "at quarter "), digits=0),
)
_LOOKS = [(look, re.compile("|".join(look.looks))) for look in LOOKS]
_NO_DIGITS = dict.fromkeys(map(ord, "0123456789"))


def find_asides(folded: str) -> dict[int, tuple[int, str]]:
    """Where each begins: (where it ends, what it is)."""
    found: dict[int, tuple[int, str]] = {}
    taken: list[tuple[int, int]] = []  # in order, and none over another
    digits = len(folded) - len(folded.translate(_NO_DIGITS))
    if not digits and "half " not in folded:
        return found
    for look, pattern in _LOOKS:
        if digits < look.digits:
            continue
        for hint in look.hints:
            if hint in folded:
                break
        else:
            if look.hints:
                continue
        for match in pattern.finditer(folded):
            start, end = match.span()
            place = bisect_left(taken, (start, end))
            clear = place == 0 or taken[place - 1][1] <= start
            if clear and (place == len(taken) or end <= taken[place][0]):
                taken.insert(place, (start, end))
                found[start] = (end, look.why)
    return found
