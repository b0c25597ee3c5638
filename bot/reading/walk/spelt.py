"""Whether a number in words is meant as a number."""

from __future__ import annotations

from bot.reading.numbers import Number, number
from bot.reading.walk.measuring import measure
from bot.reading.walk.sizes import cross
from bot.reading.walk.walk import Walk


def is_number(way: Walk, i: int, spelt: Number) -> bool:
    """Whether a spelt number is meant as a number here; 'which one', 'the other one' are none."""
    t, j = way.t, spelt.last
    word = t[i].text
    if j - i > 1 and way.says(t[j - 1].text, "spelt.lot"):  # 'half a dozen'
        return True
    if not way.says(word, "spelt.maybe_no_number") or (spelt.decimal and word == "one"):
        return True
    if way.says(word, "spelt.nought"):
        after_zero = way.phrase(j)
        return bool(way.unit(j)) or bool(
            after_zero and any(tag[0] in {"noun", "dim"} for tag in after_zero[1])
        )
    if way.says(word, "spelt.part"):
        if j < len(t) and way.says(t[j].text, "spelt.ratio"):
            return True
        k = j + (j < len(t) and way.says(t[j].text, "spelt.of"))
        phrase = way.phrase(k)
        return bool(way.unit(k)) or bool(
            phrase
            and any(
                tag[0] == "noun" and tag[1] in {"bag", "bucket", "cement", "lime", "sand", "part", "roll"}
                for tag in phrase[1]
            )
        )
    after = t[j].text if j < len(t) else ""
    before = t[i - 1].text if i else ""
    if way.says(before, "spelt.no_one") and word == "one":
        return way.says(after, "spelt.ratio") and before not in {"other", "which"}
    if word == "one":
        two = number(t, j) if j < len(t) and t[j].kind == "word" and t[j].text != "one" else None
        if two is not None and number(t, two.last) is not None:
            return True
        if j < len(t) and t[j].kind == "number":
            return (way.unit(j + 1) or ("", 0))[0] == "kg"
        if way.unit(j) or after in {"to", "and", "x", ":", "no", "off", "part", "parts", "of"}:
            return after != "of" or (j + 1 < len(t) and way.says(t[j + 1].text, "spelt.of_what"))
        phrase = way.phrase(j)
        if phrase and any(tag[0] in {"noun", "aside", "dim"} for tag in phrase[1]):
            return not any(tag[0] == "side" for tag in phrase[1])
        skip = way.phrase(j + 1)
        if skip and any(
            tag[:2] in {("noun", "window"), ("noun", "door"), ("noun", "opening")} for tag in skip[1]
        ):
            return True
        return before in {"and", "to", ":"} and not way.says(after, "walls.equals")  # 'and one is 2.4'
    return True


def taken_away(way: Walk, i: int) -> bool:
    """'minus 2 windows', 'minus 1.2 x 2.1': a sum, no sign."""
    found = number(way.t, i)
    if found is None:
        return True
    _, j = measure(way, found, False)
    if cross(way, j) is not None:
        return True
    for k in (j, j + 1):
        phrase = way.phrase(k)
        if phrase and any(
            tag[:2] in {("noun", "window"), ("noun", "door"), ("noun", "opening"), ("noun", "bag")}
            for tag in phrase[1]
        ):
            return True
    return False
