"""What a site has set: region, units, language, sizes; and whether the record keeps who asked."""

from dataclasses import replace
from typing import Any

from bot.fronts.desk.buttons import SIZES
from bot.fronts.desk.moment import Moment
from bot.fronts.desk.site import Site
from bot.languages import spoken
from bot.speaking.echo import slot_text
from bot.store.rows import Settled
from knowledge.answers import Decline
from knowledge.believable import doubt
from knowledge.questions import Question, Reading, Units
from knowledge.rulebook import book, regions

REGIONS = regions()
UNITS: tuple[Units | None, ...] = (None, "metric", "feet")
YES, NO = 1, 0


def site(moment: Moment) -> Settled:
    """Show the settings, or take what stands behind the command: a country, units, a language or a size."""
    text = " ".join(moment.arrival.text.split())
    if not text:
        return _show(moment)
    if moment.admin is not True:
        return moment.refused()
    first, _, rest = text.partition(" ")
    if first.lower() in moment.listed("clears"):
        return _keep(moment, Site(names=moment.site.names, told=moment.site.told, undo=moment.site.undo))
    if first.lower() == "region" or text.upper() in REGIONS:
        code = text.split()[-1].upper()
        if code not in REGIONS:
            return moment.say(moment.word("no_such_region", regions=", ".join(REGIONS)))
        return _keep(moment, replace(moment.site, region=code, chosen=True))
    if first.lower() == "language":
        return _language(moment, rest)
    wish = (rest if first.lower() == "units" else text).lower()
    for name in UNITS:
        if wish in moment.listed(f"units_{name or 'asked'}"):
            return _keep(moment, replace(moment.site, units=name))
    sizes = _sizes(moment, text)
    if not sizes:
        return moment.say(moment.words["site_how"])
    against = _impossible(moment, sizes)
    if against:
        return moment.say(moment.word("need_first", why=against))
    return _keep(moment, replace(moment.site, slots={**moment.site.slots, **sizes}))


def region(moment: Moment) -> Settled:
    """The region whose button was pressed."""
    return _pressed(moment, [{"region": code, "chosen": True} for code in REGIONS])


def units(moment: Moment) -> Settled:
    """The units to answer in whose button was pressed."""
    return _pressed(moment, [{"units": name} for name in UNITS])


def language(moment: Moment) -> Settled:
    """The language whose button was pressed."""
    return _pressed(moment, [{"language": code} for code in spoken()])


def names(moment: Moment) -> Settled:
    """Tell what the record keeps, and let it keep who asked or not; nothing changes before the press."""
    now = moment.words["names_on" if moment.site.names else "names_off"]
    choice = (
        (moment.words["button_names_off"], "n", NO)
        if moment.site.names
        else (moment.words["button_names_on"], "n", YES)
    )
    return moment.say(f"{now}\n\n{moment.words['names_what']}", buttons=[[choice]])


def names_pressed(moment: Moment) -> Settled:
    """Switch it, after it was told what is kept."""
    if moment.admin is not True:
        return moment.refused()
    on = moment.press.choice == YES
    said = moment.words["names_on" if on else "names_off"]
    return moment.say(said, [moment.put_site(replace(moment.site, names=on))])


def _pressed(moment: Moment, settings: list[dict[str, Any]]) -> Settled:
    """Set what the pressed button stands for."""
    if not 0 <= moment.press.choice < len(settings):
        return moment.say(moment.words["stale_press"])
    if moment.admin is not True:
        return moment.refused()
    return _keep(moment, replace(moment.site, **settings[moment.press.choice]))


def _language(moment: Moment, wish: str) -> Settled:
    found = [code for code, name in spoken().items() if wish.lower() in (code, name.lower())]
    if not found:
        return moment.say(moment.word("no_such_language", languages=", ".join(spoken().values())))
    return _keep(moment, replace(moment.site, language=found[0]))


def _show(moment: Moment) -> Settled:
    site = moment.site
    countries = [
        (_title(book(code).region.name), "r", number)
        for number, code in enumerate(REGIONS)
        if code != site.region or not site.chosen
    ]
    rows = [countries[place : place + 2] for place in range(0, len(countries), 2)]
    rows.append(
        [
            (moment.words[f"button_units_{name or 'asked'}"], "u", number)
            for number, name in enumerate(UNITS)
            if name != site.units
        ]
    )
    tongues = [
        (name, "l", number) for number, (code, name) in enumerate(spoken().items()) if code != site.language
    ]
    rows += [[tongue] for tongue in tongues]
    return moment.say(_told(moment, "site_is"), buttons=rows)


def _title(name: str) -> str:
    return name[0].upper() + name[1:]


def _keep(moment: Moment, changed: Any) -> Settled:
    said = _told(replace(moment, site=changed), "site_set")
    return moment.say(said, [moment.put_site(changed)])


def _told(moment: Moment, name: str) -> str:
    site = moment.site
    own = [slot_text(slot, value) for slot, value in site.slots.items()]
    return moment.word(
        name,
        region=f"{book(site.region).region.name} ({site.region})",
        units=moment.words[f"units_are_{site.units or 'asked'}"],
        language=spoken()[site.language],
        sizes=", ".join(own) or moment.words["no_sizes"],
    )


def _impossible(moment: Moment, sizes: dict[str, Any]) -> str:
    """Why such a size cannot be, as it is said of one in a question; nothing where it can."""
    question = Question(topic="wall", reading=Reading.model_validate(sizes))
    found = doubt(question, book(moment.site.region))
    return found.why if isinstance(found, Decline) else ""


def _sizes(moment: Moment, text: str) -> dict[str, Any]:
    """The sizes that stand in the text, read as any message is; a number that is something else is none."""
    from bot.reading.read import read

    heard = read(text, book(moment.site.region).region, moment.site.language, (), None)
    if heard.doubts or set(heard.slots) - set(SIZES):
        return {}
    return {slot: value for slot, value in heard.slots.items() if slot in SIZES}
