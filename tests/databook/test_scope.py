"""A group of scopes is called by the shortest name that tells it from the others."""

import pytest

from witnessmark.databook import Scope, label_of

ALL = [
    Scope("LG2", "canal"),
    Scope("LG2", "stationary"),
    Scope("LG3", "canal"),
    Scope("LG3", "stationary"),
]
ONE = ALL[:2]
MIXED = [*ONE, Scope("LG3")]


@pytest.mark.parametrize(
    ("chosen", "among", "label"),
    [
        (ALL, ALL, ""),
        (ALL[:2], ALL, "LG2"),
        ([ALL[0], ALL[2]], ALL, "canal"),
        ([ALL[0]], ALL, "LG2 canal"),
        ([ALL[0], ALL[2], ALL[3]], ALL, "LG2 canal, LG3"),
        ([ALL[0]], ONE, "canal"),
        (ONE, ONE, ""),
        ([ONE[0], MIXED[2]], MIXED, "LG2 canal, LG3"),
        ([MIXED[2]], MIXED, "LG3"),
        ([Scope()], [Scope()], ""),
    ],
)
def test_a_label_is_as_short_as_it_may_be(chosen, among, label):
    """Empty for all, the machine, the variant, or both."""
    assert label_of(chosen, among) == label
