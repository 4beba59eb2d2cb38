"""Two thoroughly wrong files, and every word that is said about them."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from fingerpost.problems import ContentError
from fingerpost.run import load

HERE = Path(__file__).parent


@pytest.mark.parametrize("name", ["wrong_shape", "wrong_content"])
def test_all_that_is_said(name: str, project: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(project / "protocols", tmp_path / "protocols")
    shutil.copy(HERE / f"{name}.yml", tmp_path / "protocols" / "wrong.yml")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(ContentError) as caught:
        load.load_library(tmp_path / "protocols", date(2026, 11, 25), lambda p: p.relative_to(tmp_path).as_posix())
    said = "".join(f"{problem}\n" for problem in caught.value.problems)
    assert f"{said}{caught.value}\n" == (HERE / f"{name}.txt").read_text("utf-8")
