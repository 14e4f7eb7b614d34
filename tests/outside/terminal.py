#!/usr/bin/env python3
"""Plays whole jobs at a real terminal (a pseudo-terminal of the kernel's) and keeps the screens.

terminal.py LEADLINE GOLDEN-FOLDER WORK-FOLDER [--rewrite] [JOB…]; run where the paths in arguments.txt begin

The jobs named below are folders of kept talks: arguments.txt, and what is typed in typed.txt. Each is played at 40, 80 and 200 columns; the screens
must be those kept beside them in terminal.40, terminal.80 and terminal.200, and no line of them may be wider. One job of each person is then played
once more with an interrupt (Ctrl-C) at every prompt and once with a hang-up, and taken up again after each: every prompt must come back with the
words it had, and the job must end as it did undisturbed.
"""
import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import sys
import termios
import time

JOBS = ("technician-dead-panel", "remedy-that-did-not-help", "parting-a-string", "alone-without-a-meter", "owner-by-telephone", "cannot-tell-on-and-on",
        "newcomer-asks-why", "helpdesk-call-back", "helpdesk-mended-by-phone")
DISTURBED = ("technician-dead-panel", "owner-by-telephone", "newcomer-asks-why")
PROMPT = "\n> "
WIDTHS = (40, 80, 200)
LONGEST = 120  # seconds that anything may take


class Failed(Exception):
    pass


def heed_signals():
    """In a child: a shell has these ignored in what runs behind it."""
    for kind in (signal.SIGINT, signal.SIGQUIT, signal.SIGHUP, signal.SIGTERM):
        signal.signal(kind, signal.SIG_DFL)


class Terminal:
    """One run of the program at a terminal of its own."""

    def __init__(self, arguments, width, state):
        self.child, self.master = pty.fork()
        if self.child == 0:
            environment = {k: v for k, v in os.environ.items() if k not in ("COLUMNS", "LINES", "PAGER", "NO_COLOR")}
            environment.update(XDG_STATE_HOME=state, LC_ALL="C.UTF-8", TERM="xterm", TZ="UTC")
            heed_signals()
            time.sleep(0.01)  # the size below is set first
            os.execve(arguments[0], arguments, environment)
        self.resize(40, width)
        self.seen = ""

    def resize(self, rows, columns):
        fcntl.ioctl(self.master, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def read(self, until_prompt=True, quiet=0.15):
        """What comes up to the next prompt, or to the end. Whether it is a prompt: nothing more comes for so many seconds."""
        begun, text = time.time(), b""
        while time.time() - begun < LONGEST:
            # A prompt is the last thing for a while: nothing else ends so and waits.
            asked = until_prompt and text.decode("utf-8", "replace").replace("\r\n", "\n").endswith(PROMPT)
            ready, _, _ = select.select([self.master], [], [], quiet if asked else 1)
            if not ready:
                if asked:
                    return self.keep(text), True
                continue
            try:
                more = os.read(self.master, 65536)
            except OSError:  # the other side is closed
                more = b""
            if not more:
                return self.keep(text), False
            text += more
        raise Failed("nothing came for %d s after: %s" % (LONGEST, text[-300:]))

    def keep(self, raw):
        text = raw.decode("utf-8").replace("\r\n", "\n")
        self.seen += text
        return text

    def type(self, line):
        os.write(self.master, line.encode() + b"\n")

    def end_of_input(self):
        os.write(self.master, b"\x04")

    def interrupt(self):
        os.write(self.master, b"\x03")

    def hang_up(self):
        os.close(self.master)
        self.master = -1

    def end(self):
        """The exit code; minus the signal for one that was killed."""
        begun = time.time()
        while True:
            done, status = os.waitpid(self.child, os.WNOHANG)
            if done:
                break
            if time.time() - begun > LONGEST:
                os.kill(self.child, signal.SIGKILL)
                raise Failed("it does not end")
            time.sleep(0.01)
        if self.master >= 0:
            os.close(self.master)
        return os.waitstatus_to_exitcode(status)


def timeless(text):
    """Without dates and times of day, which are other ones every time."""
    text = re.sub(r"\d{4}-\d\d-\d\d[T ]\d\d:\d\d(:\d\d)?Z?", "<time>", text)
    text = re.sub(r"\d{4}-\d\d-\d\d(\s+)\d\d:\d\d\b", r"<date>\1<clock>", text)   # where a line ends between the two
    return re.sub(r"\d{4}-\d\d-\d\d", "<date>", text)


class Job:
    def __init__(self, folder, leadline, work):
        self.folder = folder
        self.name = os.path.basename(folder)
        with open(os.path.join(folder, "arguments.txt"), encoding="utf-8") as file:
            self.command = [leadline] + file.read().splitlines()
        with open(os.path.join(folder, "typed.txt"), encoding="utf-8") as file:
            self.lines = file.read().splitlines()
        self.work = work

    def state(self, kind):
        folder = os.path.join(self.work, self.name, kind)
        os.makedirs(folder, exist_ok=True)
        return folder

    def play(self, width):
        """The whole screen, undisturbed, and the text before each prompt."""
        terminal = Terminal(self.command + ["--job", self.name], width, self.state(str(width)))
        asked = []
        for line in self.lines:
            text, prompt = terminal.read()
            if not prompt:
                raise Failed("it ended before %r was typed: %s" % (line, text[-300:]))
            asked.append(text)
            terminal.type(line)
        text, prompt = terminal.read()
        if prompt:
            asked.append(text)
            terminal.end_of_input()
            text, _ = terminal.read(until_prompt=False)
        code = terminal.end()
        if code not in (0, 1):
            raise Failed("exit %d" % code)
        return terminal.seen, asked, text

    def disturbed(self, kind, asked, ending):
        """Ended at every prompt, and taken up again."""
        state = self.state(kind)
        for at, before in enumerate(asked):
            first = self.command + ["--job", self.name]
            terminal = Terminal(first if at == 0 else [first[0], "diagnose", "--job", self.name], 80, state)
            text, prompt = terminal.read()
            question = before.rstrip("> \n").splitlines()[-2:]
            if not prompt or not all(words in text for words in question):
                raise Failed("%s at prompt %d: asked was %r, and now: %s" % (kind, at, question, text[-600:]))
            if at < len(self.lines):
                terminal.type(self.lines[at])
            else:
                terminal.end_of_input()
            last = at + 1 == len(asked)
            text, prompt = terminal.read(until_prompt=not last)
            if last and timeless(text)[-400:] != timeless(ending)[-400:]:
                raise Failed("%s: it ends otherwise: %s" % (kind, text[-400:]))
            if not last and kind == "interrupt":
                terminal.interrupt()
                terminal.read(until_prompt=False)
            elif not last:
                terminal.hang_up()
            terminal.end()


def check_width(screen, width):
    for line in screen.splitlines():
        if len(line) > width and " " in line.strip()[:width]:
            raise Failed("%d columns, and a line of %d: %s" % (width, len(line), line))


def compare(path, screen, rewrite):
    if rewrite:
        with open(path, "w", encoding="utf-8") as file:
            file.write(screen)
        return
    with open(path, encoding="utf-8") as file:
        if file.read() == screen:
            return
    shown = os.path.join(os.environ.get("TMPDIR", "/tmp"), "leadline-" + os.path.basename(path))
    with open(shown, "w", encoding="utf-8") as file:
        file.write(screen)
    difference = subprocess.run(["diff", path, shown], capture_output=True, text=True).stdout
    raise Failed("the screen is another one (--rewrite keeps it):\n" + difference[:3000])


def main():
    leadline, folder, work = (os.path.abspath(argument) for argument in sys.argv[1:4])
    rewrite = "--rewrite" in sys.argv[4:]
    jobs = [argument for argument in sys.argv[4:] if argument != "--rewrite"] or JOBS
    subprocess.run(["rm", "-rf", work], check=True)
    prompts = failures = played = 0
    for name in jobs:
        job = Job(os.path.join(folder, name), leadline, work)
        try:
            for width in WIDTHS:
                screen, asked, ending = job.play(width)
                check_width(screen, width)
                compare(os.path.join(job.folder, "terminal.%d" % width), timeless(screen), rewrite)
                played += 1
                if width == 80:
                    undisturbed = asked, ending
            for kind in ("interrupt", "hang-up") if name in DISTURBED else ():
                job.disturbed(kind, *undisturbed)
                prompts += len(undisturbed[0])
        except Failed as failed:
            print("terminal: %s: %s" % (name, failed))
            failures += 1
    print("%d jobs played at a terminal; %d prompts left by an interrupt or a hang-up and taken up again; %d failed" % (played, prompts, failures))
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
