"""Scripts and styles that stand inside a page, moved into files of their own.

A policy without 'unsafe-inline' lets a page run scripts and take styles from files only. What
the theme or an author writes into the page is therefore put into a file whose name is made of
its content, and the page refers to it at the very place where it stood: a script runs at the
same moment as before, a style attribute keeps its rank over the style sheets.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable
from dataclasses import dataclass
from html import escape, unescape

FOLDER = "assets/witnessmark"

# Attribute values may hold ">"; the parts tried first may hold anything that looks like a tag.
_TAG = r"""<[a-zA-Z](?:[^"'>]|"[^"]*"|'[^']*')*>"""
_PART = re.compile(
    rf"""<!--.*?-->
    |(?P<open><(?P<name>script|style)\b(?P<attributes>(?:[^"'>]|"[^"]*"|'[^']*')*)>)
     (?P<body>.*?)</(?P=name)\s*>
    |(?P<tag>{_TAG})""",
    re.DOTALL | re.IGNORECASE | re.VERBOSE,
)
# All that cannot be or hold an inline part, as far as it goes: text, comments, tags without a
# style. Nearly all of a page is passed over at once; nothing is tried twice.
_NO_PART = re.compile(
    r"""(?:[^<]++
    |<!--.*?-->
    |<(?![a-zA-Z])
    |<(?!(?:script|style)\b)[a-zA-Z](?:[^"'>\s]++|\s(?!style\b)|"[^"]*+"|'[^']*+')*+>
    )*+""",
    re.DOTALL | re.IGNORECASE | re.VERBOSE,
)
_ATTRIBUTE = re.compile(r"""\s([a-zA-Z_:][-\w:.]*)(?:\s*=\s*("[^"]*"|'[^']*'|[^\s"'>]+))?""")
_MAYBE_HANDLER = re.compile(r"on\w+\s*=")
_SCRIPT_ADDRESS = "javascript:"

_SCRIPT_TYPES = {"", "module", "text/javascript", "application/javascript"}


@dataclass(frozen=True)
class Moved:
    """A page without inline parts, and the files that hold them: text by site URI."""

    html: str
    files: dict[str, str]


def move_inline_parts(html: str, url_of: Callable[[str], str]) -> Moved:
    """Move every inline script, style element and style attribute of a page into files.

    ``url_of`` turns a site URI into the address by which this page refers to it. Data blocks
    (``<script type="application/json">``) are no scripts and stay.
    """
    files: dict[str, str] = {}
    rules: dict[str, str] = {}

    def place(text: str, ending: str) -> str:
        uri = f"{FOLDER}/inline-{_digest(text)}.{ending}"
        files[uri] = text
        return url_of(uri)

    def moved(found: re.Match[str]) -> str:
        tag, name = found["tag"], (found["name"] or "").lower()
        if tag is not None:
            return _ATTRIBUTE.sub(ruled, tag)
        if not name:
            return found[0]
        attributes = _attributes(found["attributes"])
        if name == "style":
            return _element("link", {"rel": "stylesheet", "href": place(found["body"], "css")})
        if "src" in attributes or attributes.get("type", "").lower() not in _SCRIPT_TYPES:
            return found[0]
        source = place(found["body"], "js")
        return f"{_element('script', {**attributes, 'src': source})}</script>"

    def ruled(attribute: re.Match[str]) -> str:
        if attribute[1].lower() != "style":
            return attribute[0]
        text = unescape((attribute[2] or "").strip("\"'")).strip()
        rules[_digest(text)] = text
        return f' data-wm-style="{_digest(text)}"'

    html = _with_parts(html, moved)
    if rules:
        # An id in :is() lends its rank to the whole list: the rule outranks the style sheets.
        sheet = "\n".join(
            f':is(#wm-style, [data-wm-style="{key}"]) {{ {text} }}'
            for key, text in sorted(rules.items())
        )
        link = _element("link", {"rel": "stylesheet", "href": place(sheet, "css")})
        html = html.replace("</head>", f"{link}</head>", 1)
    return Moved(html, files)


def _with_parts(html: str, moved: Callable[[re.Match[str]], str]) -> str:
    """The page with every part that may be inline as ``moved`` gives it."""
    done: list[str] = []
    at = 0
    while at < len(html):
        passed = _NO_PART.match(html, at)
        assert passed is not None  # it may be empty
        part = _PART.match(html, passed.end())
        if part is None:  # the end, or a tag that is not closed
            end = passed.end() + 1
            done.append(html[at:end])
        else:
            end = part.end()
            done += [passed[0], moved(part)]
        at = end
    return "".join(done)


def has_inline_parts(html: str) -> bool:
    """Whether there is anything that ``move_inline_parts`` would move."""
    return bool(move_inline_parts(html, lambda uri: uri).files)


def handlers_in(html: str) -> list[str]:
    """Tags with an event handler or a script address in an attribute: these cannot be moved."""
    found: list[str] = []
    lowered = html.lower()
    seen = (lowered[each.start() - 1].isspace() for each in _MAYBE_HANDLER.finditer(lowered))
    if _SCRIPT_ADDRESS not in lowered and not any(seen):
        return found
    for part in _PART.finditer(html):
        tag = part["tag"] or part["open"] or ""
        for name, value in _attributes(tag).items():
            if name.startswith("on") or value.strip().lower().startswith(_SCRIPT_ADDRESS):
                found.append(tag)
                break
    return found


def rewrite_attributes(html: str, new_value: Callable[[str, str], str]) -> str:
    """The page with every attribute value of its tags as ``new_value(name, value)`` gives it."""

    def attribute(found: re.Match[str]) -> str:
        if not found[2]:
            return found[0]
        name, value = found[1].lower(), unescape(found[2].strip("\"'"))
        new = new_value(name, value)
        return found[0] if new == value else f' {found[1]}="{escape(new)}"'

    def tag(found: re.Match[str]) -> str:
        if found["open"]:
            opened = _ATTRIBUTE.sub(attribute, found["open"])
            return f"{opened}{found[0][len(found['open']) :]}"
        return _ATTRIBUTE.sub(attribute, found["tag"]) if found["tag"] else found[0]

    return _PART.sub(tag, html)


def _attributes(text: str) -> dict[str, str]:
    return {name.lower(): unescape(value.strip("\"'")) for name, value in _ATTRIBUTE.findall(text)}


def _element(name: str, attributes: dict[str, str]) -> str:
    return f"<{name} " + " ".join(f'{key}="{value}"' for key, value in attributes.items()) + ">"


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:12]
