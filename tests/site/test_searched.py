"""Which searches are known to read a page and nothing else."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from material.plugins.search import plugin as of_theme
from mkdocs.contrib.search import search_index as of_generator
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import get_toc

from witnessmark.mkdocs.searched import FILE, Searched

CONTENT = '<h1 id="one">One</h1><p>Words of it.</p><h2 id="part">Part</h2><p>More.</p>'
TOC = [{"name": "One", "id": "one", "level": 1, "children": []}]


class OfSomebody(of_theme.SearchIndex):
    """A search that reads more than the page."""


def page(content=CONTENT, **meta):
    shown = Page.__new__(Page)
    shown.__dict__.update(
        content=content, title="One", meta=meta, toc=get_toc(TOC),
        file=SimpleNamespace(url="one/"), parent=None,
    )  # fmt: skip
    return shown


def found(index):
    return getattr(index, "entries", getattr(index, "_entries", None))


def searched(kept, entry, index, *pages):
    kept.use_in([SimpleNamespace(search_index=index)], entry)
    for each in pages:
        index.add_entry_from_context(each)
    kept.save()
    return found(index)


@pytest.mark.parametrize("module", [of_theme, of_generator])
def test_entries_are_those_of_the_search(module, tmp_path):
    """New or kept, in this process or from the file; changed by others, they are kept as made."""
    pages = [page(), page(CONTENT.replace("More", "Else")), page(tags=["a"], search={"boost": 2})]
    plain = module.SearchIndex(indexing="full")
    for each in pages:
        plain.add_entry_from_context(each)
    kept = Searched()
    for holder in (kept, kept, Searched()):
        entries = searched(holder, tmp_path, module.SearchIndex(indexing="full"), *pages)
        assert entries == found(plain)
        entries[0]["text"] = "changed by another plugin"
    if module is of_generator:
        short = searched(kept, tmp_path, module.SearchIndex(indexing="titles"), *pages)
        assert short != found(plain), "the settings of the search count"


def test_the_file_holds_what_was_asked_for(tmp_path):
    """Pages that are gone are let go."""
    kept = Searched()
    for pages in ([page(), page("<p>Gone</p>")], [page()]):
        searched(kept, tmp_path, of_theme.SearchIndex(), *pages)
    text = (tmp_path / FILE).read_text("utf-8")
    assert "Words of it." in text
    assert "Gone" not in text


def test_other_searches_read_every_page(tmp_path, monkeypatch):
    """One derived from a known one, one with another way to read, one with word lists."""
    own = OfSomebody()
    changed = of_theme.SearchIndex()
    changed.add_entry_from_context = lambda page: None
    for index in (own, changed):
        before = index.add_entry_from_context
        searched(Searched(), tmp_path, index)
        assert index.add_entry_from_context == before
    monkeypatch.setattr(of_theme, "jieba", object())
    index = of_theme.SearchIndex()
    searched(Searched(), tmp_path, index)
    assert "add_entry_from_context" not in vars(index)


def test_a_page_that_no_text_tells_is_read_every_time(tmp_path):
    """A title that is no plain value, for example."""
    odd = page(title={1, 2})
    index = of_theme.SearchIndex()
    assert searched(Searched(), tmp_path, index, odd)
    assert not (tmp_path / FILE).exists()
