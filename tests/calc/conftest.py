"""The sample calculators, importable without a package of tests."""

import importlib.util
import sys
from pathlib import Path

import pytest


@pytest.fixture(scope="session")
def samples():
    """The module of sample calculators."""
    name = "sample_calculators"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, Path(__file__).parent / f"{name}.py")
        module = importlib.util.module_from_spec(spec)
        sys.modules[name] = module
        spec.loader.exec_module(module)
    return sys.modules[name]
