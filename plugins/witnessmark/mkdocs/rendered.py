"""What the theme has made of a page, kept for as long as all it is made of is the same.

A page around its content is mostly navigation, and the theme writes it anew for every page at
every build. That is passed over only where it is known what the theme looks at: the theme is
the one of ``THEMES`` as it was installed, with none of the handbook's own templates, and no
plugin or hook but those of ``PLUGINS`` takes part. Whatever the theme can see of the handbook
then goes into the name of a rendering; a test holds that it looks at nothing else.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from types import MethodType
from typing import Any

from jinja2 import Environment
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.pages import Page

from witnessmark.answers import program_digest
from witnessmark.bundle.cache import keep_text, read_text, remove_old
from witnessmark.mkdocs.libraries import versions
from witnessmark.mkdocs.templates import basis_of
from witnessmark.mkdocs.toc import tokens

TEMPLATE = "main.html"
THEMES = {"material"}
PLUGINS = {
    "material.plugins.search.plugin", "mkdocs.contrib.search", "properdocs.contrib.search",
    "witnessmark.mkdocs.plugin",
}  # fmt: skip

GENERAL = {
    "nav", "pages", "base_url", "extra_css", "extra_javascript", "mkdocs_version",
    "build_date_utc", "config", "page",
}  # fmt: skip
"""What a template is given. It may look at all of it but for the day and the list of files."""

UNSEEN = {
    "config_file_path", "docs_dir", "site_dir", "dev_addr", "watch", "strict", "validation", "nav",
    "pages", "exclude_docs", "draft_docs", "not_in_nav", "markdown_extensions", "hooks", "theme",
    "plugins", "remote_branch", "remote_name", "extra_templates",
}  # fmt: skip
"""Settings at which the theme does not look, or that stand in a rendering's name otherwise."""

OF_PAGE = (
    "title", "url", "abs_url", "canonical_url", "edit_url", "meta", "is_homepage", "is_index",
)  # fmt: skip


class Rendered:
    """Renderings by page and address of the site; each stands in a file with its name above."""

    def __init__(self) -> None:
        self._folder: Path | None = None
        self._asked: set[str] = set()

    def use_in(self, environment: Environment, config: MkDocsConfig, folder: Path) -> None:
        """Let the theme take its renderings from here, in this one build. ``folder`` is the
        handbook's in the cache for them."""
        self._folder = folder
        self._asked = set()
        self._site = ""
        if not _is_known(config):
            return
        self._environment = _digest([basis_of(environment), *_templates(config.theme.dirs)])
        template = environment.get_template(TEMPLATE)
        render = template.render

        def kept(context: dict[str, Any]) -> str:
            file, name = self._name(context)
            if not name:
                return render(context)
            html = read_text(file, name)
            if html is None:
                html = render(context)
                keep_text(file, name, html)
            return html

        template.render = kept  # type: ignore[method-assign]

    def tidy(self) -> None:
        """Remove what has not been asked for in a long time."""
        if self._folder is not None:
            remove_old(self._folder, self._asked)

    def _name(self, context: Mapping[str, Any]) -> tuple[Path, str]:
        """The file for the rendering of a page, and its name; the name is empty when there is
        more to see than a name can tell."""
        assert self._folder is not None
        config, page = context["config"], context["page"]
        slot = _digest([page.file.src_uri, config.site_url])[:32]
        file = self._folder / slot
        self._asked.add(slot)
        try:
            if not self._site:
                self._site = _site(context, self._environment)
            around = [_of(page), _of(page.previous_page), _of(page.next_page)]
            of_page = _text([page.file.src_uri, context["base_url"], around, tokens(page.toc)])
        except _Unsaid:
            return file, ""
        known = set(context) - {"properdocs_version"} == GENERAL and page.active
        return file, _digest([self._site, of_page, page.content]) if known else ""


class _Unsaid(Exception):
    """Something that no text tells all of."""


def _is_known(config: MkDocsConfig) -> bool:
    """Whether it is known what takes part in the making of a page."""
    owners = (
        method.__self__ if isinstance(method, MethodType) else method
        for methods in config.plugins.events.values()
        for method in methods
    )
    return (
        config.theme.name in THEMES
        and not config.hooks
        and all(type(owner).__module__ in PLUGINS for owner in owners)
        and config.theme.custom_dir is None
    )


def _site(context: Mapping[str, Any], environment: str) -> str:
    """Digest of what is the same for all pages of a site."""
    config = context["config"]
    theme = config.theme
    return _digest([
        program_digest(), *versions(), environment, context["mkdocs_version"],
        _text({key: value for key, value in config.items() if key not in UNSEEN}),
        _text([theme.name, {key: theme[key] for key in theme}]),
        _text([[name, plugin.config] for name, plugin in config.plugins.items()]),
        _text([*_items(context["nav"])]), _text(_of(context["nav"].homepage)),
        _text([_of(file.page) for file in context["pages"]]),
    ])  # fmt: skip


def _items(items: Iterable[Any]) -> Iterator[list[Any]]:
    for item in items:
        if isinstance(item, Page) or hasattr(item, "file"):
            yield ["page", item.file.src_uri, _of(item)]
        else:
            kind = type(item).__name__
            yield [kind, item.title, getattr(item, "url", ""), [*_items(item.children or ())]]


def _of(page: Any) -> list[Any]:
    """What is seen of a page from others, and from the page itself but for its content."""
    return [] if page is None else [getattr(page, each) for each in OF_PAGE]


def _templates(folders: Iterable[str]) -> Iterator[str]:
    """The state of the theme's templates; they are looked at no closer than Python's own files
    of byte code look at their sources. Icons are named by the version of the theme."""
    for folder in folders:
        for place, below, names in os.walk(folder):
            below[:] = sorted(set(below) - {".icons", "assets"})
            for name in sorted(names):
                if name.endswith(".html"):
                    state = os.stat(os.path.join(place, name))
                    yield f"{place}/{name} {state.st_size} {state.st_mtime_ns}"


def _text(value: Any) -> str:
    """All of a value as one text. Raises _Unsaid when it holds an object that tells only where it
    lies in memory."""
    text = repr(value)
    if " at 0x" in text:
        raise _Unsaid
    return text


def _digest(texts: Iterable[str]) -> str:
    return hashlib.sha256(json.dumps([*texts]).encode()).hexdigest()
