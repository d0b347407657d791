"""``witnessmark signoff``: what is signed, what has changed since, sign, what is due."""

from __future__ import annotations

import argparse
import json
import os
import sys
import tempfile
from collections.abc import Callable, Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from witnessmark.cli.check import failing_check_values
from witnessmark.cli.review_state import (
    NoSuchPageError,
    ReviewState,
    ledger_of,
    places_of,
    review_state,
)
from witnessmark.cli.site_build import BuildFailedError, build_strictly
from witnessmark.faults import FaultsFound
from witnessmark.signoff import (
    SIGNED,
    Ledger,
    SignOff,
    Standing,
    Standings,
    changes_between,
    months_after,
    write_ledger,
)
from witnessmark.signoff.differences import differences

WORDS = {"signed": "signed", "changed": "CHANGED since sign-off", "unsigned": "NOT SIGNED"}
FIRST, AGAIN = "first sign-off", "nothing, reviewed again"


def add_signoff(commands: Any) -> None:
    """Declare the command and its four parts."""
    parser = commands.add_parser(
        "signoff",
        help="which pages are signed, what has changed since; sign pages",
        description="The sign-off of words and maths together. The ledger is docs/signoff.yml.",
    )
    parts = parser.add_subparsers(dest="part", required=True)
    _add_status(parts)
    show = parts.add_parser("show", help="everything that differs since sign-off, as text")
    show.add_argument("page", help="a page, by path or name")
    show.set_defaults(run=_told(show_page))
    _add_sign(parts)
    due = parts.add_parser(
        "due",
        help="pages to be reviewed again",
        description="Pages to be reviewed again, from the ledger alone. Exit status: 1 when one "
        "is overdue.",
    )
    due.add_argument("--within", type=int, default=30, metavar="DAYS", help="default: 30")
    due.add_argument("--on", type=date.fromisoformat, default=None, metavar="DAY",
                     help="as of this day instead of today")  # fmt: skip
    due.add_argument("--json", action="store_true")
    due.set_defaults(run=_told(list_due))
    strike = parts.add_parser("strike", help="take pages that are gone out of the ledger")
    strike.add_argument("pages", nargs="+", metavar="PAGE")
    strike.set_defaults(run=_told(strike_pages))


def _add_status(parts: Any) -> None:
    status = parts.add_parser(
        "status",
        help="where every page stands, and why",
        description="Where every page stands. Exit status: 0, or with --strict 1 when a page is "
        "not signed as it stands.",
    )
    status.add_argument("--json", action="store_true", help="pages, states and reasons as JSON")
    status.add_argument("--strict", action="store_true", help="fail on anything but signed pages")
    status.add_argument(
        "--remind", action="store_true",
        help="only what needs review, in a few lines; never fails (for a hook)",
    )  # fmt: skip
    status.set_defaults(run=_told(show_status))


def _add_sign(parts: Any) -> None:
    sign = parts.add_parser(
        "sign",
        help="sign pages as they stand",
        description="Sign pages as they stand: words, values and maths together. Refused while "
        "the handbook cannot be built strictly or a check value differs.",
    )
    sign.add_argument("pages", nargs="+", metavar="PAGE", help="by path or name")
    sign.add_argument("--role", required=True, help="who signs, by role: reviewer")
    sign.add_argument("--note", required=True, help="what was reviewed, in the shop's words")
    sign.add_argument("--date", type=date.fromisoformat, default=None, metavar="DAY",
                      help="the day of the review, if not today")  # fmt: skip
    again = sign.add_mutually_exclusive_group()
    again.add_argument(
        "--review-in", type=int, default=12, metavar="MONTHS",
        help="to be reviewed again after so many months (default: 12; 0: never)",
    )  # fmt: skip
    again.add_argument("--review-by", type=date.fromisoformat, default=None, metavar="DAY")
    sign.add_argument(
        "--no-archive", action="store_true",
        help="keep nothing beside the ledger; 'show' then needs the git history",
    )  # fmt: skip
    sign.set_defaults(run=_told(sign_pages))


def _told(
    command: Callable[[argparse.Namespace], int],
) -> Callable[[argparse.Namespace], int]:
    """The command with its errors told in words and exit status 2."""

    def run(options: argparse.Namespace) -> int:
        try:
            return command(options)
        except (BuildFailedError, NoSuchPageError) as error:
            print(error, file=sys.stderr)
            return 2

    return run


def show_status(options: argparse.Namespace) -> int:
    """``status``: page, state, reasons."""
    if options.remind:
        return _remind(options.project)
    state = review_state(options.project)
    found = state.sign_offs.standings(state.basis)
    if options.json:
        print(json.dumps(_as_json(found), ensure_ascii=False, indent=2))
    else:
        print("\n".join(status_lines(found)))
    return 1 if options.strict and not found.all_signed else 0


def status_lines(found: Standings) -> list[str]:
    """Where every page stands, a line each, reasons indented below it."""
    lines: list[str] = []
    for page in found.pages.values():
        lines.append(f"{page.uri}: {WORDS[page.state]}{_by(page)}")
        lines += [f"    {change.kind}: {change.text}" for change in page.changes]
    lines += [
        f"{uri}: in the ledger, but no page (take it out with 'witnessmark signoff strike {uri}')"
        for uri in found.gone
    ]
    signed = len(found.in_state(SIGNED))
    return [*lines, f"{signed} of {len(found.pages)} pages are signed as they stand"]


def _by(page: Standing) -> str:
    if page.latest is None:
        return ""
    through = f", with {page.through}" if page.through else ""
    again = f", to be reviewed again by {page.review_by}" if page.review_by else ""
    return f" ({page.latest.role}, {page.latest.signed}{through}{again})"


def _as_json(found: Standings) -> dict[str, Any]:
    pages = {
        page.uri: {
            "title": page.title,
            "state": page.state,
            "signed": page.latest.signed if page.latest else None,
            "role": page.latest.role if page.latest else None,
            "note": page.latest.note if page.latest else None,
            "through": page.through or None,
            "review_by": page.review_by or None,
            "reasons": [
                {"kind": change.kind, "about": change.about, "text": change.text}
                for change in page.changes
            ],
        }
        for page in found.pages.values()
    }
    return {"pages": pages, "gone": list(found.gone)}


def _remind(project: Path) -> int:
    """A few lines for an author who is about to commit; whatever is wrong is left to others."""
    try:
        state = review_state(project)
    except (BuildFailedError, FaultsFound) as error:
        print(f"sign-off: not asked, the handbook cannot be read yet\n{error}")
        return 0
    found = state.sign_offs.standings(state.basis)
    for page in found.in_state("changed", "unsigned"):
        if not page.follows:
            why = f": {', '.join(page.kinds)}" if page.kinds else ""
            print(f"needs review: {page.uri} ({WORDS[page.state]}{why})")
    return 0


def show_page(options: argparse.Namespace) -> int:
    """``show``: the whole difference since sign-off."""
    state = review_state(options.project)
    uri = state.page(options.page)
    page = state.basis.pages[uri]
    standing = state.sign_offs.standing(state.basis, uri)
    if standing is None:
        print(f"{uri}: carries no sign-off; it shows no value and no calculator")
        return 0
    if standing.latest is None:
        print(f"{uri}: not signed yet, so there is nothing to compare it with")
        return 0
    entry = state.ledger.entries[standing.through or uri]
    print(f"{uri}: {WORDS[standing.state]}{_by(standing)}: {standing.latest.note}")
    if standing.state == SIGNED:
        return 0
    _print_commits(state, entry.uri)
    was = state.as_signed(entry)
    if was is None:
        print(
            "\nWhat was signed is neither in docs/signoff/ nor in the git history; known is only:"
        )
        print("\n".join(f"  {change.kind}: {change.text}" for change in standing.changes))
        return 0
    print()
    print("\n".join(differences(was, page, state.basis.calculators_of(page))))
    return 0


def _print_commits(state: ReviewState, uri: str) -> None:
    """The commits since a sign-off that touch the page, the data book or the calculators."""
    commit = state.signed_commit(state.ledger.entries[uri])
    if commit is None:
        return
    places = state.places
    later = state.history.since(commit, (places.docs / uri, places.databook, places.calculators))
    if later:
        print("\nCommits since then")
        print("\n".join(f"  {each}" for each in later))


def sign_pages(options: argparse.Namespace) -> int:
    """``sign``: put pages into the ledger as they stand."""
    role, note = options.role.strip(), options.note.strip()
    today = date.today()
    day = options.date or today
    if not role or not note or day > today:
        wrong = "a day that is still to come" if day > today else "an empty role or note"
        print(f"{wrong} cannot be signed", file=sys.stderr)
        return 2
    places = places_of(options.project)
    ledger = ledger_of(places)
    with tempfile.TemporaryDirectory() as folder:
        basis = build_strictly(options.project, Path(folder) / "site").basis
    failing = failing_check_values(options.project)
    if failing:
        print("\n".join([*failing, "not signed: a check value differs"]), file=sys.stderr)
        return 1
    state = ReviewState(places, ledger, basis)
    uris = list(dict.fromkeys(state.page(name) for name in options.pages))
    again = options.review_by or (
        months_after(day, options.review_in) if options.review_in > 0 else None
    )
    for uri in uris:
        changed = _changed_since(state, uri)
        page = basis.pages[uri]
        kept = "" if options.no_archive else state.archive.keep(page, basis.calculators_of(page))
        ledger.sign(
            uri, basis.facts(uri), SignOff(day.isoformat(), role, note, changed),
            again.isoformat() if again else "", kept,
        )  # fmt: skip
        print(f"{uri}: signed by the {role}, {day}; changed: {changed}")
    _write(places.ledger, ledger)
    state.archive.prune(entry.archive for entry in ledger.entries.values() if entry.archive)
    return 0


def _changed_since(state: ReviewState, uri: str) -> str:
    """What is new against the page's last sign-off, in one line."""
    entry = state.ledger.entries.get(uri)
    if entry is None:
        return FIRST
    page, facts = state.basis.pages[uri], state.basis.facts(uri)
    if entry.facts == facts:
        return AGAIN
    changes = changes_between(
        entry.facts, facts, page, state.basis.calculators_of(page), state.as_signed(entry)
    )
    return "; ".join(change.text for change in changes)


def strike_pages(options: argparse.Namespace) -> int:
    """``strike``: take the entries of pages that are gone out of the ledger."""
    places = places_of(options.project)
    ledger = ledger_of(places)
    for name in options.pages:
        if name not in ledger.entries:
            raise NoSuchPageError(f"no entry '{name}' in {places.shown(places.ledger)}")
        if (places.docs / name).is_file():
            raise NoSuchPageError(f"'{name}' is a page of the handbook; its entry stays")
    ledger.strike(options.pages)
    _write(places.ledger, ledger)
    return 0


def list_due(options: argparse.Namespace) -> int:
    """``due``: what is to be reviewed again soon, the most urgent first."""
    day = options.on or date.today()
    last = day + timedelta(days=options.within)
    entries: Sequence[Any] = sorted(
        (e for e in ledger_of(places_of(options.project)).entries.values() if e.review_by),
        key=lambda e: (e.review_by, e.uri),
    )
    soon = [entry for entry in entries if date.fromisoformat(entry.review_by) <= last]
    overdue = [entry for entry in soon if date.fromisoformat(entry.review_by) < day]
    if options.json:
        rows = [{"page": e.uri, "review_by": e.review_by, "overdue": e in overdue} for e in soon]
        print(json.dumps(rows, ensure_ascii=False, indent=2))
    else:
        for entry in soon:
            word = "OVERDUE since" if entry in overdue else "due by"
            print(f"{entry.uri}: {word} {entry.review_by} (signed {entry.latest.signed}, "
                  f"{entry.latest.role})")  # fmt: skip
        if not soon:
            print(f"nothing is to be reviewed again by {last}")
    return 1 if overdue else 0


def _write(path: Path, ledger: Ledger) -> None:
    """Replace the ledger in one go."""
    made = path.with_name(f"{path.name}.new")
    made.write_text(write_ledger(ledger), "utf-8", newline="\n")
    os.replace(made, path)
