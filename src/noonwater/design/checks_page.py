"""The page of all rules, docs/checks.md, made from the rules themselves.

`python -m noonwater.design.checks_page` prints it; a test holds the page in the repository to it.
"""

from __future__ import annotations

from collections.abc import Iterable

from noonwater.design.checks import FLOW_CHECKS, JOB_CHECKS, YEAR_CHECKS
from noonwater.design.night import NIGHT_CHECKS
from noonwater.design.rule import Rule
from noonwater.design.traced import TRACE_CHECKS

HEAD = """# Checks

What Noonwater looks for in a job. A fault has to be mended before it is built; a caution wants a
look. Local codes, the makers' instructions and licensed practice decide.

This page is printed by `python -m noonwater.design.checks_page`; a test holds it to the code.
"""


def checks_page() -> str:
    """Write the page.

    Returns
    -------
    str
        Markdown.
    """
    parts = (
        ("From the job alone", JOB_CHECKS),
        ("From its flows", FLOW_CHECKS),
        ("From where its water stands and runs", TRACE_CHECKS),
        ("From its year", YEAR_CHECKS),
        ("From its nights", NIGHT_CHECKS),
    )
    return HEAD + "".join(_table(title, checks) for title, checks in parts)


def _table(title: str, rules: Iterable[Rule]) -> str:
    rows = "".join(
        f"| `{rule.name}` | {rule.severity} | {rule.limit} | {rule.source} | {rule.remedy} |\n"
        for rule in rules
    )
    head = "| rule | severity | limit | source | remedy |\n|---|---|---|---|---|\n"
    return f"\n## {title}\n\n{head}{rows}"


if __name__ == "__main__":
    import sys

    sys.stdout.write(checks_page())
