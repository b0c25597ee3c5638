"""Whose rules, in a group: an administrator chooses for all, anybody else for his own questions there."""

from typing import Any

from bot.fronts.desk.site import Site
from bot.fronts.talking import Talking
from bot.fronts.telegram_arrival import Arrival


def settle(
    talking: Talking, talks: tuple[Any, Any], site: Site, arrival: Arrival, admin: bool | None
) -> tuple[Any, Site, str]:
    """From the talk before and after: the talk as it is kept, the site, and the name of a word about it."""
    before, after = talks
    chosen: Site = talking.chosen(before, after, site)
    if chosen == site or not arrival.group:
        return after, chosen, ""
    if admin is True:
        return after, chosen, "region_for_all"
    if site.chosen:  # settled by an administrator while this question stood
        return after, site, "region_for_once"
    return talking.own(after), site, "region_for_you"
