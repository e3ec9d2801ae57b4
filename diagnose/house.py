"""Where the rule base and the guide lie: inside the installed wheel, or beside the package in a checkout."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def _folder(name: str) -> Path:
    installed = _PACKAGE / "_data" / name
    return installed if installed.is_dir() else _PACKAGE.parent / name


def rules_folder() -> Path:
    """The folder of the rule base.

    >>> (rules_folder() / "scale.yaml").is_file()
    True
    """
    return _folder("rules")


def guide_folder() -> Path:
    """The folder of the hand-written chapters and the examples.

    >>> (guide_folder() / "examples").is_dir()
    True
    """
    return _folder("guide")
