"""The ledger: for each page what was signed, by which role, when, and what came before."""

from __future__ import annotations

import calendar
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from witnessmark.signoff.basis import Facts
from witnessmark.signoff.digests import rows_digest


@dataclass(frozen=True)
class SignOff:
    """One sign-off of a page.

    ``signed`` is the day, ``role`` who signed, ``note`` the reviewer's own words,
    ``changed`` what was new against the sign-off before.
    """

    signed: str
    role: str
    note: str
    changed: str


@dataclass(frozen=True)
class LedgerEntry:
    """What the ledger says of one page.

    ``review_by`` is the day by which it must be reviewed again, or empty. ``facts`` are those
    of the page when it was signed. ``history`` holds earlier sign-offs, newest first.
    ``archive`` names what was kept of the page beside the ledger, ``seal`` binds all of the
    entry together; ``line`` is where it begins in the file.
    """

    uri: str
    latest: SignOff
    facts: Facts
    review_by: str = ""
    history: tuple[SignOff, ...] = ()
    archive: str = ""
    seal: str = ""
    line: int = field(default=0, compare=False)

    def right_seal(self) -> str:
        """The seal that belongs to this entry as it stands."""
        signed = [[s.signed, s.role, s.note, s.changed] for s in (self.latest, *self.history)]
        return rows_digest([self.uri, signed, self.review_by, self.archive, dict(self.facts)])

    def sealed(self) -> LedgerEntry:
        """The same entry with its right seal."""
        return replace(self, seal=self.right_seal())

    @property
    def sign_offs(self) -> tuple[SignOff, ...]:
        """All sign-offs of the page, newest first."""
        return (self.latest, *self.history)


@dataclass
class Ledger:
    """Entries by the page's path below the documents folder."""

    entries: dict[str, LedgerEntry] = field(default_factory=dict)

    def sign(
        self, uri: str, facts: Mapping[str, str], sign_off: SignOff, review_by: str, archive: str
    ) -> LedgerEntry:
        """Put a new sign-off of a page on top of those it has."""
        before = self.entries.get(uri)
        entry = LedgerEntry(
            uri,
            sign_off,
            dict(sorted(facts.items())),
            review_by,
            before.sign_offs if before else (),
            archive,
        ).sealed()
        self.entries[uri] = entry
        return entry

    def strike(self, uris: Iterable[str]) -> None:
        """Take the entries of pages out."""
        for uri in uris:
            self.entries.pop(uri, None)


def months_after(day: date, months: int) -> date:
    """The same day so many months later, or the last day of a shorter month."""
    year, month = divmod(day.month - 1 + months, 12)
    year, month = day.year + year, month + 1
    return date(year, month, min(day.day, calendar.monthrange(year, month)[1]))
