"""Digests of the ledger: of texts and of small tables, the same on every machine."""

from __future__ import annotations

import hashlib
import json
import re
from typing import Any

LENGTH = 32
"""Hexadecimal digits of a digest: 128 bits, short enough to read in a merge."""

DIGEST = re.compile(f"[0-9a-f]{{{LENGTH}}}")


def text_digest(text: str) -> str:
    """SHA-256 of a text, cut to ``LENGTH`` digits."""
    return bytes_digest(text.encode("utf-8", "surrogatepass"))


def bytes_digest(data: bytes) -> str:
    """SHA-256 of bytes, cut to ``LENGTH`` digits."""
    return hashlib.sha256(data).hexdigest()[:LENGTH]


def canonical(content: Any) -> str:
    """JSON with one way to write it: sorted keys, no spaces, plain ASCII."""
    return json.dumps(content, sort_keys=True, separators=(",", ":"))


def rows_digest(content: Any) -> str:
    """The digest of anything that JSON can hold."""
    return text_digest(canonical(content))


def normalised(text: str) -> str:
    """A text without what no reader sees: byte order mark, line endings, blanks at line ends,
    empty lines at both ends."""
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return "\n".join(line.rstrip() for line in lines).strip("\n")


def words(text: str) -> str:
    """The words of a page: its text normalised, with one empty line for several.

    Where an include ends in an empty line of its own, the reader sees no other page.
    """
    return re.sub(r"\n{3,}", "\n\n", normalised(text))
