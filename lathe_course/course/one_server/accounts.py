"""Accounts of the machine: who may take part, and how something is done as one of them."""

from __future__ import annotations

import grp
import os
import pwd
import subprocess
import sys
from collections.abc import Iterable, Sequence

from lathe_course.problems import InputProblem

from .hub import modules

#: whoever is in one of these reads or becomes anybody, so nothing is kept apart from them
_STRONG = ("root", "sudo", "wheel", "admin", "docker", "lxd", "disk", "shadow")
_FIRST_OF_PEOPLE = 1000  # accounts below belong to the machine; common practice of Linux systems
_PATIENCE = 60.0


def checked(learners: Sequence[str], mentor: str) -> None:
    """InputProblem with all that keeps these accounts from taking part, and how to mend it."""
    problems = []
    names = [*learners, mentor]
    for name in dict.fromkeys(name for name in names if names.count(name) > 1):
        problems.append((name, f"{name} is named more than once; each learner and the mentor has an account of their own."))
    for name in dict.fromkeys(names):
        if name != name.lower():
            problems.append(
                (
                    name,
                    f"{name} has capital letters, and whoever signs in is known by small ones; use an account named in small letters.",
                )
            )
            continue
        try:
            account = pwd.getpwnam(name)
        except (KeyError, ValueError):
            problems.append(
                (name, f"There is no account {name!r} on this machine; make it, for example with: sudo adduser {name}")
            )
            continue
        if account.pw_uid < _FIRST_OF_PEOPLE:
            problems.append(
                (
                    name,
                    f"{name} is an account of the machine itself, not of a person; make one for them, for example with: sudo adduser NAME",
                )
            )
        elif not os.path.isdir(account.pw_dir):
            problems.append(
                (
                    name,
                    f"{name} has no home folder ({account.pw_dir} is missing), so there is no place for a working folder; make it, owned by {name}.",
                )
            )
        elif not _can_run_the_course(name):
            problems.append(
                (
                    name,
                    f"{name} may not read the course, which is installed in {sys.prefix}; install it where all may read it, for example in a folder below /opt.",
                )
            )
    if problems:
        raise InputProblem(problems)


def stronger(names: Iterable[str]) -> dict[str, str]:
    """Those among them who may act for others on this machine, each with the group that lets them."""
    found = {}
    for name in names:
        account = pwd.getpwnam(name)
        groups = {group.gr_name for group in grp.getgrall() if name in group.gr_mem or group.gr_gid == account.pw_gid}
        if strong := [group for group in _STRONG if group in groups]:
            found[name] = strong[0]
    return found


def as_account(name: str) -> dict[str, object]:
    """What ``subprocess`` needs to run something as that account: its rights alone, none of our environment, from a folder that is nobody's."""
    account = pwd.getpwnam(name)
    environment = {"HOME": account.pw_dir, "USER": name, "LOGNAME": name, "LANG": "C.UTF-8", "PATH": os.defpath}
    return {"user": account.pw_uid, "group": account.pw_gid, "extra_groups": [], "umask": 0o077, "env": environment, "cwd": "/"}


def _can_run_the_course(name: str) -> bool:
    try:
        done = subprocess.run(
            [*modules("handed"), "--nothing"],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            timeout=_PATIENCE,
            check=False,
            **as_account(name),
        )
    except (OSError, subprocess.SubprocessError):
        return False
    return done.returncode == 0
