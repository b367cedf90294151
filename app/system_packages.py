"""What the operating system has to bring: the libraries Qt is linked against, and `venv`.

On Debian and its kin root installs what is missing; everybody else is told the exact command. Standard
library only; looking is fast, since every start of the window looks.
"""

import ctypes
import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Sequence

ON_LINUX = sys.platform.startswith("linux")


class SetUpRefused(Exception):
    """What stops the set-up, told in one sentence that ends with what to do."""


# Library file -> Debian packages that carry it, newest name first. Read with `readelf -d` from the widgets,
# the web engine and the xcb platform plugin of PySide6 6.11.3; libc's and the compiler's own are left out.
QT_LIBRARIES = {
    "libEGL.so.1": ("libegl1",),
    "libGL.so.1": ("libgl1",),
    "libX11.so.6": ("libx11-6",),
    "libX11-xcb.so.1": ("libx11-xcb1",),
    "libXcomposite.so.1": ("libxcomposite1",),
    "libXdamage.so.1": ("libxdamage1",),
    "libXext.so.6": ("libxext6",),
    "libXfixes.so.3": ("libxfixes3",),
    "libXrandr.so.2": ("libxrandr2",),
    "libXtst.so.6": ("libxtst6",),
    "libasound.so.2": ("libasound2t64", "libasound2"),
    "libbrotlidec.so.1": ("libbrotli1",),
    "libdbus-1.so.3": ("libdbus-1-3",),
    "libexpat.so.1": ("libexpat1",),
    "libfontconfig.so.1": ("libfontconfig1",),
    "libfreetype.so.6": ("libfreetype6",),
    "libgbm.so.1": ("libgbm1",),
    "libglib-2.0.so.0": ("libglib2.0-0t64", "libglib2.0-0"),
    "libgssapi_krb5.so.2": ("libgssapi-krb5-2",),
    "libnspr4.so": ("libnspr4",),
    "libnss3.so": ("libnss3",),
    "libudev.so.1": ("libudev1",),
    "libxcb.so.1": ("libxcb1",),
    "libxcb-cursor.so.0": ("libxcb-cursor0",),
    "libxcb-dri3.so.0": ("libxcb-dri3-0",),
    "libxcb-glx.so.0": ("libxcb-glx0",),
    "libxcb-icccm.so.4": ("libxcb-icccm4",),
    "libxcb-image.so.0": ("libxcb-image0",),
    "libxcb-keysyms.so.1": ("libxcb-keysyms1",),
    "libxcb-randr.so.0": ("libxcb-randr0",),
    "libxcb-render.so.0": ("libxcb-render0",),
    "libxcb-render-util.so.0": ("libxcb-render-util0",),
    "libxcb-shape.so.0": ("libxcb-shape0",),
    "libxcb-shm.so.0": ("libxcb-shm0",),
    "libxcb-sync.so.1": ("libxcb-sync1",),
    "libxcb-util.so.1": ("libxcb-util1",),
    "libxcb-xfixes.so.0": ("libxcb-xfixes0",),
    "libxcb-xkb.so.1": ("libxcb-xkb1",),
    "libxkbcommon.so.0": ("libxkbcommon0",),
    "libxkbcommon-x11.so.0": ("libxkbcommon-x11-0",),
    "libxkbfile.so.1": ("libxkbfile1",),
    "libz.so.1": ("zlib1g",),
    "libzstd.so.1": ("libzstd1",),
}


def provide_qt_libraries() -> None:
    """Make sure that Qt finds its libraries on Linux; other systems bring their own.

    Raises
    ------
    SetUpRefused
        On Debian and its kin, if some are missing and can't be installed here.
    """
    missing = missing_libraries()
    if not missing:
        return
    if shutil.which("apt-get"):
        provide([_known_package(QT_LIBRARIES[name]) for name in missing], "Qt needs")
    else:
        names = ", ".join(missing)
        print(
            f"Qt may need {names}; install them with the system's packages if no window opens.",
            file=sys.stderr,
        )


def missing_libraries() -> list[str]:
    """Which of the libraries Qt is linked against the loader doesn't find."""
    if not ON_LINUX:
        return []
    return [name for name in QT_LIBRARIES if not _loads(name)]


def provide_venv() -> None:
    """Install Python's own `venv` where the system has split it off, as Debian does.

    Raises
    ------
    SetUpRefused
        If it can't be installed here.
    """
    if not shutil.which("apt-get"):
        raise SetUpRefused("This Python has no venv and ensurepip; install a complete Python 3.11 or newer.")
    provide(["python{}.{}-venv".format(*sys.version_info[:2])], "Setting Lacet up needs")


def provide(packages: Sequence[str], who_needs: str) -> None:
    """Install Debian packages as root.

    Raises
    ------
    SetUpRefused
        With the exact command, if this isn't root or apt can't.
    """
    install = ["apt-get", "install", "-y", "--no-install-recommends", *packages]
    command = shlex.join(install)
    if not is_root():
        raise SetUpRefused(f"{who_needs} system packages that are missing; install them with: sudo {command}")
    print(f"{who_needs} {', '.join(packages)}; installing.", file=sys.stderr, flush=True)
    # A fresh machine has no list of packages yet, so a first refusal may only mean that.
    if not (_apt(install) or (_apt(["apt-get", "update"]) and _apt(install))):
        raise SetUpRefused(
            f"{who_needs} system packages that could not be installed; see why with: {command}"
        )


def is_root() -> bool:
    """Whether this runs as the superuser of a Unix system."""
    return sys.platform != "win32" and os.geteuid() == 0


def _apt(command: Sequence[str]) -> bool:
    variables = dict(os.environ, DEBIAN_FRONTEND="noninteractive")
    waiting = [command[0], "-o", "DPkg::Lock::Timeout=120", *command[1:]]
    return subprocess.run(waiting, env=variables, capture_output=True, check=False).returncode == 0


def _known_package(names: Sequence[str]) -> str:
    """Choose the name this release of the system knows."""
    for name in names[:-1]:
        if subprocess.run(["apt-cache", "show", name], capture_output=True, check=False).returncode == 0:
            return name
    return names[-1]


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True
