"""A built site made fit for the place it is published in.

Nothing here knows MkDocs, calculators or the data book: it works on the HTML of a page, or on
the folder that a build has written.
"""

from witnessmark.publish.inline_parts import Moved, handlers_in, move_inline_parts
from witnessmark.publish.offline import write_service_worker
from witnessmark.publish.pack import PackError, pack_site
from witnessmark.publish.publication import Publication

__all__ = [
    "Moved",
    "PackError",
    "Publication",
    "handlers_in",
    "move_inline_parts",
    "pack_site",
    "write_service_worker",
]
