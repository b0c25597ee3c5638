"""A caution stands at length the first time in a chat, and then in short form."""

from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from typing import Any, NamedTuple

from bot.fronts.desk.site import Site
from bot.languages import chat
from bot.speaking.html import Said


class Line(NamedTuple):
    """A line of a reply."""

    kind: str
    text: str


@cache
def short(language: str, region: str) -> dict[str, tuple[tuple[str, ...], str]]:
    """Of each caution that is said in short form later: what it says at length, and in short."""
    from knowledge.rulebook import book

    listed = chat(language)["short"]
    return {
        figure: (tuple(rule.statement for rule in book(region).records(figure)), said)
        for figure, said in listed.items()
    }


def shorten(lines: Iterable[Any], record: dict[str, Any], site: Site) -> tuple[list[Said], Site]:
    """The lines with what was told before in short; and the site with what has been told now."""
    said: list[Said] = list(lines)
    if not record.get("answers"):
        return said, site
    told = set(site.told)
    cautions = [n for n, line in enumerate(said) if line.kind in ("caution", "care")]
    for figure, (longs, brief) in short(site.language, record["region"]).items():
        for long in longs:
            places = [n for n in cautions if long in said[n].text]
            if places and figure not in site.told:
                told.add(figure)
                continue
            for n in places:
                said[n] = Line(said[n].kind, said[n].text.replace(long, brief))
    return said, site if told == set(site.told) else replace(site, told=tuple(sorted(told)))
