"""The licence notices of everything that a built site hands on to its readers."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass, replace
from importlib.metadata import Distribution, PackageNotFoundError, distribution, entry_points
from pathlib import Path, PurePosixPath

from witnessmark.bundle.assets import LICENCES
from witnessmark.bundle.wheels import is_licence, required_distributions

THEME_LICENCES = Path(__file__).resolve().parent / "theme_licences"
"""Licences of parts inside the theme that its own package does not carry in full."""

# Parts inside the scripts of the theme, as its source maps name them; a test compares the two.
# Licences as their own repositories state them (from memory, not read again).
IN_THE_THEME = (
    ("clipboard", "Zeno Rocha", "MIT License"),
    ("escape-html", "TJ Holowaychuk, Andreas Lubbe, Tiancheng Gu", "MIT License"),
    ("focus-visible", "the World Wide Web Consortium", "W3C Software and Document License"),
    ("lunr", "Oliver Nightingale", "MIT License"),
    ("lunr-languages", "Mihai Valentin; Snowball stemmers by Oleg Mazko",
     "Mozilla Public License 1.1"),
    ("material-design-color", "Shuhei Kagawa", "MIT License"),
    ("rxjs", "Google, Netflix, Microsoft and contributors", "Apache License 2.0"),
    ("tinyseg", "Taku Kudo, for Japanese search", "BSD 3-Clause License"),
    ("tslib", "Microsoft", "BSD Zero Clause License"),
    ("wordcut", "Vee Satayamas, for Thai search", "MIT License"),
)  # fmt: skip


@dataclass(frozen=True)
class Notice:
    """A part of the site: its name and version, what it is there for, its licence in full.

    ``parts`` are things inside it that come under licences of their own.
    """

    name: str
    version: str
    purpose: str
    texts: tuple[str, ...]
    parts: tuple[str, ...] = ()


def notices(theme: str) -> list[Notice]:
    """A notice for each part of a site made with the theme called ``theme``."""
    found = [*_program(), *_theme(theme)]
    runtime = tuple(path.read_text("utf-8") for path in sorted(LICENCES.iterdir()))
    found.append(Notice("Pyodide and CPython", "", "Python in the reader's browser", runtime))
    found += [
        _of(distribution(name), "units and quantities in the reader's browser")
        for name in required_distributions("pint")
    ]
    return found


def _program() -> Iterator[Notice]:
    for name, purpose in (("witnessmark", "calculators, scripts and styles of the pages"),
                          ("mkdocs", "the frame of the site")):  # fmt: skip
        try:
            yield _of(distribution(name), purpose)
        except PackageNotFoundError:
            continue


def _theme(theme: str) -> Iterator[Notice]:
    """The theme's own licence, those of its scripts, and that of its icons."""
    points = [point for point in entry_points(group="mkdocs.themes") if point.name == theme]
    made = points[0].dist if points else None
    if made is None or made.metadata["Name"] == "mkdocs":
        return
    material = theme == "material"
    parts = tuple(f"{name}: {who}, {under}" for name, who, under in IN_THE_THEME)
    own = _of(made, "look, search and navigation")
    if material:
        texts = tuple(path.read_text("utf-8") for path in sorted(THEME_LICENCES.iterdir()))
        own = replace(own, texts=own.texts + texts, parts=parts)
    yield own
    icons = Path(str(made.locate_file(points[0].module.split(".")[0]))) / "templates/.icons"
    licence = icons / "material" / "LICENSE"
    if licence.is_file():
        texts = (licence.read_text("utf-8"),)
        yield Notice("Material Design Icons", "", "icons of the theme", texts)


def _of(found: Distribution, purpose: str) -> Notice:
    texts = [Path(str(found.locate_file(file))).read_text("utf-8") for file in _licences(found)]
    if not texts:
        named = found.metadata.get("License-Expression") or found.metadata.get("License") or ""
        texts = [f"{named}, as its package states." if named else "See its package."]
    return Notice(found.metadata["Name"], found.version, purpose, tuple(texts))


def _licences(found: Distribution) -> list[str]:
    """The licence files of a distribution as its record names them.

    ``Distribution.files`` would look for every single file on the disk; a theme has thousands.
    """
    record = found.read_text("RECORD")
    if record is None:
        names = [file.as_posix() for file in found.files or ()]
    else:
        names = [row[0] for row in csv.reader(record.splitlines()) if row]
    names = [name for name in names if ".dist-info/" in name]  # soon told, for thousands of icons
    return sorted(name for name in names if is_licence(PurePosixPath(name)))
