#!/usr/bin/env bash
# hour.sh TARGET [SECONDS]: fuzzes guided by coverage (libFuzzer, clang) under ASan and UBSan, for so many seconds of processor time (3600). Figures of such
# hours: docs/fuzzing.md. In build/fuzz: finds/TARGET holds what failed, corpus/TARGET all inputs that reached something new, log/TARGET the run.
# A run that takes 10 s for one input (of a machine that may be shared) or 512 MiB for one allocation has failed as well.
set -euo pipefail
cd "$(dirname "$0")/../.."
target="$1" seconds="${2:-3600}"
build=build/fuzz

if [ ! -e "$build/CMakeCache.txt" ]; then
  CC=clang CXX=clang++ cmake -G Ninja -S . -B "$build" -DLEADLINE_LIBFUZZER=ON -DCMAKE_BUILD_TYPE=None -DLEADLINE_SANITIZE=address,undefined \
    -DCMAKE_CXX_FLAGS="-O1 -g1 -fsanitize=fuzzer-no-link" > /dev/null
fi
cmake --build "$build" --target "fuzz_$target" > /dev/null
mkdir -p "$build/finds/$target" "$build/corpus/$target" "$build/log"

# The names of the formats, as words to try.
grep -oh 'name="[a-z0-9-]*"' knowledge/knowledge.xsd | sed 's/^name=//' | sort -u > "$build/words"
printf '"%s"\n' said undo note ended resumed taken-over facts answers remedies settled '&lt;' '&#0;' '<!DOCTYPE' 'count(' 'div' 'mod' '0x' '1e400' 'NaN' >> "$build/words"

mapfile -t seeds < <(find tests/fuzz/seeds -path "*/$target/*" -o -name "${target}_*")
mkdir -p "$build/seeds/$target"
cp "${seeds[@]}" "$build/seeds/$target/"
status=0
(
  ulimit -t "$seconds"
  exec "$build/tests/fuzz/fuzz_$target" -dict="$build/words" -max_len=8192 -timeout=10 -rss_limit_mb=2048 -malloc_limit_mb=512 -print_final_stats=1 \
    -artifact_prefix="$build/finds/$target/" "$build/corpus/$target" "$build/seeds/$target"
) > "$build/log/$target" 2>&1 || status=$?
# 128 and SIGXCPU: the time is over. 137: likewise, where the soft and the hard limit are one.
[ "$status" -eq 152 ] || [ "$status" -eq 137 ] || echo "fuzz_$target ended with $status"
grep -a '^#' "$build/log/$target" | tail -n 1
# Its smallest equal, for the tests of every day.
rm -rf "$build/small/$target" && mkdir -p "$build/small/$target"
"$build/tests/fuzz/fuzz_$target" -merge=1 "$build/small/$target" "$build/corpus/$target" "$build/seeds/$target" > "$build/log/merge-$target" 2>&1
python3 tests/fuzz/pack.py "$build/small/$target" "tests/fuzz/seeds/$target.pack"
echo "$(find "$build/finds/$target" -type f | wc -l) finds"
