"""Which fonts there are on paper, and which signs they can show.

The typesetter brings a serif for Latin, Greek and Cyrillic script; two packages bring Arabic, and Japanese,
Chinese and Korean. Fonts of the machine are never used: a document looks the same wherever it is made.
"""

import importlib.util
import re
from collections.abc import Iterable
from functools import cache
from pathlib import Path

import typst

from lacet.passing import passing_folder

# Families in order: the first that has a sign shows it.
FALLBACK = ("Libertinus Serif", "Amiri", "Noto Sans CJK JP", "New Computer Modern", "DejaVu Sans Mono")
PACKAGES = ("fontpkg_amiri", "noto_cjk_sans_jp_regular")
_PROBE = b'#set document(title: "-")\n#for sign in json("/signs.json") [#box(sign) ]'
_REFUSED = re.compile(r'`"(.+?)"`', re.DOTALL)
_ESCAPED = re.compile(r"\\u\{([0-9a-f]+)\}")


@cache
def fonts(folder: Path | None = None) -> typst.Fonts:
    """All fonts in use: the typesetter's own, those of packages, and an office's from a folder."""
    paths = [path for name in PACKAGES if (path := _package(name)) is not None]
    if folder is not None:
        paths.append(folder)
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=paths)


def unshown(texts: Iterable[str], folder: Path | None = None) -> frozenset[str]:
    """The signs of texts that no font here has; asked of the typesetter itself, once a sign."""
    asked = frozenset(sign for text in texts for sign in text if not sign.isascii())
    known = _answers(folder)
    new = asked - known.keys()
    if new:
        refused = _refused(new, folder)
        known.update((sign, sign not in refused) for sign in new)
    return frozenset(sign for sign in asked if not known[sign])


@cache
def _answers(folder: Path | None) -> dict[str, bool]:
    """What is known so far: sign by sign, whether it can be shown."""
    return {}


def _refused(signs: frozenset[str], folder: Path | None) -> frozenset[str]:
    import json

    with passing_folder() as root:
        Path(root, "signs.json").write_text(json.dumps(sorted(signs)), encoding="utf-8")
        try:
            typst.Compiler(_PROBE, root=root, font_paths=fonts(folder)).compile(
                format="pdf", pdf_standards=["ua-1"]
            )
        except typst.TypstError as error:
            named = "".join(_REFUSED.findall(error.diagnostic or str(error)))
            return signs & frozenset(_ESCAPED.sub(lambda each: chr(int(each[1], 16)), named))
    return frozenset()


def picture_trouble(content: bytes, kind: str, folder: Path | None = None) -> str:
    """Why the typesetter won't have a picture ('svg', 'png', 'jpg'), in its words; empty when it will."""
    source = f'#set document(title: "-")\n#image("/picture.{kind}", alt: "-")'
    with passing_folder() as root:
        Path(root, f"picture.{kind}").write_bytes(content)
        try:
            typst.Compiler(source.encode(), root=root, font_paths=fonts(folder)).compile(
                format="pdf", pdf_standards=["ua-1"]
            )
        except typst.TypstError as error:
            return str(error).split("\n", maxsplit=1)[0]
    return ""


def _package(name: str) -> Path | None:
    """A font package's folder; without it, its scripts are told as missing signs."""
    spec = importlib.util.find_spec(name)
    return None if spec is None or spec.origin is None else Path(spec.origin).parent
