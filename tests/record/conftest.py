"""A handbook with a lever and a reading, and what its pages rest on."""

from pathlib import Path

import pytest

from tests.record.written import with_reading
from tests.signoff.shop import Shop, make_shop
from witnessmark.signoff import HandbookBasis


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    return with_reading(make_shop(tmp_path / "shop"))


@pytest.fixture
def basis(shop: Shop) -> HandbookBasis:
    return HandbookBasis.from_json(shop.basis().as_json())
