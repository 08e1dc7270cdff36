"""forgelog: walks a smith through forged work heat by heat, and learns from the record."""

__version__ = "0.1.0"
