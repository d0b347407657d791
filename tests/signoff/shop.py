"""A small invented handbook on disk, rendered without a site generator, for the sign-off tests."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import markdown

from witnessmark.handbook import Handbook, Places
from witnessmark.page import WitnessMarkExtension
from witnessmark.signoff import HandbookBasis, SignOff, Standings, write_ledger

MKDOCS_YML = """\
site_name: Test handbook
theme: {name: material, font: false}
plugins: [witnessmark]
markdown_extensions: [tables, attr_list, {pymdownx.snippets: {base_path: [snippets]}}]
"""

LEVER = '''\
"""A lever, for tests."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.statics import moment
from witnessmark.calc import CheckValue, Force, Length, Source, Torque, calculator, entry, result

STATICS = Source("statics", "Moment of a force, by hand", kind="derivation")


@dataclass(frozen=True)
class Lever:
    torque: Torque = result("Torque at the nut", lead=True)


@calculator(
    name="lever", title="A lever", topic="statics", purpose="Force times arm.", sources=[STATICS],
    check_values=[CheckValue("2 m", {"arm": "2 m"}, {"torque": "600 N·m"}, source=STATICS)],
)
def lever(*, force: Force = entry("Force", "300 N", least=0),
          arm: Length = entry("Arm", "1 m", units=("m", "mm", "in"), above=0)) -> Lever:
    return Lever(moment(force, arm))
'''

STATICS = '''\
"""Statics of the lever."""


def moment(force, arm):
    """Force times arm."""
    return force * arm
'''

WEDGE = '''\
"""A wedge, for tests."""

from __future__ import annotations

from dataclasses import dataclass

from witnessmark.calc import CheckValue, Length, Source, calculator, entry, number, result

SIMILAR = Source("similar", "Similar triangles, by hand", kind="derivation")


@dataclass(frozen=True)
class Wedge:
    lift: Length = result("Lift", lead=True)


@calculator(
    name="wedge", title="A wedge", topic="statics", purpose="Lift of a wedge of 1 in 10.",
    check_values=[CheckValue("80 mm", {"drive": "80 mm"}, {"lift": "8 mm"}, source=SIMILAR)],
)
def wedge(*, drive: Length = entry("Driven in by", "50 mm", least=0)) -> Wedge:
    return Wedge(drive / 10)
'''

FILES = {
    "mkdocs.yml": MKDOCS_YML,
    "docs/index.md": "# Start\n\nWords only.\n",
    "docs/pull.md": """\
---
title: Pull on the bar
machines: [LG2]
tools: [bar]
---
# Pull on the bar

The nut gets {nut.torque}. Pull steadily and look at the mark.

//// step | Pull
Seat the bar square.

/// calculator | lever
arm: tools.bar.length
///
////
""",
    "docs/lift.md": """\
---
title: Lift the flywheel
machines: [LG2, LG3]
---
# Lift the flywheel

--8<-- "warning.md"

![The wedge](wedge.svg)

It weighs {flywheel.mass}.

//// step | Drive the wedge in
/// calculator | wedge
///
////
""",
    "docs/wedge.svg": '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0L10 1"/></svg>\n',
    "snippets/warning.md": "Keep your fingers out of the gap.\n",
    "docs/databook/lg2.yml": """\
machine: LG2
source: sheet 2
rev: A
nut:
  torque: {is: 480 N·m ± 4 %, kind: torque}
flywheel:
  mass: {is: 31 kg, kind: mass}
""",
    "docs/databook/lg3.yml": """\
machine: LG3
source: sheet 3
nut:
  torque: {is: 118 N·m, kind: torque}
flywheel:
  mass: {is: 44 kg, kind: mass}
""",
    "docs/databook/shop.yml": """\
source: tool card
tools:
  bar:
    title: long bar
    length: {is: 1.2 m, kind: length}
""",
    "calculators/__init__.py": '"""Calculators of a test."""\n',
    "calculators/lever.py": LEVER,
    "calculators/statics.py": STATICS,
    "calculators/wedge.py": WEDGE,
}

PAGES = ("index.md", "pull.md", "lift.md")
LEVER_PAGE, WEDGE_PAGE = (f"reference/calculators/{name}.md" for name in ("lever", "wedge"))
FIRST = SignOff("2025-11-25", "reviewer", "First issue", "first sign-off")


@dataclass(frozen=True)
class Shop:
    """The handbook in a folder."""

    folder: Path

    def replace(self, name: str, old: str, new: str) -> None:
        """Change one text in a file, which must be there."""
        path = self.folder / name
        text = path.read_text("utf-8")
        assert old in text
        path.write_text(text.replace(old, new), "utf-8", newline="")

    def render(self) -> tuple[Handbook, dict[str, str]]:
        """Render every page; the handbook and the HTML by source path."""
        docs = self.folder / "docs"
        places = Places(self.folder, docs, self.folder / "calculators", docs / "databook")
        handbook = Handbook(places)
        handbook.load()
        texts = {uri: (docs / uri).read_bytes().decode() for uri in PAGES}
        generated = handbook.generated_pages()
        texts |= {uri: generated[uri] for uri in (LEVER_PAGE, WEDGE_PAGE)}
        handbook.know_pages(texts)
        html = {}
        for uri, text in texts.items():
            page = handbook.context(uri, text, lambda name: "")
            body = "\n".join(page.source.split("\n")[page.front.body_line - 1 :])
            extension = WitnessMarkExtension(page)
            html[uri] = markdown.markdown(
                body,
                extensions=[extension, "tables", "attr_list", "pymdownx.snippets"],
                extension_configs={
                    "pymdownx.snippets": {"base_path": [str(self.folder / "snippets")]}
                },
            )
            html[uri] = handbook.stand_ins.filled(handbook.finish(uri, html[uri], ""))
        handbook.faults.raise_if_any()
        return handbook, html

    def basis(self) -> HandbookBasis:
        """What the pages rest on."""
        return self.render()[0].review.basis

    def standings(self) -> Standings:
        """Where the pages stand."""
        return self.render()[0].review.standings()

    def reasons(self) -> dict[str, list[tuple[str, str]]]:
        """Changed pages with the kind and the text of every change."""
        return {
            page.uri: [(change.kind, change.text) for change in page.changes]
            for page in self.standings().in_state("changed")
        }

    def sign(self, *uris: str, sign_off: SignOff = FIRST, review_by: str = "") -> None:
        """Put pages into the ledger as they stand."""
        handbook, _ = self.render()
        review = handbook.review
        ledger, archive = review.sign_offs.ledger, review.sign_offs.archive
        for uri in uris or ("pull.md", "lift.md"):
            page = review.basis.pages[uri]
            kept = archive.keep(page, review.basis.calculators_of(page))
            ledger.sign(uri, review.basis.facts(uri), sign_off, review_by, kept)
        handbook.places.ledger.write_text(write_ledger(ledger), "utf-8")


def make_shop(folder: Path) -> Shop:
    """Write the handbook into a folder."""
    for name, text in FILES.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return Shop(folder)


def days_from(day: str, days: int) -> str:
    """A day so many days after another."""
    return date.fromordinal(date.fromisoformat(day).toordinal() + days).isoformat()
