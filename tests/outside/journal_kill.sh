#!/usr/bin/env bash
# A job killed at every system call that matters, and the disk failing at every one: what the screen had acknowledged is there, never anything else.
# journal_kill.sh LEADLINE BOOK-FILE WORK-FOLDER: needs strace. The book is a small one, so that a run takes milliseconds.
set -euo pipefail
leadline="$1" work="$3"
rm -rf "$work"; mkdir -p "$work/book"; cp "$2" "$work/book/small.xml"
export XDG_STATE_HOME="$work/state" ASAN_OPTIONS=detect_leaks=0
job="$work/one.job"
exec 3>&2 2>"$work/killed"  # the shell tells of every process that is killed
fail() { echo "journal_kill: $*" >&3; exit 1; }
run() { "$leadline" --knowledge "$work/book" "$@"; }

# 40 lines, each of which moves the job: an answer, then the same one given anew.
lines="$work/lines"
{ printf '48\n1\n3\n\n'; for i in $(seq 18); do printf 'again 1\n%s\n' "$((i % 3 + 1))"; done; } >"$lines"
total=$(wc -l <"$lines")

typed() { { grep -o '"did":"[a-z]*"\|"typed":"[^"]*"' "$job" || true; } | paste -d' ' - - | sed 's/"did":"again" "typed":"\(.*\)"/again \1/; s/"did":"[a-z]*" "typed":"\(.*\)"/\1/'; }
prompts() { { grep -o '^> ' "$work/screen" || true; } | wc -l; }

# Everything whose next prompt was on the screen is in the job, at most one line more, and in order; and the job goes on to its end.
check() {
  local what="$1" seen; seen=$(prompts)
  if [ ! -e "$job" ]; then
    [ "$seen" -eq 0 ] || fail "$what: $seen prompts were shown, and there is no job"
    return 0
  fi
  local shown=$((seen > 0 ? seen - 1 : 0)) kept
  run jobs "$job" >"$work/shown" 2>&1 || fail "$what: the job cannot be looked at: $(cat "$work/shown")"
  : | run diagnose --job "$job" >"$work/resumed" 2>&1 || [ "$?" -eq 66 ] || fail "$what: the job does not go on: $(cat "$work/resumed")"
  kept=$(typed | wc -l)
  [ "$kept" -eq "$shown" ] || [ "$kept" -eq $((shown + 1)) ] || fail "$what: $shown lines were acknowledged, $kept are kept"
  diff <(typed) <(head -n "$kept" "$lines") >/dev/null || fail "$what: what is kept is not what was typed: $(typed | tr '\n' '|')"
  points=$((points + 1))
}

points=0 swept=0
sweep() {  # sweep CALL INJECTION: at the first, the second, … call, until the run ends unhurt
  local call="$1" injection="$2" n status
  for ((n = 1; n < 3000; ++n)); do
    rm -f "$job" "$job".*
    status=0
    # Only what the program itself does counts: calls of the loader, before main, are the first openats.
    strace -qq -o /dev/null -e trace="$call" -e inject="$call:$injection:when=$n" "$leadline" --knowledge "$work/book" diagnose --job "$job" <"$lines" >"$work/screen" 2>"$work/err" || status=$?
    if [ "$status" -eq 0 ] || [ "$status" -eq 1 ]; then
      [ "$(typed | wc -l)" -eq "$total" ] || fail "$call $injection, number $n: the run ended well with $(typed | wc -l) of $total lines"
      [ "$n" -gt 1 ] || fail "$call: never called"
      swept=$((swept + n - 1)); return 0
    fi
    case "$injection" in
      signal*) ;;
      *) [ "$status" -eq 73 ] || [ "$status" -eq 74 ] || [ "$status" -eq 66 ] || [ "$status" -eq 127 ] || fail "$call $injection, number $n: exit $status: $(cat "$work/err")" ;;
    esac
    check "$call $injection, number $n"
  done
  fail "$call $injection: no end"
}

for call in write fdatasync fsync rename openat; do sweep "$call" signal=SIGKILL; done
echo "killed at $swept calls: every acknowledged line kept"
swept=0
for error in EIO ENOSPC; do sweep fdatasync "error=$error"; done
sweep fsync error=EIO
sweep rename error=EROFS
echo "failed at $swept calls: said with 73 or 74, every acknowledged line kept"

# The step of going on, killed at each of its calls over a torn tail: the next time gives the same.
run diagnose --job "$job" <"$lines" >/dev/null 2>&1 || true
rm -f "$job" "$job".*; run diagnose --job "$job" <"$lines" >/dev/null 2>&1
head -c -7 "$job" >"$work/torn"; again=0
for call in openat ftruncate fsync write fdatasync; do
  for ((n = 1; n < 400; ++n)); do
    cp "$work/torn" "$job"; status=0
    strace -qq -o /dev/null -e trace="$call" -e inject="$call:signal=SIGKILL:when=$n" "$leadline" --knowledge "$work/book" diagnose --job "$job" </dev/null >/dev/null 2>&1 || status=$?
    [ "$status" -eq 137 ] || break
    run jobs "$job" >/dev/null || fail "going on, killed at $call $n: cannot be looked at"
    diff <(typed | head -n "$total") "$lines" >/dev/null || fail "going on, killed at $call $n: lines were lost"
    again=$((again + 1))
  done
done
echo "killed at $again calls while going on after a torn tail: nothing lost"

# Two at once: one writes, the other is told so; whoever comes after the first has ended goes on with the job.
collisions=0
for race in $(seq 200); do
  rm -f "$job" "$job".*
  { sleep 0.1; echo 48; } | run diagnose --job "$job" >"$work/a" 2>&1 & one=$!
  { sleep 0.1; echo 48; } | run diagnose --job "$job" >"$work/b" 2>&1 & two=$!
  a=0; b=0; wait "$one" || a=$?; wait "$two" || b=$?
  case "$a $b" in
    "75 "*|*" 75") collisions=$((collisions + 1)); grep -q 'is open in' "$work/a" "$work/b" || fail "race $race: nobody was told" ;;
    *74*) collisions=$((collisions + 1)); grep -q 'is there already' "$work/a" "$work/b" || fail "race $race: $a $b" ;;
  esac
  [ "$a" != 75 ] || [ "$b" != 75 ] || fail "race $race: nobody wrote"
  run jobs "$job" >"$work/shown" || fail "race $race: the job cannot be looked at"
  ! grep -q 'Not all of its file' "$work/shown" || fail "race $race: the file is torn"
done
[ "$collisions" -ge 50 ] || fail "only $collisions of 200 races met"
echo "200 races, $collisions of which met: exactly one writer"
