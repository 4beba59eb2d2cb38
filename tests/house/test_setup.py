"""The set-up: the script `run`, the requirements it installs, the fonts and the licences that are shipped."""

import fnmatch
import os
import re
import shutil
import subprocess
import tomllib
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

pytestmark = pytest.mark.rest

ROOT = Path(__file__).resolve().parents[2]
FONTS = ROOT / "site_overrides" / "fonts"
REQUIREMENTS = ["requirements.txt", "requirements-dev.txt"]

# Every sign that a text may need beside plain letters and digits.
SIGNS = "≥≤≠≈±×÷−√∞πμµΔΩ°½¼¾²³·•–—…“”‘’′″←↑→↓↔↗↘↺↻●◐◑○◌⊕⊖⊗⊘▲△▶▼▽◀■□◆★☆☐☑☒✓✗⚠☞☎✂∼≡⌀αβδθ\u2010\u2011\u00a0\u2007\u202f"
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~"
EUROPE = "ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÑÒÓÔÕÖØÙÚÛÜÝßàáâãäåæçèéêëìíîïñòóôõöøùúûüýÿĀąćČčďĐđęěğİıŁłńňŐőŒœřśŠšşťůűźŽžżȘș"


def read_pins(name: str) -> dict[tuple[str, str], tuple[str, list[str]]]:
    """Every pinned package of a requirements file: (name, marker) -> (version, hashes)."""
    pins = {}
    for entry in (ROOT / name).read_text("utf-8").replace("\\\n", " ").splitlines():
        pinned, *hashes = entry.split(" --hash=")
        requirement = Requirement(pinned)
        (specifier,) = requirement.specifier
        assert specifier.operator == "==", entry
        key = (canonicalize_name(requirement.name), str(requirement.marker or ""))
        assert key not in pins, f"{key} stands twice in {name}"
        pins[key] = (specifier.version, [h.strip() for h in hashes])
    return pins


def read_project() -> dict:
    """What pyproject.toml says."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def read_group(name: str) -> list[str]:
    """The requirements of a dependency group, with those of the groups that it includes."""
    found = []
    for entry in read_project()["dependency-groups"][name]:
        found += [entry] if isinstance(entry, str) else read_group(entry["include-group"])
    return found


@pytest.mark.parametrize("name", REQUIREMENTS)
def test_every_requirement_is_pinned_and_hashed(name):
    pins = read_pins(name)
    assert len(pins) > 40
    for key, (_, hashes) in pins.items():
        assert hashes, key
        assert all(re.fullmatch("sha256:[0-9a-f]{64}", h) for h in hashes), key


@pytest.mark.parametrize("name", [*REQUIREMENTS, "pyproject.toml", "run", ".ci/run"])
def test_set_up_files_hold_no_address(name):
    text = (ROOT / name).read_text("utf-8")
    assert "://" not in text
    assert not re.search(r"--(extra-)?index-url|--find-links|--trusted-host", text)


@pytest.mark.parametrize(("name", "group"), [("requirements.txt", "build"), ("requirements-dev.txt", "dev")])
def test_pins_are_within_the_ranges_of_the_project(name, group):
    pins = read_pins(name)
    for wanted in map(Requirement, read_project()["project"]["dependencies"] + read_group(group)):
        versions = [version for (package, _), (version, _) in pins.items() if package == canonicalize_name(wanted.name)]
        assert versions, f"{wanted.name} is not in {name}: ./run lock"
        for version in versions:
            assert wanted.specifier.contains(version, prereleases=True), f"{wanted} but {version} in {name}: ./run lock"


def test_tests_run_with_what_the_program_runs_with():
    run, dev = map(read_pins, REQUIREMENTS)
    assert run.items() <= dev.items()


def test_the_build_backend_is_among_the_requirements():
    assert read_project()["build-system"]["requires"] == read_group("build")


def test_the_checker_of_pdf_files_is_pinned_exactly():
    (entry,) = [entry for entry in read_group("test") if entry.startswith("page-validation")]
    assert re.fullmatch(r"page-validation==[\d.]+", entry)


@pytest.mark.parametrize("name", ["run", ".ci/run"])
def test_scripts_can_be_run(name):
    script = ROOT / name
    assert os.access(script, os.X_OK)
    shell = script.read_text("utf-8").splitlines()[0].split("/")[-1].removeprefix("env ")
    subprocess.run([shell, "-n", script], check=True)


@pytest.fixture
def place(tmp_path):
    """A copy of `run` in a folder with a space in its name, and a path with hardly a program on it."""
    folder, programs = tmp_path / "finger post", tmp_path / "programs"
    folder.mkdir()
    programs.mkdir()
    for name in ["run", "pyproject.toml", *REQUIREMENTS]:
        shutil.copy(ROOT / name, folder)
    for name in ["cat", "cksum", "find", "id", "mkdir", "rm"]:
        (programs / name).symlink_to(shutil.which(name))

    def add(name, text):
        (programs / name).unlink(missing_ok=True)
        (programs / name).write_text(f"#!/bin/sh\n{text}\n", "utf-8")
        (programs / name).chmod(0o755)

    def start(*arguments):
        command = [shutil.which("sh"), folder / "run", *arguments]
        return subprocess.run(command, env={"PATH": str(programs)}, capture_output=True, text=True, check=False)

    start.add, start.folder = add, folder
    return start


# A Python that is new enough, on a machine without Pango.
WITHOUT_PANGO = 'case $2 in *base_executable*) echo "$0" ;; *ctypes*) echo Pango ;; esac'


def test_run_alone_tells_what_it_can_do_and_sets_nothing_up(place):
    done = place()
    assert done.returncode == 0
    assert "./run demo" in done.stdout
    assert not (place.folder / ".venv").exists()


def test_run_says_when_there_is_no_python(place):
    done = place("demo")
    assert done.returncode == 1
    assert "Fingerpost needs Python 3.11 or newer; here is no Python at all." in done.stderr


def test_run_says_when_python_is_too_old(place):
    place.add("python3", '[ "$1" = --version ] && echo Python 3.9.2')
    done = place("demo")
    assert done.returncode == 1
    assert "here is Python 3.9.2" in done.stderr


@pytest.mark.parametrize(
    ("programs", "expected"),
    [
        ({}, "Missing: the libraries Pango. Please install that, then try again."),
        ({"brew": ""}, "\n    brew install pango\n"),
        ({"dnf": ""}, "\n    sudo dnf install pango harfbuzz\n"),
        (
            {"apt-get": "", "id": "echo 1000"},
            "\n    sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0\n",
        ),
        (
            {"apt-get": "exit 100", "id": "echo 0"},
            "\n    apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0\n",
        ),
        ({"apt-get": "", "id": "echo 0"}, "were installed, but"),
    ],
    ids=["unknown", "homebrew", "fedora", "debian", "debian-fails", "debian-does-nothing"],
)
def test_run_tells_the_line_that_installs_missing_libraries(place, programs, expected):
    for name, text in {"python3": WITHOUT_PANGO, **programs}.items():
        place.add(name, text)
    done = place("demo")
    assert done.returncode == 1
    assert expected in done.stderr
    assert done.stdout == ""


def test_run_tells_the_line_that_installs_what_the_tests_need(place):
    place.add("apt-get", "")
    place.add("id", "echo 1000")
    done = place("test")
    assert done.returncode == 1
    assert "\n    sudo apt-get install poppler-utils chromium nodejs npm default-jre-headless\n" in done.stderr
    assert not (place.folder / ".venv").exists()


def test_quick_tests_need_none_of_that(place):
    place.add("apt-get", "")
    place.add("id", "echo 1000")
    done = place("test", "quick")
    assert done.returncode == 1
    assert "here is no Python at all" in done.stderr
    assert "chromium" not in done.stderr


def test_fonts_are_the_ones_we_know():
    assert sorted(p.stem for p in FONTS.glob("*.ttf")) == sorted(p.stem for p in FONTS.glob("*.woff2"))
    names = {(f["name"].getDebugName(1), f["name"].getDebugName(2)) for f in map(TTFont, FONTS.glob("*.ttf"))}
    assert names == {
        ("Atkinson Hyperlegible Next", "Regular"),
        ("Atkinson Hyperlegible Next", "Bold"),
        ("Fingerpost Signs", "Regular"),
    }


@pytest.mark.parametrize("path", sorted(FONTS.glob("*.ttf")), ids=lambda path: path.stem)
def test_fonts_are_truetype_and_may_be_embedded(path):
    font = TTFont(path)
    assert path.read_bytes()[:4] == b"\0\1\0\0"
    assert "glyf" in font
    assert font["OS/2"].fsType == 0
    assert "SIL Open Font License" in font["name"].getDebugName(13)
    assert "Reserved Font Name" not in font["name"].getDebugName(0)
    packed = TTFont(path.with_suffix(".woff2"))
    assert packed.flavor == "woff2"
    assert packed.getBestCmap() == font.getBestCmap()


@pytest.mark.parametrize("weight", ["Regular", "Bold"])
def test_fonts_have_every_sign_that_the_text_needs(weight):
    letters = TTFont(FONTS / f"AtkinsonHyperlegibleNext-{weight}.ttf").getBestCmap()
    signs = TTFont(FONTS / "FingerpostSigns-Regular.ttf").getBestCmap()
    assert [c for c in LETTERS + EUROPE if ord(c) not in letters] == []
    assert [c for c in SIGNS if ord(c) not in letters and ord(c) not in signs] == []


def test_a_sign_does_not_push_lines_or_words_apart():
    signs, letters = (
        TTFont(FONTS / f"{n}.ttf") for n in ("FingerpostSigns-Regular", "AtkinsonHyperlegibleNext-Regular")
    )
    assert signs["head"].unitsPerEm == letters["head"].unitsPerEm
    for field in ("ascent", "descent", "lineGap"):
        assert getattr(signs["hhea"], field) == getattr(letters["hhea"], field)
    for space in (0x20, 0xA0):
        assert signs["hmtx"][signs.getBestCmap()[space]] == letters["hmtx"][letters.getBestCmap()[space]]


def test_the_style_sheet_of_the_fonts_names_files_that_are_there():
    urls = re.findall(r'url\("([^"]+)"\)', (FONTS / "fonts.css").read_text("utf-8"))
    assert sorted(urls) == sorted(p.name for p in FONTS.glob("*.woff2"))


@pytest.mark.parametrize(
    ("name", "phrase"),
    [
        ("LICENSE", "MIT License"),
        ("site_overrides/fonts/OFL-Atkinson-Hyperlegible-Next.txt", "Atkinson Hyperlegible Next Project Authors"),
        (
            "site_overrides/fonts/OFL-Fingerpost-Signs.txt",
            "Noto Sans Symbols 2: Copyright 2022 The Noto",
        ),
    ],
)
def test_licences_are_shipped(name, phrase):
    text = (ROOT / name).read_text("utf-8")
    assert phrase in text
    assert "OFL" not in name or "SIL OPEN FONT LICENSE Version 1.1" in text


def test_no_file_names_the_host_of_a_registry():
    ignored = [line.strip("/") for line in (ROOT / ".gitignore").read_text("utf-8").split()] + [".git"]
    host = re.compile(r"\b(?:pypi|pythonhosted|npmjs|yarnpkg|deb\.debian)\.(?:org|com|net|io)\b")
    looked_at, found = 0, []
    for folder, folders, files in os.walk(ROOT):
        folders[:] = [f for f in folders if not any(fnmatch.fnmatch(f, pattern) for pattern in ignored)]
        for file in (Path(folder) / name for name in files):
            looked_at += 1
            if host.search(file.read_text("utf-8", errors="ignore")):
                found.append(str(file.relative_to(ROOT)))
    assert looked_at > 20
    assert found == []
