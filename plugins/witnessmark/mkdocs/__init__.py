"""The MkDocs adapter: hooks that call the services of ``witnessmark.handbook``."""

from witnessmark.mkdocs.plugin import WitnessMarkPlugin

__all__ = ["WitnessMarkPlugin"]
