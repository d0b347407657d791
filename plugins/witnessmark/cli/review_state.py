"""The handbook, its ledger and where its pages stand, as the sign-off commands need them."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path

from witnessmark.cli.site_build import BuildFailedError, read_basis
from witnessmark.faults import Faults, WitnessMarkError, nearest
from witnessmark.handbook import Places
from witnessmark.review import load_ledger
from witnessmark.signoff import (
    Archive,
    HandbookBasis,
    Ledger,
    LedgerEntry,
    Signed,
    SignOffs,
    page_facts,
)
from witnessmark.signoff.git_history import Commit, History


class NoSuchPageError(WitnessMarkError):
    """A page was named that the handbook does not have."""


@dataclass(frozen=True)
class ReviewState:
    """A handbook and its ledger."""

    places: Places
    ledger: Ledger
    basis: HandbookBasis

    @property
    def archive(self) -> Archive:
        """The archive beside the ledger."""
        return Archive(self.places.archive)

    @property
    def sign_offs(self) -> SignOffs:
        """The ledger with its archive."""
        return SignOffs(self.ledger, self.archive)

    @property
    def history(self) -> History:
        """The version history, whether there is one or not."""
        return History(self.places.project)

    def page(self, name: str) -> str:
        """The source path of a page named by its path or by the last part of it.

        Raises NoSuchPageError.
        """
        return find_page(name, [*self.basis.pages], self.places)

    def signed_commit(self, entry: LedgerEntry) -> Commit | None:
        """The commit that brought a sign-off into the ledger."""
        return self.history.commit_with(entry.seal, self.places.ledger)

    def as_signed(self, entry: LedgerEntry) -> Signed | None:
        """The page as it was signed: from the archive, else out of the version history."""
        kept = self.archive.find(entry.archive) if entry.archive else None
        if kept is not None and _facts(kept) == entry.facts:
            return kept
        commit = self.signed_commit(entry)
        if commit is None:
            return None
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            if not self.history.unpack(commit, folder):
                return None
            try:
                then = read_basis(folder)
            except BuildFailedError:
                return None
        if entry.uri not in then.pages:
            return None
        page = then.pages[entry.uri]
        return Signed(page, {each.name: each for each in then.calculators_of(page)})


def _facts(kept: Signed) -> dict[str, str]:
    return page_facts(kept.page, kept.calculators.values())


def places_of(project: Path) -> Places:
    """The parts of a handbook in their usual places."""
    docs = project / "docs"
    return Places(project, docs, project / "calculators", docs / "databook")


def ledger_of(places: Places) -> Ledger:
    """The ledger of a handbook. Raises FaultsFound."""
    faults = Faults()
    ledger = load_ledger(places.ledger, places.shown(places.ledger), faults)
    faults.raise_if_any()
    return ledger


def review_state(project: Path) -> ReviewState:
    """Read ledger and pages. Raises FaultsFound and BuildFailedError."""
    places = places_of(project)
    return ReviewState(places, ledger_of(places), read_basis(project))


def find_page(name: str, uris: list[str], places: Places) -> str:
    """The page among ``uris`` that ``name`` means. Raises NoSuchPageError."""
    path = Path(name)
    wanted = {name, f"{name}.md"}
    if path.resolve().is_relative_to(places.docs.resolve()):
        wanted.add(path.resolve().relative_to(places.docs.resolve()).as_posix())
    if name.startswith("docs/"):
        wanted.add(name.removeprefix("docs/"))
    exact = [uri for uri in uris if uri in wanted]
    stem = path.name.removesuffix(".md")
    alike = exact or [uri for uri in uris if Path(uri).stem == stem]
    if len(alike) == 1:
        return alike[0]
    if alike:
        raise NoSuchPageError(f"'{name}' may be {' or '.join(alike)}: name it by its path")
    near = nearest(name, uris) or nearest(stem, [Path(uri).stem for uri in uris])
    hint = f"; did you mean '{near}'?" if near else ""
    raise NoSuchPageError(f"no page '{name}' in the handbook{hint}")
