#!/usr/bin/env python3
"""Tells the program to stop, at random times of a kept talk at a pseudo-terminal, and takes the job up again.

stopping.py LEADLINE GOLDEN-FOLDER WORK-FOLDER [DRAWS [SEED]]; run where the paths in arguments.txt begin

Four signals in turn: interrupt, request to terminate, hang-up, quit. Each time the program must end with 128 and the signal's number (by the signal
itself before the talk has begun), leave the terminal as it was, and the job must go on at the question after the last answer that was acknowledged, or
after the one in flight. Commands that keep nothing end by the signal itself. A stop of the process and its going on (as with Ctrl-Z and `fg`) must change nothing.
"""
import os
import random
import signal
import subprocess
import sys
import termios
import time

sys.dont_write_bytecode = True  # nothing beside the sources
from terminal import Failed, Job, Terminal, heed_signals  # noqa: E402

SIGNALS = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP, signal.SIGQUIT)
JOB = "technician-dead-panel"
LONGEST_DELAY = 0.3  # seconds after a line is typed: the answer is kept and the next question worked out within


def settings(terminal):
    """Of the terminal; the master of a pseudo-terminal shares them."""
    return termios.tcgetattr(terminal.master)


def question_of(text):
    return text.rstrip("> \n").splitlines()[-2:]


def told_to_stop(job, asked, draw, number, kind):
    """One draw; whether it was met within the talk."""
    state = job.state("draw-%d" % number)
    command = [job.command[0], "diagnose", "--job", job.name]
    terminal = Terminal(job.command + ["--job", job.name], 80, state)
    before = settings(terminal)
    acknowledged = -1                       # number of the last question seen
    for at in range(draw.randrange(len(job.lines))):  # the last line ends the talk by itself
        _, prompt = terminal.read()
        if not prompt:
            raise Failed("it ended before prompt %d" % at)
        acknowledged = at
        terminal.type(job.lines[at])
    time.sleep(draw.uniform(0, LONGEST_DELAY))
    os.kill(terminal.child, kind)
    rest, _ = terminal.read(until_prompt=False)
    if settings(terminal) != before:
        raise Failed("the terminal is not as it was")
    code = terminal.end()
    by_the_signal = code == -kind and acknowledged < 0
    if code != 128 + kind and not by_the_signal:
        raise Failed("exit %d after signal %d at prompt %d" % (code, kind, acknowledged))
    if not by_the_signal and "leadline: stopped" not in rest:
        raise Failed("it does not say that it stopped: " + rest[-300:])
    again = Terminal(command if not by_the_signal else job.command + ["--job", job.name], 80, state)
    text, _ = again.read()
    again.interrupt()
    again.read(until_prompt=False)
    again.end()
    at_least = max(acknowledged, 0)
    if not any(all(words in text for words in question_of(asked[at])) for at in (at_least, at_least + 1) if at < len(asked)):
        raise Failed("after signal %d at prompt %d it goes on with: %s" % (kind, acknowledged, text[-600:]))
    return not by_the_signal


def stopped_and_continued(job, screen):
    terminal = Terminal(job.command + ["--job", job.name], 80, job.state("continued"))
    for line in job.lines:
        terminal.read()
        os.kill(terminal.child, signal.SIGSTOP)
        terminal.type(line)
        time.sleep(0.05)
        os.kill(terminal.child, signal.SIGCONT)
    if terminal.read()[1]:
        terminal.end_of_input()
        terminal.read(until_prompt=False)
    code = terminal.end()
    if code not in (0, 1) or len(terminal.seen) != len(screen):
        raise Failed("stopped and continued, it ends otherwise (exit %d): %s" % (code, terminal.seen[-400:]))


def ends_at_once(leadline, kind):
    """A long command that keeps nothing: the signal itself ends it."""
    long = subprocess.Popen([leadline, "audit", "--report"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, preexec_fn=heed_signals)
    time.sleep(0.2)
    long.send_signal(kind)
    if long.wait() != -kind:
        raise Failed("'audit' told to stop by signal %d ended with %d" % (kind, long.returncode))


def main():
    leadline, folder, work = (os.path.abspath(argument) for argument in sys.argv[1:4])
    draws = int(sys.argv[4]) if len(sys.argv) > 4 else 40
    seed = int(sys.argv[5]) if len(sys.argv) > 5 else 1
    subprocess.run(["rm", "-rf", work], check=True)
    job = Job(os.path.join(folder, JOB), leadline, work)
    draw = random.Random(seed)
    failures = within = 0
    screen, asked, _ = job.play(80)
    for number in range(draws):
        try:
            within += told_to_stop(job, asked, draw, number, SIGNALS[number % len(SIGNALS)])
        except Failed as failed:
            print("stopping: draw %d of seed %d: %s" % (number, seed, failed))
            failures += 1
    try:
        stopped_and_continued(job, screen)
        for kind in SIGNALS:
            ends_at_once(leadline, kind)
    except Failed as failed:
        print("stopping: %s" % failed)
        failures += 1
    print("%d times told to stop, %d of them within the talk; %d failed" % (draws, within, failures))
    return 1 if failures or within < draws // 2 else 0


if __name__ == "__main__":
    sys.exit(main())
