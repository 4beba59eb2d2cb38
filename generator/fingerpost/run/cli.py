"""The command line. The only module that prints, exits, and reads arguments, environment or clock."""

from __future__ import annotations

import argparse
import json
import os
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict
from datetime import date
from pathlib import Path

from fingerpost.files.cache import Kept, hash_files
from fingerpost.files.disk import make_private, stamp, write_whole
from fingerpost.maintain.generated_docs import write_generated
from fingerpost.make.templates import make_environment
from fingerpost.model.case import Case
from fingerpost.model.library import Document, Library
from fingerpost.plan.base.outline import outline_handout, outline_page
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.briefs import outline_briefs
from fingerpost.plan.pages.general import plan_general_handout
from fingerpost.plan.pages.site import plan_site
from fingerpost.plan.person.doubts import find_doubtful_places, say_doubt
from fingerpost.plan.person.reasons import list_reasons
from fingerpost.plan.walls.paper_key import outline_key, plan_key
from fingerpost.problems import ContentError, MakeError, Place, Problem, count_problems, suggest
from fingerpost.reckon.overdue import find_overdue
from fingerpost.run.load import load_case, load_library, refuse_inside
from fingerpost.run.options import Sort, make_parser

PROJECT = Path(__file__).resolve().parents[3]
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
    except (ValueError, OSError, RuntimeError):  # elsewhere, or links that lead round in a circle
        return path.as_posix()


def _load(options: argparse.Namespace) -> Library:
    refuse_inside(options.out, options.protocols, _name)
    return load_library(options.protocols, getattr(options, "today", None) or date.today(), _name)


def _say_doubts(document: Document[Case], library: Library, today: date | None) -> None:
    for doubt in find_doubtful_places(document, library, today or date.today()):
        _say(say_doubt(doubt))


def check(options: argparse.Namespace) -> int:
    """Check every protocol and vocabulary, and any cases named; with --today also for overdue reviews."""
    from fingerpost.maintain import upkeep

    library = _load(options)
    problems: list[Problem] = []
    for path in options.cases:
        try:
            _say_doubts(load_case(path, library, options.today or date.today(), _name), library, options.today)
        except ContentError as error:
            problems += error.problems
    kept = Kept(options.out / ".kept" / "checked")
    problems += upkeep.find_unformatted_content(options.protocols, _name, kept)
    problems += find_overdue(library, options.today) if options.today else ()
    if problems:
        raise ContentError(problems)
    _say(f"{len(library.protocols)} protocols, {len(library.referrals)} short entries: no problems")
    return 0


def outline(options: argparse.Namespace) -> int:
    """Print what readers will see, as plain text: one injury, or everything."""
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


def _make_desk(library: Library, templates: Mapping[str, str], kept: Kept) -> dict[str, bytes]:
    """The files of the desk; none where its engine cannot be brought, and then its page says so."""
    from fingerpost.desk.engine import NoEngine
    from fingerpost.desk.page import make_desk

    _progress("desk")
    try:
        return make_desk(library, templates, PROJECT, kept)
    except NoEngine as error:
        _say(f"the desk is left out: {error}")
        return {}


def build(options: argparse.Namespace) -> int:
    """Build the site with the sheets, the key, the notices, the display and the data."""
    from fingerpost.make import pdf, website
    from fingerpost.run import site_build

    library = _load(options)
    templates = pdf.read_templates(PROJECT / "templates")
    environment = make_environment(templates)
    site, kept = plan_site(library), Kept(options.out / ".kept")
    files = _make_desk(library, templates, kept)
    files |= site_build.make_site_files(library, site, environment, PROJECT, kept, _progress)
    _progress("pages")
    target = options.out / "site"
    website.build_site(site_build.write_kept_page(environment, PROJECT, kept), site, PROJECT, target, files)
    kept.sweep()
    made = {part: sum(address.startswith(f"{part}/") for address in files) for part in ("sheets", "notices")}
    _say(
        f"{len(site.pages)} pages, {made['sheets']} sets of sheets and {made['notices']} notices are in {_name(target)}"
    )
    return 0


def _print_cases(options: argparse.Namespace, sort: Sort) -> int:
    """Write what each case makes. One bad case does not stop the others."""
    from fingerpost.run import batch
    from fingerpost.run.workers import choose_workers, make_kit

    library = _load(options)
    content = hash_files([*options.protocols.rglob("*.yml"), *options.protocols.resolve().parent.glob("clinic.yml")])
    kit = make_kit(library, options.today, sort, sort == "handout" and options.calendar, content)
    found = batch.list_orders(options.cases, options.columns, _name)
    opener, workers = choose_workers(options.jobs, options.scheduler, len(found))
    folder = options.out / "handouts"
    run = batch.print_all(kit, found, opener, workers, folder, options.resume, _name, _say, _progress)
    if run.refused:
        raise ContentError(problem for problems in run.refused.values() for problem in problems)
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
    from fingerpost.make import pdf
    from fingerpost.run import site_build

    library = _load(options)
    known = ["start", *(d.value.id for d in library.protocols if d.value.notice)]
    if options.id not in ("all", *known):
        hint = suggest(options.id, known) or f"There are: all, {', '.join(known)}."
        raise ContentError([Problem(Place(_name(options.protocols)), f"no notice is called '{options.id}'", hint)])
    environment = make_environment(pdf.read_templates(PROJECT / "templates"))
    wanted = None if options.id == "all" else options.id
    files = site_build.make_notices(library, environment, PROJECT, Kept(options.out / ".kept"), wanted, _progress)
    for address, content in files.items():
        target = options.out / address
        target.parent.mkdir(parents=True, exist_ok=True)
        write_whole(target, content)
        _say(_name(target))
    return 0


def plan(options: argparse.Namespace) -> int:
    """Print the plan of one case in the terminal; with --why the formula behind each number."""
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
    _say_doubts(document, library, options.today)
    if options.why:
        _say("\n".join(str(r) for r in reasons) or "There are no sums on these sheets.")
    return 0


def serve(options: argparse.Namespace) -> int:
    """Build, serve on this computer only, and build again on every change."""
    import threading
    from functools import partial
    from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer

    from fingerpost.make import pdf

    build(options)
    handler = partial(SimpleHTTPRequestHandler, directory=str(options.out / "site"))
    server = ThreadingHTTPServer(("127.0.0.1", options.port), handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    _say(f"http://127.0.0.1:{server.server_port}/ (stop with Ctrl-C)")
    watched = [options.protocols, PROJECT / "templates", PROJECT / "site_overrides"]
    seen = stamp(watched)
    while True:
        time.sleep(0.5)
        if (now := stamp(watched)) != seen:
            seen = now
            pdf.forget_styles()
            _run(build, options)


def desk(options: argparse.Namespace) -> int:
    """Open the desk on this computer only, with a button for a PDF with tags."""
    from fingerpost.desk.server import open_desk
    from fingerpost.make import pdf

    library, templates = _load(options), pdf.read_templates(PROJECT / "templates")
    if not (options.out / "site" / "desk" / "index.html").is_file():
        build(options)
    server = open_desk(library, templates, PROJECT, options.out / "site", options.port)
    _say(f"{server.address} (stop with Ctrl-C)")
    server.serve_forever()
    return 0


def drawings(options: argparse.Namespace) -> int:
    """Put every kind of drawing on one contact sheet, as HTML and as PDF, to be looked at."""
    from fingerpost.draw.contact import contact_sheet
    from fingerpost.make import pdf

    html = contact_sheet()
    options.out.mkdir(parents=True, exist_ok=True)
    write_whole(options.out / "drawings.html", html.encode("utf-8"))
    write_whole(options.out / "drawings.pdf", pdf.print_pdf(html, PROJECT, "contact.css"))
    _say(f"{_name(options.out / 'drawings.html')} and .pdf")
    return 0


def demo(options: argparse.Namespace) -> int:
    """Check, build, and print the handouts of three invented people, as on a fixed day."""
    places = ["--protocols", str(options.protocols), "--out", str(options.out)]
    call = [*places, "handout", *map(str, sorted(DEMO_CASES.glob("*.yml"))), "--calendar"]
    sheets = make_parser(COMMANDS, PROJECT, DEMO_TODAY).parse_args(call)
    return check(sheets) or build(sheets) or handout(sheets)


def refresh(options: argparse.Namespace) -> int:
    """Write the generated files anew: schemas, the table of fields, the list of rules."""
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

    old, new = (upkeep.read_side(side, options.protocols, _name) for side in (options.old, options.new))
    report = upkeep.make_report(old, new)
    _say(write_markdown(report) if options.markdown else write_text(report))
    if report.problems and not options.markdown:
        raise ContentError(report.problems)
    return 1 if report.problems else 0


def fmt(options: argparse.Namespace) -> int:
    """Write protocols and cases in canonical form: the same meaning, always laid out the same way."""
    from fingerpost.maintain import upkeep

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
    from fingerpost.maintain import upkeep

    try:
        made = upkeep.rewrite_file(path, protocols, _name)
    except ContentError as error:
        return error.problems
    if made and not upkeep.is_still(path, made[0]):
        return [Problem(Place(_name(path)), "somebody else wrote this file in the meantime", "Try again.")]
    if made:
        write_whole(path, made[1].encode(), path.stat().st_mode & 0o777)
        _say(f"{_name(path)}: written anew")
    return []


def new(options: argparse.Namespace) -> int:
    """Start a protocol or a case from the annotated specimen. `check` then names what is still to fill."""
    from fingerpost.maintain import upkeep

    path, content = upkeep.plan_new(options.kind, options.id, options.protocols, PROJECT, date.today(), _name)
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

    _say(say_where(" ".join(options.words), options.protocols, PROJECT, _name))
    return 0


COMMANDS = (
    check, outline, build, serve, desk, notice, drawings, demo, refresh,
    handout, coach, plan, changes, fmt, new, whence, where,
)  # fmt: skip


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
    options = make_parser(COMMANDS, PROJECT, date.today()).parse_args(arguments)
    try:
        return _run(options.run, options)
    except KeyboardInterrupt:
        return 130
    except OSError as error:
        return _fall_silent(error)


if __name__ == "__main__":
    sys.exit(main())
