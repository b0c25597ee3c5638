"""Where a mix stands in the table of classes, and whether it is too strong or too weak for its place."""

from __future__ import annotations

import re

from knowledge.questions import Mix
from knowledge.records import Parts
from knowledge.rulebook import RuleBook

_CLASS = re.compile(r"m\d+(\.\d+)?")


def column(mix: Mix) -> str:
    """The column of the table: with lime or without."""
    return "lime" if mix.lime > 0 else "plain"


def sand_to_cement(mix: Mix) -> float:
    """Parts of sand to one of cement; a mix without cement is endlessly lean."""
    return mix.sand / mix.cement if mix.cement > 0 else float("inf")


def one_mix(parts: Parts) -> Mix:
    """One mix out of a span: the most lime and the most sand, the lean end."""
    return Mix(cement=parts.cement[1], lime=parts.lime[1], sand=parts.sand[1])


def classes(book: RuleBook) -> tuple[str, ...]:
    """The region's classes of mortar, the strongest first: as its table of mixes has them."""
    kinds = (rule.when.kind or () for rule in book.records("mortar.mix"))
    return tuple(dict.fromkeys(name for kind in kinds for name in kind))


def rank(name: str, order: tuple[str, ...]) -> float:
    """Higher is stronger. A class of the table by its place; one beside it by its number, M5 over M4."""
    if name in order:
        return float(len(order) - order.index(name))
    weaker = [other for other in order if _number(other) < _number(name)]
    return rank(weaker[0], order) + 0.5 if weaker else 0.0


def _number(name: str) -> float:
    """The strength that a class is named by; 0 where it is named otherwise."""
    return float(name[1:]) if _CLASS.fullmatch(name.lower()) else 0.0


def class_said(text: str, book: RuleBook) -> str | None:
    """Class of the table for what was written: 'M4', '(iii)', 'designation iii'; None: not of this table."""
    word = text.lower()
    for filling in ("designation", "class", "grade", "type"):
        word = word.replace(filling, "")
    word = word.strip(" ()")
    order = classes(book)
    for name in order:
        if name.lower() == word:
            return name
    for rule in book.records("mortar.designation"):
        if rule.choice is not None and rule.choice.lower() == word.replace(" ", ""):
            return (rule.when.kind or (word,))[0]
    numbered = [_number(name) for name in order if _number(name)]
    by_strength = bool(numbered) and numbered == sorted(numbered, reverse=True)
    return word.upper() if by_strength and _CLASS.fullmatch(word) else None


def class_of(mix: Mix, book: RuleBook) -> str | None:
    """The class that a mix falls in, the stronger where two meet; None between two classes or outside."""
    by_lime = book.seek("mortar.lime_counts") is not None
    for name in classes(book):
        use = "lime" if by_lime else column(mix)
        band = book.seek("mortar.mix", kind=name, use=use)
        if band is None or band.mix is None:
            continue
        if by_lime and mix.cement > 0 and _inside(mix.lime / mix.cement, band.mix.lime):
            return name if sand_in_rule(mix, book) == "suitable" else None
        if not by_lime and _inside(sand_to_cement(mix), band.mix.sand):
            return name
    return None


def sand_in_rule(mix: Mix, book: RuleBook) -> str:
    """Sand against cement and lime together: `too strong` with too little of it, `too weak` with too much."""
    span = book.find("mortar.sand_to_binder")
    times = mix.sand / (mix.cement + mix.lime)
    if times < (span.min or 0.0) - 1e-9:
        return "too strong"
    return "too weak" if times > (span.max or float("inf")) + 1e-9 else "suitable"


def judge_by_lime(
    mix: Mix, named: str | None, strongest: str, weakest: str, order: tuple[str, ...], book: RuleBook
) -> str:
    """The verdict where a class goes by its lime and the sand by cement and lime together."""
    if named is None:
        sand = sand_in_rule(mix, book)
        return sand if sand != "suitable" else "too weak"  # more lime, or less cement, than any class has
    return judge_class(named, strongest, weakest, order)


def judge(
    mix: Mix,
    named: str | None,
    strongest: tuple[str, Parts],
    weakest: tuple[str, Parts],
    order: tuple[str, ...],
) -> str:
    """`too strong`, `too weak` or `suitable`, by the ends of what the table allows here."""
    if named is not None and (verdict := judge_class(named, strongest[0], weakest[0], order)) != "suitable":
        return verdict
    sand = sand_to_cement(mix)
    if sand < strongest[1].sand[0] - 1e-9:
        return "too strong"
    if sand > weakest[1].sand[1] + 1e-9:
        return "too weak"
    return "suitable"


def judge_class(named: str, strongest: str, weakest: str, order: tuple[str, ...]) -> str:
    """The same for a class that was named without a mix."""
    if rank(named, order) > rank(strongest, order):
        return "too strong"
    return "too weak" if rank(named, order) < rank(weakest, order) else "suitable"


def spell(mix: Mix) -> str:
    """1 : 1 : 6, or 1 : 6 where there is no lime."""
    shown = (mix.cement, mix.lime, mix.sand) if mix.lime > 0 else (mix.cement, mix.sand)
    return " : ".join(f"{part:g}" for part in shown)


def _inside(value: float, span: tuple[float, float]) -> bool:
    return span[0] - 1e-9 <= value <= span[1] + 1e-9
