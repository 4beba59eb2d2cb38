"""Who stands behind what is read: who checked a sheet, who reviewed a text; or nobody, and then it says so."""

from __future__ import annotations

from fingerpost.model.case import Case
from fingerpost.model.discreet import find_telltale
from fingerpost.model.protocol import Protocol, Referral, Status
from fingerpost.model.times import write_date
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Words, strong, text
from fingerpost.reckon.visits import find_check


def checked_head(writer: Writer, case: Case) -> str:
    """What stands across the top of every page: nothing but that it is a specimen, where it is one."""
    return "" if find_check(case) else writer.say("unchecked")


def checked_line(writer: Writer, case: Case) -> Words:
    """Who checked the sheet and when; or that nobody has. The day is the written one, never today's."""
    checked = find_check(case)
    if checked is None:
        return strong(writer.say("unchecked"))
    day = write_date(checked.date.day)
    return text(writer.say("checked-by", name=checked.name, role=checked.role, date=day))


def plan_is_from(writer: Writer, case: Case) -> Words:
    """Whose plan a coach reads. A role that would tell what is hurt is left out."""
    checked = find_check(case)
    if checked is None:
        return strong(f"{writer.say('unchecked')}.")
    who = checked.name if find_telltale(checked.role) else f"{checked.name}, {checked.role}"
    return text(writer.say("coach-plan-from", who=who, date=write_date(checked.date.day)))


def state_words(writer: Writer, condition: Protocol | Referral | None) -> str:
    """That a text is a draft or overdue, short, for the foot of a page; '' where it is neither.

    None: a text about all injuries, which is a draft as long as any of them is.
    """
    conditions = (condition,) if condition else writer.library.conditions
    says = [writer.say("foot-draft")] if any(c.status.state == "draft" for c in conditions) else []
    says += [writer.say("foot-overdue")] if any(c.id in writer.library.overdue for c in conditions) else []
    return " ".join(says)


def status_words(writer: Writer, status: Status) -> str:
    """Version, review dates and who stands behind the text, in one sentence each."""
    state = (
        writer.say("state-draft")
        if status.state == "draft"
        else writer.say("state-approved", role=status.reviewer_role)
    )
    review = (
        writer.say("reviewed", date=write_date(status.reviewed.day))
        if status.reviewed
        else writer.say("never-reviewed")
    )
    return writer.say(
        "status",
        version=status.version,
        written=write_date(status.written.day),
        next_review=write_date(status.next_review.day),
        state=state,
        review=review,
        funding=status.funding,
    )


def draft_badge(writer: Writer, condition: Protocol | Referral) -> Words:
    """What stands above a text that is a draft, or whose review is overdue."""
    says = [writer.say("draft-badge")] if condition.status.state == "draft" else []
    says += [writer.say("overdue-badge")] if condition.id in writer.library.overdue else []
    return text(" ".join(says))


def library_badge(writer: Writer) -> Words:
    """What stands above a page that draws on the whole collection, as long as any of it is a draft or overdue."""
    conditions = writer.library.conditions
    drafts = sum(condition.status.state == "draft" for condition in conditions)
    says = [writer.say("draft-badge-library" if drafts == len(conditions) else "draft-badge-some")] if drafts else []
    says += [writer.say("overdue-badge-some")] if writer.library.overdue else []
    return text(" ".join(says))
