"""What has changed since the last release, page by page, in words for the shop."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from witnessmark.release.manifest import Manifest, ReleasedPage
from witnessmark.signoff import SignOff

KINDS = {"words": "words", "value": "values", "picture": "pictures", "code": "maths",
         "check values": "maths", "results": "maths"}  # fmt: skip


@dataclass(frozen=True)
class PageChanges:
    """A page that is not as it was released before, and a line for each thing to know of it."""

    uri: str
    title: str
    lines: tuple[str, ...]


def changes_since(
    previous: Manifest | None,
    pages: Mapping[str, ReleasedPage],
    sign_offs: Mapping[str, Iterable[SignOff]],
) -> list[PageChanges]:
    """The pages that differ from the release before, in the order of their paths.

    ``sign_offs`` are all sign-offs of a page, the newest first: those that the previous release
    did not have tell what has changed in the reviewer's words.
    """
    before = previous.pages if previous else {}
    found = []
    for uri in sorted({**before, **pages}):
        was, now = before.get(uri), pages.get(uri)
        if now is None and was is not None:
            found.append(PageChanges(uri, was.title, ("No longer in the handbook.",)))
        elif now is not None and was is None:
            found.append(PageChanges(uri, now.title, (f"New. {_by(now)}",)))
        elif now is not None and was is not None and now.facts != was.facts:
            lines = [f"Changed: {', '.join(_kinds(was.facts, now.facts))}."]
            lines += _told(sign_offs.get(uri, ()), was)
            found.append(PageChanges(uri, now.title, tuple(lines)))
    return found


def _by(page: ReleasedPage) -> str:
    return f"Signed {page.signed}, {page.role}: {page.note}"


def _kinds(was: Mapping[str, str], now: Mapping[str, str]) -> list[str]:
    names = [name for name in {**was, **now} if was.get(name) != now.get(name)]
    kinds = {KINDS[key] for key in KINDS for name in names if f"{name} ".startswith(f"{key} ")}
    return [kind for kind in ("words", "values", "maths", "pictures") if kind in kinds]


def _told(sign_offs: Iterable[SignOff], was: ReleasedPage) -> list[str]:
    lines = []
    for each in sign_offs:
        if (each.signed, each.role, each.note) == (was.signed, was.role, was.note):
            break
        lines.append(f"{each.signed}, {each.role}: {each.note} ({each.changed})")
    return lines


def changes_text(
    version: str, day: str, note: str, previous: str, changes: Iterable[PageChanges]
) -> str:
    """The list as a text that can be read as it is."""
    title = f"# Release {version}, {day}"
    lines = [title, "", note, "", f"## Since release {previous}" if previous else "## Pages", ""]
    pages = list(changes)
    for page in pages:
        lines.append(f"- {page.title} ({page.uri})")
        lines += [f"    - {line}" for line in page.lines]
    if not pages:
        lines.append("No page has changed.")
    return "\n".join(lines) + "\n"
