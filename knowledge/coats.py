"""Coats of render: how a thickness is shared among them, and where a mix stands in the table."""

from __future__ import annotations

from knowledge.mixes import column, one_mix, sand_to_cement
from knowledge.questions import Mix
from knowledge.records import Parts, Table
from knowledge.rulebook import RuleBook


def designations(book: RuleBook) -> tuple[str, ...]:
    """The region's designations of render, the strongest first: as its rules have them."""
    kinds = (rule.when.kind or () for rule in book.records("render.designation"))
    return tuple(dict.fromkeys(name for kind in kinds for name in kind))


def split(total: float, under: tuple[float, float], final: tuple[float, float], three: bool) -> list[float]:
    """Thickness of each coat, the first first; one coat where two would be too thin. All in one unit."""
    if total < under[0] + final[0]:
        return [total]
    if total > under[1] + final[1] or (three and total >= under[0] + 2 * final[0]):
        first = max(under[0], (total - final[0]) / 2)
        return [first, total - final[0] - first, final[0]]
    last = min(max(final[0], total - under[1]), final[1])
    return [total - last, last]


def allowed(table: Table, background: str, severe: bool) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Designations for undercoat and final coat."""
    exposure = "severe" if severe else "moderate"
    row = next(row for row in table.rows if row[:2] == (background, exposure))
    return tuple(str(row[2]).split()), tuple(str(row[3]).split())


def band(book: RuleBook, name: str, use: str) -> Parts | None:
    """Parts of a designation in the column with lime or without; in the other where there is only one."""
    other = "plain" if use == "lime" else "lime"
    rule = book.seek("render.designation", kind=name, use=use) or book.seek(
        "render.designation", kind=name, use=other
    )
    return None if rule is None else rule.mix


def lean_mix(book: RuleBook, name: str, use: str = "lime") -> Mix:
    """The lean end of a designation."""
    parts = band(book, name, use)
    assert parts is not None
    return one_mix(parts)


def named_designation(book: RuleBook, said: str) -> str | None:
    """Designation of a mortar class that was named, M4 → iii."""
    known = designations(book)
    rule = book.seek("mortar.designation", kind=said)
    return next((name for name in (said, rule.choice if rule else None) if name in known), None)


def judge(book: RuleBook, mix: Mix, coat: tuple[str, ...]) -> str:
    """`too strong`, `too weak` or `suitable` for a coat whose designations are given, strongest first."""
    use, sand = column(mix), sand_to_cement(mix)
    ends = [parts for name in coat if (parts := band(book, name, use)) is not None]
    if not ends or sand < ends[0].sand[0] - 1e-9:
        return "too strong"
    return "too weak" if sand > ends[-1].sand[1] + 1e-9 else "suitable"


def judge_name(book: RuleBook, name: str, coat: tuple[str, ...]) -> str:
    """The same for a designation."""
    known = designations(book)
    if known.index(name) < known.index(coat[0]):
        return "too strong"
    return "too weak" if known.index(name) > known.index(coat[-1]) else "suitable"
