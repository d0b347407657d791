"""Where job records stand in the site: the line on a page, the list of jobs, the job sheet.

Only places are written here; what stands in them is the reader's own and is made in the browser.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from witnessmark.databook import Scope
from witnessmark.page.elements import element

JOBS_URI = "jobs.md"
SHEET_URI = "job-sheet.md"

_JOBS = """\
---
title: Jobs
description: "The jobs of this device: open one, go on where you left off, print its sheet, export it."
search:
  exclude: true
---
# Jobs

A job gathers what you tick, read and enter on every page of this handbook: for one engine, under one number.

{place}

An exported job is a file of [this form](reference/job-record.schema.json). Whoever keeps the handbook works such files out again with `witnessmark record check`: every result, every verdict, and whether the page has changed since.
"""  # noqa: E501 - a paragraph of Markdown is a line

_SHEET = """\
---
title: Job sheet
description: "Everything that was entered in a job, to be printed and signed."
search:
  exclude: true
---
# Job sheet

{place}
"""

_WITHOUT = "This needs scripts, and a browser that may keep data."


@dataclass(frozen=True)
class Revision:
    """The digests an entry is made under: of the page as a whole, and of the maths of each
    calculator on it by name, cut to twelve digits."""

    page: str
    maths: Mapping[str, str]


def jobs_page(scopes: tuple[Scope, ...]) -> str:
    """The page with the list of jobs, as Markdown."""
    return _JOBS.format(place=jobs_place(scopes))


def sheet_page() -> str:
    """The page on which the sheet of a job is made, as Markdown."""
    return _SHEET.format(place=f"<div><wm-job-sheet>{_WITHOUT}</wm-job-sheet></div>")


def jobs_place(scopes: tuple[Scope, ...], *, brief: bool = False) -> str:
    """The place of the list, with the engines of the data book to choose from; ``brief`` for
    the last few jobs only, with the ways back to where they were left."""
    engines = " ".join(scope.key for scope in scopes if str(scope))
    more = " data-brief" if brief else ""
    return f'<div><wm-jobs data-wm-engines="{engines}"{more}>{_WITHOUT}</wm-jobs></div>'


def with_jobs(
    html: str, uri: str, title: str, revision: Revision | None, link: Callable[[str], str]
) -> str:
    """The page's HTML with addresses in its places, and with the line of the open job under its
    head where entries can be made (``revision`` is given)."""
    sheet = link(SHEET_URI)
    places = f'data-sheet="{sheet}" data-jobs="{link(JOBS_URI)}"'
    html = html.replace("<wm-jobs ", f"<wm-jobs {places} ")
    html = html.replace("<wm-job-sheet>", f"<wm-job-sheet {places}>")
    if revision is None:
        return html
    line = element(
        "wm-job",
        {
            "class": "wm-job-line",
            "data-page": uri,
            "data-title": title,
            "data-revision": revision.page,
            "data-maths": json.dumps(revision.maths, sort_keys=True),
            "data-jobs": link(JOBS_URI),
            "data-sheet": sheet,
        },
    )
    plate = html.find('<div class="wm-plate"')
    at = plate if plate >= 0 else html.find("</h1>") + len("</h1>")
    return f"{html[:at]}{line}{html[at:]}"
