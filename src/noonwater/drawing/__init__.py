"""Drawings of a job as SVG: one sheet each, for the screen and for paper."""
