"""Sign-off: whether a page's words, values and maths are still those that were reviewed together.

``docs/signoff.yml`` is the ledger: an entry a page, with the digest of everything the page
rests on. ``SignOffs`` compares it with a handbook's ``HandbookBasis``, which is plain data made
by the build; ``Archive`` keeps what was signed, so that differences can be shown in full.
Nothing here knows Markdown, HTML or a site generator.
"""

from witnessmark.signoff.archive import Archive, Signed
from witnessmark.signoff.basis import (
    CalculatorBasis,
    Facts,
    HandbookBasis,
    PageBasis,
    ValueRow,
    page_facts,
)
from witnessmark.signoff.calculators import calculator_basis
from witnessmark.signoff.changes import Change, changes_between
from witnessmark.signoff.code_digest import code_digest
from witnessmark.signoff.digests import bytes_digest, normalised, text_digest, words
from witnessmark.signoff.ledger import Ledger, LedgerEntry, SignOff, months_after
from witnessmark.signoff.ledger_text import read_ledger, write_ledger
from witnessmark.signoff.standing import (
    CHANGED,
    SIGNED,
    STATES,
    UNSIGNED,
    SignOffs,
    Standing,
    Standings,
)

__all__ = [
    "CHANGED",
    "SIGNED",
    "STATES",
    "UNSIGNED",
    "Archive",
    "CalculatorBasis",
    "Change",
    "Facts",
    "HandbookBasis",
    "Ledger",
    "LedgerEntry",
    "PageBasis",
    "SignOff",
    "SignOffs",
    "Signed",
    "Standing",
    "Standings",
    "ValueRow",
    "bytes_digest",
    "calculator_basis",
    "changes_between",
    "code_digest",
    "months_after",
    "normalised",
    "page_facts",
    "read_ledger",
    "text_digest",
    "words",
    "write_ledger",
]
