"""Frozen data that flows through the tool: drawing, card, circuit, finding."""
