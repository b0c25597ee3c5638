"""Prices, addresses, telephone numbers, dates and times, found by their looks before anything is measured."""

from __future__ import annotations

import re

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
    r"(?:\+\d{1,3}[ -]?)?\(?\d{3,5}\)?[ -]\d{3}[ -]?\d{3,4}(?!\d)",
    r"(?<!\d)[+0]\d{9,12}(?!\d)",
)
_DATE = (
    r"\d{1,2}[/.-]\d{1,2}[/.-]\d{2,4}(?!\d)",
    r"\d{1,2}/(?:0\d|1[0-2])(?![\d/])",
    r"0\d/\d{1,2}(?![\d/])",
    rf"\d{{1,2}}{_ORDER}?\s(?:of\s)?{_MONTH}\b(?:\s(?:19|20)\d\d)?",
    rf"{_MONTH}\s\d{{1,2}}{_ORDER}\b",
    rf"{_DAY}\s(?:the\s)?\d{{1,2}}{_ORDER}?\b",
    rf"\d{{1,2}}{_ORDER}\sof\b",
    r"\b(?:in|since|from|around|about)\s(?:19|20)\d\d(?!\s?(?:mm|m|x|long|high|wide))\b",
)
_TIME = (
    r"\d{1,2}(?:[:.]\d{2})?\s?(?:am|pm)\b",
    r"(?<![\d:])(?:0?[2-9]|1\d|2[0-3]):[0-5]\d(?![\d:])",
    rf"\bhalf {_HOUR}",
    r"\bat (?:half|quarter) (?:past|to) \w+",
)
_BAR = (r"#\s?\d{1,2}\b(?!\s?(?:mm|m|ft|in)\b)",)
LOOKS = {
    "the number of a bar or a drawing": _BAR,
    "a price": _PRICE,
    "an address": _ADDRESS,
    "a phone number": _TELEPHONE,
    "a date": _DATE,
    "a time": _TIME,
}
_LOOKS = [(why, re.compile("|".join(looks))) for why, looks in LOOKS.items()]


def find_asides(folded: str) -> dict[int, tuple[int, str]]:
    """Where each begins: (where it ends, what it is)."""
    found: dict[int, tuple[int, str]] = {}
    taken: list[tuple[int, int]] = []
    if not any(c.isdigit() for c in folded) and "half " not in folded:
        return found
    for why, pattern in _LOOKS:
        for match in pattern.finditer(folded):
            if all(match.end() <= a or match.start() >= b for a, b in taken):
                taken.append(match.span())
                found[match.start()] = (match.end(), why)
    return found
