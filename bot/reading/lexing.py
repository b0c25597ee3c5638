"""Tokens into items: measures, pairs, mixes, phrases, codes and what is set aside. No digit is dropped."""

from __future__ import annotations

import re

from bot.reading.items import Item, Measure
from bot.reading.letters import Token, fold, solid
from bot.reading.numbers import Number, number
from bot.reading.words import Words

_MONTH = r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec)[a-z]*"
_ASIDES = [
    ("a price", re.compile(r"[£$€]\s?\d[\d.,]*\d|[£$€]\s?\d|\d[\d.,]*\s?(?:quid|euros?|bucks)\b|\d+p\b")),
    ("an address", re.compile(r"https?://\S+|www\.\S+|\S+@\S+\.\w+")),
    ("a phone number", re.compile(r"(?:\+\d{1,3}[ -]?)?\(?\d{3,5}\)?[ -]\d{3}[ -]?\d{3,4}(?!\d)|(?<!\d)[+0]\d{9,12}(?!\d)")),
    ("a date", re.compile(rf"\d{{1,2}}[/.-]\d{{1,2}}[/.-]\d{{2,4}}(?!\d)|\d{{1,2}}/(?:0\d|1[0-2])(?![\d/])"
                          rf"|0\d/\d{{1,2}}(?![\d/])"
                          rf"|\d{{1,2}}(?:st|nd|rd|th)?\s(?:of\s)?{_MONTH}\b(?:\s(?:19|20)\d\d)?|{_MONTH}\s\d{{1,2}}(?:st|nd|rd|th)\b"
                          rf"|(?:mon|tues|wednes|thurs|fri|satur|sun)day\s(?:the\s)?\d{{1,2}}(?:st|nd|rd|th)?\b|\d{{1,2}}(?:st|nd|rd|th)\sof\b"
                          rf"|\b(?:in|since|from|around|about)\s(?:19|20)\d\d(?!\s?(?:mm|m|x|long|high|wide))\b")),
    ("a time", re.compile(r"\d{1,2}(?:[:.]\d{2})?\s?(?:am|pm)\b|(?<![\d:])(?:0?[2-9]|1\d|2[0-3]):[0-5]\d(?![\d:])|\bhalf (?:\d\b(?!')|one\b|two\b|three\b|four\b|five\b|six\b|seven\b|eight\b|nine\b|ten\b|eleven\b|twelve\b)"
                          r"|\bat (?:half|quarter) (?:past|to) \w+")),
]  # fmt: skip
_CODE = re.compile(r"^[a-z]{1,3}$")
_ORDINAL = {"st", "nd", "rd", "th"}
_COUNT_WORDS = {"no", "nr", "off", "nos"}
_LONE_MARKS = {",", ".", ";", "!", "?", "(", ")", ":", "-", "/", "&", "+", "\n", "@", "#", "*", "=", "~", ">", "<"}


class Lexer:
    """Walks the tokens once; `items` is what it found, in order."""

    def __init__(self, text: str, words: Words) -> None:
        self.text = text
        self.words = words
        self.t = solid(text)
        self.items: list[Item] = []
        self.repaired: list[tuple[str, str]] = []
        self._aside = self._find_asides(fold(text))

    def _find_asides(self, folded: str) -> dict[int, tuple[int, str]]:
        found: dict[int, tuple[int, str]] = {}
        taken: list[tuple[int, int]] = []
        if not any(c.isdigit() for c in folded) and "half " not in folded:
            return found
        for why, pattern in _ASIDES:
            for match in pattern.finditer(folded):
                if all(match.end() <= a or match.start() >= b for a, b in taken):
                    taken.append(match.span())
                    found[match.start()] = (match.end(), why)
        return found

    def run(self) -> list[Item]:
        """All items."""
        i = 0
        while i < len(self.t):
            i = self._step(i)
        self._wishes()
        return self.items

    def _wishes(self) -> None:
        """Lay the wishes over the items: each goes with the item it begins at, and names its topic's weak words."""
        t = self.t
        at = 0
        places = {}
        for n, item in enumerate(self.items):
            while at < len(t) and t[at].start < item.end:
                places[at] = n
                at += 1
        i = 0
        while i < len(t):
            found = self.words.wish(t, i) if i in places else []
            if not found:
                i += 1
                continue
            for end, tags in found:
                first = self.items[places[i]]
                first.tags = (*first.tags, *(tag for tag in tags if tag not in first.tags))
                topics = {tag[1] for tag in tags}
                for n in {places[k] for k in range(i, end) if k in places}:
                    item = self.items[n]
                    named = tuple(("topic", tag[1], "strong") for tag in item.tags if tag[0] == "topic" and tag[1] in topics and tag[2] == "weak" and end - i > 1)
                    item.tags = (*item.tags, *(tag for tag in named if tag not in item.tags))
            i += 1

    def _add(self, kind: str, first: int, last: int, **more: object) -> int:
        start, end = self.t[first].start, self.t[last - 1].end
        item = Item(kind, self.text[start:end], start, end)
        for key, value in more.items():
            setattr(item, key, value)
        self.items.append(item)
        return last

    def _step(self, i: int) -> int:
        token = self.t[i]
        aside = self._aside.get(token.start)
        if aside is None:
            for start, (end, why) in self._aside.items():
                if start < token.start < end or token.start < start < token.end:
                    aside = (end, why)
                    break
        if aside is not None:
            last = i + 1
            while last < len(self.t) and self.t[last].end <= aside[0]:
                last += 1
            return self._add("aside", i, last, why=aside[1])
        if token.kind in {"number", "fraction"}:
            return self._digits(i)
        if token.kind == "word":
            return self._word(i)
        if token.text == "-" and self._minus(i):
            return self._digits(i + 1, negative=True)
        if token.text in {".", ","} and i + 1 < len(self.t) and self.t[i + 1].kind == "number" and token.spaced:
            return self._digits(i + 1) if not self.t[i + 1].spaced else self._add("mark", i, i + 1)
        match = self.words.phrase(self.t, i)
        if match:
            return self._add("phrase", i, match[0], tags=match[1])
        if token.text in {"°", '"', "'"}:
            return self._add("mark", i, i + 1)
        return self._add("mark", i, i + 1)

    def _minus(self, i: int) -> bool:
        """A dash that is a sign: it touches the number and nothing touches it from the left."""
        t = self.t
        return (
            i + 1 < len(t) and t[i + 1].kind == "number" and not t[i + 1].spaced and t[i].spaced
            and not (i > 0 and t[i - 1].kind == "number")
        )  # fmt: skip

    # --- words ---------------------------------------------------------------------------------------------

    def _word(self, i: int) -> int:
        t, token = self.t, self.t[i]
        follows = t[i + 1] if i + 1 < len(t) else None
        glued = follows is not None and follows.kind == "number" and not follows.spaced
        if glued and follows is not None:
            done = self._letter_code(i, follows)
            if done:
                return done
        if token.text in {"minus", "negative"} and follows is not None and not self._taken_away(i + 1):
            if follows.kind == "number":
                return self._digits(i + 1, negative=True)
            below = number(t, i + 1) if follows.kind == "word" else None
            if below is not None and (self.words.unit(t, below.last) or below.values[0] > 1):
                return self._measured(below, negative=True)
        if (
            len(token.text) <= 3 and i + 2 < len(t) and t[i + 1].text == "-" and not t[i + 1].spaced and t[i + 2].kind == "number"
            and not t[i + 2].spaced and (len(token.text) == 1 or self.words.phrase(t, i) is None)
        ):  # fmt: skip
            last = i + 3
            while last < len(t) and not t[last].spaced and t[last].kind in {"number", "word"}:
                last += 1
            return self._add("code", i, last, why="a code")
        match = self.words.phrase(t, i)
        if match is None and token.text.endswith("'s"):
            match = self.words.phrase([token._replace(text=token.text[:-2])], 0)
            match = (i + 1, match[1]) if match else None
        if match and match[0] - i > 1:
            return self._add("phrase", i, match[0], tags=match[1])
        spelt = number(t, i)
        if spelt is not None and self._counts(i, spelt):
            return self._measured(spelt, negative=False)
        if match:
            return self._add("phrase", i, match[0], tags=match[1])
        if glued and token.text != "x":
            return self._add("code", i, i + 2, why="a code")
        meant = self.words.repair(token.text)
        if meant is not None:
            shape = [Token("word", meant, token.start, token.end, token.spaced), *t[i + 1 : i + 6]]
            again = self.words.phrase(shape, 0)
            if again is None:
                unit = self.words.unit(shape, 0)
                if unit is None:
                    return self._add("word", i, i + 1)
                return self._add("word", i, i + 1)
            self.repaired.append((self.text[token.start : token.end], meant))
            return self._add("phrase", i, i + again[0], tags=again[1])
        return self._add("word", i, i + 1)

    def _counts(self, i: int, spelt: Number) -> bool:
        """Whether a spelt number is meant as a number here; 'which one', 'the other one' are none."""
        t, j = self.t, spelt.last
        word = t[i].text
        if word not in {"one", "half", "quarter", "couple", "hundred", "nil", "zero", "nought"} or spelt.decimal and word == "one":
            return True
        if word in {"nil", "zero", "nought"}:
            after_zero = self.words.phrase(t, j) if j < len(t) else None
            return bool(self.words.unit(t, j)) or bool(after_zero and any(tag[0] in {"noun", "dim"} for tag in after_zero[1]))
        if word in {"half", "quarter"}:
            if j < len(t) and t[j].text in {"to", ":"}:
                return True
            k = j + (j < len(t) and t[j].text in {"a", "of", "an"})
            phrase = self.words.phrase(t, k) if k < len(t) else None
            return bool(self.words.unit(t, k)) or bool(phrase and any(tag[0] == "noun" and tag[1] in {"bag", "bucket", "cement", "lime", "sand", "part", "roll"} for tag in phrase[1]))
        after = t[j].text if j < len(t) else ""
        before = t[i - 1].text if i else ""
        if before in {"which", "other", "this", "that", "another", "next", "new", "first", "second", "each", "last",
                      "the", "different", "every", "any", "right", "wrong", "bigger", "no", "is", "put"} and word == "one":
            return after in {"to", ":"} and before not in {"other", "which"}
        if word == "one":
            two = number(t, j) if j < len(t) and t[j].kind == "word" and t[j].text != "one" else None
            if two is not None and number(t, two.last) is not None:
                return True
            if j < len(t) and t[j].kind == "number":
                return (self.words.unit(t, j + 1) or ("", 0))[0] == "kg"
            if self.words.unit(t, j) or after in {"to", "and", "x", ":", "no", "off", "part", "parts", "of"}:
                return after != "of" or (j + 1 < len(t) and t[j + 1].text in {"cement", "lime", "sand", "opc"})
            phrase = self.words.phrase(t, j) if j < len(t) else None
            if phrase and any(tag[0] in {"noun", "aside", "dim"} for tag in phrase[1]):
                return not any(tag[0] == "side" for tag in phrase[1])
            skip = self.words.phrase(t, j + 1) if j + 1 < len(t) else None
            if skip and any(tag[:2] in {("noun", "window"), ("noun", "door"), ("noun", "opening")} for tag in skip[1]):
                return True
            return before in {"and", "to", ":"}
        return True

    def _taken_away(self, i: int) -> bool:
        """'minus 2 windows', 'minus 1.2 x 2.1': a sum, no sign."""
        found = number(self.t, i)
        if found is None:
            return True
        _, j = self._measure(found, False)
        if self._cross(j) is not None:
            return True
        for k in (j, j + 1):
            phrase = self.words.phrase(self.t, k) if k < len(self.t) else None
            if phrase and any(tag[:2] in {("noun", "window"), ("noun", "door"), ("noun", "opening"), ("noun", "bag")} for tag in phrase[1]):
                return True
        return False

    def _letter_code(self, i: int, follows: Token) -> int | None:
        """M4, D1, L9.75, x2, @600: letters that touch a number behind them."""
        t, word = self.t, self.t[i].text
        if word == "x":
            return None
        if word == "m" and follows.text in {"2", "3"} and not (i and self.t[i - 1].kind == "number"):
            beyond = t[i + 2] if i + 2 < len(t) else None
            before = t[i - 1].text if i else ""
            if before in {"per", "a", "many", "the", "much", "sq", "each", "of", "in"}:
                return self._add("word", i, i + 2)
            if beyond is not None and beyond.text == "/" or follows.text == "2" and not any(
                x.tagged("topic", "mortar") or x.text.lower() in {"class", "grade", "m4", "m6", "m12"} for x in self.items) and not any(y.text in {"mortar", "mix", "class", "strong"} for y in t[i + 2 : i + 8]):  # fmt: skip
                return self._add("word", i, i + 2)
            if word == "m" and follows.text == "3" and (beyond is None or beyond.text != "mortar"):
                return self._add("code", i, i + 2, tags=(("code", "class"),), why="a mortar class")
        if word == "m" and re.fullmatch(r"2\.5|\d{1,2}", follows.text) and (follows.text not in {"2", "3"} or self.text[t[i].start] == "M"):
            return self._add("code", i, i + 2, tags=(("code", "class"),), why="a mortar class")
        if word in {"d", "w", "win", "o", "op", "dr", "wd", "fd"} and re.fullmatch(r"\d{1,2}", follows.text):
            if self.items and self.items[-1].tagged("noun", "wall"):
                return self._add("code", i, i + 2, why="a wall's label")
            kind = "door" if word in {"d", "dr", "fd"} else "window" if word in {"w", "win", "wd"} else "opening"
            return self._add("phrase", i, i + 2, tags=(("noun", kind), ("label", kind)))
        if word in {"l", "h", "t", "ht", "lg", "thk", "w", "len", "length", "height", "width", "high", "wide"}:
            match = self.words.phrase(t, i)
            if word == "l" and self.text[t[i].start] == "l":
                return self._add("bad", i, i + 2, why="a letter or a one")
            if match:
                return self._add("phrase", i, match[0], tags=match[1])
        if _CODE.match(word) and word not in {"by", "to", "of", "at", "is", "in", "on", "for", "and", "or", "no", "nr", "min", "max", "say", "abt", "ca"}:
            match = self.words.phrase(t, i)
            if match and match[0] - i > 1:
                return self._add("phrase", i, match[0], tags=match[1])
            if match is None or len(word) == 1:
                last = i + 2
                while last < len(t) and not t[last].spaced and (t[last].kind in {"number", "word"} or t[last].text in {"/", "-", "."} and last + 1 < len(t) and not t[last + 1].spaced):
                    last += 1
                return self._add("code", i, last, why="a code")
        return None

    # --- digits --------------------------------------------------------------------------------------------

    def _digits(self, i: int, negative: bool = False) -> int:
        ratio = None if negative else self._ratio(i)
        if ratio:
            return ratio
        found = number(self.t, i)
        if found is None:
            return self._add("bad", i, i + 1, why="not one number")
        t, j = self.t, found.last
        if j + 2 < len(t) and t[j].text == t[j + 1].text and t[j].text in ".," and t[j + 2].kind == "number" and not t[j].spaced and not t[j + 2].spaced:
            return self._add("bad", i, j + 3, why="two marks in a number")
        return self._measured(found, negative)

    def _measured(self, found: Number, negative: bool) -> int:
        t, i = self.t, found.first
        if found.spelt:
            ratio = self._ratio(i)
            if ratio:
                return ratio
        j = found.last
        if j < len(t) and t[j].kind == "word" and not t[j].spaced:
            if t[j].text in _ORDINAL:
                last = j + 1
                match = self.words.phrase([Token("word", t[i].text + t[j].text, t[i].start, t[j].end, t[i].spaced), *t[j + 1 : j + 4]], 0)
                if match:
                    return self._add("phrase", i, j + match[0], tags=match[1])
                return self._add("aside", i, last, why="an order, not a size")
            if found.first == i and (t[j].text in {"am", "pm"}):
                return self._add("aside", i, j + 1, why="a time")
        size, j = self._measure(found, negative)
        if size is None:
            last = j
            while last < len(t) and not t[last].spaced and t[last].kind in {"word", "number"}:
                last += 1
            return self._add("bad", i, last, why="letters I do not know touch the number")
        if len(size.values) > 1 and not size.unit:
            counted = self.words.phrase(t, j) if j < len(t) else None
            if counted and any(tag[0] == "noun" and tag[1] in {"block", "bag", "course", "pack", "bucket", "tie"} for tag in counted[1]):
                size.values, size.decimal, size.comma = (max(size.values),), False, False
        sizes = [size]
        while True:
            more = self._cross(j)
            if more is None:
                break
            nxt = number(t, more)
            if nxt is None:
                break
            part, k = self._measure(nxt, False)
            if part is None:
                last = k
                while last < len(t) and not t[last].spaced and t[last].kind in {"word", "number"}:
                    last += 1
                return self._add("bad", i, last, why="letters I do not know touch the number")
            sizes.append(part)
            j = k
        if len(sizes) > 1:
            return self._add("dims", i, j, sizes=sizes)
        ranged = self._range(j, size)
        if ranged:
            return self._add("range", i, ranged[1], sizes=[size, ranged[0]])
        if j < len(t) and t[j].text in _COUNT_WORDS and (not t[j].spaced or t[j].text in {"no", "nr", "off"}):
            k = j + 1
            stop = k < len(t) and t[k].text == "." and not t[k].spaced
            k += stop
            after = self.words.phrase(t, k) if k < len(t) else None
            noun = after is not None and any(tag[0] == "noun" for tag in after[1])
            if size.whole and not size.unit and (noun or not t[j].spaced or (k < len(t) and t[k].kind == "number")):
                return self._add("measure", i, k, sizes=[size], tags=(("count",),))
        return self._add("measure", i, j, sizes=[size])

    def _cross(self, j: int) -> int | None:
        """The token after an 'x', 'by' or '*' between two sizes, or None."""
        t = self.t
        if j >= len(t):
            return None
        if t[j].text in {"x", "by", "*"} and j + 1 < len(t):
            if t[j + 1].kind in {"number", "fraction"}:
                return j + 1
            return j + 1 if number(t, j + 1) is not None and t[j].text != "*" else None
        return None

    def _measure(self, found: Number, negative: bool) -> tuple[Measure | None, int]:
        """A number with its unit, feet and inches together; None where unknown letters touch the number."""
        t, j = self.t, found.last
        start = t[found.first].start
        if negative:
            start = t[found.first - 1].start
        size = Measure(
            found.values, "", start, t[found.last - 1].end, found.decimal, found.comma, found.spelt, found.grouped, negative
        )  # fmt: skip
        if found.spelt and t[found.first].text in {"half", "quarter"} and j + 1 < len(t) and t[j].text in {"a", "an"} and self.words.unit(t, j + 1):
            j += 1
        if j >= len(t):
            return size, j
        glued = not t[j].spaced
        if t[j].text == "-" and j + 1 < len(t) and t[j + 1].kind == "word" and not t[j + 1].spaced and glued:
            hyphen = self.words.unit(t, j + 1)
            if hyphen and hyphen[0] in {"ft", "in", "m", "mm", "cm"}:
                j += 1
        if t[j].spaced and self.text[t[j].start : t[j].end] in {"C", "F"} and abs(found.values[0]) < 110 and (j + 1 >= len(t) or t[j + 1].kind != "number"):
            size.unit, size.end = f"°{self.text[t[j].start]}", t[j].end
            return size, j + 1
        if t[j].text == "." and glued and j + 1 < len(t) and t[j + 1].kind == "word" and len(t[j + 1].text) > 1:
            stop = self.words.unit(t, j + 1)
            if stop and stop[0] in {"m", "mm", "ft"}:
                j += 1
                glued = False
        unit = self.words.unit(t, j)
        if unit is None and t[j].kind == "word" and glued:
            word = t[j].text
            if word.endswith("x") and len(word) > 1 and j + 1 < len(t) and t[j + 1].kind == "number":
                inner = self.words.unit([Token("word", word[:-1], t[j].start, t[j].end - 1, False)], 0)
                if inner:
                    self.t[j] = Token("word", "x", t[j].end - 1, t[j].end, False)
                    self.t.insert(j, Token("word", word[:-1], t[j].start, t[j].end - 1, False))
                    unit = inner[0], j + 1
            if unit is None and not self._may_touch(j):
                split = self._split(j)
                if split is None:
                    return None, j
                unit = split
        if unit is None:
            if t[j].text == "°":
                size.unit, size.end = "°C", t[j].end
                return size, j + 1
            return size, j
        name, k = unit
        if name == "in" and t[k - 1].text in {"in", "ins"} and t[k - 1].spaced and not self._inches(k):
            return size, j
        if name == "N/mm²" and t[j].text == "n" and t[j].spaced and k < len(t) and t[k].kind == "word" and len(t[k].text) == 1:
            return size, j
        if name == "N/mm²" and t[j].text == "n" and t[j].spaced and (k < len(t) and t[k].kind == "number" or found.values[0] > 60):
            return size, j
        if name in {"°C", "°F", "l", "t", "g"} and t[j].spaced and t[j].text in {"c", "f", "l", "t", "g"}:
            return size, j
        size.unit, size.end = name, t[k - 1].end
        if name == "ft":
            return self._feet(size, k)
        if name == "m" and k < len(t) and t[k].kind == "number" and not t[k].spaced and re.fullmatch(r"\d{1,3}", t[k].text) and not (k + 1 < len(t) and t[k].text in {"2", "3"} and size.decimal):
            size.values = (size.values[0] + float("0." + t[k].text),)
            size.end, size.decimal, k = t[k].end, True, k + 1
            again = self.words.unit(t, k)
            if again and again[0] in {"m", "cm"} and not t[k].spaced:
                size.end, k = t[again[1] - 1].end, again[1]
        elif name == "m" and k < len(t) and t[k].kind == "word" and not size.decimal:
            more = number(t, k)
            beyond = self.words.unit(t, more.last) if more else None
            if more and more.spelt and 10 <= more.values[0] < 100 and beyond is None and more.values[0] == int(more.values[0]):
                size.values = (size.values[0] + more.values[0] / 100,)
                size.end, size.decimal, k = t[more.last - 1].end, True, more.last
        elif name == "m" and k < len(t) and t[k].kind == "number" and not size.decimal and re.fullmatch(r"[1-9]\d", t[k].text) and (t[j].spaced or t[j].text != "m") and (
            k + 1 >= len(t) or t[k + 1].text in {",", "x", "by", "?", ".", "and"}
            or ((after := self.words.phrase(t, k + 1)) is not None and any(tag[0] == "dim" and tag[1] in {"length", "height"} for tag in after[1]))
        ):
            size.values = (size.values[0] + float(t[k].text) / 100,)
            size.end, size.decimal, k = t[k].end, True, k + 1
        elif name == "m" and k < len(t) and t[k].kind == "number":
            cm = self.words.unit(t, k + 1)
            if cm and cm[0] == "cm" and t[k].text.isdigit() and len(t[k].text) <= 2:
                size.values = (size.values[0] + float(t[k].text) / 100,)
                size.end, size.decimal, k = t[cm[1] - 1].end, True, cm[1]
        return size, k

    def _split(self, j: int) -> tuple[str, int] | None:
        """'10mlong', '2.4mhigh': a unit and a word run together."""
        t, word = self.t, self.t[j].text
        for n in (2, 1):
            head, tail = word[:n], word[n:]
            inner = self.words.unit([Token("word", head, t[j].start, t[j].start + n, False)], 0)
            if inner and len(tail) > 2:
                phrase = self.words.phrase([Token("word", tail, t[j].start + n, t[j].end, False)], 0)
                if phrase and any(tag[0] in {"dim", "noun", "hedge"} for tag in phrase[1]):
                    self.t[j] = Token("word", head, t[j].start, t[j].start + n, False)
                    self.t.insert(j + 1, Token("word", tail, t[j].start + n, t[j].end, True))
                    return inner[0], j + 1
        return None

    def _may_touch(self, j: int) -> bool:
        """Words that may touch a number without being a unit."""
        word = self.t[j].text
        if word in _COUNT_WORDS or word in {"x", "to", "by", "and", "ish", "at", "w", "h", "lg", "ht", "s", "wide", "long"} or word in _ORDINAL:
            return True
        phrase = self.words.phrase(self.t, j)
        return phrase is not None and any(tag[0] in {"noun", "dim", "slot", "topic", "aside"} for tag in phrase[1]) and len(word) > 2

    def _inches(self, k: int) -> bool:
        """Whether 'in' after a number is inches: what follows must be a thing that has a size, not 'in the'."""
        t = self.t
        if k >= len(t):
            return True
        if t[k].kind != "word":
            return t[k].text in {".", ",", "?", "-", "x", "+", ")", "!"} and not (t[k].kind == "number")
        if t[k].text in {"x", "by"}:
            return True
        phrase = self.words.phrase(t, k)
        return phrase is not None and any(
            tag[0] == "dim" or tag[:2] in {("noun", "block"), ("noun", "joint"), ("noun", "mortar_joint"), ("noun", "crack"), ("slot", "material")}
            for tag in phrase[1]
        ) and t[k].text not in {"total", "all", "each", "area"}  # fmt: skip

    def _feet(self, size: Measure, k: int) -> tuple[Measure, int]:
        """Inches after feet: 20'-6", 12 ft 6 in, 5'6, 12ft6."""
        t = self.t
        j = k
        dash = j < len(t) and t[j].text == "-" and not t[j].spaced
        if dash:
            j += 1
        if j >= len(t) or t[j].kind not in {"number", "fraction"}:
            joined = j < len(t) and t[j].text == "and" and j + 1 < len(t)
            spelt = number(t, j + 1 if joined else j) if j < len(t) and t[j].kind == "word" else None
            mark = self.words.unit(t, spelt.last) if spelt and spelt.last < len(t) else None
            if spelt is None or ((mark is None or mark[0] != "in") and not (self._loose_inches(spelt) and not joined)):
                return size, k
            more: Number | None = spelt
        else:
            more = number(t, j)
        if more is None or more.values[0] >= 12 or len(more.values) > 1:
            return size, k
        mark = self.words.unit(t, more.last)
        marked = mark is not None and mark[0] == "in" and (t[more.last].text not in {"in", "ins"} or not t[more.last].spaced or self._inches(mark[1]) or more.spelt)
        touching = not t[j].spaced or dash or self._loose_inches(more)
        if not marked and not (touching and (more.last >= len(t) or t[more.last].text not in {"x", "'"} or t[more.last].text == "x")):
            return size, k
        end = mark[1] if marked and mark else more.last
        size.values = tuple(v + more.values[0] / 12 for v in size.values)
        size.decimal, size.end = True, t[end - 1].end
        return size, end

    def _loose_inches(self, more: Number) -> bool:
        """'18 foot 9 of blockwork': a small whole number behind feet with nothing of its own behind it."""
        t, j = self.t, more.last
        if more.decimal or more.values[0] != int(more.values[0]) or not 1 <= more.values[0] <= 11:
            return False
        if j >= len(t):
            return True
        if t[j].text in {"of", ".", ",", "?", "x", "by", "for", "with", "and"}:
            return True
        phrase = self.words.phrase(t, j)
        if t[j].text in {"door", "window", "opening"} and self.items is not None:
            return True
        return phrase is not None and any(tag[:2] in {("dim", "length"), ("dim", "height"), ("noun", "wall")} for tag in phrase[1]) and t[j].text not in {"high", "tall", "walls"}

    def _range(self, j: int, size: Measure) -> tuple[Measure, int] | None:
        """'8-10m', '6 to 9 m', 'between 6 and 9': two ends of one size."""
        t = self.t
        if j + 1 >= len(t) or size.negative:
            return None
        word = t[j].text
        between = bool(self.items) and self.items[-1].text.lower() == "between"
        if not (word in {"-", "to"} or (word in {"and", "n", "&"} and between)):
            return None
        if word == "-" and (t[j].spaced != t[j + 1].spaced or (t[j].spaced and not size.unit)):
            return None
        other = number(t, j + 1)
        if other is None:
            return None
        part, k = self._measure(other, False)
        if part is None or (size.unit and part.unit and size.unit != part.unit):
            return None
        if not size.unit and not part.unit and word == "to" and 1.0 in {*size.values, *part.values}:
            return None
        if part.unit and not size.unit:
            size.unit, size.lent = part.unit, True
        elif size.unit and not part.unit:
            part.unit, part.lent = size.unit, True
        return part, k

    # --- mixes ---------------------------------------------------------------------------------------------

    def _ratio(self, i: int) -> int | None:
        """1:1:6, 6:1, 1 : ½ : 4½, six to one, 6 and 1, 1-1-6, 1/1/6; weak where it may be something else."""
        t = self.t
        parts, j, mark = [], i, ""
        first = number(t, i)
        if first is None or len(first.values) != 1 or first.grouped:
            return None
        parts.append(first)
        j = first.last
        while j + 1 < len(t):
            between = t[j].text
            if between not in {":", "to", "and", "-", "/", "n", "&", "+", "tae"} or (mark and between != mark):
                break
            k = j + 1
            if between == "to" and k < len(t) and t[k].text == "a":
                k += 1
            nxt = number(t, k)
            if nxt is None or len(nxt.values) != 1 or nxt.grouped:
                break
            if between in {"-", "/"} and (t[j].spaced or t[j + 1].spaced):
                break
            parts.append(nxt)
            mark, j = between, nxt.last
        if len(parts) not in {2, 3}:
            return None
        values = [p.values[0] for p in parts]
        if len(parts) == 2 and mark != ":" and 1.0 not in values:
            return None
        if mark == ":" and self.items and self.items[-1].tagged("noun", "wall") and t[parts[0].last + 1].spaced:
            return None
        if max(values) > 20 or (mark == "and" and values[-1] != 1):
            return None
        unit = self.words.unit(t, j)
        if unit and unit[0] != "N/mm²" and not (t[j].spaced and t[j].text in {"in"}):
            return None
        if j < len(t) and t[j].kind == "word" and not t[j].spaced and not self._may_touch(j):
            return None
        after = self.words.phrase(t, j) if j < len(t) else None
        if mark in {"and", "&", "+", "n"} and after and any(tag[0] in {"noun", "dim"} and tag[1] not in {"mortar", "cement", "sand", "lime", "part"} for tag in after[1]):
            return None
        if mark in {"to", "-"} and after and any(tag[0] in {"dim"} and tag[1] in {"length", "height", "thickness", "width"} for tag in after[1]) and t[j].text != "t":
            return None
        if mark in {"-", "/"} and len(parts) == 2 and not (1.0 in values and max(values) <= 12):
            return None
        weak = mark in {"-", "/", "n", "&", "+"} or (mark == "to" and bool(self.items) and self.items[-1].text.lower() in {"from", "between"})
        sizes = [Measure((p.values[0],), "", t[p.first].start, t[p.last - 1].end, p.decimal) for p in parts]
        return self._add("ratio", i, j, sizes=sizes, weak=weak)
