"""The talk as a chat front takes it: its verbs, and what of a state belongs to the site."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from bot.fronts.desk.site import Site


@dataclass(frozen=True, slots=True)
class Talking:
    """The pure talk: a fresh state, a state read back, and its two verbs."""

    fresh: Callable[[], Any]
    read: Callable[[str], Any]
    turn: Callable[[Any, str], tuple[Any, Any]]
    choose: Callable[[Any, int], tuple[Any, Any]]
    at: Callable[[Any, Site], Any] = lambda state, _site: state
    """The same state on a site with these settings."""
    open: Callable[[Any, Site], Any] = lambda state, _site: state
    """The same state, that may ask whose rules hold where the site has not chosen."""
    chosen: Callable[[Any, Any, Site], Site] = lambda _before, _after, site: site
    """The site with the region that a turn has brought out."""
    own: Callable[[Any], Any] = lambda state: state
    """The same state, whose region is this person's alone and not the site's."""
    anew: Callable[[Any], Any] = lambda state: type(state)()
    """A fresh state that still knows whose rules were chosen."""
    waits: Callable[[str], bool] = lambda _kept: False
    """Whether a stored state waits to be told whose rules hold."""
    called: Callable[[str], str] = str
    """How people call a region."""


def talking() -> Talking:
    """The talk of this house, loaded when first needed."""
    from bot import talk
    from knowledge.rulebook import book

    def at(state: Any, site: Site) -> Any:
        own = state.region_by == "own" and not site.chosen
        new: dict[str, Any] = {
            "region": state.region if own else site.region,
            "language": site.language, "site": site.slots, "units": site.units,
        }  # fmt: skip
        if all(getattr(state, name) == value for name, value in new.items()):
            return state
        return state.model_copy(update=new)

    def open_region(state: Any, site: Site) -> Any:
        way = "" if site.chosen else "ask"
        return state if state.region_open == way else state.model_copy(update={"region_open": way})

    def chosen(before: Any, after: Any, site: Site) -> Site:
        if after.region_by != "chosen" or before.region_by == "chosen":
            return site
        return replace(site, region=after.region, chosen=True)

    def own(state: Any) -> Any:
        return state.model_copy(update={"region_by": "own"})

    def anew(state: Any) -> Any:
        if state.region_by not in ("own", "asked"):
            return talk.State()
        return talk.State(region=state.region, region_by=state.region_by, spoke=state.spoke)

    def waits(stored: str) -> bool:
        return '"waits":' in stored and read(stored).waits is not None

    def called(region: str) -> str:
        return book(region).region.name

    read = talk.State.model_validate_json
    verbs = (talk.turn, talk.choose, at, open_region, chosen, own, anew, waits, called)
    return Talking(talk.State, read, *verbs)
