"""Noonwater: engineering for pools heated by unglazed solar panels."""

__version__ = "0.1.0"
