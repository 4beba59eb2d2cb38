"""The command line. The only module that prints, exits, and reads arguments, environment or clock."""

from __future__ import annotations

import argparse
import json
import os
import sys
import tempfile
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, replace
from datetime import date
from pathlib import Path

from generator.checks.rules import find_problems
from generator.content import read_case, read_document, read_library
from generator.manual import write_generated
from generator.model.case import Case
from generator.model.clinic import ClinicSettings
from generator.model.library import Library
from generator.plan.casecheck import find_case_problems
from generator.plan.general import plan_general_handout
from generator.plan.handout import plan_handout
from generator.plan.outline import outline_handout, outline_page
from generator.plan.paper_key import key_address, outline_key, plan_key
from generator.plan.prose import Writer
from generator.plan.protocol_page import PAPERS
from generator.plan.reasons import list_reasons
from generator.plan.site import plan_site
from generator.problems import ContentError, MakeError, Place, Problem, count_problems, suggest
from generator.reckon.overdue import find_overdue
from generator.render import make_environment

PROJECT = Path(__file__).resolve().parent.parent
DEMO_TODAY = date(2026, 11, 25)
DEMO_CASES = PROJECT / "tests" / "golden" / "cases"


def _say(text: str) -> None:
    print(text, flush=True)


def _progress(text: str) -> None:
    """Tell a person at a terminal how far it is; stay quiet in a pipe."""
    if sys.stderr.isatty():
        print(text, file=sys.stderr, flush=True)


def _name(path: Path) -> str:
    """A path as the reader typed it or sees it."""
    try:
        return path.resolve().relative_to(Path.cwd()).as_posix()
    except ValueError:
        return path.as_posix()


def _write_whole(path: Path, content: bytes, mode: int = 0o644) -> None:
    """Write a file so that it is there whole or not at all."""
    handle, made = tempfile.mkstemp(prefix=".new-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        os.chmod(made, mode)
        os.replace(made, path)
    except BaseException:
        os.unlink(made)
        raise


def load_library(folder: Path) -> Library:
    """The collection, if nothing is wrong with it. Raises ContentError with every finding."""
    base = _name(folder)
    if not folder.is_dir():
        raise ContentError([Problem(Place(base), "there is no such folder", "Protocols live in protocols/.")])
    library, problems = read_library(folder, base)
    problems += find_problems(library)
    beside = folder.resolve().parent / "clinic.yml"
    if os.path.lexists(beside):
        clinic, found = read_document(beside, ClinicSettings, _name(beside))
        problems += found
        library = replace(library, clinic=clinic.value) if clinic else library
    if problems:
        raise ContentError(problems)
    return library


def load_case(path: Path, library: Library, today: date) -> Case:
    """One case, if nothing is wrong with it. Raises ContentError with every finding."""
    document, problems = read_case(path, _name(path))
    if document:
        problems += find_case_problems(document, library, today)
    if document is None or problems:
        raise ContentError(problems)
    return document.value


def check(options: argparse.Namespace) -> int:
    """Check every protocol and vocabulary, and any cases named; with --today also for overdue reviews."""
    from generator import upkeep

    library = load_library(options.protocols)
    problems: list[Problem] = []
    for path in options.cases:
        try:
            load_case(path, library, options.today or date.today())
        except ContentError as error:
            problems += error.problems
    problems += upkeep.find_unformatted_files(upkeep.list_content(options.protocols), options.protocols, _name)
    problems += find_overdue(library, options.today) if options.today else ()
    if problems:
        raise ContentError(problems)
    _say(f"{len(library.protocols)} protocols, {len(library.referrals)} short entries: no problems")
    return 0


def outline(options: argparse.Namespace) -> int:
    """Print what readers will see, as plain text: one injury, or everything."""
    library = load_library(options.protocols)
    site = plan_site(library)
    if options.id is None:
        _say("\n".join(outline_page(p) for p in site.pages))
        _say(outline_key(plan_key(Writer(library), "A4")))
        return 0
    if options.id == "key":
        _say(outline_key(plan_key(Writer(library), "A4")))
        return 0
    page = next((p for p in site.pages if p.address.strip("/").split("/")[-1] == options.id), None)
    if page is None:
        known = [p.address.strip("/").split("/")[-1] for p in site.pages]
        hint = suggest(options.id, known) or f"There are: {', '.join(k for k in known if k)}."
        raise ContentError([Problem(Place(_name(options.protocols)), f"no page is called '{options.id}'", hint)])
    _say(outline_page(page))
    protocol = library.find_protocol(options.id)
    if protocol:
        _say(outline_handout(plan_general_handout(library, protocol, "A4")))
    return 0


def _make_desk(library: Library, templates: Mapping[str, str], kept: Path) -> dict[str, bytes]:
    """The files of the desk; none where its engine cannot be brought, and then its page says so."""
    from generator.desk.engine import NoEngine
    from generator.desk.page import make_desk

    _progress("desk")
    try:
        return make_desk(library, templates, PROJECT, kept)
    except NoEngine as error:
        _say(f"the desk is left out: {error}")
        return {}


def build(options: argparse.Namespace) -> int:
    """Build the site with the general sheets and the paper key."""
    from generator import posters, press, website

    library = load_library(options.protocols)
    templates = press.read_templates(PROJECT / "templates")
    environment = make_environment(templates)
    site = plan_site(library)
    files = _make_desk(library, templates, options.out / ".kept" / "desk")
    for number, handout in enumerate(site.handouts, 1):
        _progress(f"sheets {number} of {len(site.handouts)}")
        files[f"sheets/{handout.file_stem}.pdf"] = press.print_general(environment, handout, PROJECT, options.out / ".kept")
    for paper in PAPERS:
        key = plan_key(Writer(library), paper)
        html = posters.write_key(environment, key)
        files[key_address(paper)] = press.print_kept(html, PROJECT, options.out / ".kept", posters.KEY_STYLE)
    _progress("pages")
    target = options.out / "site"
    website.build_site(environment, site, PROJECT, target, files)
    sheets = sum(address.startswith("sheets/") for address in files)
    _say(f"{len(site.pages)} pages and {sheets} sets of sheets are in {_name(target)}")
    return 0


def _make_private(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    folder.chmod(0o700)


def handout(options: argparse.Namespace) -> int:
    """Print the handouts of cases. One bad case does not stop the others."""
    from generator import press

    library = load_library(options.protocols)
    environment = make_environment(press.read_templates(PROJECT / "templates"))
    folder = options.out / "handouts"
    problems: list[Problem] = []
    for path in options.cases:
        try:
            plan = plan_handout(library, load_case(path, library, options.today), options.today)
        except ContentError as error:
            problems += error.problems
            continue
        _make_private(folder)
        target = folder / f"{plan.file_stem}.pdf"
        _write_whole(target, press.print_handout(environment, plan, PROJECT), 0o600)
        _say(f"{_name(path)}: {_name(target)}")
    if problems:
        raise ContentError(problems)
    return 0


def plan(options: argparse.Namespace) -> int:
    """Print the plan of one case in the terminal; with --why the formula behind each number."""
    library = load_library(options.protocols)
    case = load_case(options.case, library, options.today)
    planned = plan_handout(library, case, options.today)
    reasons = list_reasons(library, case, options.today)
    if options.json:
        _say(
            json.dumps({"handout": asdict(planned), "why": [asdict(r) for r in reasons]}, ensure_ascii=False, indent=1)
        )
        return 0
    _say(outline_handout(planned))
    if options.why:
        _say("\n".join(str(r) for r in reasons) or "There are no sums on these sheets.")
    return 0


def _stamp(folders: Sequence[Path]) -> tuple[tuple[str, int], ...]:
    files = (f for folder in folders for f in folder.rglob("*") if f.is_file())
    return tuple(sorted((str(f), f.stat().st_mtime_ns) for f in files))


def serve(options: argparse.Namespace) -> int:
    """Build, serve on this computer only, and build again on every change."""
    import threading
    from functools import partial
    from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer

    build(options)
    handler = partial(SimpleHTTPRequestHandler, directory=str(options.out / "site"))
    server = ThreadingHTTPServer(("127.0.0.1", options.port), handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    _say(f"http://127.0.0.1:{server.server_port}/ (stop with Ctrl-C)")
    watched = [options.protocols, PROJECT / "templates", PROJECT / "site_overrides"]
    seen = _stamp(watched)
    while True:
        time.sleep(0.5)
        now = _stamp(watched)
        if now != seen:
            seen = now
            _run(build, options)


def demo(options: argparse.Namespace) -> int:
    """Check, build, and print the handouts of three invented people, as on a fixed day."""
    options.cases, options.today = sorted(DEMO_CASES.glob("*.yml")), DEMO_TODAY
    return check(options) or build(options) or handout(options)


def refresh(options: argparse.Namespace) -> int:
    """Write the generated files anew: schemas, the table of fields, the list of rules."""
    for path, content in write_generated(PROJECT).items():
        path.parent.mkdir(exist_ok=True)
        if not path.is_file() or path.read_text(encoding="utf-8") != content:
            _write_whole(path, content.encode("utf-8"))
            _say(_name(path))
    return 0


def changes(options: argparse.Namespace) -> int:
    """Tell what a change of the protocols means for readers, and which way it leans."""
    from generator import upkeep
    from generator.changes.report import write_markdown, write_text

    old, new = (upkeep.read_side(side, options.protocols, _name) for side in (options.old, options.new))
    report = upkeep.make_report(old, new)
    if options.markdown:
        _say(write_markdown(report))
        return 1 if report.problems else 0
    _say(write_text(report))
    if report.problems:
        raise ContentError(report.problems)
    return 0


def fmt(options: argparse.Namespace) -> int:
    """Write protocols and cases in canonical form: the same meaning, always laid out the same way."""
    from generator import upkeep

    files = options.files or upkeep.list_content(options.protocols)
    if options.check:
        problems = list(upkeep.find_unformatted_files(files, options.protocols, _name))
    else:
        problems = [p for path in files for p in _rewrite(path, options.protocols)]
    if problems:
        raise ContentError(problems)
    _say(f"{len(files)} files are in canonical form")
    return 0


def _rewrite(path: Path, protocols: Path) -> Sequence[Problem]:
    """Write one file in canonical form, if that changes nothing that it says. Returns why not."""
    from generator import upkeep

    try:
        made = upkeep.rewrite_file(path, protocols, _name)
    except ContentError as error:
        return error.problems
    if made and not upkeep.is_still(path, made[0]):
        return [Problem(Place(_name(path)), "somebody else wrote this file in the meantime", "Try again.")]
    if made:
        _write_whole(path, made[1].encode(), path.stat().st_mode & 0o777)
        _say(f"{_name(path)}: written anew")
    return []


def new(options: argparse.Namespace) -> int:
    """Start a protocol or a case from the annotated specimen. `check` then names what is still to fill."""
    from generator import upkeep

    path, content = upkeep.plan_new(options.kind, options.id, options.protocols, PROJECT, date.today(), _name)
    if options.kind == "case":
        _make_private(path.parent)
    _write_whole(path, content.encode(), 0o600 if options.kind == "case" else 0o644)
    _say(f"{_name(path)}: made. ./run check names what is still to fill.")
    return 0


def whence(options: argparse.Namespace) -> int:
    """Find the revision that printed a sheet, from the content hash in its foot."""
    from generator import upkeep

    _say(upkeep.say_printers(options.hash, upkeep.find_printers(options.protocols, options.hash)))
    return 0


def _add_upkeep(add: Callable[[str, Callable[[argparse.Namespace], int]], argparse.ArgumentParser]) -> None:
    """The commands of a maintainer."""
    compare = add("changes", changes)
    compare.add_argument("old", metavar="OLD", help="a revision, or a folder")
    compare.add_argument("new", nargs="?", metavar="NEW", help="the same; the files here when left out")
    compare.add_argument("--markdown", action="store_true", help="for a pull request")
    form = add("fmt", fmt)
    form.add_argument("files", type=Path, nargs="*", metavar="FILE", help="all protocols when left out")
    form.add_argument("--check", action="store_true", help="only say which are not")
    start = add("new", new)
    start.add_argument("kind", choices=("protocol", "case"))
    start.add_argument("id", nargs="?", default="new-case", metavar="ID", help="the name of the file")
    add("whence", whence).add_argument("hash", metavar="HASH", type=str.lower)


def _read_today(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is not a day like 2026-05-01") from None


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="fingerpost", description="Protocols for sore fingers: a site and printed sheets."
    )
    parser.add_argument("--protocols", type=Path, default=PROJECT / "protocols", help="the folder of protocols")
    parser.add_argument("--out", type=Path, default=PROJECT / "build", help="where to put what is made")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    def add(name: str, run: Callable[[argparse.Namespace], int]) -> argparse.ArgumentParser:
        made = commands.add_parser(name, help=run.__doc__, description=run.__doc__)
        made.set_defaults(run=run)
        return made

    def add_cases(command: argparse.ArgumentParser, count: str) -> None:
        command.add_argument("cases", type=Path, nargs=count, metavar="CASE.yml")
        command.add_argument("--today", type=_read_today, default=date.today(), help="the day to print for")

    checking = add("check", check)
    add_cases(checking, "*")
    checking.set_defaults(today=None)
    add("outline", outline).add_argument("id", nargs="?", metavar="ID", help="one page; all when left out")
    add("build", build)
    add("serve", serve).add_argument("--port", type=int, default=8000)
    add_cases(add("handout", handout), "+")
    plan_parser = add("plan", plan)
    plan_parser.add_argument("case", type=Path, metavar="CASE.yml")
    plan_parser.add_argument("--today", type=_read_today, default=date.today(), help="the day to plan for")
    plan_parser.add_argument("--why", action="store_true", help="the formula behind each number")
    plan_parser.add_argument("--json", action="store_true", help="for machines")
    add("demo", demo)
    add("refresh", refresh)
    _add_upkeep(add)
    return parser


def _run(command: Callable[[argparse.Namespace], int], options: argparse.Namespace) -> int:
    try:
        return command(options)
    except ContentError as error:
        for problem in error.problems:
            _say(str(problem))
        _say(count_problems(error.problems))
        return 1
    except MakeError as error:
        _say(f"nothing was made: {error}")
        return 1
    except OSError as error:
        _say(f"{error.filename or 'file'}: {error.strerror or error}")
        return 1


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Returns 0 when all is well, 1 for a problem of content or files, 2 for a wrong call."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    options = _parser().parse_args(arguments)
    try:
        return _run(options.run, options)
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main())
