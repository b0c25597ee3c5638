"""What several walls need together: measured things are added up exactly and rounded up once."""

import math
import re
from collections.abc import Iterable
from typing import Any, NamedTuple

from bot.speaking.numerals import tidy
from bot.speaking.whole import orders
from knowledge.questions import Question, Reading, Units
from knowledge.rulebook import book
from knowledge.shown import in_feet
from knowledge.units import convert

Plain = dict[str, Any]
_PACK = re.compile(r"(?P<sold>.+) of (?P<size>[\d.]+) (?P<unit>\w+)")
_SIZES = {"length", "height", "walls", "shape", "courses", "openings", "ends"}
_BY_AREA = {"blocks": "order_count", "mesh": "rolls", "boards": "board_count"}


class Total(NamedTuple):
    """What to order (thing, as it is sold, exact), of how many walls, and walls left out with the reason."""

    rows: list[tuple[str, str, str]]
    counted: int
    left_out: list[tuple[str, str]]


def add_up(walls: Iterable[tuple[str, Plain]], units: Units | None = None) -> Total:
    """Work out every wall in the same units, those of the walls where no others are wished, and add up."""
    from bot.speaking.again import whole
    from knowledge.answers import Answer

    sums: dict[tuple[str, str, str], Plain] = {}  # by thing, what its exact figure is, and that one's unit
    areas: dict[tuple[str, str], Plain] = {}
    left: list[tuple[str, str]] = []
    counted = 0
    listed = list(walls)
    one = units or ("feet" if all(_in_feet(record) for _, record in listed) else "metric")
    for name, record in listed:
        found = whole({**record, "units": one})
        if found is None or not isinstance(found[1], Answer):
            left.append(
                (name, "" if found is None else getattr(found[1], "ask", "") or getattr(found[1], "why", ""))
            )
            continue
        counted += 1
        results = tidy(found[1].results)
        for row in results.get("materials", ()):
            _add(sums, row)
        _gather(areas, found[0].reading.plain(), results, record)
    once = _ordered_once(areas)
    rows = [_row(item, of, unit, own, once) for (item, of, unit), own in sums.items()]
    return Total(orders({"materials": rows}), counted, left)


def _in_feet(record: Plain) -> bool:
    said = in_feet(Reading.model_validate(record["answers"][0]["reading"]))
    return book(record["region"]).region.units.get("wall") == "ft" if said is None else said


def _add(sums: dict[tuple[str, str, str], Plain], row: Plain) -> None:
    exact = row["exact"] if isinstance(row["exact"], dict) else {"value": row["exact"], "unit": ""}
    own = sums.setdefault(
        (row["item"], row["of"], exact["unit"]), {"orders": 0, "exact": 0, "walls": 0, "units": []}
    )
    own["orders"] += row["order"]
    own["exact"] += exact["value"]
    own["walls"] += 1
    own["units"].append(row["unit"])


def _gather(areas: dict[tuple[str, str], Plain], reading: Plain, results: Plain, record: Plain) -> None:
    """Walls that differ in nothing but their sizes are one area of the same work."""
    for topic in _BY_AREA:
        area = results.get(topic, {}).get("net_area")
        if area is None:
            continue
        same = {slot: value for slot, value in reading.items() if slot not in _SIZES | {"area"}}
        own = areas.setdefault((topic, repr(sorted(same.items()))), {"area": 0.0, "same": same, "walls": 0})
        own["area"] += convert(area["value"], area["unit"], "m²")
        own["walls"] += 1
        own["region"] = record["region"]
        own["item"] = next((r["item"] for r in results["materials"] if _of(topic, r["item"])), "")


def _of(topic: str, item: str) -> bool:
    starts = {"blocks": ("Blocks", "Bricks"), "mesh": ("Render mesh",), "boards": ("Plasterboard",)}
    return item.startswith(starts[topic]) and not item.endswith("in packs")


def _ordered_once(areas: dict[tuple[str, str], Plain]) -> dict[str, tuple[int, int]]:
    """Orders of what goes by area, asked once for the whole area: of how many walls, and how many pieces."""
    from knowledge.answering import answer
    from knowledge.answers import Answer

    found: dict[str, tuple[int, int]] = {}
    for (topic, _), own in areas.items():
        area = {"value": round(own["area"], 6), "unit": "m²"}
        reading = Reading.model_validate({**own["same"], "area": area})
        question = Question(topic=topic, reading=reading, confirmed=tuple(reading.plain()), units="metric")
        made = answer(question, book(own["region"]))[0]
        if isinstance(made, Answer) and _BY_AREA[topic] in made.results:
            walls, pieces = found.get(own["item"], (0, 0))
            found[own["item"]] = (walls + own["walls"], pieces + made.results[_BY_AREA[topic]])
    return found


def _row(item: str, of: str, unit: str, own: Plain, once: dict[str, tuple[int, int]]) -> Plain:
    """Sold in the largest pack that any of the walls took."""
    exact = round(own["exact"], 3)
    sold = max(own["units"], key=_pack)
    walls, pieces = once.get(item, (0, 0))
    order = own["orders"]
    if walls == own["walls"]:
        order = pieces
    elif _pack(sold) and (unit == "kg") == ("kg" in sold):
        order = math.ceil(round(exact / _pack(sold), 6))
    elif unit == sold:
        order = math.ceil(round(exact, 6))
    shown = {"value": exact, "unit": unit} if unit else exact
    return {"item": item, "order": order, "unit": sold, "exact": shown, "of": of}


def _pack(sold: str) -> float:
    """What one pack holds, in kilograms or litres; 0 where it is not sold in packs of a size."""
    found = _PACK.fullmatch(sold)
    return float(found["size"]) / (1000 if found["unit"] == "ml" else 1) if found else 0.0
