"""Printable pages: what the desk tells, set for paper."""
