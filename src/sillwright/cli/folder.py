"""A folder of results: written whole beside its place, then put there in one step, or not at all."""

from __future__ import annotations

import json
import secrets
import shutil
from collections.abc import Mapping
from pathlib import Path

from sillwright.errors import OutputError

OWN = {"plan.json", "packet.pdf", "drawings"}
"""What a folder of ours holds; plan.json marks it."""
OWN_DRAWINGS = {".svg", ".dxf"}
IGNORED = {".DS_Store", "Thumbs.db", "desktop.ini"}
"""What file browsers leave behind."""


def check_place(out: Path) -> Path:
    """Return the folder's full path, if it may be written or replaced.

    Raises:  OutputError: it is a file, or a folder that holds anything that we did not write
    """
    place = _full(out)
    try:
        if not place.exists():
            return place
        if not place.is_dir():
            raise OutputError(f"{out}: this is a file. Name a folder after --out.")
        strays = _strays(place)
    except OSError as error:
        raise _failed(out, error) from None
    if strays:
        named = f"'{strays[0]}'" + (f" and {len(strays) - 1} more" if len(strays) > 1 else "")
        raise OutputError(
            f"{out}: the folder holds {named}, which Sillwright did not write, so it is left alone. "
            "Name another folder after --out, or move that away."
        )
    return place


def write_folder(out: Path, files: Mapping[str, bytes]) -> None:
    """Write files, by their names in the folder, as one folder; replaces an earlier one of ours.

    Raises:  OutputError: it cannot be written; nothing is left half done
    """
    place = check_place(out)
    mark = secrets.token_hex(4)
    new, old = (place.with_name(f".{place.name}.{mark}.{word}") for word in ("new", "old"))
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        _fill(new, files)
        _swap(new, place, old)
    except OSError as error:
        raise _failed(out, error) from None
    finally:
        shutil.rmtree(new, ignore_errors=True)
    shutil.rmtree(old, ignore_errors=True)


def write_new_file(path: Path, data: bytes) -> None:
    """Write a file that is not there yet; nothing is left of it if that fails.

    Raises:  OutputError: there is one already, or it cannot be written
    """
    try:
        with path.open("xb") as file:
            try:
                file.write(data)
                file.flush()
            except OSError:
                path.unlink(missing_ok=True)
                raise
    except FileExistsError:
        raise OutputError(f"{path}: it is there already, and is left alone. Name another file.") from None
    except (OSError, ValueError) as error:
        raise _failed(path, error) from None


def replace_file(path: Path, data: bytes) -> None:
    """Put new content in place of a file's, in one step.

    Raises:  OutputError: it cannot be written; the file is as it was
    """
    target = _full(path)
    new = target.with_name(f".{target.name}.{secrets.token_hex(4)}.new")
    try:
        new.write_bytes(data)
        shutil.copymode(target, new)
        new.replace(target)
    except OSError as error:
        raise _failed(path, error) from None
    finally:
        new.unlink(missing_ok=True)


def _full(path: Path) -> Path:
    try:
        return path.resolve()
    except (OSError, RuntimeError, ValueError) as error:  # a loop of links; a name no system takes
        raise _failed(path, error) from None


def _strays(place: Path) -> list[str]:
    """Return what stands in a folder and is not ours."""
    names = {each.name for each in place.iterdir()} - IGNORED
    if names and not _is_plan(place / "plan.json"):
        return sorted(names)
    strays = sorted(names - OWN)
    drawings = place / "drawings"
    if drawings.is_dir():
        strays += sorted(
            f"drawings/{each.name}"
            for each in drawings.iterdir()
            if each.name not in IGNORED and (each.suffix not in OWN_DRAWINGS or each.is_dir())
        )
    return strays


def _is_plan(path: Path) -> bool:
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return False
    return isinstance(data, dict) and "plan_version" in data


def _fill(folder: Path, files: Mapping[str, bytes]) -> None:
    folder.mkdir()
    for name, data in files.items():
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(data)


def _swap(new: Path, place: Path, old: Path) -> None:
    if not place.exists():
        new.rename(place)
        return
    place.rename(old)
    try:
        new.rename(place)
    except OSError:
        old.rename(place)
        raise


def _failed(path: Path, error: Exception) -> OutputError:
    reason = getattr(error, "strerror", None) or str(error)
    return OutputError(
        f"{path}: it cannot be written: {reason}. Check the name, your rights and the room left."
    )
