"""What becomes of an error nobody foresaw: caught once, kept in a report, told in a sentence.

A report names the error's kind and the lines of code it came through, never its text, a value or a whole
path: what people wrote may stand in each of these.
"""

import logging
import platform
import sys
import threading
import traceback
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType

from lacet import __version__

REPORT_BYTES, OLD_REPORTS = 256 * 1024, 3
SEEN_AT_MOST = 500
SENTENCE = (
    "Something unexpected went wrong in Lacet. What was saved is safe. "
    "A report without personal data is kept; send it to whoever looks after Lacet for you."
)

Tell = Callable[[str], None]


def report_folder() -> Path:
    """Where this person's reports lie."""
    # Late: a command that goes well needs no report.
    from platformdirs import user_log_path

    folder: Path = user_log_path("lacet", appauthor=False)
    return folder


class Unexpected:
    """Keeps reports in a folder and tells each kind of error once.

    Parameters
    ----------
    tell
        Shows a sentence to a person; called from whatever thread the error came up in.
    folder
        Where reports lie; None = this person's own folder.
    """

    def __init__(self, tell: Tell, folder: Path | None = None) -> None:
        self._tell = tell
        self._folder = folder
        self._seen: set[tuple[str, ...]] = set()
        self._one = threading.Lock()

    def install(self) -> None:
        """Take whatever nobody catches, in any thread, from now on; the program goes on."""
        sys.excepthook = self._from_main
        threading.excepthook = self._from_thread
        sys.unraisablehook = self._from_nowhere

    def take(self, error: BaseException) -> None:
        """Keep a report of an error and tell of it; what came up before in the same place is passed over."""
        lines = tuple(_lines_of(error))
        with self._one:
            if lines in self._seen or len(self._seen) >= SEEN_AT_MOST:
                return
            self._seen.add(lines)
            kept = self._keep(lines)
        self._tell(SENTENCE if kept else SENTENCE.split(" A report")[0])

    def _keep(self, lines: tuple[str, ...]) -> bool:
        head = (
            f"{datetime.now(UTC).isoformat(timespec='seconds')} Lacet {__version__}, "
            f"Python {platform.python_version()}, {platform.system()} {platform.release()}"
        )
        try:
            write_report(self._folder or report_folder(), "\n".join((head, *lines, "")))
        except OSError:
            # A full or forbidden disk: there is nobody left to tell but the person.
            return False
        return True

    def _from_main(self, kind: type[BaseException], error: BaseException, _: TracebackType | None) -> None:
        if isinstance(error, KeyboardInterrupt | SystemExit):
            sys.__excepthook__(kind, error, error.__traceback__)
            return
        self.take(error)

    def _from_thread(self, args: threading.ExceptHookArgs) -> None:
        if args.exc_value is not None and not isinstance(args.exc_value, SystemExit):
            self.take(args.exc_value)

    def _from_nowhere(self, args: "sys.UnraisableHookArgs") -> None:
        if args.exc_value is not None:
            self.take(args.exc_value)


def write_report(folder: Path, text: str) -> None:
    """Add a report to the folder's file; old ones make room. Readable by nobody else.

    Raises
    ------
    OSError
    """
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    path = folder / "reports.log"
    path.touch(mode=0o600)
    handler = RotatingFileHandler(path, maxBytes=REPORT_BYTES, backupCount=OLD_REPORTS, encoding="utf-8")
    try:
        handler.emit(logging.LogRecord("lacet", logging.ERROR, "", 0, text, None, None))
    finally:
        handler.close()


def _lines_of(error: BaseException) -> Iterator[str]:
    """The error's kind and its way through the code, then those it came from."""
    seen: set[int] = set()
    each: BaseException | None = error
    while each is not None and id(each) not in seen:
        seen.add(id(each))
        yield f"{type(each).__module__}.{type(each).__qualname__}"
        for frame in traceback.extract_tb(each.__traceback__):
            yield f"  {_short(frame.filename)}:{frame.lineno} {frame.name}"
        each = each.__cause__ or each.__context__


def _short(filename: str) -> str:
    """'lacet/window/work.py': a module's own path, without the folders it is installed in."""
    parts = Path(filename).parts
    for root in ("site-packages", "app", "tests"):
        if root in parts:
            return "/".join(parts[len(parts) - 1 - parts[::-1].index(root) + 1 :])
    return parts[-1] if parts else filename
