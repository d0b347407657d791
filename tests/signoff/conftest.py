"""The invented handbook of the sign-off tests, fresh in a folder."""

from pathlib import Path

import pytest

from tests.signoff.shop import Shop, make_shop


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    """Two procedures, two calculators one of which imports a helper, an include, a picture."""
    return make_shop(tmp_path / "shop")


@pytest.fixture
def signed(shop: Shop) -> Shop:
    """The same with both procedures signed."""
    shop.sign()
    return shop
