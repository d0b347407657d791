"""The data book: values with unit and source, per machine and variant.

``load_databook`` reads ``docs/databook/*.yml``; ``DataBook.resolve`` answers for one
machine in one variant, ``DataBook.across`` for all that a page covers.
"""

from witnessmark.databook.book import DataBook, Labelled, Machine, Tool, Value
from witnessmark.databook.loader import load_databook, read_text, shown_path
from witnessmark.databook.scope import Scope, UnknownEngineError, label_of, scopes_called
from witnessmark.databook.shown import show_text, show_value

__all__ = [
    "DataBook",
    "Labelled",
    "Machine",
    "Scope",
    "Tool",
    "UnknownEngineError",
    "Value",
    "label_of",
    "load_databook",
    "read_text",
    "scopes_called",
    "show_text",
    "show_value",
    "shown_path",
]
