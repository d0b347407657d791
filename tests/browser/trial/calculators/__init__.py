"""Calculators of the trial handbook."""
