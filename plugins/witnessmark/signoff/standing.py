"""Where each page stands: signed, changed since sign-off, or unsigned."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from witnessmark.signoff.archive import Archive, Signed
from witnessmark.signoff.basis import CALCULATOR_FACTS, Facts, HandbookBasis, PageBasis
from witnessmark.signoff.changes import Change, changes_between
from witnessmark.signoff.ledger import Ledger, LedgerEntry, SignOff

SIGNED, CHANGED, UNSIGNED = "signed", "changed", "unsigned"
STATES = (SIGNED, CHANGED, UNSIGNED)


@dataclass(frozen=True)
class Standing:
    """Where one page stands, and why.

    ``latest`` is the sign-off in question, None on an unsigned page. A page that follows its
    calculator shows the sign-off of the page ``through``, with which the calculator was signed.
    """

    uri: str
    title: str
    state: str
    latest: SignOff | None = None
    review_by: str = ""
    changes: tuple[Change, ...] = ()
    history: tuple[SignOff, ...] = ()
    is_procedure: bool = False
    follows: bool = False
    through: str = ""

    @property
    def kinds(self) -> tuple[str, ...]:
        """What has changed, each kind once: words, values, maths, pictures."""
        return tuple(dict.fromkeys(change.kind for change in self.changes))

    def is_due(self, day: date) -> bool:
        """Whether the page had to be reviewed again before or on ``day``."""
        return bool(self.review_by) and date.fromisoformat(self.review_by) <= day


@dataclass
class Standings:
    """The standing of every page that carries a sign-off, and entries without a page."""

    pages: dict[str, Standing] = field(default_factory=dict)
    gone: tuple[str, ...] = ()

    def in_state(self, *states: str) -> list[Standing]:
        """The pages in one of the states, by path."""
        return [page for page in self.pages.values() if page.state in states]

    @property
    def all_signed(self) -> bool:
        """Whether there is nothing but signed pages, and an entry for nothing else."""
        return not self.in_state(CHANGED, UNSIGNED) and not self.gone


@dataclass
class SignOffs:
    """The ledger with its archive, asked where pages stand.

    A page carries a sign-off when it is a procedure, shows a value or a calculator, or has
    been signed before. The reference page of a calculator follows it: it is signed when the
    calculator was signed as it stands, with whatever page.
    """

    ledger: Ledger
    archive: Archive
    _read: dict[str, Signed | None] = field(default_factory=dict, init=False, repr=False)

    def standings(self, basis: HandbookBasis) -> Standings:
        """Where every page of the handbook stands."""
        found = {uri: self.standing(basis, uri) for uri in sorted(basis.pages)}
        gone = (uri for uri in sorted(self.ledger.entries) if uri not in basis.pages)
        return Standings({uri: page for uri, page in found.items() if page}, tuple(gone))

    def standing(self, basis: HandbookBasis, uri: str) -> Standing | None:
        """Where one page stands; None when it carries no sign-off."""
        page = basis.pages[uri]
        entry = self.ledger.entries.get(uri)
        if entry is None and not page.rests_on_something:
            return None
        facts = basis.facts(uri)
        if page.follows and not (entry and entry.facts == facts):
            entry = self._with_the_calculator(facts) or entry
        if entry is None:
            return Standing(uri, page.title, UNSIGNED, None, "", (), (), page.is_procedure,
                            page.follows)  # fmt: skip
        changes = self._changes(basis, page, facts, entry)
        own = entry.uri == uri
        return Standing(
            uri,
            page.title,
            CHANGED if changes else SIGNED,
            entry.latest,
            entry.review_by if own else "",
            changes,
            entry.history if own else (),
            page.is_procedure,
            page.follows,
            "" if own else entry.uri,
        )

    def _signed(self, digest: str) -> Signed | None:
        """A page as it was signed; read once, however often it is asked where pages stand."""
        if digest not in self._read:
            self._read[digest] = self.archive.find(digest)
        return self._read[digest]

    def _changes(
        self, basis: HandbookBasis, page: PageBasis, facts: Facts, entry: LedgerEntry
    ) -> tuple[Change, ...]:
        signed = entry.facts
        if page.follows:  # of another page's entry only what is about this calculator
            signed = {name: digest for name, digest in signed.items() if name in facts}
        if signed == facts:
            return ()
        was = self._signed(entry.archive) if entry.archive else None
        return changes_between(signed, facts, page, basis.calculators_of(page), was)

    @cached_property
    def _holders(self) -> Mapping[str, list[LedgerEntry]]:
        """Entries by the facts about calculators that they hold, the newest first."""
        found: dict[str, list[LedgerEntry]] = {}
        entries = self.ledger.entries.values()
        for entry in sorted(entries, key=lambda e: (e.latest.signed, e.uri), reverse=True):
            for name in entry.facts:
                if name.startswith(CALCULATOR_FACTS):
                    found.setdefault(name, []).append(entry)
        return found

    def _with_the_calculator(self, facts: Facts) -> LedgerEntry | None:
        """The newest entry with the calculator as it stands, else the newest with it at all."""
        entries = [entry for name in facts for entry in self._holders.get(name, ())]
        same = (
            entry
            for entry in entries
            if all(entry.facts.get(name) == digest for name, digest in facts.items())
        )
        return next(same, entries[0] if entries else None)
