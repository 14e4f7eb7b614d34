#!/usr/bin/env bash
# One case, one ranking, byte for byte: whatever compiler, whatever optimisation, whatever locale.
# Builds the program with another compiler at another level into a folder of the build, and compares `leadline rank --json` over every eighth case
# (all sixty would take minutes) with the release program's, under the locale of a country that writes a decimal comma too.
# Usage: determinism.sh SOURCE RELEASE-PROGRAM FOLDER
set -euo pipefail
source_folder="$1" release="$2" folder="$3"
mkdir -p "$folder"

shopt -s nullglob
all_cases=("$source_folder"/cases/*/callout.xml)
cases=()
for ((i = 0; i < ${#all_cases[@]}; i += 8)); do cases+=("${all_cases[i]}"); done
if [ "${#cases[@]}" -eq 0 ]; then
  echo "there are no cases under $source_folder/cases: nothing was compared"
  exit 1
fi

build() {  # build NAME COMPILER FLAG [OPTION…]: the program in $folder/NAME
  local name="$1" compiler="$2" flag="$3" log="$folder/$1.log"
  shift 3
  command -v "$compiler" > /dev/null || { echo "$compiler is missing"; exit 1; }
  if ! { cmake -S "$source_folder" -B "$folder/$name" -DLEADLINE_TESTS=OFF -DLEADLINE_BENCH=OFF -DCMAKE_BUILD_TYPE=Plain \
           -DCMAKE_CXX_COMPILER="$compiler" -DCMAKE_CXX_FLAGS="$flag" "$@" && cmake --build "$folder/$name" --target leadline -j 2; } > "$log" 2>&1; then
    tail -n 30 "$log"
    echo "$name could not be built"
    exit 1
  fi
}

# Each of them through one program: its bytes and its exit code, one after the other.
rank_all() {  # rank_all [env NAME=VALUE…] PROGRAM
  local case code
  for case in "${cases[@]}"; do
    code=0
    "$@" rank --json - < "$case" || code=$?
    echo "exit code $code of $(basename "$(dirname "$case")")"
    if [ "$code" -gt 1 ]; then
      echo "$* could not rank $case: exit code $code" >&2
      exit 1
    fi
  done
}

compared=0
compare() {  # compare WHAT OUTPUT: against the release program in the C locale
  if ! cmp "$folder/release.out" "$2"; then
    diff "$folder/release.out" "$2" | head -n 10 || true
    echo "$1 says something else than the release program"
    exit 1
  fi
  compared=$((compared + 1))
}

localedef -i de_DE -f UTF-8 "$folder/locale.de_DE.UTF-8" > "$folder/locale.log" 2>&1 || [ -f "$folder/locale.de_DE.UTF-8/LC_NUMERIC" ] ||
  { cat "$folder/locale.log"; echo "localedef could not make de_DE.UTF-8"; exit 1; }
mkdir -p "$folder/locale"
rm -rf "$folder/locale/de_DE.UTF-8"
mv "$folder/locale.de_DE.UTF-8" "$folder/locale/de_DE.UTF-8"
in_comma_locale=(env LOCPATH="$folder/locale" LC_ALL=de_DE.UTF-8)
if [ "$("${in_comma_locale[@]}" locale decimal_point)" != "," ]; then
  echo "the locale de_DE.UTF-8 does not work here: its decimal point is no comma"
  exit 1
fi

build clang-O1 clang++ -O1

both_locales() {  # both_locales PROGRAM NAME: every case in the C and the comma locale, beside each other
  rank_all env LC_ALL=C "$1" > "$folder/$2.out" &
  local in_c=$!
  rank_all "${in_comma_locale[@]}" "$1" > "$folder/$2-comma.out"
  wait "$in_c"
}

both_locales "$release" release
compare "the release program in a comma locale" "$folder/release-comma.out"
for name in clang-O1; do
  both_locales "$folder/$name/cli/leadline" "$name"
  compare "$name" "$folder/$name.out"
  compare "$name in a comma locale" "$folder/$name-comma.out"
done
echo "${#cases[@]} cases, $(wc -c < "$folder/release.out") bytes, $compared comparisons: all the same"
