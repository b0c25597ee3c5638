"""Letters that touch a number behind them: M4, D1, L9.75, x2."""

from __future__ import annotations

import re

from bot.reading.letters import Token
from bot.reading.walk.walk import Walk


def letter_code(way: Walk, i: int, follows: Token) -> int | None:
    """M4, D1, L9.75, x2, @600: letters that touch a number behind them."""
    t, word = way.t, way.t[i].text
    if word == "x":
        return None
    talk = way.phrase(i)
    ends = i == 0 or i + 2 >= len(t)
    if ends and talk is not None and talk[0] == i + 2 and any(tag[0] == "chatter" for tag in talk[1]):
        return way.add("phrase", i, i + 2, tags=talk[1])
    if word == "m" and follows.text in {"2", "3"} and not (i and way.t[i - 1].kind == "number"):
        beyond = t[i + 2] if i + 2 < len(t) else None
        if not i and way.text[t[i].start] == "M" and beyond is not None and beyond.kind == "word":
            return way.add("code", i, i + 2, tags=(("code", "class"),), why="a mortar class")
        before = t[i - 1].text if i else ""
        if before in {"per", "a", "many", "the", "much", "sq", "each", "of", "in"}:
            return way.add("word", i, i + 2)
        if (beyond is not None and beyond.text == "/") or (
            follows.text == "2"
            and not any(x.tagged("topic", "mortar") or x.says("touching.class_before") for x in way.items)
            and not any(way.says(y.text, "touching.mortar_near") for y in t[i + 2 : i + 8])
        ):
            return way.add("word", i, i + 2)
        if word == "m" and follows.text == "3" and (beyond is None or beyond.text != "mortar"):
            return way.add("code", i, i + 2, tags=(("code", "class"),), why="a mortar class")
    if (
        word == "m"
        and re.fullmatch(r"2\.5|\d{1,2}", follows.text)
        and (follows.text not in {"2", "3"} or way.text[t[i].start] == "M")
    ):
        return way.add("code", i, i + 2, tags=(("code", "class"),), why="a mortar class")
    if way.says(word, "touching.opening") and re.fullmatch(r"\d{1,2}", follows.text):
        if way.items and way.items[-1].tagged("noun", "wall"):
            return way.add("code", i, i + 2, why="a wall's label")
        kind = (
            "door"
            if way.says(word, "touching.door")
            else "window"
            if way.says(word, "touching.window")
            else "opening"
        )
        return way.add("phrase", i, i + 2, tags=(("noun", kind), ("label", kind)))
    if way.says(word, "touching.dimension"):
        match = way.phrase(i)
        if word == "l" and way.text[t[i].start] == "l":
            return way.add("bad", i, i + 2, why="a letter or a one")
        if match:
            return way.add("phrase", i, match[0], tags=match[1])
    if _CODE.match(word) and not way.says(word, "touching.no_code"):
        match = way.phrase(i)
        if match and match[0] - i > 1:
            return way.add("phrase", i, match[0], tags=match[1])
        if match is None or len(word) == 1:
            last = i + 2
            while (
                last < len(t)
                and not t[last].spaced
                and (
                    t[last].kind in {"number", "word"}
                    or (t[last].text in {"/", "-", "."} and last + 1 < len(t) and not t[last + 1].spaced)
                )
            ):
                last += 1
            return way.add("code", i, last, why="a code")
    return None


_CODE = re.compile(r"^[a-z]{1,3}$")
