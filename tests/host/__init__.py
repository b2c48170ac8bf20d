"""Tests in the real editor."""
