"""A folder of files that the program makes whole or not at all, and never over what somebody else put there."""

import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

# Lists what we wrote: a folder without it, or with more in it, is not ours to replace.
MARKER = ".diagnose-guide"


class NotOurs(ValueError):
    """The folder holds something that we did not write; the message names it."""


def _held(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_symlink() or not path.is_dir()}


def stop_if_foreign(folder: Path) -> None:
    """Raises NotOurs unless `folder` is absent, empty, or holds nothing but what we wrote there before; OSError where it cannot be read."""
    if not folder.exists() and not folder.is_symlink():
        return
    if not folder.is_dir():
        raise NotOurs(f"{folder}: this is no folder; name a new one")
    held = _held(folder)
    if not held:
        return
    marker = folder / MARKER
    if MARKER not in held or marker.is_symlink():
        raise NotOurs(f"{folder}: holds files that are not of the guide; name a new or an empty folder")
    foreign = sorted(held - {MARKER, *marker.read_text(encoding="utf-8").splitlines()})
    if foreign:
        raise NotOurs(f"{folder / foreign[0]}: not written by us; move it away, or name another folder")


def write_folder(folder: Path, files: Mapping[str, str]) -> None:
    """Write all files beside the folder first, then put them in its place. Raises NotOurs, OSError; then nothing has changed."""
    stop_if_foreign(folder)
    folder = folder.resolve()
    folder.parent.mkdir(parents=True, exist_ok=True)
    fresh = Path(tempfile.mkdtemp(dir=folder.parent, prefix=f".{folder.name}.", suffix=".part"))
    try:
        for name, text in {**files, MARKER: "".join(f"{name}\n" for name in sorted(files))}.items():
            path = fresh / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text.encode("utf-8"))
        fresh.chmod(0o777 & ~_mask())
        _swap(fresh, folder)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)


def _mask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _swap(fresh: Path, folder: Path) -> None:
    """Put `fresh` where `folder` is; what was there is kept until that is done."""
    if not folder.exists():
        fresh.rename(folder)
        return
    before = Path(tempfile.mkdtemp(dir=folder.parent, prefix=f".{folder.name}.", suffix=".old"))
    folder.rename(before)
    try:
        fresh.rename(folder)
    except BaseException:
        before.rename(folder)
        raise
    shutil.rmtree(before, ignore_errors=True)
