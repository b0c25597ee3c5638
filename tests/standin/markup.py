"""The platform's HTML mode: which tags, how nested, and the text that is left."""

import html
import re

# Bot API, "HTML style": the tags it names, and nothing else.
TAGS = {
    "b",
    "strong",
    "i",
    "em",
    "u",
    "ins",
    "s",
    "strike",
    "del",
    "code",
    "pre",
    "a",
    "blockquote",
    "tg-spoiler",
}
ALONE = {"code", "pre"}  # "pre and code entities can't contain any other entities" ("Formatting options")
_TAG = re.compile(r"<(/?)([a-zA-Z-]+)((?:\s[^<>]*)?)>")
_RUN = re.compile(r"[^<>&]+")
_ENTITY = re.compile(r"&(?:(?:lt|gt|amp|quot)|#\d+|#x[0-9a-fA-F]+);")
_ATTRIBUTES = {
    "a": re.compile(r'\shref="[^"<>]+"'),
    "blockquote": re.compile(r"(\sexpandable)?"),
    "code": re.compile(r'(\sclass="language-\w+")?'),
}


class BadMarkup(ValueError):
    """The platform would not take this."""


def plain(text: str) -> str:
    """The text without its markup; raises BadMarkup."""
    out: list[str] = []
    open_tags: list[str] = []
    at = 0
    while at < len(text):
        letter = text[at]
        if letter == "<":
            found = _TAG.match(text, at)
            if not found:
                raise BadMarkup(f"unsupported start tag at {at}")
            _nest(open_tags, found[2], bool(found[1]), found[3])
            at = found.end()
        elif letter == "&":
            entity = _ENTITY.match(text, at)
            if not entity:
                raise BadMarkup(f"bare ampersand at {at}")
            out.append(html.unescape(entity[0]))
            at = entity.end()
        elif letter == ">":
            raise BadMarkup(f"bare > at {at}")
        else:
            run = _RUN.match(text, at)
            assert run
            out.append(run[0])
            at = run.end()
    if open_tags:
        raise BadMarkup(f"can't find end tag of {open_tags[-1]}")
    return "".join(out)


def _nest(open_tags: list[str], tag: str, closing: bool, attributes: str) -> None:
    if tag not in TAGS:
        raise BadMarkup(f"unsupported tag {tag}")
    if closing:
        if not open_tags or open_tags.pop() != tag or attributes:
            raise BadMarkup(f"unexpected end tag {tag}")
        return
    if any(outer in ALONE for outer in open_tags) and not (open_tags == ["pre"] and tag == "code"):
        raise BadMarkup(f"{tag} inside {open_tags[-1]}")
    if tag == "blockquote" and tag in open_tags:
        raise BadMarkup("blockquote inside blockquote")
    if not _ATTRIBUTES.get(tag, re.compile("")).fullmatch(attributes):
        raise BadMarkup(f"attributes of {tag}")
    open_tags.append(tag)


def units(text: str) -> int:
    """UTF-16 code units, the platform's measure."""
    return len(text.encode("utf-16-le")) // 2
