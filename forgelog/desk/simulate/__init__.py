"""Simulated past work for the demo: a smith of our invention, from a seed and nothing else."""
