"""A built site made fit for the place it is published in.

Nothing here knows MkDocs, calculators or the data book: it works on the HTML of a page, or on
the folder that a build has written.
"""

from witnessmark.publish.inline_parts import Moved, handlers_in, move_inline_parts

__all__ = ["Moved", "handlers_in", "move_inline_parts"]
