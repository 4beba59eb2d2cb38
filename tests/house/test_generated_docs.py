"""What the docs say about the code is made from the code, and is up to date."""

from __future__ import annotations

import json
import re
from pathlib import Path

import jsonschema
import pytest
import yaml

from fingerpost.maintain.generated_docs import fill_between, write_generated, write_schemas


def test_the_generated_files_are_fresh(project: Path) -> None:
    made = write_generated(project)
    assert len(made) > 16
    stale = [
        p.relative_to(project).as_posix()
        for p, text in made.items()
        if not p.is_file() or p.read_text(encoding="utf-8") != text
    ]
    assert not stale, f"{stale} are not up to date: run `./run refresh`"


@pytest.mark.parametrize("name", sorted(write_schemas()))
def test_a_schema_is_a_valid_schema_and_its_files_fit(name: str, project: Path) -> None:
    schema = json.loads(write_schemas()[name])
    jsonschema.Draft202012Validator.check_schema(schema)
    folder, stem = project / "protocols", name.removesuffix(".json")
    files = {
        "protocol": sorted(folder.glob("*.yml")),
        "referral": sorted((folder / "refer").glob("*.yml")),
        "case": sorted((project / "tests" / "golden" / "cases").glob("*.yml")),
    }.get(stem) or sorted([*(folder / "shared").glob(f"{stem}.yml"), *(folder / "shared" / stem).glob("*.yml")])
    assert files
    for file in files:
        text = file.read_text(encoding="utf-8")
        data = json.loads(json.dumps(yaml.load(text, Loader=_plain_loader())))
        errors = [e.message for e in jsonschema.Draft202012Validator(schema).iter_errors(data)]
        assert not errors, file.name
        if stem != "case":
            assert text.splitlines()[0].endswith(f"schema/{name}"), f"{file.name} does not point editors to its schema"


def _plain_loader() -> type[yaml.SafeLoader]:
    """A loader without dates and yes/no, as our own reader has it."""

    class Plain(yaml.SafeLoader):
        """The same with fewer surprises."""

    Plain.yaml_implicit_resolvers = {
        first: [(tag, pattern) for tag, pattern in found if not tag.endswith((":timestamp", ":bool"))]
        for first, found in yaml.SafeLoader.yaml_implicit_resolvers.items()
    }
    Plain.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile("^(true|false)$"), list("tf"))
    return Plain


def test_a_place_for_generated_text_must_exist() -> None:
    assert fill_between("a\n<!-- x: begin -->\nold<!-- x: end -->\n", "x", "new\n") == (
        "a\n<!-- x: begin -->\nnew\n<!-- x: end -->\n"
    )
    with pytest.raises(ValueError, match="no place for 'y'"):
        fill_between("nothing", "y", "new")


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md", "protocols/README.md", "tests/bench/README.md"])
def test_every_link_of_a_guide_leads_somewhere(name: str, project: Path) -> None:
    text = (project / name).read_text(encoding="utf-8")
    headings = {re.sub(r"[^\w -]", "", h).lower().replace(" ", "-") for h in re.findall(r"(?m)^#+ (.+)$", text)}
    for target in re.findall(r"\]\((?!https?:)([^)\s]+)\)", text):
        path, _, anchor = target.partition("#")
        assert not path or ((project / name).parent / path).exists(), f"{name} links to {target}"
        assert path or anchor in headings, f"{name} links to #{anchor}"
