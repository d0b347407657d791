"""The bundle: what a site needs so that its calculators run in the browser.

``make_bundle`` gets the browser runtime, packs the calculators, and names every file by
its content. Nothing here knows MkDocs or HTML.
"""

from witnessmark.bundle.build import Bundle, make_bundle, scripts_stamp
from witnessmark.bundle.cache import default_cache
from witnessmark.bundle.node import Node, find_node
from witnessmark.bundle.notices import Notice, notices
from witnessmark.bundle.runtime import Runtime, RuntimeUnavailable, get_runtime

__all__ = [
    "Bundle",
    "Node",
    "Notice",
    "Runtime",
    "RuntimeUnavailable",
    "default_cache",
    "find_node",
    "get_runtime",
    "make_bundle",
    "notices",
    "scripts_stamp",
]
