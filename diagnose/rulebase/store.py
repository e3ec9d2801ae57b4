"""The rule base for use: checked once, then kept in a cache named by its content, so that it is never stale."""

import hashlib
import os
import pickle
import tempfile
from pathlib import Path

from diagnose import __version__, house, words
from diagnose.rulebase.check import check_rules
from diagnose.rulebase.fault import FaultsFound
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.load import load_rules, rule_files, version_of

DIGEST_BYTES = hashlib.sha256().digest_size


def cache_folder() -> Path:
    """Where the read rule base is kept between runs: the user's own cache folder."""
    base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "furniture-diagnose"


def _cached(path: Path) -> Knowledge | None:
    # The folder belongs to the user alone; a pickle from elsewhere is never read, nor one that was not written whole.
    try:
        if path.stat().st_uid != os.getuid():
            return None
        content = path.read_bytes()
    except (OSError, AttributeError):
        return None
    digest, kept = content[:DIGEST_BYTES], content[DIGEST_BYTES:]
    if hashlib.sha256(kept).digest() != digest:
        return None
    try:
        found = pickle.loads(kept)
    except Exception:  # Whatever another version of a library left there, the rule base itself is at hand.
        return None
    return found if isinstance(found, Knowledge) else None


def _keep(path: Path, knowledge: Knowledge) -> None:
    kept = pickle.dumps(knowledge, protocol=5)
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        with tempfile.NamedTemporaryFile(dir=path.parent, delete=False) as handle:
            try:
                handle.write(hashlib.sha256(kept).digest() + kept)
                handle.flush()
                Path(handle.name).replace(path)
            except BaseException:
                Path(handle.name).unlink(missing_ok=True)
                raise
        for other in path.parent.glob("rules-*.pickle"):
            if other != path and other.stat().st_mtime < path.stat().st_mtime - 86_400:
                other.unlink(missing_ok=True)
    except OSError:
        return  # A cache that cannot be written costs time, nothing else.


def load_knowledge(folder: Path | None = None) -> Knowledge:
    """The rule base of `folder` (or the one delivered); raises FaultsFound with every error in it.

    The cache is keyed by the content of every file and of the code that gives the entries their shape.
    """
    folder = folder or house.rules_folder()
    if folder.is_dir():
        kept = _cached(_path(version_of(rule_files(folder))))
        if kept is not None:
            return kept
    loaded = load_rules(folder)
    errors = [fault for fault in check_rules(loaded) if fault.severity == "error"]
    if errors:
        raise FaultsFound(errors)
    knowledge = loaded.knowledge()
    _keep(_path(knowledge.version), knowledge)
    return knowledge


def _path(version: str) -> Path:
    return cache_folder() / f"rules-{version}-{__version__}-{_code_stamp()}.pickle"


def _code_stamp() -> str:
    """Changes whenever the shape of an entry or a word it may use does, so that no program reads what another one kept."""
    digest = hashlib.sha256()
    for path in (Path(words.__file__), *sorted(Path(__file__).parent.rglob("*.py"))):
        digest.update(path.read_bytes())
    return digest.hexdigest()[:12]
