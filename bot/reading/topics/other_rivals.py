"""Cracks, weather, safety, bearing, heat and the whole wall, where other topics are named beside them."""

from __future__ import annotations

from bot.reading.topics.named import ORDER, Named

AREAS = ("m²", "ft²", "yd²")
BY_AREA = {"render", "mesh", "boards", "ties"}
FAR = 7  # items in which what is taken off is named
HURT = ("eye", "skin_burn", "breathing")


def cracked_mix(named: Named) -> None:
    """'6:1 cracked': a mix is asked about, where no width says that it is a crack."""
    if named.has("crack") and named.free_ratio() and not named.measured("mm") and not _of_a_crack(named):
        named.drop("crack")
        named.strong.setdefault("mortar", named.ratio or 0)


def _of_a_crack(named: Named) -> bool:
    """'crack 1 to 4 since may': widths, where a crack is named right before and no mix is written."""
    at = named.ratio
    before = named.scene.at(named.scene.left(at)) if at is not None else None
    written = at is not None and ":" in named.items[at].text
    return not written and before is not None and before.tagged("noun", "crack")


def take_off_openings(named: Named) -> None:
    """'take off the windows' is no list of materials."""
    if not named.has("wall") or not named.word("wall").says("wall.take_off"):
        return
    at = named.strong["wall"]
    openings = any(
        x.tagged("noun", k) for x in named.items[at + 1 : at + FAR] for k in ("door", "window", "opening")
    )
    others = (set(named.strong) | set(named.weak)) - {"wall"}
    openings = openings or (bool(named.scene.in_force) and named.measured(*AREAS))
    if openings and (others or named.scene.in_force):
        named.drop("wall")
        if not named.strong and others:
            best = next(topic for topic in ORDER if topic in named.weak)
            named.strong[best] = named.weak[best]


def list_of_all(named: Named) -> bool:
    """'everything for', 'materials': the whole wall, unless those of one topic. True where settled."""
    if not named.has("wall"):
        return False
    words = [x for x in named.items if x.tagged("topic", "wall")]
    begins = named.scene.words.cue["wall.list_begins"]
    if not any(x.low.startswith(begins) for x in words):
        return False
    other = named.others("wall")
    covers = {"mesh", "render", "boards", "crack", "ties"} & set(named.scene.in_force)
    if covers and all(x.says("wall.whole") for x in words) and not other:
        named.drop("wall")  # 'whole wall or just corners'
        return False
    topics, lot = {*named.strong, *named.weak} - {"wall"}, any(x.says("wall.the_lot") for x in words)
    if lot and len(topics) > 1:
        named.drop(*other)  # 'blocks joints mortar the lot'
        return True
    if lot and len(topics) == 1 and named.scene.in_force and not any(x.sizes for x in named.items):
        named.drop("wall")  # 'render the whole lot' of walls that were told
        return False
    render = "render" in named.weak and named.speaks("render.render") and not named.tagged("noun", "wall")
    told = named.measured(*AREAS) and bool(BY_AREA & set(named.scene.in_force)) and not other
    render = render or (told and not named.tagged("noun", "wall"))  # 'quantities for 64 m²' of the render
    if all(x.says("wall.materials") for x in words) and (other or render):
        named.drop("wall")
        return False
    named.drop(*other)
    return True


def too_hot_a_mix(named: Named) -> None:
    """'6:1 too hot': said of a mix, not of the weather."""
    mix = named.has("weather") and named.ratio is not None and not named.degrees
    if mix and named.word("weather").says("weather.too"):
        named.drop("weather")


def crack_among_others(named: Named) -> None:
    """A crack that is named as a thing, or has a width, is asked; else its word is lent."""
    rest = named.others("crack")
    if not named.has("crack") or not rest:
        return
    noun = named.says("crack.crack")
    sized = any(
        x.kind == "measure" and x.size.unit == "mm" and x.size.value <= named.scene.sense.crack_widest
        for x in named.items
    )
    first = named.strong["crack"] < min(named.strong[topic] for topic in rest)
    asked = noun and (
        sized or rest & {"safety", "weather"} or (first and not rest & {"joints", "mortar", "blocks"})
    )
    if asked or named.speaks("crack.leans"):
        named.drop(*(topic for topic in rest if topic != "safety" or noun))
    elif noun and rest <= {"joints"} and not named.tagged("ask", "quantity") and not named.sized():
        named.drop("joints")
    else:
        named.drop("crack")


def weather_among_others(named: Named) -> None:
    """Weather is asked where a temperature or a plain word for it stands; else it only sets the scene."""
    if named.has("weather") and named.others("weather"):
        hot = named.degrees
        real = any(
            x.tagged("topic", "weather", "strong") and not x.says("weather.by_the_way") for x in named.items
        )
        if (
            named.has("safety")
            or named.has("thermal")
            or (named.has("mortar") and not hot and not real)
            or (named.has("joints") and not hot)
        ):
            named.drop("weather")
        elif named.has("render") and (hot or real) and not named.speaks("render.asked"):
            named.drop("render")
        elif named.has("render") and named.word("render").tagged("slot", "work"):
            named.drop("render")  # 'rain, can I plaster': what is done today
        elif (
            named.has("mortar")
            and hot
            and named.word("mortar").says("mortar.mortar")
            and not named.speaks("mortar.asked")
            and named.ratio is None
        ):
            named.drop("mortar")
        if hot and not named.sized():
            named.drop("blocks")
    if named.has("weather") and not named.degrees and named.word("weather").says("weather.may_lay"):
        told = named.free_ratio() or named.tagged("class") or named.tagged("code", "class")
        if told:  # 'is M4 ok to lay aircrete': the mix is asked about
            named.drop("weather")
            named.strong.setdefault("mortar", named.ratio or 0)
    if named.has("weather") and named.ratio is not None and named.degrees:
        named.strong.setdefault("mortar", named.ratio)


def safety_among_others(named: Named) -> None:
    """Someone who is hurt comes before everything."""
    if not named.has("safety") or not named.others("safety"):
        return
    hurt = any(named.tagged("wants", "safety", wish) for wish in HURT)
    lifting = any(
        x.tagged("wants", "safety", "lifting") and x.tagged("topic", "safety", "strong") for x in named.items
    )
    alone = not named.has("crack") and not set(named.strong) - {"safety", "blocks", "mortar"}
    if hurt or (lifting and alone):
        named.drop(*named.others("safety"))
    elif named.has("mortar") or named.has("boards") or named.has("bearing"):
        named.drop("safety")


def bearing_among_others(named: Named) -> None:
    """A bearing with joints is asked where a load is said; a crack at a bearing is a crack."""
    if named.has("bearing", "joints") and not named.measured("kN", "kip"):
        named.drop("bearing")
    if named.has("bearing", "crack"):
        named.drop("bearing")


def heat_among_others(named: Named) -> None:
    """'insulation' by the way is no question of heat; a U value is, whatever else is named."""
    tied = "ties" in named.scene.in_force and "thermal" not in named.scene.in_force
    if not named.has("thermal") or not (named.others("thermal") or tied):
        return
    passing = any(x.says("thermal.by_the_way") for x in named.items if x.tagged("topic", "thermal"))
    if passing and not any("value" in x.low for x in named.items):
        named.drop("thermal")
    else:
        named.drop(*named.others("thermal"))
