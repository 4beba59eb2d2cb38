"""Makes the font files of this folder again: `.venv/bin/python site_overrides/fonts/make.py`, with npm on the path.

The two Atkinson faces stay as they are. What they lack is cut out of two Noto fonts and joined into one small font,
which takes the line height and the space of the Atkinson faces, so that a sign never pushes lines or words apart.
"""

import hashlib
import subprocess
import tarfile
import tempfile
from pathlib import Path

from fontTools import merge, subset
from fontTools.ttLib import TTFont

HERE = Path(__file__).resolve().parent

# npm package, version, SHA-256 of its archive
ATKINSON = (
    "@expo-google-fonts/atkinson-hyperlegible-next",
    "0.4.1",
    "9c98b93e3f7dd7d7819f9c439aac9fb5b5466781fa1eb002caeb52eb7cb15ce8",
)
MATH = (
    "@fontsource/noto-sans-math",
    "5.3.0",
    "8f6894fffd5863699e279c669d6eae9d3a1218cc9e20aed84efb64a98aee03d8",
)
SYMBOLS = (
    "@fontsource/noto-sans-symbols-2",
    "5.3.0",
    "dd714f47e1ba768274c25d14ac95610ca32e416d70c5455cd11d8995042a4552",
)

FACES = {
    "AtkinsonHyperlegibleNext-Regular": "400Regular/AtkinsonHyperlegibleNext_400Regular.ttf",
    "AtkinsonHyperlegibleNext-Bold": "700Bold/AtkinsonHyperlegibleNext_700Bold.ttf",
}
FROM_MATH = "←↑→↓↔↕↗↘↺↻●◐◑○◌⊕⊖⊗⊘▲△▶▼▽◀■□◆★☆′″∼≡⌀αβδθμ‐ \u2007\u2009\u202f"
FROM_SYMBOLS = "☐☑☒✓✗⚠☞☎✂"
# Signs that look like another one: micro like mu, the hyphen and the space that never break like those that do.
SAME_AS = {"µ": "μ", "\u2011": "‐", "\u00a0": " "}

FAMILY = "Fingerpost Signs"
NAMES = {
    0: "Copyright 2022 Google LLC. All Rights Reserved. (Noto Sans Math). Copyright 2022 The Noto Project Authors "
    "(https://github.com/notofonts/symbols) (Noto Sans Symbols 2).",
    1: FAMILY,
    2: "Regular",
    3: "1.000;FingerpostSigns-Regular",
    4: FAMILY,
    5: "Version 1.000; signs of Noto Sans Math 3.000 and Noto Sans Symbols 2 2.008",
    6: "FingerpostSigns-Regular",
    13: "This Font Software is licensed under the SIL Open Font License, Version 1.1.",
    14: "https://openfontlicense.org",
}


def unpack(package: tuple[str, str, str], folder: Path) -> Path:
    """Fetch an npm package, compare it with the known sum, and return the folder it is unpacked into."""
    name, version, expected = package
    folder.mkdir()
    subprocess.run(["npm", "pack", "--silent", f"{name}@{version}"], cwd=folder, check=True, stdout=subprocess.DEVNULL)
    (archive,) = folder.glob("*.tgz")
    found = hashlib.sha256(archive.read_bytes()).hexdigest()
    if found != expected:
        raise SystemExit(f"{name} {version}: the archive's SHA-256 is {found}, not {expected}")
    with tarfile.open(archive) as opened:
        opened.extractall(folder, filter="data")
    return folder / "package"


def cut(source: Path, characters: str, target: Path) -> None:
    """Write a font that has only these characters, with no hinting and no layout tables."""
    options = subset.Options(layout_features=[], hinting=False, notdef_outline=True, recalc_timestamp=False)
    options.drop_tables += ["GDEF", "GPOS", "GSUB", "MATH", "vhea", "vmtx"]
    font = subset.load_font(str(source), options)
    if lacking := set(characters) - {chr(code) for code in font.getBestCmap()}:
        raise SystemExit(f"{source.name} lacks {' '.join(sorted(lacking))}")
    cutter = subset.Subsetter(options)
    cutter.populate(text=characters)
    cutter.subset(font)
    font.flavor = None
    font.save(target)


def join(parts: list[Path], line: TTFont) -> TTFont:
    """Join the cut fonts under our own name, with the line height of the font `line`."""
    created = min(TTFont(part)["head"].created for part in parts)
    font = merge.Merger().merge([str(part) for part in parts])
    font.recalcTimestamp = False
    font["head"].created = font["head"].modified = created
    font["head"].fontRevision = 1.0
    font["OS/2"].fsType = 0
    for table, fields in {
        "hhea": ("ascent", "descent", "lineGap"),
        "OS/2": ("sTypoAscender", "sTypoDescender", "sTypoLineGap", "usWinAscent", "usWinDescent"),
    }.items():
        for field in fields:
            setattr(font[table], field, getattr(line[table], field))
    # The PDF engine takes the space after a sign from the font of the sign.
    font["hmtx"][font.getBestCmap()[ord(" ")]] = line["hmtx"][line.getBestCmap()[ord(" ")]]
    for table in font["cmap"].tables:
        for sign, like in SAME_AS.items():
            table.cmap[ord(sign)] = table.cmap[ord(like)]
    font["name"].names = []
    for number, text in NAMES.items():
        font["name"].setName(text, number, 3, 1, 0x409)
    return font


def main() -> None:
    """Make every font file of this folder."""
    with tempfile.TemporaryDirectory() as name:
        work = Path(name)
        atkinson = unpack(ATKINSON, work / "atkinson")
        math = unpack(MATH, work / "math") / "files" / "noto-sans-math-latin-400-normal.woff2"
        symbols = unpack(SYMBOLS, work / "symbols") / "files" / "noto-sans-symbols-2-symbols-400-normal.woff2"
        for face, path in FACES.items():
            (HERE / f"{face}.ttf").write_bytes((atkinson / path).read_bytes())
        cut(math, FROM_MATH, work / "math.ttf")
        cut(symbols, FROM_SYMBOLS, work / "symbols.ttf")
        line = TTFont(HERE / "AtkinsonHyperlegibleNext-Regular.ttf")
        join([work / "math.ttf", work / "symbols.ttf"], line).save(HERE / "FingerpostSigns-Regular.ttf")
    for path in sorted(HERE.glob("*.ttf")):
        font = TTFont(path, recalcTimestamp=False)
        font.flavor = "woff2"
        font.save(path.with_suffix(".woff2"))


if __name__ == "__main__":
    main()
