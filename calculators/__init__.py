"""The calculators of the shop: one module a topic, pure functions on quantities with units."""
