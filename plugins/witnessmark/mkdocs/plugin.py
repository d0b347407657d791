"""Hooks in the order MkDocs calls them. Nothing is decided here.

What a page may hold is told by ``witnessmark.page``, what the site carries by
``witnessmark.bundle``, how it is published by ``witnessmark.publish``; this module hands MkDocs'
objects over to them and their results back. It is the only importer of mkdocs.
"""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any, Literal
from urllib.parse import urlsplit

from mkdocs.config import base
from mkdocs.config import config_options as option
from mkdocs.config.config_options import ExtraScriptValue
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority, get_plugin_logger
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from mkdocs.utils import get_relative_url

from witnessmark import __version__
from witnessmark.bundle.cache import handbook_entry
from witnessmark.faults import FaultsFound
from witnessmark.handbook import OVERVIEW_URI, Handbook, Places, RuntimeUnavailable, expanded
from witnessmark.mkdocs.kept_page import Conversions
from witnessmark.mkdocs.rendered import Rendered
from witnessmark.mkdocs.searched import Searched
from witnessmark.mkdocs.templates import Translated
from witnessmark.page import WitnessMarkExtension
from witnessmark.page.reference import reference_uri
from witnessmark.publish import Publication

log = get_plugin_logger("witnessmark")


class Settings(base.Config):  # type: ignore[no-untyped-call]
    """Options of the plugin in mkdocs.yml."""

    calculators = option.Type(str, default="calculators")
    """Folder of the calculator modules, relative to mkdocs.yml."""

    databook = option.Type(str, default="databook")
    """Folder of the data book, relative to docs_dir."""

    reference = option.Type(bool, default=True)
    """Whether a reference page is made for every calculator."""

    offline = option.Type(bool, default=True)
    """Whether a service worker keeps the handbook on its readers' devices (never in serve)."""


class WitnessMarkPlugin(BasePlugin[Settings]):  # type: ignore[no-untyped-call]
    """Procedure pages with calculators, values of the data book and the browser bundle."""

    handbook: Handbook

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        """Being defined keeps this object, and what it has evaluated, over rebuilds of serve."""
        self.serving = command == "serve"
        self.conversions = Conversions()
        self.translated = Translated()
        self.searched = Searched()
        self.rendered = Rendered()
        if dirty:
            log.warning(
                "--dirty rebuilds only pages whose own file changed; a change in the data book "
                "or in a calculator would not reach the pages that use it"
            )

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Load the handbook afresh and put the Markdown extension in."""
        project = Path(config.config_file_path or "mkdocs.yml").resolve().parent
        docs = Path(config.docs_dir)
        places = Places(
            project, docs, project / self.config.calculators, docs / self.config.databook
        )
        if not hasattr(self, "handbook") or self.handbook.places != places:
            self.handbook = Handbook(places, theme=config.theme.name or "")
        self.handbook.address = config.site_url or ""
        self.handbook.load()
        notes = os.environ.get("WITNESSMARK_RELEASE")
        if notes:
            self.handbook.review.release = json.loads(Path(notes).read_text("utf-8"))
        self.extension = WitnessMarkExtension()
        self.conversions.begin()
        config.markdown_extensions.append(self.extension)
        self.generated = self.handbook.generated_pages() if self.config.reference else {}
        config.nav = expanded(config.nav, self.generated, self.handbook.titles)
        for folder in (places.calculators, places.databook):
            if str(folder) not in config.watch:
                config.watch.append(str(folder))
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the reference pages; keep the data book and the ledger out of the site."""
        for file in list(files):
            if self.handbook.places.is_kept_back(file.src_uri):
                files.remove(file)
        for uri, text in (self.generated | self.handbook.plain_files).items():
            files.append(File.generated(config, uri, content=text))
        self.handbook.know_pages(
            {file.src_uri: file.content_string for file in files.documentation_pages()}
        )
        return files

    @event_priority(-100)  # what others have made of the text is what is converted
    def on_page_markdown(
        self, markdown: str, *, page: Page, config: MkDocsConfig, files: Files
    ) -> str:
        """Give the page its context before it is converted; nothing is left to convert of a page
        that an earlier build has converted."""

        def reference_url(name: str) -> str:
            target = files.get_file_from_path(reference_uri(name))
            return get_relative_url(target.url, page.file.url) if target else ""

        self.extension.context = self.handbook.context(
            page.file.src_uri, page.file.content_string, reference_url
        )
        return self.conversions.text_of(page, markdown, self.handbook, config, files)

    @event_priority(100)  # others find the whole page
    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Look for blocks that were left as text and put the mark of the sign-off in."""

        def link(uri: str) -> str:
            target = files.get_file_from_path(uri)
            return get_relative_url(target.url, page.file.url) if target else ""

        html = self.conversions.html_of(page, html, self.handbook, files)
        return self.handbook.finish(page.file.src_uri, html, page.file.url, link)

    def on_env(self, env: Any, *, config: MkDocsConfig, files: Files) -> None:
        """All pages are rendered: report every fault at once, then pack what they use."""
        try:
            self.handbook.faults.raise_if_any()
            self._fill_overview(files)
            self._hand_over()
            self.bundle = bundle = self.handbook.bundle()
        except (FaultsFound, RuntimeUnavailable) as error:
            raise PluginError(str(error)) from error
        calculators = self.handbook.places.calculators
        self.translated.use_in(env, handbook_entry(calculators))
        self.searched.use_in(config.plugins.values(), handbook_entry(calculators))
        self.rendered.use_in(env, config, handbook_entry(calculators, kind="rendered"))
        self.stamp = f"{__version__} book {self.handbook.book.digest()[:12]}"
        version = self.handbook.review.release.get("version")
        self.stamp += f" release {version}" if version else ""
        self.publication = Publication(bundle.front, self.config.offline and not self.serving)

        def address(uri: str) -> str:
            page = files.get_file_from_path(uri)
            return page.url if page else ""

        for uri, text in self.handbook.found_files(address).items():
            files.append(File.generated(config, uri, content=text))
        for uri, path in bundle.files.items():
            files.append(File.generated(config, uri, abs_src_path=str(path)))
        script = ExtraScriptValue(bundle.script)
        script.type = "module"
        config.extra_javascript = [
            item for item in config.extra_javascript if "/front-" not in str(item)
        ] + [script]
        config.extra_css = [item for item in config.extra_css if "/front-" not in item] + [
            bundle.style
        ]

    def _fill_overview(self, files: Files) -> None:
        """Where every page stands is known only now."""
        file = files.get_file_from_path(OVERVIEW_URI)
        if file is None or file.page is None or OVERVIEW_URI not in self.generated:
            return
        own = file.url

        def url_of(uri: str) -> str:
            target = files.get_file_from_path(uri)
            return get_relative_url(target.url, own) if target else ""

        file.page.content = self.handbook.review.overview(file.page.content or "", url_of)

    def _hand_over(self) -> None:
        """For the command line, which asks for what the pages rest on and perhaps no more."""
        wanted = os.environ.get("WITNESSMARK_BASIS")
        if wanted:
            self.handbook.hand_over(Path(wanted))
            if os.environ.get("WITNESSMARK_BASIS_ONLY"):
                raise SystemExit(0)

    @event_priority(-90)  # after whatever else writes into a page
    def on_post_page(self, output: str, *, page: Page, config: MkDocsConfig) -> str:
        """Stamp the page with the versions of program and data book it was built from."""
        done = self.publication.page(
            output,
            lambda uri: get_relative_url(uri, page.file.url),
            self.stamp,
            self.handbook.stand_ins,
        )
        for tag in done.handlers:
            log.warning(
                f"{page.file.src_uri}: the policy of a published handbook lets no event handler "
                f"run that is written into a tag; put it into a script file: {tag[:120]}"
            )
        return done.html

    @event_priority(-90)
    def on_post_template(
        self, output_content: str, *, template_name: str, config: MkDocsConfig
    ) -> str:
        """The theme's own pages (404.html) hold inline parts too, and stand at no one address."""
        if not template_name.endswith(".html"):
            return output_content
        root = urlsplit(config.site_url or "/").path.rstrip("/")
        return self.publication.page(output_content, lambda uri: f"{root}/{uri}").html

    @event_priority(-100)  # the service worker lists what everybody else has written
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Write what belongs to no page."""
        self.publication.finish(Path(config.site_dir), self.bundle.fallback_files)
        self.handbook.keep()
        self.translated.save()
        self.searched.save()
        self.rendered.tidy()
