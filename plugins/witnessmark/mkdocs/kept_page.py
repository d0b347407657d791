"""What MkDocs makes of a page's Markdown, as plain data, and whether that may be kept.

Kept is only what comes from nothing but the page's text, the list of files and the settings of
extensions that are known to read nothing else. With any other extension every page is converted
at every build.
"""

from __future__ import annotations

import hashlib
import json
import logging
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page

from witnessmark.handbook import Handbook
from witnessmark.mkdocs.libraries import versions
from witnessmark.mkdocs.toc import of_tokens, tokens
from witnessmark.page import WitnessMarkExtension

# They convert text to text; none reads a file or asks a function that a site gives it.
_OF_MARKDOWN = {
    "abbr", "admonition", "attr_list", "codehilite", "def_list", "extra", "fenced_code",
    "footnotes", "md_in_html", "meta", "nl2br", "sane_lists", "smarty", "tables", "toc",
}  # fmt: skip
_OF_PYMDOWN = {
    "betterem", "caret", "critic", "details", "highlight", "inlinehilite", "keys", "mark",
    "smartsymbols", "superfences", "tabbed", "tasklist", "tilde",
}  # fmt: skip


class Messages(logging.Handler):
    """Counts what is said while a page is converted: such a page is converted again next time,
    so that it is said again."""

    def __init__(self) -> None:
        super().__init__()
        self.count = 0

    def emit(self, record: logging.LogRecord) -> None:
        """One more."""
        self.count += 1

    def listen_to(self, generator: str) -> str:
        """Be told of all that the site generator says; gives from which level on it speaks."""
        logger = logging.getLogger(generator)
        if self not in logger.handlers:
            logger.addHandler(self)
        return str(logger.getEffectiveLevel())


class Conversions:
    """Tells for each page of a build whether it has to be converted, and keeps what is new.

    MkDocs does not even set Markdown up for a page that an earlier build has converted; what its
    conversion would have set is put in afterwards.
    """

    def __init__(self) -> None:
        self._messages = Messages()
        self._settings: str | None = None

    def begin(self) -> None:
        """A build begins."""
        self._settings = None

    def text_of(
        self, page: Page, markdown: str, handbook: Handbook, config: MkDocsConfig, files: Files
    ) -> str:
        """The text of a page, which is converted if it has to be. Its context is known to the
        handbook."""
        if self._settings is None:
            self._settings = self._all_settings(type(page), config, files)
        self._said = self._messages.count
        self._name, self._kept = "", None
        if self._settings:
            file = page.file
            self._name = handbook.kept_pages.name(
                self._settings,
                file.src_uri,
                file.url,
                handbook.pages[file.src_uri].source,
                markdown,
            )
            self._kept = handbook.kept(file.src_uri, self._name)
        if self._kept:
            leave_unconverted(page)
        return markdown

    def html_of(self, page: Page, html: str, handbook: Handbook, files: Files) -> str:
        """The HTML of that page, whoever has converted it."""
        if self._kept:
            html, rendered = self._kept
            take_plain(page, rendered, files)
            return html
        name = self._name if self._messages.count == self._said else ""
        return handbook.converted(page.file.src_uri, html, name, as_plain(page))

    def _all_settings(self, page: type[Page], config: MkDocsConfig, files: Files) -> str:
        settings = settings_of(config)
        level = self._messages.listen_to(page.__module__.partition(".")[0])
        texts = json.dumps([settings, level, addresses_of(files)])
        return hashlib.sha256(texts.encode()).hexdigest() if settings else ""


def settings_of(config: MkDocsConfig) -> str:
    """All settings that a conversion comes from, as one text; empty when pages may not be kept."""
    names: list[object] = [
        each for each in config.markdown_extensions if not isinstance(each, WitnessMarkExtension)
    ]
    if not all(map(_is_pure, names)):
        return ""
    try:
        options = json.dumps(config.mdx_configs, sort_keys=True)
    except TypeError:  # a function, perhaps
        return ""
    return json.dumps([names, options, repr(config.validation), *versions()])


def addresses_of(files: Files) -> str:
    """What links may lead to, as one text."""
    return json.dumps(sorted([file.src_uri, file.url, file.inclusion.name] for file in files))


def leave_unconverted(page: Page) -> None:
    """Let the site generator pass over the conversion of this one page in this build."""

    def render(config: MkDocsConfig, files: Files) -> None:
        page.content = ""

    page.render = render  # type: ignore[method-assign]


def as_plain(page: Page) -> dict[str, Any]:
    """What ``Page.render`` has set, but for the HTML."""
    links = page.links_to_anchors
    return {
        "title": page._title_from_render,
        "toc": tokens(page.toc),
        "anchors": sorted(page.present_anchor_ids or ()),
        "links": None
        if links is None
        else [[file.src_uri, anchors] for file, anchors in links.items()],
    }


def take_plain(page: Page, plain: dict[str, Any], files: Files) -> None:
    """Set all that again."""
    page._title_from_render = plain["title"]
    page.toc = of_tokens(plain["toc"], type(page))
    page.present_anchor_ids = set(plain["anchors"])
    if plain["links"] is not None:
        found = ((files.get_file_from_path(uri), anchors) for uri, anchors in plain["links"])
        page.links_to_anchors = {file: anchors for file, anchors in found if file is not None}


def _is_pure(name: object) -> bool:
    if not isinstance(name, str):
        return False
    of_markdown = name.removeprefix("markdown.extensions.") in _OF_MARKDOWN
    return of_markdown or name in {f"pymdownx.{each}" for each in _OF_PYMDOWN}
