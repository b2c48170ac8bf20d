"""Frozen boards to be routed, each around a planted layout that the verifier accepts."""
