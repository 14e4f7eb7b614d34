#!/usr/bin/env bash
# The manual page in the two formatters that people have, and the completion scripts in the three shells themselves.
# Usage: manual.sh PROGRAM FOLDER
set -euo pipefail
program="$1" folder="$2" here="$(cd "$(dirname "$0")" && pwd)"
rm -rf "$folder"
mkdir -p "$folder/bin"
ln -s "$program" "$folder/bin/leadline"
export PATH="$folder/bin:$PATH" LC_ALL=C.UTF-8 HOME="$folder"

fail() { echo "$*"; exit 1; }

leadline help --manual > "$folder/leadline.1"
mandoc -T lint -W style "$folder/leadline.1" > "$folder/mandoc.txt" || { cat "$folder/mandoc.txt"; fail "mandoc finds fault with the manual page"; }
groff -man -ww -Tutf8 "$folder/leadline.1" > "$folder/leadline.txt" 2> "$folder/groff.txt"
[ ! -s "$folder/groff.txt" ] || { cat "$folder/groff.txt"; fail "groff finds fault with the manual page"; }
# What a person reads: the words of the program's own help, option for option.
col -b < "$folder/leadline.txt" | sed 's/\x1b\[[0-9;]*m//g' > "$folder/read.txt"
for command in $(leadline completion bash | sed -n "s/.*commands='\(.*\)'.*/\1/p"); do
  for option in $(leadline help "$command" | sed -n 's/^  \(-., \)\?\(--[a-z-]*\).*/\2/p'); do
    grep -q -- "$option" "$folder/read.txt" || fail "the manual page does not show $option of $command"
  done
done

leadline completion bash > "$folder/leadline.bash"
leadline completion zsh > "$folder/_leadline"
leadline completion fish > "$folder/leadline.fish"
bash -n "$folder/leadline.bash"
zsh -n "$folder/_leadline"
fish -n "$folder/leadline.fish"

# WORDS of a command line, the last being completed -> what must be offered, and what must not. One table for all shells.
tried=0
while IFS='|' read -r line wanted unwanted; do
  for shell in bash zsh fish; do
    if [ "$shell" = zsh ]; then offered="$(zsh -f "$here/offer.zsh" "$folder" "$line" 2> /dev/null)"
    elif [ "$shell" = fish ]; then offered="$(fish --no-config -c "source '$folder/leadline.fish'; complete -C '$line'" | cut -f 1)"
    else offered="$(bash --norc "$here/offer.bash" "$folder/leadline.bash" "$line")"
    fi
    offered="$(sed 's/^.*[,=]//' <<< "$offered")"  # some shells offer the last word alone, some with all that stands before it
    for word in $wanted; do grep -qxF -- "$word" <<< "$offered" || fail "$shell: '$line' does not offer '$word' but: $(head -c 400 <<< "$offered")"; done
    for word in $unwanted; do ! grep -qxF -- "$word" <<< "$offered" || fail "$shell: '$line' offers '$word'"; done
    tried=$((tried + 1))
  done
done < "$here/offers.txt"
[ "$tried" -ge 30 ] || fail "only $tried completions were tried"
echo "manual page clean in mandoc and groff; $tried completions right"
