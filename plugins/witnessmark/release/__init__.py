"""A release: a signed, checked, reproducible site under a version, beside the older ones.

``releases/<version>/`` is a whole site with a manifest and a list of what has changed;
``releases/current`` leads to the newest. Nothing here builds a site: the command line does.
"""

from witnessmark.release.links import broken_links
from witnessmark.release.manifest import Manifest, ReleasedPage, read_manifest
from witnessmark.release.shelf import Shelf
from witnessmark.release.since import PageChanges, changes_since, changes_text
from witnessmark.release.tree import differing, file_digests

__all__ = [
    "Manifest",
    "PageChanges",
    "ReleasedPage",
    "Shelf",
    "broken_links",
    "changes_since",
    "changes_text",
    "differing",
    "file_digests",
    "read_manifest",
]
