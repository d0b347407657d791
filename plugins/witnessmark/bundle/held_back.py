"""Tables of the runtime that a calculator hardly ever reads, and that therefore stay behind.

They are constants of a few built-in modules: characters of East Asian encodings, names of
characters. Together they are a tenth of a compressed heap image. They travel in a file of
their own, which is fetched when one of the modules is imported.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from witnessmark.bundle.archives import digest

FILE = "tables.bin"


@dataclass(frozen=True)
class Table:
    """Memory from ``begin`` up to ``end``, read by nobody but ``modules``."""

    modules: tuple[str, ...]
    begin: int
    end: int

    def asked(self) -> dict[str, Any]:
        """In words of JSON."""
        return {"modules": list(self.modules), "begin": self.begin, "end": self.end}


_ENCODINGS = Table(
    # From the first to the last map that the modules hand to each other (capsules __map_*,
    # structures dbcs_map and unim_index of CPython's Modules/cjkcodecs); they lie side by side.
    ("_codecs_cn", "_codecs_hk", "_codecs_iso2022", "_codecs_jp", "_codecs_kr", "_codecs_tw"),
    0x93CE0,
    0x123AF0,
)
_NAMES = Table(
    # Most of dawg_codepoint_to_pos_index2, packed_name_dawg and dawg_pos_to_codepoint of
    # CPython's Modules/unicodename_db.h; what str itself asks of Unicode lies elsewhere.
    ("unicodedata",),
    0x151000,
    0x1B3000,
)

# By the digest of the runtime's module: places in memory are those of one build of it.
TABLES = {
    "54309a5a2cfd757b1f0fdbc9093c92503f7b341500110329d932487183912718": (_ENCODINGS, _NAMES),
}


def tables(module: Path) -> list[dict[str, Any]]:
    """What may stay behind of this module of the runtime; nothing of one that is not known."""
    return [each.asked() for each in TABLES.get(digest(module.read_bytes()), ())]
