"""The manifest of a release: what it is, who signed its pages, and every file by its digest."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from pathlib import Path

from witnessmark.faults import WitnessMarkError

NAME = "manifest.json"
OWN = (NAME, "changes.md")
"""Files of a release that are written beside the site and are no part of it."""


class UnreadableManifestError(WitnessMarkError):
    """A folder is no release, or its manifest cannot be read."""


@dataclass(frozen=True)
class ReleasedPage:
    """A page of a release with the sign-off that stands behind it.

    ``facts`` are digests by name, as in the ledger; ``signed`` is the day.
    """

    title: str
    role: str
    signed: str
    note: str
    facts: Mapping[str, str]


@dataclass(frozen=True)
class Manifest:
    """A release.

    ``day`` is the day of the release, ``previous`` the version before it (or empty),
    ``check_values`` the number that was met in both runtimes, ``files`` SHA-256 by path.
    """

    version: str
    day: str
    note: str
    previous: str
    program: str
    runtime: str
    check_values: int
    pages: Mapping[str, ReleasedPage] = field(default_factory=dict)
    files: Mapping[str, str] = field(default_factory=dict)

    @property
    def digest(self) -> str:
        """One digest over all files."""
        lines = "".join(f"{digest}  {path}\n" for path, digest in sorted(self.files.items()))
        return hashlib.sha256(lines.encode()).hexdigest()

    def write(self, folder: Path) -> None:
        """Write it into the folder of its release."""
        data = {**asdict(self), "digest": self.digest}
        text = json.dumps(data, ensure_ascii=False, indent=1)
        (folder / NAME).write_text(text + "\n", "utf-8", newline="\n")


def read_manifest(folder: Path) -> Manifest:
    """The manifest of the release in a folder. Raises UnreadableManifestError."""
    try:
        data = json.loads((folder / NAME).read_text("utf-8"))
        data.pop("digest")
        pages = {uri: ReleasedPage(**page) for uri, page in data.pop("pages").items()}
        return Manifest(pages=pages, **data)
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise UnreadableManifestError(f"{folder}: no release ({error})") from error
