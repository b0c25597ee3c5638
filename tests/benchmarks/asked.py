"""What the benchmarks ask: the scorecard's own messages, or questions that are all different."""

import tomllib
from pathlib import Path
from random import Random

CORPUS = Path(__file__).parent.parent / "corpus"
_WALLS = (
    "{l} m aircrete wall, {h} high, how many movement joints?",
    "how many blocks for a wall {l} x {h} with a {w} x 1.2 window",
    "render for {a} m2 of aircrete, how many bags of 25 kg?",
    "wall {l}m long {h}m high, window {w}m wide at {p}m, joints where?",
    "what mortar for {t}mm aircrete blocks, {l} m wall, {h} high?",
    "bed reinforcement for a {l} m wall {h} high in 140 mm blocks",
    "is {n}:1 ok to lay 7N blocks outside? wall is {l} m",
    "{l} metre garden wall, free both ends, {h} m high, where do the joints go",
    "and if it was {l}m?",
    "mesh for {a} square metres of render",
)


def corpus() -> list[str]:
    """The messages of the scorecard, answered or asked back."""
    files = [tomllib.loads((CORPUS / f"{name}.toml").read_text("utf-8")) for name in ("reads", "asks")]
    texts = [" ".join(entry["text"].split()) for file in files for entry in file["message"]]
    return [text for text in texts if text and not text.startswith("/")]


def differing(many: int, seed: int = 1) -> list[str]:
    """So many questions of walls, each with sizes of its own."""
    dice = Random(seed)
    found: dict[str, None] = {}
    while len(found) < many:
        wall = dice.choice(_WALLS)
        sizes = {
            "l": dice.randint(400, 2600) / 100,
            "h": dice.randint(180, 300) / 100,
            "w": dice.randint(6, 24) / 10,
            "p": dice.randint(10, 30) / 10,
            "a": dice.randint(100, 99999) / 100,
            "t": dice.choice((100, 140, 150, 200, 215)),
            "n": dice.randint(3, 8),
        }
        found.setdefault(wall.format(**sizes))
    return list(found)
