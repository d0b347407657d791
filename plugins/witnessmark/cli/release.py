"""``witnessmark release``: a version of the handbook that is signed, checked and reproducible."""

from __future__ import annotations

import argparse
import json
import shutil
import sys
import tempfile
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from witnessmark import __version__
from witnessmark.bundle import RuntimeUnavailable, default_cache
from witnessmark.bundle.in_runtime import RuntimeEndedError, runtime_of
from witnessmark.bundle.pinned import runtime_pin
from witnessmark.calc import Calculator, CheckValue, evaluate, request_of, run_check
from witnessmark.cli.review_state import ReviewState, review_state
from witnessmark.cli.signoff import status_lines
from witnessmark.cli.site_build import BuildFailedError, build_strictly
from witnessmark.collection import Collection, load_collection
from witnessmark.faults import WitnessMarkError
from witnessmark.release import (
    Manifest,
    PageChanges,
    ReleasedPage,
    Shelf,
    broken_links,
    changes_since,
    changes_text,
    differing,
    file_digests,
)
from witnessmark.release.shelf import CURRENT, VERSION
from witnessmark.signoff import Standings

NOT_COPIED = frozenset({
    ".git", ".venv", "venv", "node_modules", "site", "releases", "dist", ".mypy_cache",
    ".pytest_cache", ".ruff_cache", ".hypothesis",
})  # fmt: skip
"""Folders of a project that are no part of the handbook."""
MOST_TOLD = 20

_Case = tuple[Calculator[..., Any], CheckValue]


class NotReleasedError(WitnessMarkError):
    """Something stands against the release; the message says what."""


def add_release(commands: Any) -> None:
    """Declare the command."""
    parser = commands.add_parser(
        "release",
        help="publish a version: all signed, all checked, built twice alike",
        description="Make a release in a folder of releases. Refused unless every page is signed "
        "as it stands, every check value is met under CPython and in the browser's runtime, no "
        "link is broken, and two builds in two folders are the same byte for byte. With --verify "
        "look only whether the releases are as they were made.",
    )
    parser.add_argument("version", nargs="?", help="such as 1.0 or 2025-11")
    parser.add_argument("--note", default="", help="what the release is about, in a sentence")
    parser.add_argument(
        "--into", type=Path, default=None, metavar="FOLDER",
        help="the folder of releases (default: releases/ in the project)",
    )  # fmt: skip
    parser.add_argument("--date", type=date.fromisoformat, default=None, metavar="DAY")
    parser.add_argument("--verify", action="store_true")
    parser.set_defaults(run=release)


def release(options: argparse.Namespace) -> int:
    """Run the command."""
    shelf = Shelf(options.into or options.project / "releases")
    try:
        if options.verify:
            return _verify(shelf)
        folder = _make(options, shelf)
    except (NotReleasedError, BuildFailedError, RuntimeUnavailable, RuntimeEndedError) as error:
        print(error, file=sys.stderr)
        return 1
    print(f"release {options.version} is in {folder}; {shelf.folder / CURRENT} leads to it")
    return 0


def _verify(shelf: Shelf) -> int:
    """Whether every release is still as its manifest says."""
    wrong = 0
    for manifest in shelf.releases():
        found = shelf.differing(manifest.version)
        wrong += bool(found)
        print(f"{manifest.version}: {len(manifest.files)} files, "
              f"{'as released' if not found else f'{len(found)} differ'}")  # fmt: skip
        print("".join(f"    {path}\n" for path in found), end="")
    return 1 if wrong else 0


@dataclass(frozen=True)
class _Plan:
    """What is to be released."""

    version: str
    day: date
    note: str
    previous: Manifest | None

    @property
    def epoch(self) -> str:
        """The time that stands in the site: the beginning of the day of the release."""
        midnight = datetime(self.day.year, self.day.month, self.day.day, tzinfo=UTC)
        return str(int(midnight.timestamp()))


def _make(options: argparse.Namespace, shelf: Shelf) -> Path:
    project: Path = options.project
    plan = _plan(options, shelf)
    _say("reading the handbook")
    state = review_state(project)
    standings = _all_signed(state)
    cases = _check_values(load_collection(project / "calculators"), state.basis.calculators)
    pages = _pages(state, standings)
    sign_offs = {uri: entry.sign_offs for uri, entry in state.ledger.entries.items()}
    changes = changes_since(plan.previous, pages, sign_offs)
    with tempfile.TemporaryDirectory() as name:
        site = _built_twice(project.resolve(), Path(name), plan, changes)
        _check_values_in(site, cases, Path(name) / "runtime")
        _say("following every link")
        broken = broken_links(site)
        if broken:
            raise NotReleasedError(_listed("links lead nowhere", broken))
        previous = plan.previous.version if plan.previous else ""
        manifest = Manifest(
            plan.version, plan.day.isoformat(), plan.note, previous, __version__,
            f"pyodide {runtime_pin().version}", len(cases), pages, file_digests(site),
        )  # fmt: skip
        text = changes_text(plan.version, plan.day.isoformat(), plan.note, previous, changes)
        return shelf.put(site, manifest, text)


def _plan(options: argparse.Namespace, shelf: Shelf) -> _Plan:
    version = options.version or ""
    if not VERSION.fullmatch(version) or version == CURRENT:
        raise NotReleasedError(f"'{version}' is no version; name one such as 1.0")
    if not options.note.strip():
        raise NotReleasedError("say with --note what the release is about")
    if shelf.has(version):
        raise NotReleasedError(f"there is a release {version} already; a release never changes")
    return _Plan(version, options.date or date.today(), options.note.strip(), shelf.newest())


def _say(step: str) -> None:
    print(f"{step} …", file=sys.stderr)


def _listed(what: str, found: list[str]) -> str:
    rest = f"\n  and {len(found) - MOST_TOLD} more" if len(found) > MOST_TOLD else ""
    lines = "\n".join(f"  {each}" for each in found[:MOST_TOLD])
    return f"not released: {len(found)} {what}\n{lines}{rest}"


def _all_signed(state: ReviewState) -> Standings:
    standings = state.sign_offs.standings(state.basis)
    if not standings.all_signed:
        open_ones = [line for line in status_lines(standings) if ": signed (" not in line]
        raise NotReleasedError("\n".join(["not released: not every page is signed", *open_ones]))
    return standings


def _check_values(collection: Collection, names: Iterable[str]) -> list[_Case]:
    """The check values of the calculators on the pages; all are met under CPython."""
    cases = [(collection.calculators[name], case) for name in sorted(names)
             for case in collection.calculators[name].check_values]  # fmt: skip
    _say(f"{len(cases)} check values")
    _refuse(cases, [evaluate(each, case.entries) for each, case in cases], "under CPython")
    return cases


def _check_values_in(site: Path, cases: list[_Case], folder: Path) -> None:
    """The same in the runtime that the finished site carries, started in both of its ways."""
    if not cases:
        return
    for how, words in (("image", "from the image"), ("wheels", "from the wheels")):
        _say(f"check values in the site's own runtime, started {words}")
        with runtime_of(site, folder / how, how) as runtime:
            outcomes = runtime.outcomes([request_of(each, case) for each, case in cases])
        _refuse(cases, outcomes, f"in the browser's runtime {words}")


def _refuse(cases: list[_Case], outcomes: list[dict[str, Any]], where: str) -> None:
    """Raise when a check value is not met by its outcome."""
    failing = []
    for (each, case), outcome in zip(cases, outcomes, strict=True):
        if "failure" in outcome:
            failing.append(f"{each.name}, '{case.label}', {where}: {outcome['failure']}")
            continue
        failing += [
            f"{each.name}, '{case.label}', {result.label}, {where}: found {result.got}; "
            f"expected {result.expected}"
            for result in run_check(each, case, outcome).results
            if not result.agrees
        ]
    if failing:
        raise NotReleasedError(_listed("check values differ", failing))


def _pages(state: ReviewState, standings: Standings) -> dict[str, ReleasedPage]:
    pages = {}
    for uri, page in standings.pages.items():
        latest = page.latest
        if latest is not None:
            pages[uri] = ReleasedPage(
                page.title, latest.role, latest.signed, latest.note, state.basis.facts(uri)
            )
    return pages


def _built_twice(project: Path, folder: Path, plan: _Plan, changes: Iterable[PageChanges]) -> Path:
    """Build from copies in two folders, each with nothing kept from earlier builds but the
    fetched runtime; the two sites are the same, and one is returned."""
    notes = folder / "release.json"
    previous = plan.previous.version if plan.previous else ""
    notes.write_text(json.dumps({
        "version": plan.version, "day": plan.day.isoformat(), "note": plan.note,
        "previous": previous, "changes": [asdict(each) for each in changes],
    }), "utf-8")  # fmt: skip
    environment = {"SOURCE_DATE_EPOCH": plan.epoch, "WITNESSMARK_RELEASE": str(notes)}
    sites = []
    for name, words in (("here", "building the site"), ("elsewhere", "building it again")):
        _say(f"{words}, from a copy and with nothing kept from earlier builds")
        copy, cache = folder / name / "copy", _fresh_cache(folder / name / "cache")
        shutil.copytree(
            project, copy,
            ignore=lambda at, names: NOT_COPIED & set(names) if Path(at) == project else (),
        )  # fmt: skip
        site = folder / name / "site"
        sites.append(build_strictly(copy, site, **environment, WITNESSMARK_CACHE=str(cache)).site)
    first, second = sites
    found = differing(file_digests(first), file_digests(second))
    if found:
        raise NotReleasedError(_listed("files differ between two builds of the same", found))
    return first


def _fresh_cache(folder: Path) -> Path:
    """An empty cache but for the fetched runtime, which needs the network."""
    folder.mkdir(parents=True)
    for runtime in default_cache().glob("runtime-*"):
        shutil.copytree(runtime, folder / runtime.name, symlinks=True)
    return folder
