"""Pages: blocks and values in Markdown become HTML, checked against data book and calculators.

A build makes one ``WitnessMarkExtension``, gives it the ``PageContext`` of each page before
the page is converted, and passes the HTML through ``finish_page``. Faults gather in the
context's collector; ``context.used`` tells what the page rests on.

Only ``extension`` imports Markdown.
"""

from witnessmark.page.context import Collection, PageContext, Used
from witnessmark.page.evaluations import EvaluationCache
from witnessmark.page.extension import WitnessMarkExtension, makeExtension
from witnessmark.page.front_matter import FrontMatter, read_front_matter
from witnessmark.page.page_index import PageEntry, PageIndex, page_entry
from witnessmark.page.pictures import pictures_in
from witnessmark.page.plate import render_procedure_head
from witnessmark.page.residue import finish_page
from witnessmark.page.sign_off_html import overview_html, release_html, with_mark
from witnessmark.page.stand_ins import StandIns
from witnessmark.page.typed_figures import check_figures

__all__ = [
    "Collection",
    "EvaluationCache",
    "FrontMatter",
    "PageContext",
    "PageEntry",
    "PageIndex",
    "StandIns",
    "Used",
    "WitnessMarkExtension",
    "check_figures",
    "finish_page",
    "makeExtension",
    "overview_html",
    "page_entry",
    "pictures_in",
    "read_front_matter",
    "release_html",
    "render_procedure_head",
    "with_mark",
]
