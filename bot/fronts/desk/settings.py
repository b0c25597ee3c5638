"""What a site has set: region and sizes; and whether the record keeps who asked."""

from dataclasses import replace
from typing import Any

from bot.fronts.desk.moment import Moment
from bot.speaking.echo import slot_text
from bot.store.rows import Settled
from knowledge.rulebook import regions

SIZES = ("block", "bag_size", "bucket_size", "roll", "board")
REGIONS = regions()
YES, NO = 1, 0


def site(moment: Moment) -> Settled:
    """Show the settings, or take a size or region that stands behind the command."""
    text = moment.arrival.text.strip()
    word = text.partition(" ")[0].lower()
    if not text:
        return _show(moment)
    if word in ("clear", "default", "reset"):
        return _keep(moment, replace(moment.site, slots={}, region="GB", chosen=False))
    if word == "region" or text.upper() in REGIONS:
        code = text.split()[-1].upper()
        if code not in REGIONS:
            return moment.say(moment.word("no_such_region", regions=", ".join(REGIONS)))
        return _keep(moment, replace(moment.site, region=code, chosen=True))
    sizes = _sizes(moment, text)
    if not sizes:
        return moment.say(moment.words["site_how"])
    return _keep(moment, replace(moment.site, slots={**moment.site.slots, **sizes}))


def region(moment: Moment) -> Settled:
    """The region whose button was pressed."""
    if not 0 <= moment.press.choice < len(REGIONS):
        return moment.say(moment.words["stale_press"])
    return _keep(moment, replace(moment.site, region=REGIONS[moment.press.choice], chosen=True))


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
    on = moment.press.choice == YES
    said = moment.words["names_on" if on else "names_off"]
    return moment.say(said, [moment.put_site(replace(moment.site, names=on))])


def _show(moment: Moment) -> Settled:
    row = [(code, "r", number) for number, code in enumerate(REGIONS) if code != moment.site.region]
    return moment.say(_told(moment, "site_is"), buttons=[row])


def _keep(moment: Moment, changed: Any) -> Settled:
    said = _told(replace(moment, site=changed), "site_set")
    return moment.say(said, [moment.put_site(changed)])


def _told(moment: Moment, name: str) -> str:
    own = [slot_text(slot, value) for slot, value in moment.site.slots.items()]
    sizes = ", ".join(own) or moment.words["no_sizes"]
    return moment.word(name, region=moment.site.region, sizes=sizes)


def _sizes(moment: Moment, text: str) -> dict[str, Any]:
    """The sizes that stand in the text, read as any message is; a number that is something else is none."""
    from bot.reading.read import read
    from knowledge.rulebook import book

    heard = read(text, book(moment.site.region).region, moment.site.language, (), None)
    if heard.doubts or set(heard.slots) - set(SIZES):
        return {}
    return {slot: value for slot, value in heard.slots.items() if slot in SIZES}
