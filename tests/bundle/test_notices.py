"""The site names everything it hands on, with its licence."""

from __future__ import annotations

import json
import re
from importlib.metadata import distribution
from pathlib import Path

from witnessmark.bundle import notices
from witnessmark.bundle.notices import IN_THE_THEME
from witnessmark.page.licences import licences_page


def test_every_part_has_its_licence_in_full():
    """Program, theme, icons, runtime, units: each with the text of its licence."""
    found = {notice.name: notice for notice in notices("material")}
    for name, words in {
        "mkdocs": "Tom Christie",
        "mkdocs-material": "Permission is hereby granted",
        "Material Design Icons": "Pictogrammers Free License",
        "Pint": "Redistribution and use",
        "platformdirs": "Permission is hereby granted",
        "typing_extensions": "PYTHON SOFTWARE FOUNDATION LICENSE VERSION 2",
    }.items():
        named = {each.lower(): notice for each, notice in found.items()}
        assert words in "".join(named[name.lower()].texts), name
    theme = "".join(found["mkdocs-material"].texts)
    assert "Apache License" in theme
    assert "MOZILLA PUBLIC LICENSE\n" in theme.upper()
    runtime = "".join(found["Pyodide and CPython"].texts)
    assert "Mozilla Public License Version 2.0" in runtime
    assert "PYTHON SOFTWARE FOUNDATION LICENSE VERSION 2" in runtime


def test_the_parts_of_the_theme_are_those_of_its_source_maps():
    """What the theme's scripts are built from, as their source maps say, is named; nothing more
    than that and the scripts for other languages."""
    folder = Path(str(distribution("mkdocs-material").locate_file("material/templates/assets")))
    inside = {
        match[1]
        for path in folder.rglob("*.map")
        for source in json.loads(path.read_text("utf-8"))["sources"]
        if (match := re.search(r"node_modules/((?:@[^/]+/)?[^/]+)/", source))
    }
    named = {name for name, _, _ in IN_THE_THEME}
    assert inside <= named
    assert named - inside == {"lunr-languages", "tinyseg", "wordcut"}


def test_the_page_shows_texts_as_they_are():
    """No brace or slash of a licence is taken for a value or a block."""
    page = licences_page(notices("material"))
    assert "{" not in page.split("---\n", 2)[2]
    assert "///" not in page
    assert page.count("<details>") == page.count("</details>") == len(notices("material"))
    assert "</pre><pre>" not in page  # a second text on the line would be read as Markdown
