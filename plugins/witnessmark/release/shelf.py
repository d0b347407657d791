"""The shelf: a folder with one release a version, of which the old ones say that they are old.

A page of an old release gets a banner, and browsers are no longer asked to keep it on their
device. Both can be undone to the byte, so a release stays checked against its manifest.
"""

from __future__ import annotations

import gzip
import os
import re
import shutil
from collections.abc import Iterable
from dataclasses import dataclass
from html import escape
from pathlib import Path

from witnessmark.release.manifest import NAME, OWN, Manifest, read_manifest
from witnessmark.release.tree import differing, file_digests

CURRENT = "current"
VERSION = re.compile(r"[0-9A-Za-z][0-9A-Za-z._-]*")

_OFFLINE, _NOT_OFFLINE = (
    b'<meta name="witnessmark-offline" content="yes">', b"<!--wm-not-offline-->",
)  # fmt: skip
_BANNER = re.compile(rb"<!--wm-old-->.*?<!--/wm-old-->", re.DOTALL)
_BODY = re.compile(rb"<body\b[^>]*>")


@dataclass(frozen=True)
class Shelf:
    """The folder of all releases."""

    folder: Path

    def releases(self) -> list[Manifest]:
        """Every release, the newest first: each names the one before it."""
        manifests = {m.version: m for m in map(read_manifest, self._folders())}
        followed = {manifest.previous for manifest in manifests.values()}
        heads = [m for m in manifests.values() if m.version not in followed]
        found: list[Manifest] = []
        for head in sorted(heads, key=lambda m: (m.day, m.version), reverse=True):
            at: Manifest | None = head
            while at is not None and at not in found:
                found.append(at)
                at = manifests.get(at.previous)
        return found

    def newest(self) -> Manifest | None:
        """The release that holds."""
        found = self.releases()
        return found[0] if found else None

    def has(self, version: str) -> bool:
        """Whether there is a release of this version."""
        return (self.folder / version).exists()

    def put(self, site: Path, manifest: Manifest, changes: str) -> Path:
        """Put a finished site on the shelf as the newest release; returns its folder."""
        self.folder.mkdir(parents=True, exist_ok=True)
        made = self.folder / f".{manifest.version}.new"
        shutil.rmtree(made, ignore_errors=True)
        shutil.copytree(site, made)
        manifest.write(made)
        (made / "changes.md").write_text(changes, "utf-8", newline="\n")
        placed = self.folder / manifest.version
        os.replace(made, placed)
        for older in self.releases():
            if older.version != manifest.version:
                self._mark_old(older, manifest)
        self._write_index()
        self._lead_to(manifest.version)
        return placed

    def differing(self, version: str) -> list[str]:
        """Files of a release that are not as its manifest says; banners do not count."""
        folder = self.folder / version
        manifest = read_manifest(folder)
        found = file_digests(folder, undone)
        found = {
            path: digest for path, digest in found.items()
            if path not in OWN and not (path.endswith(".gz") and path[:-3] in manifest.files)
        }  # fmt: skip
        compressed = [path for path in manifest.files if path.endswith(".gz")]
        found |= file_digests_of(folder, compressed)
        return differing(found, manifest.files)

    def _folders(self) -> Iterable[Path]:
        if not self.folder.is_dir():
            return []
        return [
            path for path in sorted(self.folder.iterdir())
            if not path.is_symlink() and not path.name.startswith(".") and (path / NAME).is_file()
        ]  # fmt: skip

    def _mark_old(self, old: Manifest, new: Manifest) -> None:
        folder, other = self.folder / old.version, self.folder / new.version
        for path in folder.rglob("*.html"):
            uri = path.relative_to(folder).as_posix()
            target = uri if (other / uri).is_file() else "index.html"
            address = f"{'../' * (uri.count('/') + 1)}{new.version}/{target}"
            _replace(path, _banner(undone(path.read_bytes()), old, new, address))

    def _write_index(self) -> None:
        """The list of releases, readable without a style."""
        rows = []
        for place, each in enumerate(self.releases()):
            word = "holds now" if place == 0 else "old"
            rows.append(
                f'<li><a href="{escape(each.version)}/index.html">Release {escape(each.version)}'
                f"</a>, {each.day}, {word}: {escape(each.note)} "
                f'(<a href="{escape(each.version)}/changes.md">what has changed</a>)</li>'
            )
        (self.folder / "index.html").write_text(
            '<!doctype html>\n<html lang="en">\n<head><meta charset="utf-8">'
            '<meta name="viewport" content="width=device-width, initial-scale=1">'
            '<meta name="color-scheme" content="light dark"><title>Releases</title></head>\n'
            f"<body>\n<h1>Releases</h1>\n<ul>\n{chr(10).join(rows)}\n</ul>\n</body>\n</html>\n",
            "utf-8", newline="\n",
        )  # fmt: skip

    def _lead_to(self, version: str) -> None:
        """``current`` leads to the newest release: a link, or a page where there are no links."""
        link, made = self.folder / CURRENT, self.folder / f".{CURRENT}.new"
        if link.is_dir() and not link.is_symlink():
            shutil.rmtree(link)
        made.unlink(missing_ok=True)
        try:
            made.symlink_to(version, target_is_directory=True)
            os.replace(made, link)
        except OSError:
            link.mkdir()
            (link / "index.html").write_text(
                '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
                f'<meta http-equiv="refresh" content="0; url=../{escape(version)}/index.html">'
                f'<title>Handbook</title></head><body><a href="../{escape(version)}/index.html">'
                f"Release {escape(version)}</a></body></html>\n",
                "utf-8",
            )


def file_digests_of(folder: Path, paths: Iterable[str]) -> dict[str, str]:
    """Digests of some files of a folder, those that are there."""
    found = file_digests(folder)
    return {path: found[path] for path in paths if path in found}


def undone(page: bytes) -> bytes:
    """A page as it was released, without what was done to it when it became old."""
    return _BANNER.sub(b"", page).replace(_NOT_OFFLINE, _OFFLINE)


def _banner(page: bytes, old: Manifest, new: Manifest, address: str) -> bytes:
    text = (
        f'<!--wm-old--><div class="wm-old-release" role="note">This is release {old.version} of '
        f"{old.day}. It is old: release {new.version} of {new.day} has taken its place. "
        f'<a href="{escape(address)}">Go to release {new.version}</a></div><!--/wm-old-->'
    ).encode()
    body = _BODY.search(page)
    at = body.end() if body else 0
    marked = page[:at] + text + page[at:]
    return marked.replace(_OFFLINE, _NOT_OFFLINE)


def _replace(path: Path, data: bytes) -> None:
    """Write a page anew, and with it the copy that was compressed for the server."""
    path.write_bytes(data)
    compressed = path.with_name(f"{path.name}.gz")
    if compressed.is_file():
        compressed.write_bytes(gzip.compress(data, 9, mtime=0))
