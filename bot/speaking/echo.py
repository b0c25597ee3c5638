"""How a message was read, in one fixed style: the only defence against swapped digits."""

from __future__ import annotations

from typing import Any

from bot.speaking.numerals import mix, number, quantity
from knowledge.questions import Reading

Plain = dict[str, Any]
MATERIAL = {
    "aac": "aircrete",
    "aggregate": "aggregate block",
    "clay_brick": "clay brick",
    "calcium_silicate": "calcium silicate",
    "stone": "stone",
}
PLACE = {
    "internal": "internal",
    "external": "external",
    "below_dpc": "below dpc",
    "parapet": "parapet",
    "freestanding": "freestanding",
}
LEAF = {"solid": "solid wall", "inner": "inner leaf", "outer": "outer leaf", "cavity": "cavity wall"}
FINISH = {"render": "rendered", "plaster": "plastered", "boards": "boarded", "fair_faced": "fair faced"}
MEASURED = {
    *(
        "length",
        "height",
        "thickness",
        "area",
        "cavity",
        "coat_thickness",
        "joint_thickness",
        "spacing",
        "spacing_up",
    ),
    *("load", "temperature", "bag_size", "bucket_size", "mortar_volume", "wall_volume", "waste", "lap"),
}
COUNTED = {
    "block_count": "blocks",
    "courses": "courses",
    "joint_count": "joints",
    "pack_size": "to a pack",
    "rolls": "rolls",
    "boards": "boards in hand",
}


ORDER = {slot: place for place, slot in enumerate(Reading.model_fields)}
"""What is read is told in one order, in whatever order it was said."""
SIDES = {
    "roll": ("width", "length"),
    "board": ("width", "height", "thickness"),
    "padstone": ("length", "width", "height"),
}
"""In which order the sides of a thing are told, however they were said."""


def echo(reading: Plain, more: Plain | None = None) -> str:
    """'length 10 m, height 2.4 m, return left, free right'; nothing said: ''."""
    said = sorted({**reading, **(more or {})}.items(), key=lambda entry: ORDER.get(entry[0], len(ORDER)))
    return ", ".join(text for slot, value in said if (text := slot_text(slot, value)))


def slot_text(slot: str, value: Any) -> str:
    """One slot in words."""
    if slot in MEASURED:
        names = {
            "coat_thickness": "coat",
            "joint_thickness": "mortar joint",
            "mortar_volume": "mortar",
            "wall_volume": "volume of wall",
        }
        return f"{names.get(slot, slot.replace('_', ' '))} {quantity(value)}"
    if slot == "block":
        return block(value)
    if slot == "openings":
        return ", ".join(opening(o) for o in value) if value else "no openings"
    if slot == "ends":
        return ends(value)
    if slot == "mix":
        return mix(value)
    if slot == "place":
        return str(PLACE.get(value, value))
    if slot == "leaf":
        return str(LEAF.get(value, value))
    if slot == "finish":
        return str(FINISH.get(value, value))
    if slot == "walls":
        return f"{value} walls alike" if value > 1 else "one wall"
    if slot == "faces":
        return "both faces" if value == 2 else "one face"
    if slot == "shape":
        return "triangle"
    if slot in {"bags", "buckets"}:
        return f"{number(value['count'])} {slot if value['count'] != 1 else slot[:-1]} of {value['of']}"
    if slot == "joint_at":
        return "joints at " + ", ".join(quantity(q) for q in value)
    if slot == "crack":
        return crack(value)
    if slot in SIDES:
        return f"{slot} {sides([value[side] for side in SIDES[slot] if side in value])}"
    if slot == "bed_reinforcement":
        return "bed joint reinforcement" if value else "no bed joint reinforcement"
    if slot in {"plasticiser", "rain", "wind", "severe"}:
        word = {"severe": "severe exposure"}.get(slot, slot)
        return word if value else ("moderate exposure" if slot == "severe" else f"no {word}")
    if slot == "frost":
        return {"coming": "frost to come", "frozen": "frozen"}[value]
    if slot == "work":
        return str({"lay": "laying", "render": "rendering"}.get(value, value))
    if slot == "layers":
        return ", ".join(f"{quantity(layer['thickness'])} {layer['material']}" for layer in value)
    if slot in COUNTED:
        text = f"{number(value)} {COUNTED[slot]}"
        return text.removesuffix("s") if value == 1 else text
    if slot == "spacing_courses":
        return "every course" if value == 1 else f"every {number(value)} courses"
    return f"{slot.replace('_', ' ')} {value}"


def block(value: Plain) -> str:
    """Material, strength and size of a unit."""
    words = [str(MATERIAL.get(value["material"], value["material"]))] if "material" in value else []
    words += [quantity(value[k]) for k in ("strength", "density", "mass") if k in value]
    sizes = [value[k] for k in ("length", "height", "thickness") if k in value]
    if len(sizes) > 1:
        words.append(sides(sizes))
    elif "thickness" in value:
        words.append(f"{quantity(value['thickness'])} thick")
    elif sizes:
        words.append(f"{quantity(sizes[0])} block")
    words += ["laid on the flat"] if value.get("laid") == "flat" else []
    return " ".join(words)


def sides(sizes: list[Plain]) -> str:
    """'440 × 215 × 100 mm'; each with its own unit where they differ."""
    if len({size["unit"] for size in sizes}) > 1 or sizes[0]["unit"] in {"ft", "in"}:
        return " × ".join(quantity(size) for size in sizes)
    return " × ".join(number(size["value"]) for size in sizes) + f" {sizes[0]['unit']}"


def opening(value: Plain) -> str:
    """'2 windows 1200 × 1050 mm at 3.1 m'."""
    count = value.get("count", 1)
    text = f"{count} {value['kind']}{'s' if count != 1 else ''}"
    if "width" in value and "height" in value:
        text += f" {quantity(value['width'])} wide × {quantity(value['height'])} high"
    elif "width" in value:
        text += f" {quantity(value['width'])} wide"
    elif "height" in value:
        text += f" {quantity(value['height'])} high"
    elif "area" in value:
        text += f" of {quantity(value['area'])}"
    for slot, word in (("from_left", "from the left"), ("from_right", "from the right"), ("sill", "sill")):
        if slot in value:
            size = quantity(value[slot])
            text += f", {size} {word}" if slot != "sill" else f", sill {size}"
    return text


def ends(value: list[Any]) -> str:
    """'returns both ends', 'return left, free right'."""
    plural = {"return": "returns", "free": "free at", "column": "columns"}
    if value[0] and value[0] == value[1]:
        return f"{plural[value[0]]} both ends"
    return ", ".join(f"{word} {side}" for word, side in zip(value, ("left", "right"), strict=True) if word)


def crack(value: Plain) -> str:
    """A crack as it was described."""
    words = [f"{value['count']} cracks"] if "count" in value else ["crack"]
    if "width" in value:
        words.append(quantity(value["width"]) + " wide")
    words += [value[k] for k in ("pattern", "where") if k in value]
    if value.get("growing") is not None:
        words.append("growing" if value["growing"] else "not growing")
    if value.get("leaning"):
        words.append("wall leaning or bulging")
    return " ".join(words)
