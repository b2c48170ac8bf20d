"""Seeded layouts, single faults and metamorphic tests against the oracle."""
