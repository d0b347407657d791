"""Job records as files: read with care, and worked out again.

A record is what a browser has exported (``job-record.schema.json``). ``read_record`` refuses
whatever is not of that form; ``check_record`` works every result and every verdict out again with
the handbook as it stands, and holds the record's revisions against the handbook's.
"""

from witnessmark.record.checked import CheckedEntry, check_record
from witnessmark.record.record_file import Record, RecordError, read_record
from witnessmark.record.schema import SCHEMA, SCHEMA_TEXT
from witnessmark.record.workshop import Workshop, WorkshopError

__all__ = [
    "SCHEMA",
    "SCHEMA_TEXT",
    "CheckedEntry",
    "Record",
    "RecordError",
    "Workshop",
    "WorkshopError",
    "check_record",
    "read_record",
]
