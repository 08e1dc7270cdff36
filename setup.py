"""Puts recipes/ and demo_data/ into the built package; everything else is in pyproject.toml."""

from __future__ import annotations

import shutil
from pathlib import Path

from setuptools import setup
from setuptools.command.build_py import build_py

SHIPPED = ("recipes", "demo_data")


class BuildWithShipped(build_py):
    """The usual build, with the shipped folders copied to `forgelog/shipped`."""

    def run(self) -> None:
        super().run()
        if self.editable_mode:
            return
        for name in SHIPPED:
            source = Path(__file__).parent / name
            target = Path(self.build_lib) / "forgelog" / "shipped" / name
            shutil.rmtree(target, ignore_errors=True)
            if source.is_dir():
                shutil.copytree(source, target, ignore=shutil.ignore_patterns("*.pyc", ".*"))


setup(cmdclass={"build_py": BuildWithShipped})
