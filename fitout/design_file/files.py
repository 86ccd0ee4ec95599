"""Files on disk as text: whatever is wrong with a file itself is a fault like any other."""

from __future__ import annotations

from pathlib import Path

from fitout.design_file.messages import suggestion
from fitout.model.fault import DesignError, Fault

MAX_BYTES = 1_000_000
SUFFIXES = (".yaml", ".yml")


def file_text(path: str | Path) -> str:
    """The text of a design file.

    Raises:
        DesignError: with one fault when it is missing, a folder, too large or not UTF-8.
    """
    place = Path(path)
    try:
        if place.is_dir():
            raise _error("a folder", _found_in(place))
        size = place.stat().st_size
        if size > MAX_BYTES:
            raise _error(f"a file of {size} bytes", f"Is {place.name} a design?")
        data = place.read_bytes()
    except FileNotFoundError:
        raise _error("no such file", _near(place)) from None
    except (OSError, ValueError) as error:
        raise _error(f"a file that can't be read ({_reason(error)})") from None
    if b"\0" in data:
        raise _error("a binary file", "Save the design as plain text, UTF-8.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        start = data.rfind(b"\n", 0, error.start) + 1
        column = len(data[start : error.start].decode("utf-8", "replace")) + 1
        found = f"a byte that is no UTF-8 text (0x{data[error.start]:02X})"
        raise _error(found, "Save the file as UTF-8.", (line, column)) from None


def _error(found: str, hint: str = "", place: tuple[int, int] | None = None) -> DesignError:
    line, column = place or (None, None)
    expected = f"a design file, at most {MAX_BYTES // 1_000_000} MB of text"
    fault = Fault(path=(), found=found, expected=expected, hint=hint, line=line, column=column)
    return DesignError((fault,))


def _reason(error: Exception) -> str:
    return getattr(error, "strerror", None) or str(error)


def _designs(folder: Path) -> tuple[str, ...]:
    try:
        return tuple(sorted(p.name for p in folder.iterdir() if p.suffix in SUFFIXES))
    except OSError:
        return ()


def _found_in(folder: Path) -> str:
    names = _designs(folder)
    return suggestion("", names) if names else ""


def _near(place: Path) -> str:
    """The nearest design beside a missing one."""
    return suggestion(place.name, _designs(place.parent))
