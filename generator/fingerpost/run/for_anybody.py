"""What is printed for nobody in particular at the command line: notices for gyms, and leaves."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from fingerpost.files.cache import Kept
from fingerpost.files.telling import Name, Tell
from fingerpost.make.handout_html import write_html
from fingerpost.make.pdf import print_pdf, read_templates
from fingerpost.make.templates import make_environment
from fingerpost.model.library import Library
from fingerpost.plan.pages.general import plan_general_handout, plan_referral_handout
from fingerpost.problems import ContentError, Place, Problem, suggest
from fingerpost.run import site_build
from fingerpost.run.project import PROJECT


def _find_unknown(options: argparse.Namespace, name: Name, what: str, known: Sequence[str]) -> ContentError:
    hint = suggest(options.id, known) or f"There are: {', '.join(known)}."
    return ContentError([Problem(Place(name(options.protocols)), f"no {what} is called '{options.id}'", hint)])


def make_notices(library: Library, options: argparse.Namespace, name: Name, tell: Tell) -> site_build.Files:
    """The notices asked for, by their address. Raises ContentError where there is none of that name."""
    known = ["all", "start", *(d.value.id for d in library.protocols if d.value.notice)]
    if options.id not in known:
        raise _find_unknown(options, name, "notice", known)
    environment = make_environment(read_templates(PROJECT / "templates"))
    wanted = None if options.id == "all" else options.id
    return site_build.make_notices(library, environment, PROJECT, Kept(options.out / ".kept"), wanted, tell)


def make_leaf(library: Library, options: argparse.Namespace, name: Name) -> site_build.Files:
    """The leaf or leaves of one entry as one PDF, by its address. Raises ContentError where there is no such entry."""
    referral = next((d.value for d in library.referrals if d.value.id == options.id), None)
    if referral is not None:
        handout = plan_referral_handout(library, referral, options.paper, options.print_size)
    elif library.find_protocol(options.id):
        handout = plan_general_handout(library, options.id, options.paper, options.print_size)
    else:
        raise _find_unknown(options, name, "leaf", [c.id for c in library.conditions])
    environment = make_environment(read_templates(PROJECT / "templates"))
    return {f"handouts/{handout.file_stem}.pdf": print_pdf(write_html(environment, handout), PROJECT)}
