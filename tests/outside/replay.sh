#!/usr/bin/env bash
# An answers file replayed byte for byte: twice, from a file and through a slow pipe, in four locales. And what a script may do to standard input.
# Usage: replay.sh PROGRAM SOURCE LOCALES FOLDER
set -euo pipefail
program="$1" source_folder="$2" locales="$3" folder="$4"
rm -rf "$folder"
mkdir -p "$folder"
cd "$source_folder"
export HOME="$folder/home"  # what one run leaves behind must not help the next
unset XDG_STATE_HOME XDG_CONFIG_HOME XDG_DATA_HOME

fail() { echo "$*"; exit 1; }
same() { cmp "$folder/$1" "$folder/$2" || fail "$3"; }

[ "$(LOCPATH="$locales" LC_ALL=de_DE.UTF-8 locale decimal_point)" = "," ] || fail "the locale de_DE.UTF-8 does not work here"

replay() {  # replay NAME LOCALE: the screen, the messages and the record of the demo's answers
  local code=0
  rm -rf "$HOME"
  LOCPATH="$locales" LC_ALL="$2" "$program" diagnose --installation cli/demo/installation.xml --record "$folder/record.xml" < cli/demo/answers.txt \
    > "$folder/$1.out" 2> "$folder/$1.err" || code=$?
  echo "exit code $code" >> "$folder/$1.err"
  mv "$folder/record.xml" "$folder/$1.record"
}

replay plain C; replay again C; replay unknown xx_YY.nowhere; replay utf8 C.UTF-8; replay comma de_DE.UTF-8
[ "$(wc -c < "$folder/plain.out")" -gt 4000 ] || fail "the demo's call-out says too little to compare"
for part in out err record; do
  same plain.$part again.$part "the same answers gave another $part"
  same plain.$part unknown.$part "an unknown locale gives another $part than C"
  same utf8.$part comma.$part "de_DE.UTF-8 gives another $part than C.UTF-8"
done
same plain.record utf8.record "the record depends on the locale"
! LC_ALL=C grep -q '[^ -~]' "$folder/plain.out" || fail "not all is ASCII in the C locale"

while IFS= read -r line; do printf '%s\n' "$line"; sleep 0.05; done < cli/demo/answers.txt |
  LC_ALL=C "$program" diagnose --installation cli/demo/installation.xml > "$folder/slow.out" 2> /dev/null || true
same plain.out slow.out "answers that come slowly give another screen"

for locale in C C.UTF-8 de_DE.UTF-8 xx_YY.nowhere; do
  LOCPATH="$locales" LC_ALL=$locale "$program" rank --json "$folder/plain.record" > "$folder/$locale.json" || [ $? -eq 1 ]
  same C.json "$locale.json" "--json depends on the locale"
done

# Nobody there: an end, a code, a way out, and no prompt left open.
for input in '< /dev/null' '<&-'; do
  code=0
  eval "timeout 20 '$program' diagnose $input" > "$folder/nobody.out" 2> "$folder/nobody.err" || code=$?
  [ "$code" -eq 66 ] || fail "diagnose $input ended with $code"
  grep -q 'or use --no-input' "$folder/nobody.err" || fail "diagnose $input names no way out"
done

# A full disk is named as the system names it.
code=0
LC_ALL=C "$program" list > /dev/full 2> "$folder/full.err" || code=$?
[ "$code" -eq 74 ] && [ "$(cat "$folder/full.err")" = "leadline: cannot write to standard output: No space left on device" ] || fail "a full disk: exit code $code, $(cat "$folder/full.err")"

# A line of 10 MB leaves memory where it was: below 64 MiB.
/usr/bin/python3 - "$program" <<'PY' || fail "a line of 10 MB takes too much memory, or another end"
import resource, subprocess, sys
ran = subprocess.run([sys.argv[1], "diagnose", "--installation", "cli/demo/installation.xml"], input=b"1" * 10_000_000 + b"\n\xff\n" + b"stop\n", capture_output=True)
used = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024
print(f"a line of 10 MB: exit code {ran.returncode}, {used} MiB")
sys.exit(ran.returncode != 0 or used >= 64 or len(ran.stdout) > 20_000)
PY
echo "the same bytes twice, slowly, and in four locales"
