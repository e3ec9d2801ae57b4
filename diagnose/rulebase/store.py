"""The rule base for use: checked once, then kept in a cache named by its content, so that it is never stale."""

import os
import pickle
import tempfile
from pathlib import Path

from diagnose import __version__, house
from diagnose.rulebase.check import check_rules
from diagnose.rulebase.fault import FaultsFound
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.load import load_rules, rule_files, version_of


def cache_folder() -> Path:
    """Where the read rule base is kept between runs: the user's own cache folder."""
    base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "furniture-diagnose"


def _cached(path: Path) -> Knowledge | None:
    # The folder belongs to the user alone; a pickle from anywhere else is never read.
    try:
        if path.stat().st_uid != os.getuid():
            return None
        found = pickle.loads(path.read_bytes())
    except (OSError, pickle.UnpicklingError, AttributeError, EOFError, ImportError, IndexError, TypeError):
        return None
    return found if isinstance(found, Knowledge) else None


def _keep(path: Path, knowledge: Knowledge) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        with tempfile.NamedTemporaryFile(dir=path.parent, delete=False) as handle:
            handle.write(pickle.dumps(knowledge, protocol=5))
        Path(handle.name).replace(path)
        for other in path.parent.glob("rules-*.pickle"):
            if other != path and other.stat().st_mtime < path.stat().st_mtime - 86_400:
                other.unlink(missing_ok=True)
    except OSError:
        return  # A cache that cannot be written costs time, nothing else.


def load_knowledge(folder: Path | None = None) -> Knowledge:
    """The rule base of `folder` (or the one delivered); raises FaultsFound with every error in it.

    The cache is keyed by the content of every file and by the program's version.
    """
    folder = folder or house.rules_folder()
    if folder.is_dir():
        key = f"rules-{version_of(folder, rule_files(folder))}-{__version__}-{_code_stamp()}.pickle"
        path = cache_folder() / key
        kept = _cached(path)
        if kept is not None:
            return kept
    loaded = load_rules(folder)
    errors = [fault for fault in check_rules(loaded) if fault.severity == "error"]
    if errors:
        raise FaultsFound(errors)
    knowledge = loaded.knowledge()
    _keep(path, knowledge)
    return knowledge


def _code_stamp() -> str:
    """Changes whenever the shape of an entry does, so that a checkout under work never reads an old shape."""
    newest = max(path.stat().st_mtime_ns for path in Path(__file__).parent.rglob("*.py"))
    return f"{newest:x}"
