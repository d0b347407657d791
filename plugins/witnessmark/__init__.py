"""Witness Mark: a handbook of workshop procedures with tested calculators beside the steps.

This module stays empty but for the version: it travels to the browser with
``witnessmark.calc``, where nothing else of the package exists.
"""

__version__ = "0.1.0"
