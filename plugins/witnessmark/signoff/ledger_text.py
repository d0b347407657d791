"""The ledger as text: YAML with one way to write it, so that a merge is one of lines.

One entry a page, one line a fact, everything sorted. Two people who sign different pages
never meet; two who sign the same page meet in lines that say what they are about. What the
reader below does not know is no ledger: it tells the line and what would be right. It reads
twenty thousand lines in a blink, which a general YAML reader does not.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

from witnessmark.faults import Faults
from witnessmark.signoff.digests import DIGEST
from witnessmark.signoff.ledger import Ledger, LedgerEntry, SignOff

HEAD = """\
# The sign-offs of this handbook, one entry a page, written by "witnessmark signoff sign".
# After a merge conflict keep the whole entry of one side, then ask "witnessmark signoff status".
"""

_PLAIN_KEY = re.compile(r"[\w./][\w./ @+-]*")
_TEXT = r'"(?:[^"\\]|\\.)*"'
_DAY = r"\d{4}-\d\d-\d\d"
_PAGE = re.compile(rf"(?P<key>{_TEXT}|[^\s#\"'-][^:]*):\s*")
_FIELD = re.compile(rf"  (?P<key>{_TEXT}|[a-z][a-z ]*):(?:\s+(?P<value>\S.*?))?\s*")
_FACT = re.compile(rf"    (?P<key>{_TEXT}|[^\s\"'][^:]*):\s+(?P<value>\S+)\s*")
_PAST = re.compile(
    rf"    - \{{signed: (?P<signed>{_DAY}), role: (?P<role>{_TEXT}), note: (?P<note>{_TEXT}), "
    rf"changed: (?P<changed>{_TEXT})\}}\s*"
)
_CONFLICT = re.compile(r"(<{7}|\|{7}|={7}|>{7})(?:[ ].*)?")
_TEXTS, _DAYS, _DIGESTS = ("role", "note", "changed"), ("signed", "review by"), ("archive", "seal")
_GROUPS = ("facts", "history")


def write_ledger(ledger: Ledger) -> str:
    """The text of a ledger."""
    return HEAD + "".join(
        "\n" + "".join(f"{line}\n" for line in _entry_lines(ledger.entries[uri]))
        for uri in sorted(ledger.entries)
    )


def _entry_lines(entry: LedgerEntry) -> Iterator[str]:
    latest = entry.latest
    yield f"{_key(entry.uri)}:"
    yield f"  signed: {latest.signed}"
    yield f"  role: {_text(latest.role)}"
    yield f"  note: {_text(latest.note)}"
    yield f"  changed: {_text(latest.changed)}"
    if entry.review_by:
        yield f"  review by: {entry.review_by}"
    yield "  facts:"
    for name, digest in sorted(entry.facts.items()):
        yield f"    {_key(name)}: {digest}"
    if entry.history:
        yield "  history:"
        for past in entry.history:
            yield (
                f"    - {{signed: {past.signed}, role: {_text(past.role)}, "
                f"note: {_text(past.note)}, changed: {_text(past.changed)}}}"
            )
    if entry.archive:
        yield f"  archive: {entry.archive}"
    yield f"  seal: {entry.seal}"


def _text(text: str) -> str:
    """A text in quotes; the escapes of JSON are those of YAML."""
    return json.dumps(" ".join(text.split()), ensure_ascii=False)


def _key(key: str) -> str:
    return key if _PLAIN_KEY.fullmatch(key) and not key.endswith(" ") else _text(key)


@dataclass
class _Draft:
    """An entry while its lines are read."""

    uri: str
    line: int
    texts: dict[str, str] = field(default_factory=dict)
    facts: dict[str, str] = field(default_factory=dict)
    history: list[SignOff] = field(default_factory=list)
    group: str = ""
    sound: bool = True


def read_ledger(text: str, file: str, faults: Faults) -> Ledger:
    """The ledger in ``text``; what is wrong in it goes to ``faults``, named ``file``."""
    return _Reader(file, faults).read(text.removeprefix("\ufeff").replace("\r\n", "\n"))


@dataclass
class _Reader:
    file: str
    faults: Faults
    ledger: Ledger = field(default_factory=Ledger)
    draft: _Draft | None = None

    def read(self, text: str) -> Ledger:
        lines = text.split("\n")
        if self._conflicts(lines):
            return self.ledger  # what else is wrong follows from the conflict
        for number, line in enumerate(lines, 1):
            if line.strip() and not line.lstrip().startswith("#"):
                self._take(number, line)
        self._finish()
        return self.ledger

    def _fault(self, line: int, name: str, found: str, expected: str, code: str) -> None:
        self.faults.add(self.file, line, name, found, expected, code=code)

    def _conflicts(self, lines: list[str]) -> bool:
        """Note every conflict that a merge has left, with the page it is about."""
        page, begun = "", 0
        found = False
        for number, line in enumerate(lines, 1):
            match = _PAGE.fullmatch(line)
            mark = _CONFLICT.fullmatch(line)
            if match:
                page = _unquoted(match["key"])
            if mark and mark[1] in ("<<<<<<<", ">>>>>>>", "=======") and not begun:
                begun = number
                found = True
                self._fault(
                    number, page or "ledger", "a merge conflict that nobody has resolved",
                    "the whole entry of this page from one side, without the marks <<<<<<<, "
                    "======= and >>>>>>>; then sign the page again if it is changed",
                    "ledger-conflict",
                )  # fmt: skip
            if mark and mark[1] == ">>>>>>>":
                begun = 0
        return found

    def _take(self, number: int, line: str) -> None:
        draft = self.draft
        if not line.startswith(" "):
            match = _PAGE.fullmatch(line)
            self._finish()
            if match is None:
                self._strange(number, line, "the path of a page and a colon")
                return
            uri = _unquoted(match["key"])
            if uri in self.ledger.entries:
                self._fault(
                    number, uri, "a second entry for this page",
                    "one entry a page; keep the one that is right", "ledger-twice",
                )  # fmt: skip
            self.draft = _Draft(uri, number)
            return
        if draft is None:
            self._strange(number, line, "an entry that begins with the path of a page")
        elif draft.group == "facts" and (match := _FACT.fullmatch(line)):
            self._fact(draft, number, _unquoted(match["key"]), match["value"])
        elif draft.group == "history" and (match := _PAST.fullmatch(line)):
            draft.history.append(
                SignOff(
                    match["signed"], *(json.loads(match[k]) for k in ("role", "note", "changed"))
                )
            )
        elif match := _FIELD.fullmatch(line):
            self._field(draft, number, _unquoted(match["key"]), match["value"] or "")
        else:
            draft.sound = False
            self._strange(number, line, "a line as 'witnessmark signoff sign' writes it")

    def _strange(self, number: int, line: str, expected: str) -> None:
        self._fault(
            number, self.draft.uri if self.draft else "ledger", f"'{line.strip()[:60]}'", expected,
            "ledger-line",
        )  # fmt: skip

    def _fact(self, draft: _Draft, number: int, name: str, digest: str) -> None:
        if not DIGEST.fullmatch(digest) or name in draft.facts:
            draft.sound = False
            found = f"'{digest}'" if name not in draft.facts else "the same fact a second time"
            self._fault(
                number, f"{draft.uri}, {name}", found, "a digest as 'witnessmark signoff sign' "
                "writes it; restore the entry from history or sign the page again",
                "ledger-digest",
            )  # fmt: skip
        draft.facts[name] = digest

    def _field(self, draft: _Draft, number: int, key: str, value: str) -> None:
        draft.group = key if key in _GROUPS and not value else ""
        if draft.group:
            return
        read = _value(key, value)
        if read is None or key in draft.texts:
            draft.sound = False
            found = f"'{key}: {value}'" if key not in draft.texts else f"'{key}' a second time"
            kinds = dict.fromkeys(_TEXTS, "a text in double quotes")
            kinds |= dict.fromkeys(_DAYS, "a day such as 2025-11-25")
            kinds |= dict.fromkeys(_DIGESTS, "a digest")
            known = ", ".join((*kinds, *_GROUPS))
            self._fault(
                number, f"{draft.uri}, {key}", found, kinds.get(key, f"one of {known}"),
                "ledger-field",
            )  # fmt: skip
            return
        draft.texts[key] = read

    def _finish(self) -> None:
        """Put the entry that has been read into the ledger, when its seal is right."""
        draft, self.draft = self.draft, None
        if draft is None:
            return
        lacking = [key for key in ("signed", "role", "note", "changed", "seal")
                   if key not in draft.texts]  # fmt: skip
        if not draft.facts:
            lacking.append("facts")
        if lacking and draft.sound:
            self._fault(
                draft.line, draft.uri, f"an entry without {' and '.join(lacking)}",
                "an entry as 'witnessmark signoff sign' writes it", "ledger-lacking",
            )  # fmt: skip
        if lacking or not draft.sound:
            return
        texts = draft.texts
        entry = LedgerEntry(
            draft.uri,
            SignOff(texts["signed"], texts["role"], texts["note"], texts["changed"]),
            draft.facts,
            texts.get("review by", ""),
            tuple(draft.history),
            texts.get("archive", ""),
            texts["seal"],
            draft.line,
        )
        if entry.seal != entry.right_seal():
            self._fault(
                draft.line, draft.uri, "an entry that was changed by hand or mixed in a merge: "
                "its seal does not fit",
                "the entry as it was written; restore it from history or sign the page again",
                "ledger-seal",
            )  # fmt: skip
            return
        self.ledger.entries[entry.uri] = entry


def _value(key: str, value: str) -> str | None:
    """The value of a field, or None when it is not of the field's form."""
    if key in _TEXTS and re.fullmatch(_TEXT, value):
        try:
            return str(json.loads(value))
        except ValueError:
            return None
    if key in _DAYS:
        try:
            date.fromisoformat(value)
        except ValueError:
            return None
        return value if re.fullmatch(_DAY, value) else None
    if key in _DIGESTS and DIGEST.fullmatch(value):
        return value
    return None


def _unquoted(key: str) -> str:
    return str(json.loads(key)) if key.startswith('"') else key.strip()
