"""The theme's templates, translated once for all rebuilds of a live preview.

MkDocs makes a new environment for every build, and with it translates every template anew.
"""

from __future__ import annotations

from jinja2 import BytecodeCache, Environment
from jinja2.bccache import Bucket


class Translated(BytecodeCache):
    """Translations by template; each holds for the text of its template and no other."""

    def __init__(self) -> None:
        self._kept: dict[str, bytes] = {}
        self._options = ""

    def use_in(self, environment: Environment) -> None:
        """Let an environment take its translations from here. It lives for one build, in which
        templates do not change."""
        options = [
            sorted(environment.extensions), repr(environment.autoescape), environment.optimized,
            environment.trim_blocks, environment.lstrip_blocks, environment.newline_sequence,
        ]  # fmt: skip
        if repr(options) != self._options:
            self._kept, self._options = {}, repr(options)
        environment.bytecode_cache = self
        environment.auto_reload = False

    def load_bytecode(self, bucket: Bucket) -> None:
        """Put a known translation in; Jinja compares the digest of the template's text."""
        if bucket.key in self._kept:
            bucket.bytecode_from_string(self._kept[bucket.key])

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep a new translation."""
        self._kept[bucket.key] = bucket.bytecode_to_string()
