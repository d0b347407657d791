"""The limits of an entry as it was entered, for findings about the worst of all sizes."""

from __future__ import annotations

from witnessmark.calc import as_entered


def end(name: str, value: float, way: int) -> float:
    """An entry (mm) at its lower (-1) or upper (+1) limit; ``value`` where it has none."""
    standing = as_entered(name, None)
    limit = standing.low if way < 0 else standing.high
    return value if limit is None else float(limit.m_as("mm"))
