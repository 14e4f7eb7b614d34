#!/usr/bin/env python3
"""Somebody who types at random at a pseudo-terminal: legal answers, illegal ones, words, keys that steer a terminal, in a window that changes its size.

typist.py LEADLINE BOOK WORK-FOLDER LINES [SEED]; BOOK: a folder of knowledge, or - for the program's own

After each sitting of up to 40 lines the talk is left (stop, end of input, interrupt, hang-up) and taken up again. It must neither crash nor hang; no control
character may come back that the terminal did not echo; 'list' must show what it showed before.
"""
import os
import random
import re
import subprocess
import sys

sys.dont_write_bytecode = True  # nothing beside the sources
from terminal import Failed, Terminal, timeless  # noqa: E402

LINES = ("1", "1", "1", "2", "2", "3", "4", "", "", "can't tell", "not fitted", "later", "other", "back", "why", "why 2", "list", "?", "again 1", "again 7", "note wet bilge",
         "what-if 1", "why not low bank", "reminders", "dispatch", "24.2 V", "12,6", "840 mV", "no push", "clicks", "soup", "9", "99999", "-1", "1e400", "24 parsecs")
KEYS = ("\x1b[A", "\x1b[200~2\x1b[201~", "\x7f", "1\x7f2", "\x15", "\t", "ä", "\u202e", "\x1bOP", "\x17", "z" * 300)
SIZES = ((40, 80), (24, 40), (5, 20), (0, 0), (60, 500), (40, 200))
LEAVINGS = ("stop", "end of input", "interrupt", "hang-up")
HARMFUL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")


class Typist:
    def __init__(self, leadline, book, work, seed):
        self.command = [leadline, "diagnose"] + ([] if book == "-" else ["--knowledge", book])
        self.work, self.draw = work, random.Random(seed)
        self.job = 0
        self.last = []  # what was typed, for a report

    def start(self, columns):
        """At the first question of the sitting."""
        terminal = Terminal(self.command + ["--job", "job %d" % self.job], columns, self.work)
        if not terminal.read(quiet=0.02)[1]:
            raise Failed("no question: " + terminal.seen[-300:])
        return terminal

    def line(self):
        typed = self.draw.choice(LINES)
        if self.draw.random() < 0.15:
            at = self.draw.randrange(len(typed) + 1)
            typed = typed[:at] + self.draw.choice(KEYS) + typed[at:]
        return typed

    def say(self, terminal, typed):
        """What it says to that, without the echo of the line."""
        self.last.append(typed)
        terminal.type(typed)
        text, prompt = terminal.read(quiet=0.02)
        said = text.split("\n", 1)[1] if "\n" in text else ""
        if HARMFUL.search(said):
            raise Failed("harmful characters came back: %r" % said[:300])
        return timeless(said), prompt

    def leave(self, terminal, how):
        if how == "stop":
            terminal.type("stop")
        elif how == "end of input":
            terminal.end_of_input()
        elif how == "interrupt":
            terminal.interrupt()
        if how == "hang-up":
            terminal.hang_up()
        else:
            terminal.read(until_prompt=False)
        code = terminal.end()
        # 74: the end of the input was met before the signal of the hang-up, and the last page found no terminal.
        if code not in (0, 1, 66, 129, 130) and (how, code) != ("hang-up", 74):
            raise Failed("%s ended with %d" % (how, code))

    def over(self, terminal):
        """The talk has come to its end."""
        code = terminal.end()
        if code not in (0, 1):
            raise Failed("it ended with %d" % code)
        self.job += 1

    def sitting(self, most):
        """Lines typed."""
        _, columns = self.draw.choice(SIZES)
        terminal = self.start(columns)
        lines = self.draw.randrange(1, most + 1)
        for typed in range(lines):
            if self.draw.random() < 0.05:
                terminal.resize(*self.draw.choice(SIZES))
            if not self.say(terminal, self.line())[1]:
                self.over(terminal)
                return typed + 1
        before, _ = self.say(terminal, "list")
        self.leave(terminal, self.draw.choice(LEAVINGS))
        terminal = self.start(columns)  # as wide as it was
        after, _ = self.say(terminal, "list")
        if after != before:
            raise Failed("after a break 'list' shows:\n%s\nand before:\n%s" % (after, before))
        self.leave(terminal, self.draw.choice(LEAVINGS))
        return lines


def main():
    leadline, work = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[3])
    book = sys.argv[2] if sys.argv[2] == "-" else os.path.abspath(sys.argv[2])
    lines, seed = int(sys.argv[4]), int(sys.argv[5]) if len(sys.argv) > 5 else 1
    subprocess.run(["rm", "-rf", work], check=True)
    os.makedirs(work)
    typist = Typist(leadline, book, work, seed)
    typed = sittings = 0
    while typed < lines:
        typist.last = []
        try:
            typed += typist.sitting(40)
        except Failed as failed:
            print("typist: seed %d, sitting %d: %s\ntyped: %r" % (seed, sittings, failed, typist.last))
            return 1
        sittings += 1
    print("%d lines typed in %d sittings of %d jobs" % (typed, sittings, typist.job + 1))
    return 0


if __name__ == "__main__":
    sys.exit(main())
