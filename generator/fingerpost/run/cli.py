"""The command line. The only module that prints, exits, and reads arguments, environment or clock.

Everybody waits for its start, `--help` too: so each command imports what it needs, and nothing else does.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Mapping, Sequence

from fingerpost.run.options import read_arguments

TYPE_CHECKING = False
if TYPE_CHECKING:
    from datetime import date
    from pathlib import Path

    from fingerpost.model.case import Case
    from fingerpost.model.library import Document, Library
    from fingerpost.run.workers import Sort

DEMO_DAY = (2026, 11, 25)


def _today() -> date:
    from datetime import date

    return date.today()


def _say(text: str) -> None:
    print(text, flush=True)


def _progress(text: str) -> None:
    """Tell a person at a terminal how far it is; stay quiet in a pipe."""
    if sys.stderr.isatty():
        print(text, file=sys.stderr, flush=True)


def _name(path: Path) -> str:
    """A path as the reader typed it or sees it."""
    from pathlib import Path

    try:
        return path.resolve().relative_to(Path.cwd()).as_posix()
    except (ValueError, OSError, RuntimeError):  # elsewhere, or links that lead round in a circle
        return path.as_posix()


def _load(options: argparse.Namespace) -> Library:
    from fingerpost.run.load import load_library
    from fingerpost.run.project import refuse_inside

    refuse_inside(options.out, options.protocols, _name)
    return load_library(options.protocols, getattr(options, "today", None) or _today(), _name)


def _say_doubts(document: Document[Case], library: Library, today: date | None) -> None:
    from fingerpost.plan.person.doubts import find_doubtful_places, say_doubt

    for doubt in find_doubtful_places(document, library, today or _today()):
        _say(say_doubt(doubt))


def check(options: argparse.Namespace) -> int:
    """Check every protocol and vocabulary, and any cases named; with --today also for overdue reviews."""
    from fingerpost.run.checking import Asked, check_all
    from fingerpost.run.project import refuse_inside

    refuse_inside(options.out, options.protocols, _name)
    asked = Asked(options.protocols, tuple(options.cases), options.today, _name)
    status, said = check_all(asked, options.out / ".kept", lambda: _load(options), _today)
    _say(said)
    return status


def outline(options: argparse.Namespace) -> int:
    """Print what readers will see, as plain text: one injury, or everything."""
    from fingerpost.plan.base.outline import outline_handout, outline_page
    from fingerpost.plan.base.prose import Writer
    from fingerpost.plan.pages.briefs import outline_briefs
    from fingerpost.plan.pages.general import plan_general_handout
    from fingerpost.plan.pages.site import plan_site
    from fingerpost.plan.walls.paper_key import outline_key, plan_key
    from fingerpost.problems import ContentError, Place, Problem, suggest

    library = _load(options)
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
    if library.find_protocol(options.id):
        _say(outline_handout(plan_general_handout(library, options.id, "A4")))
    if condition := next((c for c in library.conditions if c.id == options.id), None):
        _say(outline_briefs(Writer(library), condition))
    return 0


def build(options: argparse.Namespace) -> int:
    """Build the site with the sheets, the key, the notices, the display and the data."""
    from fingerpost.files.cache import Kept
    from fingerpost.files.standing import FolderNote
    from fingerpost.run.inputs import hash_inputs
    from fingerpost.run.project import PROJECT, refuse_inside

    refuse_inside(options.out, options.protocols, _name)
    fresh, kept, target = getattr(options, "fresh", False), options.out / ".kept", options.out / "site"
    laid_out = [PROJECT / part for part in ("templates", "site_overrides", "mkdocs.yml")]
    note = FolderNote(kept / "site", hash_inputs(options.protocols, *laid_out, options=(_today().isoformat(),)))
    if not fresh and (said := note.find(target)):
        _say(f"{said} are in {_name(target)}: nothing has changed since they were made")
        return 0
    from fingerpost.run.building import build_all

    said = build_all(_load(options), PROJECT, target, Kept(kept, fresh), note, _say, _progress)
    _say(f"{said} are in {_name(target)}")
    return 0


def _print_cases(options: argparse.Namespace, sort: Sort) -> int:
    """Write what each case makes. One bad case does not stop the others."""
    from fingerpost.files.cache import hash_files
    from fingerpost.problems import ContentError, MakeError
    from fingerpost.run import batch
    from fingerpost.run.visit_log import open_log
    from fingerpost.run.workers import choose_workers, make_kit

    library = _load(options)
    log = open_log(options.cases, library, options.today, _name) if sort == "handout" and options.log else None
    folder = options.protocols.resolve()
    content = hash_files([*folder.rglob("*.yml"), *folder.parent.glob("clinic.yml")], folder.parent)
    kit = make_kit(library, options.today, sort, sort == "handout" and options.calendar, content)
    found = batch.list_orders(options.cases, options.columns, _name)
    opener, workers = choose_workers(options.jobs, options.scheduler, len(found))
    target = options.out / "handouts"
    run = batch.print_all(kit, found, opener, workers, target, options.resume, _name, _say, _progress, log)
    if run.refused or run.unlogged:
        raise ContentError([p for problems in run.refused.values() for p in problems] + run.unlogged)
    if run.failed:
        raise MakeError("; ".join(f"{name}: {why}" for name, why in run.failed.items()))
    return 0


def handout(options: argparse.Namespace) -> int:
    """Print the handouts of cases, with a coach sheet where the athlete shares it and --calendar for the days ahead."""
    return _print_cases(options, "handout")


def coach(options: argparse.Namespace) -> int:
    """Print only the coach sheets of cases."""
    return _print_cases(options, "coach")


def notice(options: argparse.Namespace) -> int:
    """Print notices for gyms: all, those of one injury, or 'start' for the one that sends people on."""
    from fingerpost.run.for_anybody import make_notices

    return _write_files(options, make_notices(_load(options), options, _name, _progress))


def leaf(options: argparse.Namespace) -> int:
    """Print the leaf of an injury for nobody in particular, a grade each, or that of an entry "see somebody first"."""
    from fingerpost.run.for_anybody import make_leaf

    return _write_files(options, make_leaf(_load(options), options, _name))


def _write_files(options: argparse.Namespace, files: Mapping[str, bytes]) -> int:
    from fingerpost.files.disk import write_whole

    for address, content in files.items():
        target = options.out / address
        target.parent.mkdir(parents=True, exist_ok=True)
        write_whole(target, content)
        _say(_name(target))
    return 0


def plan(options: argparse.Namespace) -> int:
    """Print the plan of one case in the terminal; with --why the formula behind each number."""
    import json
    from dataclasses import asdict

    from fingerpost.plan.base.outline import outline_handout
    from fingerpost.plan.leaf.handout import plan_handout
    from fingerpost.plan.person.reasons import list_reasons
    from fingerpost.run.load import load_case

    library = _load(options)
    document = load_case(options.case, library, options.today, _name)
    planned = plan_handout(library, document.value, options.today)
    reasons = list_reasons(library, document.value, options.today)
    if options.json:
        _say(
            json.dumps({"handout": asdict(planned), "why": [asdict(r) for r in reasons]}, ensure_ascii=False, indent=1)
        )
        return 0
    _say(outline_handout(planned))
    _say(f"Enclosed: {', '.join(dict.fromkeys(sheet.name for sheet in planned.sheets)) or 'nothing'}.")
    _say_doubts(document, library, options.today)
    if options.why:
        _say("\n".join(str(r) for r in reasons) or "There are no sums on these sheets.")
    return 0


def serve(options: argparse.Namespace) -> int:
    """Build, serve on this computer only, and build again on every change."""
    from fingerpost.run.project import PROJECT
    from fingerpost.run.serving import serve_and_watch

    build(options)
    watched = [options.protocols, PROJECT / "templates", PROJECT / "site_overrides"]
    serve_and_watch(options.out / "site", options.port, watched, lambda: _run(build, options), _say)


def desk(options: argparse.Namespace) -> int:
    """Open the desk on this computer only, with a button for a PDF with tags."""
    from fingerpost.desk.server import open_desk
    from fingerpost.make import pdf
    from fingerpost.run.project import PROJECT

    library, templates = _load(options), pdf.read_templates(PROJECT / "templates")
    if not (options.out / "site" / "desk" / "index.html").is_file():
        build(options)
    server = open_desk(library, templates, PROJECT, options.out / "site", options.port)
    _say(f"{server.address} (stop with Ctrl-C)")
    server.serve_forever()
    return 0


def drawings(options: argparse.Namespace) -> int:
    """Put every kind of drawing on contact sheets, as HTML and as PDF: in ink, grey, dark, and as large as in print."""
    from fingerpost.files.disk import write_whole
    from fingerpost.run.project import PROJECT
    from fingerpost.run.site_build import make_contact_sheets

    options.out.mkdir(parents=True, exist_ok=True)
    for name, content in make_contact_sheets(_load(options), PROJECT).items():
        write_whole(options.out / name, content)
        _say(_name(options.out / name))
    return 0


def demo(options: argparse.Namespace) -> int:
    """Check, build, and print the handouts of three invented people, as on a fixed day."""
    from datetime import date

    from fingerpost.run.project import DEMO_CASES

    places = ["--protocols", str(options.protocols), "--out", str(options.out)]
    call = [*places, "handout", *map(str, sorted(DEMO_CASES.glob("*.yml"))), "--calendar"]
    sheets = read_arguments(COMMANDS, lambda: date(*DEMO_DAY), call)
    return check(sheets) or build(sheets) or handout(sheets)


def refresh(options: argparse.Namespace) -> int:
    """Write the generated files anew: schemas, the table of fields, the list of rules."""
    from fingerpost.files.disk import write_whole
    from fingerpost.maintain.generated_docs import write_generated
    from fingerpost.run.project import PROJECT

    for path, content in write_generated(PROJECT).items():
        path.parent.mkdir(exist_ok=True)
        if not path.is_file() or path.read_text(encoding="utf-8") != content:
            write_whole(path, content.encode("utf-8"))
            _say(_name(path))
    return 0


def changes(options: argparse.Namespace) -> int:
    """Tell what a change of the protocols means for readers, and which way it leans."""
    from fingerpost.changes.report import write_markdown, write_text
    from fingerpost.maintain import upkeep
    from fingerpost.problems import ContentError

    old, new = (upkeep.read_edition(side, options.protocols, _name) for side in (options.old, options.new))
    report = upkeep.make_report(old, new)
    _say(write_markdown(report) if options.markdown else write_text(report))
    if report.problems and not options.markdown:
        raise ContentError(report.problems)
    return 1 if report.problems else 0


def fmt(options: argparse.Namespace) -> int:
    """Write protocols and cases in canonical form: the same meaning, always laid out the same way."""
    from fingerpost.problems import ContentError
    from fingerpost.read.texts import list_content
    from fingerpost.rewrite.files import find_unformatted_files, write_anew

    files = options.files or list_content(options.protocols)
    problems = list(find_unformatted_files(files, options.protocols, _name)) if options.check else []
    for path in () if options.check else files:
        try:
            if write_anew(path, options.protocols, _name):
                _say(f"{_name(path)}: written anew")
        except ContentError as error:
            problems += error.problems
    if problems:
        raise ContentError(problems)
    _say(f"{len(files)} files are in canonical form")
    return 0


def new(options: argparse.Namespace) -> int:
    """Start a protocol or a case from the annotated specimen. `check` then names what is still to fill."""
    from fingerpost.files.disk import make_private, write_whole
    from fingerpost.maintain.scaffold import plan_new
    from fingerpost.run.project import PROJECT

    path, content = plan_new(options.kind, options.id, options.protocols, PROJECT, _today(), _name)
    if options.kind == "case":
        make_private(path.parent)
    write_whole(path, content.encode(), 0o600 if options.kind == "case" else 0o644)
    _say(f"{_name(path)}: made. ./run check names what is still to fill.")
    return 0


def whence(options: argparse.Namespace) -> int:
    """Find the revision that printed a sheet, from the content hash in its foot."""
    from fingerpost.maintain import upkeep

    _say(upkeep.say_printers(options.hash, upkeep.find_printers(options.protocols, options.hash)))
    return 0


def where(options: argparse.Namespace) -> int:
    """Find the phrase or text that printed some words, and what says it."""
    from fingerpost.maintain.where import say_where
    from fingerpost.run.project import PROJECT

    _say(say_where(" ".join(options.words), options.protocols, PROJECT, _name))
    return 0


COMMANDS = (
    check, outline, build, serve, notice, leaf, desk, drawings, demo, refresh,
    handout, coach, plan, changes, fmt, new, whence, where,
)  # fmt: skip


def _run(command: Callable[[argparse.Namespace], int], options: argparse.Namespace) -> int:
    from fingerpost.problems import ContentError, MakeError, count_problems

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


def _fall_silent(error: OSError) -> int:
    """Nobody can hear what is said: whoever read it has gone, or their disk is full. Returns the exit status."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    if isinstance(error, BrokenPipeError):
        return 141
    print(f"standard output: {error.strerror or error}", file=sys.stderr)
    return 1


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Returns 0 when all is well, 1 for a problem of content or files, 2 for a wrong call."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    options = read_arguments(COMMANDS, _today, sys.argv[1:] if arguments is None else arguments)
    try:
        return _run(options.run, options)
    except KeyboardInterrupt:
        return 130
    except OSError as error:
        return _fall_silent(error)


if __name__ == "__main__":
    sys.exit(main())
