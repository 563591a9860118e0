"""Which packages are installed: whatever lies in ``dielines/`` and ``cli/``, without a list to edit.

Everything else about the project stands in ``pyproject.toml``. The folder ``cli``
is installed as ``dielines_cli``, so that no package with a name as common as
``cli`` gets into anyone's site-packages; package discovery from ``pyproject.toml``
cannot rename, hence this file.
"""

from setuptools import find_packages, setup

setup(
    packages=find_packages(include=["dielines", "dielines.*"])
    + [f"dielines_{name}" for name in find_packages(include=["cli", "cli.*"])],
    package_dir={"dielines_cli": "cli"},
)
